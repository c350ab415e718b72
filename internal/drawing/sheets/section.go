package sheets

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// section is a level cut through a wall's build-up beside one stud, face A
// above.
type section struct {
	set    *Set
	wall   *layout.Wall
	scale  scale
	lines  []layout.FrameLine // one of each plane of studs, from face A to face B
	layers []leaf
	fills  []fill
	vTop   Length // of the finished face A, or the frame where it is not boarded
	vBot   Length
	labels []drawing.Mark // At: v in mm across the wall
}

// leaf is one board in the section.
type leaf struct {
	from, to Length // v
	label    string
}

// fill is insulation in the section.
type fill struct{ from, to Length }

// Sizes of the section in mm: of the part of the wall shown, in life, and of
// what stands around it, on paper.
const (
	sectionLeft  = 70 // of wall left of the stud's web
	sectionRight = 130
	sectionDims  = 22.0 // dimensions at the left
	sectionPad   = 4.0
)

// newSection prepares the section at a scale; nil for a wall without a frame.
func (s *Set) newSection(w *layout.Wall, sc scale) *section {
	if len(w.FrameLines) == 0 {
		return nil
	}
	c := &section{set: s, wall: w, scale: sc}
	for _, p := range planes(w) {
		c.lines = append(c.lines, w.FrameLines[p.lines[0]])
	}
	c.stack()
	c.insulate()
	c.label()
	return c
}

// addSection places the section at the largest scale that saves a sheet.
func (s *Set) addSection(ps *pages, w *layout.Wall, right bool) bool {
	scales := s.units.detailScales()
	for _, sc := range scales {
		sec := s.newSection(w, sc)
		if sec == nil {
			return true
		}
		if ps.takes(sec) {
			return ps.add(sec, right)
		}
	}
	return ps.add(s.newSection(w, scales[len(scales)-1]), right)
}

// stack places the boards of both faces on the frame.
func (c *section) stack() {
	c.vTop, c.vBot = c.rims()
	for i := range c.wall.Faces {
		face := &c.wall.Faces[i]
		for n, layer := range face.Layers {
			t := c.set.boardThickness(layer.Board)
			label := fmt.Sprintf("%s%d  %s", strings.ToUpper(string(face.Face)), n+1, c.set.boardName(layer.Board))
			if face.Face == plan.FaceA {
				c.layers = append(c.layers, leaf{c.vTop, c.vTop + t, label})
				c.vTop += t
			} else {
				c.layers = append(c.layers, leaf{c.vBot - t, c.vBot, label})
				c.vBot -= t
			}
		}
	}
}

// rims returns the v of the frame's outermost edges at face A and at face B.
func (c *section) rims() (a, b Length) {
	first, last := c.lines[0], c.lines[len(c.lines)-1]
	return first.Offset + first.Depth/2, last.Offset - last.Depth/2
}

func (s *Set) boardThickness(id string) Length {
	if b, ok := s.in.Catalogue.Board(id); ok {
		return b.Thickness
	}
	return 12_500_000
}

// insulate finds the fill of each frame line from its first batt.
func (c *section) insulate() {
	for _, fl := range c.lines {
		for i := range c.wall.Batts {
			b := &c.wall.Batts[i]
			if c.wall.FrameLines[b.Line].Offset != fl.Offset {
				continue
			}
			t := min(b.Thickness, fl.Depth-2e6)
			c.fills = append(c.fills, fill{fl.Offset - t/2, fl.Offset + t/2})
			c.labels = append(c.labels, drawing.Mark{At: (fl.Offset - fl.Depth/4).MM(),
				Text: c.set.woolName(b.Product, b.Thickness)})
			break
		}
	}
}

// woolName names an insulation with its thickness.
func (s *Set) woolName(id string, thickness Length) string {
	name := id
	if w, ok := s.in.Catalogue.InsulationProduct(id); ok {
		name = w.Name
	}
	if t := s.units.thin(thickness); !strings.Contains(name, t) {
		name += ", " + t
	}
	return name
}

