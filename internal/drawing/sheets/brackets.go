package sheets

import (
	"fmt"
	"slices"

	"nogging/internal/drawing"
	"nogging/internal/layout"
)

// bracketLeg is the size at which the legs of angles are drawn.
const bracketLeg = 60e6

// drawBrackets draws the angles at the feet and heads of stiff studs and at the
// ends of stiff headers: a leg along the stud and a leg along what it is fixed to.
func (f *framing) drawBrackets(s *drawing.Scene) {
	for _, b := range f.wall.Brackets {
		if !slices.Contains(f.plane.lines, b.Line) || !f.inWindow(b.At.X) {
			continue
		}
		if b.Behind() {
			f.drawBehind(s, b)
			continue
		}
		up, at := Length(bracketLeg), b.At
		switch b.Use {
		case "head", "sliding head":
			at.Y, up = topAt(f.wall.Top, b.At.X), -up
		case "header":
			up = -up
		}
		g := &drawing.Group{Title: fmt.Sprintf("angle at the %s: %s", b.Use, b.Product)}
		half := Length(bracketLeg / 2)
		g.Add(drawing.Lines{Pen: drawing.Cut, Segments: []drawing.Segment{
			{A: f.pt(at.X, at.Y), B: f.pt(at.X, at.Y+up)}, {A: f.pt(at.X-half, at.Y), B: f.pt(at.X+half, at.Y)},
		}})
		s.Layer(drawing.Frame).Add(g)
	}
}

// drawBehind draws a bracket to the wall behind, across its upright.
func (f *framing) drawBehind(s *drawing.Scene, b layout.Bracket) {
	const half = 40e6
	r, ok := f.rect(b.At.X-half, b.At.X+half, b.At.Y-half/2, b.At.Y+half/2)
	if !ok {
		return
	}
	g := &drawing.Group{Title: "bracket to the wall behind: " + f.set.sundryName(b.Product)}
	g.Add(drawing.Box(r, drawing.Outline, drawing.Tint(0.5)))
	s.Layer(drawing.Frame).Add(g)
}
