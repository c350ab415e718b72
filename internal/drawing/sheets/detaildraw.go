package sheets

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/geom"
)

// detailView is a detail at a scale, to be put on a sheet.
type detailView struct {
	set    *Set
	d      *detail
	scale  scale
	title  string
	sub    string
	window geom.Rect // of life, shown
	leads  []lead
	marked bool // its parts say which parts of walls they are
}

// lead is one name with the point at which its leader starts, on paper from the
// upper left corner of the body.
type lead struct {
	at   drawing.Point
	text string
}

// Sizes around a detail in mm on paper.
const (
	detailRim   = 5.0  // of existing structure around the parts
	detailFirst = 9.0  // from the parts to the first dimensions at the left
	detailUnder = 4.0  // and to those below
	detailLeft  = 10.5 // pitch of dimension rows at the left
	detailBelow = 11.0 // of those below
	detailWide  = 84.0
	detailHigh  = 86.0  // of upright sections
	detailTall  = 140.0 // of level sections
)

// newDetailView prepares a detail for a sheet: at the largest scale at which it
// stays within a fair part of one, unless one is given.
func (s *Set) newDetailView(d *detail, title, sub string, sc scale) *detailView {
	b := d.bounds()
	if sc == 0 {
		wide, high := detailWide, detailHigh
		if d.kind.level() {
			wide, high = detailTall, detailTall
		}
		scales := s.units.detailScales()
		if d.kind.level() {
			scales = scales[1:]
		}
		for _, sc = range scales {
			if sc.paper(b.Max.X-b.Min.X) <= wide && sc.paper(b.Max.Y-b.Min.Y) <= high {
				break
			}
		}
	}
	v := &detailView{set: s, d: d, scale: sc, title: title, sub: strings.Trim(s.units.name(sc)+", "+sub, ", ")}
	v.window = b.Grow(Length(detailRim*float64(sc)) * millimetre)
	if l, ok := d.leads[sc]; ok {
		v.leads = l
		return v
	}
	v.lead()
	return v
}

// pt returns the place on paper of a point, from the upper left corner of the
// body.
func (v *detailView) pt(p geom.Point) drawing.Point {
	return drawing.Point{X: v.scale.paper(p.X - v.window.Min.X), Y: v.scale.paper(v.window.Max.Y - p.Y)}
}

func (v *detailView) pts(list []geom.Point) []drawing.Point {
	out := make([]drawing.Point, len(list))
	for i, p := range list {
		out[i] = v.pt(p)
	}
	return out
}

func (v *detailView) body() (width, height float64) {
	return v.scale.paper(v.window.Max.X - v.window.Min.X), v.scale.paper(v.window.Max.Y - v.window.Min.Y)
}

// lead chooses for each name where its leader starts: apart from the others in
// height, and near the names at the right.
func (v *detailView) lead() {
	w, h := v.body()
	area := drawing.NewRect(0, 0, w, h).Inset(0.5)
	var names []string
	starts := map[string][]drawing.Point{}
	for _, p := range v.d.parts {
		if p.name == "" {
			continue
		}
		if !slices.Contains(names, p.name) {
			names = append(names, p.name)
		}
		for _, at := range starting(p, v.pts(p.shape)) {
			if area.Holds(drawing.Rect{Min: at, Max: at}) {
				starts[p.name] = append(starts[p.name], at)
			}
		}
	}
	// What can start in few places chooses first.
	slices.SortStableFunc(names, func(a, b string) int { return cmp.Compare(reach(starts[a]), reach(starts[b])) })
	for _, n := range names {
		if at, ok := v.best(starts[n]); ok {
			v.leads = append(v.leads, lead{at, n})
		}
	}
	slices.SortStableFunc(v.leads, func(a, b lead) int { return cmp.Compare(a.at.Y, b.at.Y) })
}

// reach returns the extent in height of a set of points.
func reach(points []drawing.Point) float64 {
	if len(points) == 0 {
		return 0
	}
	return boundsOf(points).Height()
}

