package sheets

import (
	"fmt"

	"nogging/internal/drawing"
	"nogging/internal/layout"
)

// closingNotes says how the pieces between a wall and facade posts are made.
func (s *Set) closingNotes(w *layout.Wall) []string {
	var out []string
	for i := range w.Closings {
		c := &w.Closings[i]
		if len(c.Boards) == 0 {
			continue
		}
		made := fmt.Sprintf("%d boards on each other", len(c.Boards))
		if c.Stud != "" {
			made = fmt.Sprintf("2 uprights %s of %s, one board a face", c.Stud, s.units.dim(c.Studs[0]))
		}
		b := &c.Boards[0]
		out = append(out, fmt.Sprintf("Closing piece to %s: %s thick, %s; boards %s, %s. Fixed to post and end stud, sealed at both on both faces; it insulates less than the wall.",
			c.With, s.units.thin(c.Thickness), made, s.boardName(b.Board), s.units.by(b.Width, b.Height)))
	}
	return out
}

// drawClosings draws the pieces between a wall and facade posts.
func (p *planView) drawClosings(g *drawing.Group, w *layout.Wall) {
	for i := range w.Closings {
		c := &w.Closings[i]
		g.Add(drawing.Path{Points: p.quad(w, c.U, c.Offset-c.Thickness/2, c.Offset+c.Thickness/2), Closed: true, Pen: drawing.Thin, Fill: drawing.Tint(0.87)})
	}
}
