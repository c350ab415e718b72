package sheets

import (
	"fmt"
	"strconv"

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

// closingsPast returns by how much, in mm on paper, closing pieces reach past the
// start and the end of the wall where those show.
func (f *framing) closingsPast() (past [2]float64) {
	for i := range f.wall.Closings {
		switch c := &f.wall.Closings[i]; {
		case c.End == 0 && f.first:
			past[0] = f.scale.paper(f.window.From - c.U.From)
		case c.End == 1 && f.last:
			past[1] = f.scale.paper(c.U.To - f.window.To)
		}
	}
	return past
}

// drawClosings draws the pieces between the wall and facade posts.
func (f *framing) drawClosings(s *drawing.Scene) {
	for i := range f.wall.Closings {
		c := &f.wall.Closings[i]
		if len(c.Boards) == 0 || c.End == 0 && !f.first || c.End == 1 && !f.last {
			continue
		}
		p := &c.Boards[0]
		r := drawing.Rect{Min: f.pt(c.U.From, p.At.Y+p.Height), Max: f.pt(c.U.To, p.At.Y)}
		g := &drawing.Group{Title: fmt.Sprintf("closing piece to %s: %s", c.With, f.set.units.by(p.Width, p.Height))}
		g.Add(drawing.Box(r, drawing.Thin, drawing.Tint(0.87)))
		if middle := r.Centre(); r.Width() > drawing.Small {
			g.Add(drawing.Text{At: middle, Text: "closing piece", Height: drawing.Small, Align: drawing.Centre, Turn: 90}.Middle())
		}
		s.Layer(drawing.Boards).Add(g)
	}
}

// listSlimUprights lists what is cut for closing pieces.
func (s *Set) listSlimUprights(t *drawing.Table, w *layout.Wall) {
	for i := range w.Closings {
		if c := &w.Closings[i]; c.Stud != "" && len(c.Studs) > 0 {
			t.Add("–", "upright, closing piece", c.Stud, s.units.dim(c.Studs[0]), strconv.Itoa(len(c.Studs)))
		}
	}
}

// listClosings lists the boards of closing pieces.
func (s *Set) listClosings(t *drawing.Table, w *layout.Wall) {
	for i := range w.Closings {
		c := &w.Closings[i]
		if len(c.Boards) == 0 {
			continue
		}
		t.Heading("Closing piece to " + c.With + ": " + s.boardName(c.Boards[0].Board))
		for _, g := range s.alike(c.Boards, false) {
			t.Add("–", g.cut, s.units.by(g.piece.Width, g.piece.Height), s.massText(g.piece), strconv.Itoa(len(g.numbers)))
		}
	}
}
