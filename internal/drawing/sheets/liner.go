package sheets

import (
	"fmt"

	"nogging/internal/drawing"
	"nogging/internal/geom"
)

// linerMark is the mark of a piece of a shaft wall's liner.
func linerMark(number int) string { return fmt.Sprintf("L-%02d", number) }

// drawLiner draws the pieces of a shaft wall's liner with the angles along their
// edges.
func (f *framing) drawLiner(s *drawing.Scene) {
	for i := range f.wall.Liner {
		p := &f.wall.Liner[i]
		shape := f.polygon(p.Outline)
		if shape == nil || !f.inWindow(p.At.X+p.Width/2) {
			continue
		}
		mark := linerMark(p.Number)
		g := &drawing.Group{ID: f.id(mark), Title: fmt.Sprintf("%s liner: %s, %s", mark, f.set.boardName(p.Board), f.set.units.by(p.Width, p.Height)),
			Data: []drawing.Datum{{Name: "wall", Value: f.wall.ID}, {Name: "part", Value: mark}}}
		g.Add(drawing.Path{Points: shape, Closed: true, Pen: drawing.Thin})
		for _, h := range p.Holes {
			g.Add(drawing.Path{Points: f.polygon(h), Closed: true, Pen: drawing.Thin})
		}
		s.Layer(drawing.Boards).Add(g)
	}
}

// labelLiner writes the marks of the liner's pieces into them.
func (f *framing) labelLiner(s *drawing.Scene, placer *drawing.Placer) {
	for i := range f.wall.Liner {
		p := &f.wall.Liner[i]
		c := geom.Pt(p.At.X+p.Width/2, p.At.Y+p.Height/2)
		if !f.inWindow(c.X) {
			continue
		}
		mark := linerMark(p.Number)
		flat := drawing.Text{At: f.pt(c.X, c.Y), Text: mark, Height: drawing.Small, Align: drawing.Centre}
		upright := flat
		upright.Turn = 90
		f.write(s, placer, mark, []drawing.Point{f.pt(c.X, c.Y)}, flat.Middle(), upright.Middle())
	}
}
