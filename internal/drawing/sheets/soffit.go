package sheets

import (
	"fmt"

	"nogging/internal/drawing"
	"nogging/internal/geom"
	"nogging/internal/layout"
)

// soffitNotes says what is packed under the soffit, and how a metal deck is closed
// and fixed to.
func (s *Set) soffitNotes(w *layout.Wall) []string {
	var out []string
	if w.Head.Strips > 0 {
		out = append(out, fmt.Sprintf("Under the soffit %d strips of board over one another, %s thick together, go over the head track; anchors go through them. Boards lap them and slide on them: no screw into strips or head track (common practice; the tested detail decides).",
			w.Head.Strips, s.units.thin(w.Head.Pack)))
	}
	closers := 0
	for i := range w.Caps {
		if w.Caps[i].Use == layout.UseFluteCloser {
			closers++
		}
	}
	if closers > 0 {
		out = append(out, fmt.Sprintf("Metal deck across the wall: %d pieces of board cut to the flutes close them over both faces, with the cavity's fill between; anchors into ribs only.", closers))
	}
	if len(w.Plates) > 0 {
		out = append(out, fmt.Sprintf("Metal deck along the wall: steel strip %s wide from rib to rib, fixed to both, carries the head track.", s.units.thin(w.Plates[0].Width)))
	}
	return out
}

// drawFlutes draws the flutes of a metal deck that cross the wall.
func (f *framing) drawFlutes(s *drawing.Scene) {
	for i := range f.wall.Caps {
		p := &f.wall.Caps[i]
		if p.Use != layout.UseFluteCloser || len(p.Outline) < 4 || !f.inWindow(p.At.X) {
			continue
		}
		shape := make(geom.Polygon, len(p.Outline))
		for j, q := range p.Outline {
			shape[j] = q.Sub(p.Outline[0]).Add(p.At)
		}
		s.Layer(drawing.Structure).Add(drawing.Path{Points: f.polygon(shape), Closed: true, Pen: drawing.Thin, Fill: drawing.White})
	}
}

// drawPack draws the strips between soffit and head track.
func (f *framing) drawPack(s *drawing.Scene) {
	pack := f.wall.Head.Pack
	if pack == 0 {
		return
	}
	f.members(func(m *layout.Member, _ string) {
		if m.Role != layout.SoffitTrack {
			return
		}
		up := func(p geom.Point) geom.Point { return geom.Pt(p.X, p.Y+pack) }
		shape := f.polygon(geom.Polygon{m.From, m.To, up(m.To), up(m.From)})
		s.Layer(drawing.Boards).Add(drawing.Path{Points: shape, Closed: true, Pen: drawing.Thin, Fill: drawing.Tint(0.87)})
	})
}
