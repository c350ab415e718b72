package sheets

import (
	"nogging/internal/drawing"
	"nogging/internal/geom"
	"nogging/internal/plan"
)

// nameRooms writes the rooms' names.
func (p *planView) nameRooms(s *drawing.Scene) {
	for _, r := range p.rooms {
		p.nameRoom(s, r)
	}
}

// nameRoom writes a room's name where it stands clear; smaller where it must be;
// in a room too small for it, beside the room on a leader.
func (p *planView) nameRoom(s *drawing.Scene, r *plan.Room) {
	corners := make([]geom.Point, len(r.Outline))
	for i, q := range r.Outline {
		corners[i] = geom.Point(q)
	}
	shape := drawing.ClipPolygon(p.pts(corners), p.frame())
	if len(shape) < 3 {
		return
	}
	name := r.Name
	if name == "" {
		name = r.ID
	}
	for _, height := range []float64{drawing.Small, 2.2, drawing.Tiny} {
		if t, ok := p.placer.PlaceClear(p.inRoom(shape, name, height)...); ok {
			s.Layer(drawing.Notes).Add(t)
			return
		}
	}
	tiny := drawing.Text{Text: name, Height: drawing.Tiny, Align: drawing.Centre, Mask: true}
	if t, from, ok := p.placer.OnLeader(hearts(shape, nil), tiny, p.frame()); ok {
		drawLeader(s, from, t)
		return
	}
	if t, ok := p.placer.Place(p.inRoom(shape, name, drawing.Tiny)...); ok {
		s.Layer(drawing.Notes).Add(t)
	}
}

// inRoom proposes places for a name within a room's shape, the middle first.
func (p *planView) inRoom(shape []drawing.Point, name string, height float64) []drawing.Text {
	box := boundsOf(shape)
	var out []drawing.Text
	for _, turn := range []float64{0, 90} {
		for _, fy := range []float64{.5, .4, .6, .3, .7, .2, .8, .12, .88} {
			for _, fx := range []float64{.5, .4, .6, .3, .7, .2, .8} {
				at := drawing.Point{X: box.Min.X + fx*box.Width(), Y: box.Min.Y + fy*box.Height()}
				t := drawing.Text{At: at, Text: name, Height: height, Align: drawing.Centre, Turn: turn, Grey: 0.4}.Middle()
				if b := t.Bounds(); box.Holds(b) && contains(shape, b.Centre()) {
					out = append(out, t)
				}
			}
		}
	}
	return out
}
