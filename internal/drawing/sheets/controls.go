package sheets

import (
	"fmt"
	"slices"

	"nogging/internal/drawing"
	"nogging/internal/geom"
	"nogging/internal/layout"
)

// controlNotes says where a wall is parted, why, and how.
func (s *Set) controlNotes(w *layout.Wall) []string {
	var out []string
	if len(w.FrameLines) == 0 {
		return nil
	}
	from := w.FrameLines[0].Extent.From
	for _, c := range w.Controls {
		where := "from floor to soffit"
		if c.Over != "" {
			where = "over the head of " + c.Over + ", from its corner to the soffit; the header is not fixed to that jamb"
		}
		strips := ""
		if slices.ContainsFunc(w.Caps, func(p layout.Piece) bool { return p.Use == useBacking && p.At.X == c.U.From }) {
			strips = " Strips of the boards behind the gap are fixed on one side only."
		}
		out = append(out, fmt.Sprintf("Movement joint at %s, %s (%s): tracks, boards and finish are parted there, nothing is fixed across it.%s",
			s.units.span(c.U.From-from, c.U.To-from), where, s.units.localise(c.Rule), strips))
	}
	return out
}

// drawMovement draws the movement joints of the structure.
func (p *planView) drawMovement(s *drawing.Scene) {
	for i := range p.level.MovementJoints {
		m := &p.level.MovementJoints[i]
		if !m.Usable() {
			continue
		}
		line := drawing.Segment{A: p.pt(geom.Point(m.Line[0])), B: p.pt(geom.Point(m.Line[1]))}
		g := p.clip()
		g.Title = fmt.Sprintf("Movement joint %d of the structure", i+1)
		g.Add(drawing.Line(line.A, line.B, drawing.Pen{Weight: drawing.W25, Dash: drawing.LongDashTwoDots}))
		s.Layer(drawing.Structure).Add(g)
		p.placer.Avoid(line)
		t := drawing.Text{Text: fmt.Sprintf("movement joint %d of the structure", i+1), Height: drawing.Tiny, Align: drawing.Centre, Mask: true}
		middle := drawing.Point{X: (line.A.X + line.B.X) / 2, Y: (line.A.Y + line.B.Y) / 2}
		if t, from, ok := p.placer.OnLeader([]drawing.Point{middle}, t, p.frame()); ok && p.frame().Holds(drawing.Rect{Min: middle, Max: middle}) {
			drawLeader(s, from, t)
		}
	}
}