// label names what the section shows, from face A to face B.
func (c *section) label() {
	for _, l := range c.layers {
		c.labels = append(c.labels, drawing.Mark{At: ((l.from + l.to) / 2).MM(), Text: l.label})
	}
	for _, fl := range c.lines {
		c.labels = append(c.labels, drawing.Mark{At: (fl.Offset + fl.Depth/4).MM(),
			Text: fmt.Sprintf("%s at %s, tracks %s", fl.Stud, c.set.units.dim(fl.Spacing), fl.Track)})
	}
	slices.SortStableFunc(c.labels, func(a, b drawing.Mark) int { return cmp.Compare(b.At, a.At) })
}

func (c *section) deep() float64 { return c.scale.paper(c.vTop - c.vBot) }

func (c *section) bodyWidth() float64 { return (sectionLeft + sectionRight) / float64(c.scale) }

// room is the height of the body with its labels.
func (c *section) room() float64 {
	chain := c.parts(0, func(v Length) float64 { return -c.scale.paper(v) })
	return max(c.deep(), float64(len(c.labels))*drawing.RowPitch*drawing.Small, chain.Need()) + 2*sectionPad
}

func (c *section) size() (float64, float64) {
	widest := 0.0
	for _, m := range c.labels {
		widest = max(widest, drawing.TextWidth(m.Text, drawing.Small, false))
	}
	return max(column, sectionDims+c.bodyWidth()+4+drawing.RowReach+widest), viewTitle + c.room()
}

// draw draws the section with its upper left corner at the given place.
func (c *section) draw(s *drawing.Scene, at drawing.Point) {
	room, _ := c.size()
	heading(s, at, "Build-up "+c.wall.BuildUp, "level section beside a stud, face A above, "+c.set.units.name(c.scale), room)
	x0 := at.X + sectionDims
	yMid := at.Y + viewTitle + c.room()/2
	vMid := (c.vTop + c.vBot) / 2
	y := func(v Length) float64 { return yMid - c.scale.paper(v-vMid) }
	c.drawLayers(s, x0, y)
	c.drawFrame(s, x0+sectionLeft/float64(c.scale), y)
	c.drawSides(s, x0, y)
	c.drawDims(s, x0, y, at)
}

func (c *section) drawLayers(s *drawing.Scene, x0 float64, y func(Length) float64) {
	w := c.bodyWidth()
	for _, f := range c.fills {
		r := drawing.NewRect(x0, y(f.to), w, y(f.from)-y(f.to))
		s.Layer(drawing.Insulation).Add(drawing.Path{Points: drawing.Batt(r), Pen: drawing.Pen{Weight: drawing.W18, Grey: 0.35}})
	}
	for _, b := range c.layers {
		r := drawing.NewRect(x0, y(b.to), w, y(b.from)-y(b.to))
		s.Layer(drawing.Boards).Add(
			drawing.Path{Points: r.Corners(), Closed: true, Fill: drawing.Tint(0.87)},
			drawing.Lines{Pen: drawing.Outline, Segments: []drawing.Segment{
				{A: r.Min, B: drawing.Point{X: r.Max.X, Y: r.Min.Y}}, {A: drawing.Point{X: r.Min.X, Y: r.Max.Y}, B: r.Max}}})
	}
}

// drawFrame draws one stud in each frame line, and what ties twin frames.
func (c *section) drawFrame(s *drawing.Scene, x float64, y func(Length) float64) {
	l := s.Layer(drawing.Frame)
	for _, fl := range c.lines {
		flange, lip := Length(50e6), Length(6e6)
		if p, ok := c.set.in.Catalogue.Profile(fl.Stud); ok {
			flange, lip = p.Flange, p.Lip
		}
		top, bottom := y(fl.Offset+fl.Depth/2)+0.3, y(fl.Offset-fl.Depth/2)-0.3
		xf, dl := x+c.scale.paper(flange), c.scale.paper(lip)
		// The shape is cleared of insulation first.
		l.Add(drawing.Path{Points: drawing.NewRect(x, top, xf-x, bottom-top).Corners(), Closed: true, Fill: drawing.White})
		l.Add(drawing.Path{Pen: drawing.Cut, Points: []drawing.Point{
			{X: xf, Y: top + dl}, {X: xf, Y: top}, {X: x, Y: top}, {X: x, Y: bottom}, {X: xf, Y: bottom}, {X: xf, Y: bottom - dl}}})
	}
	if len(c.wall.Gussets) > 0 && len(c.lines) == 2 {
		a, b := c.rims()
		top, bottom := y(a)+1, y(b)-1
		t := c.scale.paper(c.set.boardThickness(c.wall.Gussets[0].Board))
		s.Layer(drawing.Boards).Add(drawing.Box(drawing.NewRect(x-t-0.3, top, t, bottom-top), drawing.Medium, drawing.Tint(0.87)))
	}
	c.drawScrews(s, x, y)
}

