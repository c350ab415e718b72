package layout

import "nogging/internal/geom"

// Outline returns the member as it is seen in elevation, in the wall's plane.
func (m *Member) Outline() geom.Polygon {
	if m.Upright() {
		half := m.Width / 2
		return geom.Polygon{geom.Pt(m.From.X-half, m.From.Y), geom.Pt(m.From.X+half, m.From.Y), geom.Pt(m.From.X+half, m.To.Y), geom.Pt(m.From.X-half, m.To.Y)}
	}
	up := m.FlangeSide()
	return geom.Polygon{m.From, m.To, geom.Pt(m.To.X, m.To.Y+up), geom.Pt(m.From.X, m.From.Y+up)}
}

// FlangeSide returns by how much, and to which side, the flanges of a horizontal
// member stand over its line: tracks and headers open away from what they are fixed
// to.
func (m *Member) FlangeSide() Length {
	switch m.Role {
	case SoffitTrack, SillTrack:
		return -m.Width
	}
	return m.Width
}
