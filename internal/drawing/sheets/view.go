package sheets

import (
	"fmt"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// elevation is what the framing and the board elevations of a wall share: a
// stretch of the wall, its place on paper, and the dimensions around it.
type elevation struct {
	set      *Set
	wall     *layout.Wall
	key      string // names the view in ids
	title    string
	subtitle string
	scale    scale
	window   geom.Interval   // of u
	extent   geom.Interval   // of u, of the whole frame line or layer
	breaks   []geom.Interval // of u, where something else runs through the wall
	datum    Length          // u from which running dimensions count: the start of the track
	mirror   bool            // runs from right to left
	first    bool            // the window holds the wall's start
	last     bool            // the window holds the wall's end

	top     []drawing.Mark // texts over the wall; At is u in mm until drawn
	flatTop bool           // the texts over the wall lie flat
	runs    []run          // rows of running dimensions below the wall
	chain   []Length       // edges of openings and ends of the window
	overall bool           // dimension the whole length, too
	heights []Length       // to dimension at the start
	ends    []Length       // to dimension at the end

	past   [2]float64 // mm on paper by which closing pieces reach past start and end
	m      measures
	origin drawing.Point // of the body: paper place of the window's left edge at floor level
}

// part says, in a view of part of a long wall, which part it is.
func (e *elevation) part(window geom.Interval) {
	if window == e.extent {
		return
	}
	from, to := e.set.units.dim(window.From-e.datum), e.set.units.dim(window.To-e.datum)
	e.key += "-" + from
	e.subtitle = fmt.Sprintf("from %s to %s of %s, %s", from, to, e.set.units.dim(e.extent.To-e.datum), e.subtitle)
}

// run is one row of running dimensions from the start of the track.
type run struct {
	at []Length // u
}

// Sizes around an elevation in mm.
const (
	viewTitle  = 11.5 // title and the line below it
	sideAir    = 7.0  // beside the wall, where no heights stand
	topAir     = 2.0  // between wall and texts above it
	belowAir   = 5.0  // between floor line and first dimensions
	chainPitch = 7.0  // of dimension lines
	slabDepth  = 1.8  // hatch that stands for floor and soffit
	bodyMin    = 14.0 // least width that the body takes up
)

// tall returns the greatest height of the wall, in mm on paper.
func (e *elevation) tall() float64 { return e.scale.paper(highest(e.wall.Top) - e.low()) }

// low returns the height of the lowest line that is drawn: the floor, or the slab
// under it on which the wall stands.
func (e *elevation) low() Length { return min(0, e.wall.Base) }

func highest(p layout.Profile) Length {
	var h Length
	for _, pt := range p {
		h = max(h, pt.Y)
	}
	return h
}

// topAt returns a profile's height at u; at a step the higher one.
func topAt(p layout.Profile, u Length) Length {
	var h Length
	for i := range p {
		if p[i].X == u {
			h = max(h, p[i].Y)
		}
		if i > 0 && p[i-1].X < u && u < p[i].X {
			t := float64(u-p[i-1].X) / float64(p[i].X-p[i-1].X)
			h = max(h, p[i-1].Y+Length(t*float64(p[i].Y-p[i-1].Y)))
		}
	}
	if h == 0 && len(p) > 0 {
		if u < p[0].X {
			return p[0].Y
		}
		return p[len(p)-1].Y
	}
	return h
}

func (e *elevation) bodyWidth() float64 { return e.scale.paper(e.window.Len()) }

// x returns the paper place of u.
func (e *elevation) x(u Length) float64 {
	d := u - e.window.From
	if e.mirror {
		d = e.window.To - u
	}
	return e.origin.X + e.scale.paper(d)
}

// y returns the paper place of a height.
func (e *elevation) y(z Length) float64 { return e.origin.Y - e.scale.paper(z-e.low()) }

func (e *elevation) pt(u, z Length) drawing.Point { return drawing.Point{X: e.x(u), Y: e.y(z)} }

// rect returns the paper rectangle of a rectangle on the wall, cut to the
// window, and whether anything is left of it.
func (e *elevation) rect(u0, u1, z0, z1 Length) (drawing.Rect, bool) {
	u0, u1 = max(u0, e.window.From), min(u1, e.window.To)
	a, b := e.pt(u0, z1), e.pt(u1, z0)
	if a.X > b.X {
		a.X, b.X = b.X, a.X
	}
	return drawing.Rect{Min: a, Max: b}, u0 < u1 && z0 < z1
}

// body returns the paper rectangle of the window up to the highest point.
func (e *elevation) body() drawing.Rect {
	return drawing.Rect{
		Min: drawing.Point{X: e.origin.X, Y: e.origin.Y - e.tall()},
		Max: drawing.Point{X: e.origin.X + e.bodyWidth(), Y: e.origin.Y},
	}
}

// around returns the body with what lies free beside it.
func (e *elevation) around() drawing.Rect {
	b := e.body()
	slack := (e.m.wide - e.bodyWidth()) / 2
	b.Min.X -= slack + e.m.left - 1
	b.Max.X += slack + e.m.right - 1
	return b
}

// polygon returns an outline on paper, cut to the window; nil if nothing is
// left.
func (e *elevation) polygon(outline geom.Polygon) []drawing.Point {
	out := make([]drawing.Point, len(outline))
	for i, p := range outline {
		out[i] = e.pt(p.X, p.Y)
	}
	b := e.body()
	b.Min.Y, b.Max.Y = b.Min.Y-1000, b.Max.Y+1000
	return drawing.ClipPolygon(out, b)
}

// measures are the sizes of an elevation's parts on paper, in mm.
type measures struct {
	left, right float64 // beside the body
	wide        float64 // of the body, or more where its dimensions need it
	over, under float64 // above the body and below the floor line
	chain       float64 // for texts below the line of the chain of openings
}

// measure sizes the view once everything to be dimensioned is gathered.
func (e *elevation) measure() {
	e.m.left, e.m.right = e.side(e.first, e.heights)+e.past[0], e.side(e.last, e.ends)+e.past[1]
	if e.mirror {
		e.m.left, e.m.right = e.m.right, e.m.left
	}
	chain := e.chainDim(0)
	_, after := chain.Depth()
	e.m.chain = max(0, after-1)
	e.flatTop = true
	e.m.wide = e.wide(chain.Need())
	if strain, ok := e.topRow().Strain(); !ok || strain > maxStrain {
		e.flatTop = false
		e.m.wide = e.wide(chain.Need())
	}
	e.m.over, e.m.under = e.overTop(), e.below()
}

// maxStrain is how far, in mm, a mark may lie beside its part before marks are
// set upright.
const maxStrain = 5.0

// side returns the width needed beside the body where heights are shown.
func (e *elevation) side(shown bool, heights []Length) float64 {
	if !shown || len(heights) == 0 {
		return sideAir
	}
	w := 0.0
	for _, l := range heights {
		w = max(w, drawing.TextWidth(e.set.units.dim(l), drawing.Small, false))
	}
	return 6 + drawing.RowReach + w
}

// deep returns the depth of a row of running dimensions.
func (e *elevation) deep(r run) float64 {
	w := 0.0
	for _, u := range r.at {
		w = max(w, drawing.TextWidth(e.set.units.dim(u-e.datum), drawing.Small, false))
	}
	return drawing.RowReach + w + 2.5
}

// wide is the width that the body, its title and its dimensions need.
func (e *elevation) wide(chain float64) float64 {
	// Readers of SVG set text in a face of their own, which may be wider.
	head := 1.1 * max(drawing.TextWidth(e.title, drawing.Large, true), drawing.TextWidth(e.caption(), drawing.Small, false))
	w := max(e.bodyWidth(), bodyMin, head-e.m.left-e.m.right, chain)
	for _, r := range e.runs {
		w = max(w, rowNeed(len(r.at)))
	}
	if !e.flatTop {
		w = max(w, rowNeed(len(e.top)))
	}
	return w
}

// overTop is the height needed above the body.
func (e *elevation) overTop() float64 {
	if len(e.top) == 0 {
		return viewTitle + slabDepth + topAir
	}
	texts := drawing.Small
	if !e.flatTop {
		texts = 0
		for _, m := range e.top {
			texts = max(texts, drawing.TextWidth(m.Text, drawing.Small, false))
		}
	}
	return viewTitle + slabDepth + topAir + drawing.RowReach + texts + 1.5
}

// below is the height needed under the floor line.
func (e *elevation) below() float64 {
	h := slabDepth + belowAir
	for _, r := range e.runs {
		h += e.deep(r)
	}
	if len(e.chain) > 0 {
		h += chainPitch + e.m.chain
	}
	if e.overall {
		_, after := e.overallDim(0).Depth()
		h += chainPitch + max(0, after-1)
	}
	return h
}

func (e *elevation) size() (float64, float64) {
	return e.m.left + e.m.wide + e.m.right, e.m.over + e.tall() + e.m.under
}

// place fixes where the body stands, given the block's upper left corner.
func (e *elevation) place(at drawing.Point) {
	e.origin = at.Add(e.m.left+(e.m.wide-e.bodyWidth())/2, e.m.over+e.tall())
}

// drawTitle writes the view's title and returns the rectangle that it keeps for
// itself, which labels stay out of.
func (e *elevation) drawTitle(s *drawing.Scene, at drawing.Point) drawing.Rect {
	room, _ := e.size()
	heading(s, at, e.title, e.caption(), room)
	wide := max(drawing.TextWidth(e.title, drawing.Large, true), drawing.TextWidth(e.caption(), drawing.Small, false))
	return drawing.NewRect(at.X, at.Y, min(wide, room), drawing.Large+1.6*drawing.Small)
}

// caption is the line below the title.
func (e *elevation) caption() string { return e.subtitle + ", " + e.set.units.name(e.scale) }

// heading writes a title with a line of explanation below it; nothing for a view
// without a title.
func heading(s *drawing.Scene, at drawing.Point, title, sub string, room float64) {
	if title == "" {
		return
	}
	s.Layer(drawing.Notes).Add(
		drawing.Text{At: at.Add(0, drawing.Large), Text: title, Height: drawing.Large, Bold: true, Max: room},
		drawing.Text{At: at.Add(0, drawing.Large+1.6*drawing.Small), Text: sub, Height: drawing.Small, Max: room, Grey: 0.3})
}

// drawSlabs draws the floor and, unless the wall stops short of it, the soffit.
func (e *elevation) drawSlabs(s *drawing.Scene) {
	b := e.body()
	l := s.Layer(drawing.Structure)
	floor := drawing.Rect{Min: drawing.Point{X: b.Min.X - 3, Y: b.Max.Y}, Max: drawing.Point{X: b.Max.X + 3, Y: b.Max.Y + slabDepth}}
	l.Add(drawing.Lines{Segments: drawing.Hatch(floor.Corners(), 45, 1.2), Pen: drawing.Hair},
		drawing.Line(floor.Min, drawing.Point{X: floor.Max.X, Y: floor.Min.Y}, drawing.Cut))
	if r, ok := e.rect(e.window.From, e.window.To, 0, e.wall.Base); ok { // what the wall's foot stands on
		l.Add(drawing.Lines{Segments: drawing.Hatch(r.Corners(), 45, 1.2), Pen: drawing.Hair}, drawing.Box(r, drawing.Cut, drawing.NoFill))
	}
	if e.low() < 0 { // the finished floor
		l.Add(drawing.Line(drawing.Point{X: b.Min.X - 3, Y: e.y(0)}, drawing.Point{X: b.Max.X + 3, Y: e.y(0)}, drawing.Hidden))
	}
	if e.wall.Head.Kind == plan.HeadFree {
		return
	}
	line := e.topLine()
	if len(line) < 2 {
		return
	}
	band := make([]drawing.Point, 0, 2*len(line))
	band = append(band, line...)
	for i := len(line) - 1; i >= 0; i-- {
		band = append(band, line[i].Add(0, -slabDepth))
	}
	l.Add(drawing.Lines{Segments: drawing.Hatch(band, 45, 1.2), Pen: drawing.Hair},
		drawing.Path{Points: line, Pen: drawing.Cut})
}

// topLine returns the soffit within the window, on paper.
func (e *elevation) topLine() []drawing.Point {
	top := e.wall.Top
	var line []drawing.Point
	add := func(u Length) { line = append(line, e.pt(u, topAt(top, u))) }
	add(e.window.From)
	for _, p := range top {
		if p.X > e.window.From && p.X < e.window.To {
			line = append(line, e.pt(p.X, p.Y))
		}
	}
	add(e.window.To)
	return line
}

// slabLines returns the rims of floor and soffit, which texts keep clear of.
func (e *elevation) slabLines() []drawing.Segment {
	b := e.body()
	lines := []drawing.Segment{{A: drawing.Point{X: b.Min.X - 3, Y: b.Max.Y}, B: drawing.Point{X: b.Max.X + 3, Y: b.Max.Y}}}
	if e.wall.Head.Kind == plan.HeadFree {
		return lines
	}
	line := e.topLine()
	for i := 1; i < len(line); i++ {
		p, q := line[i-1], line[i]
		lines = append(lines, drawing.Segment{A: p, B: q}, drawing.Segment{A: p.Add(0, -slabDepth), B: q.Add(0, -slabDepth)})
	}
	return lines
}

// drawBreaks draws what runs through the wall, and the break lines where the
// wall goes on in another view.
func (e *elevation) drawBreaks(s *drawing.Scene) {
	for _, br := range e.breaks {
		if movement(e.wall, br) {
			continue
		}
		if r, ok := e.rect(br.From, br.To, 0, topAt(e.wall.Top, br.From)); ok {
			s.Layer(drawing.Structure).Add(drawing.Box(r, drawing.Cut, drawing.White),
				drawing.Lines{Segments: drawing.Hatch(r.Corners(), 45, 1.2), Pen: drawing.Thin})
		}
	}
	b := e.body()
	left, right := !e.first, !e.last
	if e.mirror {
		left, right = right, left
	}
	for _, side := range []struct {
		on bool
		x  float64
	}{{left, b.Min.X}, {right, b.Max.X}} {
		if side.on {
			s.Layer(drawing.Joints).Add(drawing.Path{Points: breakLine(side.x, b.Min.Y-3, b.Max.Y+3), Pen: drawing.Thin})
		}
	}
}

// breakLine is an upright line with a zigzag (ISO 128-2 no. 01, type with
// zigzags).
func breakLine(x, y0, y1 float64) []drawing.Point {
	m := (y0 + y1) / 2
	return []drawing.Point{{X: x, Y: y0}, {X: x, Y: m - 2}, {X: x - 1.5, Y: m - 1}, {X: x + 1.5, Y: m + 1}, {X: x, Y: m + 2}, {X: x, Y: y1}}
}

// openingRect returns what an opening takes up of the view: no more than the wall is
// high.
func (e *elevation) openingRect(o *layout.Opening) (drawing.Rect, bool) {
	return e.rect(o.U.From, o.U.To, o.Sill, min(o.Head, topAt(e.wall.Top, (o.U.From+o.U.To)/2)))
}

// drawOpenings crosses out the openings and returns what each takes up.
func (e *elevation) drawOpenings(s *drawing.Scene, pen drawing.Pen) {
	for i := range e.wall.Openings {
		o := &e.wall.Openings[i]
		r, ok := e.openingRect(o)
		if !ok {
			continue
		}
		g := &drawing.Group{ID: e.id(o.ID), Title: string(o.Kind) + " " + o.ID + ", " + e.set.units.by(o.Width(), o.Head-max(o.Sill, 0)),
			Data: []drawing.Datum{{Name: "wall", Value: e.wall.ID}, {Name: "opening", Value: o.ID}}}
		g.Add(drawing.Lines{Pen: drawing.CentreLine, Segments: []drawing.Segment{
			{A: r.Min, B: r.Max},
			{A: drawing.Point{X: r.Min.X, Y: r.Max.Y}, B: drawing.Point{X: r.Max.X, Y: r.Min.Y}},
		}}, drawing.Box(r, pen, drawing.NoFill))
		s.Layer(drawing.Openings).Add(g)
	}
}

// id makes a stable id for a part in this view.
func (e *elevation) id(part string) string {
	return e.wall.ID + "." + e.key + "." + strings.ReplaceAll(part, " ", "-")
}

// inWindow reports whether u shows in the view.
func (e *elevation) inWindow(u Length) bool { return e.window.Contains(u) }