// drawScrews draws the outermost screw of each face.
func (c *section) drawScrews(s *drawing.Scene, x float64, y func(Length) float64) {
	const into = 12e6 // shown length of point past the boards
	xs := x + 12/float64(c.scale)*2
	inner, outer := c.rims()
	var lines []drawing.Segment
	if c.vTop > inner {
		lines = append(lines, screw(xs, y(c.vTop), y(inner-into))...)
	}
	if c.vBot < outer {
		lines = append(lines, screw(xs, y(c.vBot), y(outer+into))...)
	}
	s.Layer(drawing.Frame).Add(drawing.Lines{Segments: lines, Pen: drawing.Medium})
}

func screw(x, head, point float64) []drawing.Segment {
	return []drawing.Segment{
		{A: drawing.Point{X: x, Y: head}, B: drawing.Point{X: x, Y: point}},
		{A: drawing.Point{X: x - 0.7, Y: head}, B: drawing.Point{X: x + 0.7, Y: head}},
	}
}

// drawSides draws the break lines at both ends of the part shown.
func (c *section) drawSides(s *drawing.Scene, x0 float64, y func(Length) float64) {
	for _, x := range []float64{x0, x0 + c.bodyWidth()} {
		s.Layer(drawing.Joints).Add(drawing.Path{Points: breakLine(x, y(c.vTop)-2.5, y(c.vBot)+2.5), Pen: drawing.Thin})
	}
}

// edges returns the v of the faces and of the frame's edges, descending.
func (c *section) edges() []Length {
	edges := []Length{c.vTop, c.vBot}
	for _, fl := range c.lines {
		edges = append(edges, fl.Offset+fl.Depth/2, fl.Offset-fl.Depth/2)
	}
	slices.Sort(edges)
	slices.Reverse(edges)
	return slices.Compact(edges)
}

// parts returns the thicknesses of boards, frames and the gap between frames,
// end to end.
func (c *section) parts(x0 float64, y func(Length) float64) drawing.Chain {
	edges := c.edges()
	chain := drawing.Chain{Axis: drawing.AlongY, Line: x0 - 9, Height: drawing.Small}
	for i, v := range edges {
		chain.Marks = append(chain.Marks, drawing.Mark{At: y(v), From: x0 - 1.5})
		if i > 0 {
			chain.Texts = append(chain.Texts, c.set.units.thin(edges[i-1]-v))
		}
	}
	return chain
}

// drawDims draws thicknesses at the left and names at the right.
func (c *section) drawDims(s *drawing.Scene, x0 float64, y func(Length) float64, at drawing.Point) {
	l := s.Layer(drawing.Dimensions)
	lo, hi := at.Y+viewTitle, at.Y+viewTitle+c.room()
	parts := c.parts(x0, y)
	parts.Lo, parts.Hi = lo, hi
	total := drawing.Chain{Axis: drawing.AlongY, Line: x0 - 17, Height: drawing.Small, Lo: lo, Hi: hi,
		Texts: []string{c.set.units.thin(c.vTop - c.vBot)},
		Marks: []drawing.Mark{{At: y(c.vTop), From: x0 - 8}, {At: y(c.vBot), From: x0 - 8}}}
	parts.Draw(l)
	total.Draw(l)
	marks := make([]drawing.Mark, len(c.labels))
	for i, m := range c.labels {
		v := Length(m.At * 1e6)
		marks[i] = drawing.Mark{At: y(v), From: x0 + c.bodyWidth() - 3, Text: m.Text}
	}
	drawing.Row{Axis: drawing.AlongY, Line: x0 + c.bodyWidth() + 3, Out: 1, Lo: lo, Hi: hi, Marks: marks, Height: drawing.Small}.Draw(s.Layer(drawing.Marks))
}