// best returns the point that lies farthest, up to a row's height, from the
// leaders that are there, and of several the rightmost.
func (v *detailView) best(points []drawing.Point) (drawing.Point, bool) {
	const row = drawing.RowPitch * drawing.Small
	best, most, ok := drawing.Point{}, 0.0, false
	for _, p := range points {
		gap := row
		for _, l := range v.leads {
			gap = min(gap, max(l.at.Y-p.Y, p.Y-l.at.Y))
		}
		if score := 1000*gap + p.X; !ok || score > most {
			best, most, ok = p, score, true
		}
	}
	return best, ok
}

// starting lists points of a part at which a leader may start.
func starting(p part, shape []drawing.Point) []drawing.Point {
	switch p.matter {
	case steel, fixing, beyond:
		var out []drawing.Point
		for i := 1; i < len(shape); i++ {
			a, b := shape[i-1], shape[i]
			for _, t := range []float64{0.5, 0.3, 0.7, 0.15, 0.85} {
				out = append(out, a.Add(t*(b.X-a.X), t*(b.Y-a.Y)))
			}
		}
		return out
	}
	var out []drawing.Point
	box := boundsOf(shape)
	for i := range 19 {
		for _, x := range []float64{0.97, 0.9, 0.75, 0.5, 0.25, 0.1} {
			at := drawing.Point{X: box.Min.X + x*box.Width(), Y: box.Min.Y + float64(i+1)/20*box.Height()}
			if contains(shape, at) {
				out = append(out, at)
			}
		}
	}
	return out
}

// rows returns how many rows of dimensions stand at the left and below.
func (v *detailView) rows() (left, below int) {
	for _, m := range v.d.measures {
		if m.upright {
			left = max(left, m.row+1)
		} else {
			below = max(below, m.row+1)
		}
	}
	return left, below
}

// margins returns the room for dimensions at the left and below.
func (v *detailView) margins() (left, below float64) {
	l, b := v.rows()
	if l > 0 {
		left = detailFirst + detailLeft*float64(l-1) + 4.5
	}
	if b > 0 {
		below = detailUnder + detailBelow*float64(b-1) + 6.5
	}
	return left, below
}

// room is the height between title and dimensions.
func (v *detailView) room() float64 {
	_, h := v.body()
	need := float64(len(v.leads)) * drawing.RowPitch * drawing.Small
	for _, m := range v.d.measures {
		if m.upright {
			need = max(need, v.chain(m, drawing.Point{}).Need()+3)
		}
	}
	return max(h, need)
}

// widest returns the width of the longest name.
func (v *detailView) widest() float64 {
	widest := 0.0
	for _, l := range v.leads {
		widest = max(widest, drawing.TextWidth(l.text, drawing.Small, false))
	}
	return widest
}

func (v *detailView) size() (float64, float64) {
	w, _ := v.body()
	left, below := v.margins()
	widest := v.widest()
	for _, m := range v.d.measures {
		if !m.upright {
			w = max(w, v.chain(m, drawing.Point{}).Need()+3)
		}
	}
	// Readers of SVG set text in a face of their own, which may be wider.
	const otherFace = 1.1
	title := drawing.TextWidth(v.title, drawing.Large, true)
	return max(left+w+2+drawing.RowReach+widest, otherFace*title), viewTitle + v.room() + below
}

// chain returns a row of dimensions, for a body with its corner at a place.
func (v *detailView) chain(m measure, body drawing.Point) drawing.Chain {
	w, h := v.body()
	c := drawing.Chain{Height: drawing.Small, Texts: m.texts}
	if m.upright {
		c.Axis, c.Line = drawing.AlongY, body.X-detailFirst-detailLeft*float64(m.row)
		for _, y := range m.at {
			c.Marks = append(c.Marks, drawing.Mark{At: body.Y + v.pt(geom.Pt(0, y)).Y, From: body.X + detailRim - 1})
		}
		slices.Reverse(c.Marks)
		c.Texts = slices.Clone(m.texts)
		slices.Reverse(c.Texts)
		return c
	}
	c.Line = body.Y + h + detailUnder + detailBelow*float64(m.row)
	for _, x := range m.at {
		c.Marks = append(c.Marks, drawing.Mark{At: body.X + v.pt(geom.Pt(x, 0)).X, From: body.Y + h})
	}
	c.Lo, c.Hi = body.X-3, body.X+max(w, c.Need()+3)
	return c
}

