// Package parts lists the single parts of a laid-out wall with what each is, where
// it is and why it is there. It takes one wall of a layout, the catalogue and the
// practice, and gives one Part for everything that is cut or set: steel, boards,
// fill, strips. Drawings, the three-dimensional view and the list beside them show
// these parts, by the same ids.
package parts

import (
	"fmt"
	"strings"

	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// Length is a length on a wall.
type Length = quantity.Length

// Kind says what sort of thing a part is; views colour and name parts by it.
type Kind string

// The kinds of part.
const (
	Steel   Kind = "steel"
	Board   Kind = "board"
	Fill    Kind = "fill"
	Bracket Kind = "bracket"
)

// Layers that are not boarding; those are named after face and place, from the frame
// outwards: a1, a2, b1.
const (
	FrameLayer = "frame"
	FillLayer  = "fill"
	TrimLayer  = "trim" // strips at ends, heads and reveals
)

// Part is one thing of a wall. Coordinates are the wall's own: u along it, z up from
// the floor, v across it towards face A; on curved walls u is measured along the axis.
type Part struct {
	ID      string               `json:"id"` // unique in its wall; the mark, where it has one
	Kind    Kind                 `json:"kind"`
	Layer   string               `json:"layer"`
	What    string               `json:"what"` // what it does: a layout.Role, or the use of a strip
	Product string               `json:"product,omitempty"`
	Name    string               `json:"name,omitempty"` // of the product
	Cut     Length               `json:"cut,omitempty"`  // length to cut, of steel
	Width   Length               `json:"width,omitempty"`
	Height  Length               `json:"height,omitempty"`
	Count   int                  `json:"count,omitempty"` // of parts in one place, where more than one
	Mass    float64              `json:"mass,omitempty"`  // kg
	Why     string               `json:"why,omitempty"`   // the rule that put it there
	Rule    *catalogue.NamedRule `json:"rule,omitempty"`  // the value of the practice behind that rule
	Solid   *Solid               `json:"-"`               // nil where it has no place of its own
}

// Solid is the space that a part takes up: an outline in the plane of u and z,
// with holes, from one v to another.
type Solid struct {
	Outline geom.Polygon
	Holes   []geom.Polygon
	V       geom.Interval
}

// box returns an upright block.
func box(u, z, v geom.Interval) *Solid {
	return &Solid{Outline: geom.Polygon{
		geom.Pt(u.From, z.From), geom.Pt(u.To, z.From), geom.Pt(u.To, z.To), geom.Pt(u.From, z.To)}, V: v}
}

// Of lists the parts of a wall: frame, fill, boards layer by layer, strips.
func Of(w *layout.Wall, cat *catalogue.Catalogue, pr *catalogue.Practice) []Part {
	l := &lister{w: w.OnAxis(), sized: w, cat: cat, pr: pr, rules: map[string]*catalogue.NamedRule{}}
	if len(w.FrameLines) > 0 {
		l.members()
		l.gussets()
		l.brackets()
		l.angles()
		l.liner()
		l.fill()
	}
	l.boards()
	l.strips()
	l.closings()
	return l.list
}

// lister collects the parts of one wall.
type lister struct {
	w     *layout.Wall // with its parts placed along the axis
	sized *layout.Wall // with pieces in the sizes to which they are cut
	cat   *catalogue.Catalogue
	pr    *catalogue.Practice
	rules map[string]*catalogue.NamedRule // by what the layout says; nil where no rule is behind it
	list  []Part
}

// add completes a part with the rule behind it and lists it.
func (l *lister) add(p Part) {
	rule, known := l.rules[p.Why]
	if !known {
		if r, ok := l.pr.Rule(ruleBehind(p.Why)); ok {
			rule = &r
		}
		l.rules[p.Why] = rule
	}
	p.Rule = rule
	l.list = append(l.list, p)
}

// behind names the value of the practice behind what a layout says of a part,
// where what it says does not begin with that name.
var behind = []struct{ words, rule string }{
	{"header:", "header_sag"}, {"penetration", "jambs"}, {"pocket of", "pocket_depth"},
	{"backing for a fixing", "fixtures"}, {"boards lie round the curve", "bending"}, {"head strip", "head_strip_lap"},
	{"facade post narrower than the wall", "closing_length"},
}

// ruleBehind returns the name of the practice's rule that a reason of the layout
// stands on.
func ruleBehind(why string) string {
	for _, b := range behind {
		if strings.HasPrefix(why, b.words) {
			return b.rule
		}
	}
	name, _, _ := strings.Cut(why, ":")
	return name
}

// members lists the frame's steel. Of studs boxed into each other only the first
// is shown.
func (l *lister) members() {
	paired := false // with the one before
	for i := range l.w.Members {
		m := &l.w.Members[i]
		paired = !paired && i > 0 && l.w.Members[i-1].PairedWith(m)
		p := Part{ID: m.Mark(), Kind: Steel, Layer: FrameLayer, What: l.role(m.Role), Product: m.Product, Name: m.Product, Cut: m.Cut, Why: m.Rule}
		line, deep := l.w.FrameLines[m.Line], l.w.FrameLines[m.Line].Depth
		if profile, ok := l.cat.Profile(m.Product); ok {
			p.Name, p.Mass = profile.Name, profile.Mass*m.Cut.Metres()
			deep = min(deep, profile.Web)
			if profile.Kind == catalogue.Channel {
				deep = profile.Flange
			}
		}
		if !paired || m.Role == layout.PocketRib {
			p.Solid = &Solid{Outline: m.Outline(), V: around(across(m, line, deep, paired), deep)}
		}
		l.add(p)
	}
}

// across returns the v of a member's middle: of the line, but for the ribs of a
// pocket, of which one lies at each face.
func across(m *layout.Member, line layout.FrameLine, deep Length, second bool) Length {
	switch {
	case m.Role != layout.PocketRib:
		return line.Offset
	case second:
		return line.Offset - line.Depth/2 + deep/2
	}
	return line.Offset + line.Depth/2 - deep/2
}

// role names what a member does: the upper track of a wall that stops below the
// soffit is no soffit track.
func (l *lister) role(r layout.Role) string {
	if r == layout.SoffitTrack && l.w.Head.Kind == plan.HeadFree {
		return "top track"
	}
	return string(r)
}

func around(middle, size Length) geom.Interval {
	return geom.Interval{From: middle - size/2, To: middle + size/2}
}

// board returns a part of board with the mass of its area.
func (l *lister) board(id, layer, what, product, why string, area quantity.Area) Part {
	p := Part{ID: id, Kind: Board, Layer: layer, What: what, Product: product, Name: product, Why: why}
	if b, ok := l.cat.Board(product); ok {
		p.Name, p.Mass = b.Name, b.Mass*area.SquareMetres()
	}
	return p
}

// thickness returns that of a board; 0 where the catalogue has none of that id.
func (l *lister) thickness(id string) Length {
	if b, ok := l.cat.Board(id); ok {
		return b.Thickness
	}
	return 0
}

// rims returns the v of the frame's outermost edges at face A and face B.
func (l *lister) rims() (a, b Length) {
	for i, f := range l.w.FrameLines {
		hi, lo := f.Offset+f.Depth/2, f.Offset-f.Depth/2
		if i == 0 {
			a, b = hi, lo
		}
		a, b = max(a, hi), min(b, lo)
	}
	return a, b
}

// LayerName names a layer of a face, as Part.Layer does: a1 is against the frame.
func LayerName(f plan.Face, layer int) string { return fmt.Sprintf("%s%d", f, layer+1) }

// boards lists the pieces of every layer of both faces.
func (l *lister) boards() {
	a, b := l.rims()
	for i := range l.w.Faces {
		face := &l.w.Faces[i]
		for k := range face.Layers {
			t := l.thickness(face.Layers[k].Board)
			v := geom.Interval{From: a, To: a + t}
			if face.Face == plan.FaceB {
				v = geom.Interval{From: b - t, To: b}
				b -= t
			} else {
				a += t
			}
			for n := range face.Layers[k].Pieces {
				at, cut := &face.Layers[k].Pieces[n], &l.sized.Faces[i].Layers[k].Pieces[n]
				p := l.board(layout.PieceMark(face.Face, k, cut), LayerName(face.Face, k), "board", cut.Board, cut.Rule, cut.Area())
				p.Width, p.Height = cut.Width, cut.Height
				p.Solid = &Solid{Outline: at.Outline, Holes: at.Holes, V: v}
				l.add(p)
			}
		}
	}
}