// draw draws the detail with its upper left corner at the given place.
func (v *detailView) draw(s *drawing.Scene, at drawing.Point) {
	width, _ := v.size()
	heading(s, at, v.title, v.sub, width)
	w, h := v.body()
	left, _ := v.margins()
	body := at.Add(left, viewTitle+(v.room()-h)/2)
	for i := range v.d.parts {
		v.drawPart(s, &v.d.parts[i], body)
	}
	for _, b := range v.d.breaks {
		s.Layer(drawing.Joints).Add(drawing.Path{Points: zigzag(move(v.pt(b.A), body), move(v.pt(b.B), body)), Pen: drawing.Thin})
	}
	lo, hi := at.Y+viewTitle, at.Y+viewTitle+v.room()
	for _, m := range v.d.measures {
		c := v.chain(m, body)
		if m.upright {
			c.Lo, c.Hi = lo, hi
		}
		c.Draw(s.Layer(drawing.Dimensions))
	}
	v.drawLeads(s, body, w, lo, hi)
}

func (v *detailView) drawLeads(s *drawing.Scene, body drawing.Point, w, lo, hi float64) {
	row := drawing.Row{Axis: drawing.AlongY, Line: body.X + w + 1, Out: 1, Lo: lo, Hi: hi, Height: drawing.Small, Extension: drawing.Thin}
	l := s.Layer(drawing.Marks)
	for _, x := range v.leads {
		p := move(x.at, body)
		row.Marks = append(row.Marks, drawing.Mark{At: p.Y, From: p.X, Text: x.text})
		l.Add(drawing.Circle{Centre: p, Radius: 0.45, Pen: drawing.Thin, Fill: drawing.Black})
	}
	row.Draw(l)
}

func move(p, by drawing.Point) drawing.Point { return p.Add(by.X, by.Y) }

// drawPart draws one part by its matter.
func (v *detailView) drawPart(s *drawing.Scene, p *part, body drawing.Point) {
	shape := v.pts(p.shape)
	for i := range shape {
		shape[i] = move(shape[i], body)
	}
	boards := s.Layer(drawing.Boards)
	switch p.matter {
	case ground:
		w, h := v.body()
		clip := drawing.NewRect(body.X, body.Y, w, h)
		s.Layer(drawing.Structure).Add(&drawing.Group{Clip: &clip, Items: []drawing.Item{
			drawing.Path{Points: shape, Closed: true, Pen: drawing.Pen{Weight: drawing.W70}, Fill: drawing.Tint(0.86)},
			drawing.Lines{Segments: drawing.Hatch(shape, 45, 1.8), Pen: drawing.Thin}}})
	case wool:
		s.Layer(drawing.Insulation).Add(drawing.Path{Points: wave(shape), Pen: drawing.Pen{Weight: drawing.W18, Grey: 0.35}})
	case board:
		v.add(boards, p, drawing.Path{Points: shape, Closed: true, Pen: drawing.Outline, Fill: drawing.Tint(0.92)},
			drawing.Lines{Segments: stipple(shape), Pen: drawing.Pen{Weight: drawing.W18, Grey: 0.4}})
	case blank:
		s.Layer(drawing.Insulation).Add(drawing.Path{Points: shape, Closed: true, Fill: drawing.White})
	case steel:
		v.add(s.Layer(drawing.Frame), p, drawing.Path{Points: shape, Pen: drawing.Cut})
	case beyond:
		s.Layer(drawing.Insulation).Add(drawing.Path{Points: shape, Pen: drawing.Thin})
	case pipework:
		s.Layer(drawing.Openings).Add(drawing.Path{Points: shape, Closed: true, Pen: drawing.Outline, Fill: drawing.White})
	case sealing:
		s.Layer(drawing.Joints).Add(drawing.Path{Points: shape, Closed: true, Pen: drawing.Thin, Fill: drawing.Tint(0.35)})
	case fixing:
		s.Layer(drawing.Joints).Add(drawing.Lines{Segments: fixingLines(shape), Pen: drawing.Medium})
	}
}

// add draws a part, and says which part of a wall it is where that is wanted.
func (v *detailView) add(l *drawing.Layer, p *part, items ...drawing.Item) {
	if v.marked && p.mark != "" {
		items = []drawing.Item{&drawing.Group{Data: []drawing.Datum{{Name: "wall", Value: p.wall}, {Name: "part", Value: p.mark}}, Items: items}}
	}
	l.Add(items...)
}

// fixingLines returns the shank of a screw or anchor and its head.
func fixingLines(shape []drawing.Point) []drawing.Segment {
	a, b := shape[0], shape[len(shape)-1]
	dx, dy := unit(a, b)
	return []drawing.Segment{{A: a, B: b}, {A: a.Add(-0.7*dy, 0.7*dx), B: a.Add(0.7*dy, -0.7*dx)}}
}

func unit(a, b drawing.Point) (x, y float64) {
	dx, dy := b.X-a.X, b.Y-a.Y
	l := hypot(dx, dy)
	if l == 0 {
		return 1, 0
	}
	return dx / l, dy / l
}

// wave draws the wave of soft insulation in a rectangle of any direction whose
// first side runs along the wall.
func wave(q []drawing.Point) []drawing.Point {
	length, depth := hypot(q[1].X-q[0].X, q[1].Y-q[0].Y), hypot(q[3].X-q[0].X, q[3].Y-q[0].Y)
	ux, uy := unit(q[0], q[1])
	vx, vy := unit(q[0], q[3])
	var out []drawing.Point
	for _, p := range drawing.Batt(drawing.NewRect(0, 0, length, depth)) {
		out = append(out, q[0].Add(p.X*ux+p.Y*vx, p.X*uy+p.Y*vy))
	}
	return out
}

// stipple returns the short strokes by which gypsum board is told from other
// matter: one row along the middle of the board.
func stipple(q []drawing.Point) []drawing.Segment {
	if len(q) != 4 {
		return nil
	}
	along, across := hypot(q[1].X-q[0].X, q[1].Y-q[0].Y), hypot(q[3].X-q[0].X, q[3].Y-q[0].Y)
	a, b, c := q[0], q[1], q[3]
	if across > along {
		along, across, b, c = across, along, q[3], q[1]
	}
	ux, uy := unit(a, b)
	vx, vy := unit(a, c)
	var out []drawing.Segment
	const pitch = 2.3
	for i := 0; (float64(i)+0.7)*pitch < along; i++ {
		t := (float64(i) + 0.5) * pitch
		w := across * []float64{0.35, 0.65, 0.5}[i%3]
		p := a.Add(t*ux+w*vx, t*uy+w*vy)
		out = append(out, drawing.Segment{A: p, B: p.Add(0.25*ux, 0.25*uy)})
	}
	return out
}

// zigzag is a break line from a to b (ISO 128-2 no. 01, type with zigzags).
func zigzag(a, b drawing.Point) []drawing.Point {
	ux, uy := unit(a, b)
	m := drawing.Point{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}
	at := func(along, across float64) drawing.Point {
		return m.Add(along*ux-across*uy, along*uy+across*ux)
	}
	return []drawing.Point{a, at(-2, 0), at(-1, -1.5), at(1, 1.5), at(2, 0), b}
}

// detailTitle names a detail by its number.
func (d *detail) title() string { return fmt.Sprintf("Detail %d: %s", d.number, detailTitles[d.kind]) }

// subtitle says how the detail is cut and where it applies.
func (d *detail) subtitle() string {
	const most = 4
	cut := "upright section"
	if d.kind.level() {
		cut = "level section"
	}
	list := d.walls
	more := ""
	if len(list) > most {
		more = fmt.Sprintf(" and %d more", len(list)-most)
		list = list[:most]
	}
	return cut + ", walls " + strings.Join(list, ", ") + more
}

func hypot(x, y float64) float64 { return math.Hypot(x, y) }
