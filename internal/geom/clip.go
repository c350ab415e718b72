package geom

import "math"

// Clip returns the part of the polygon that lies inside a convex,
// counter-clockwise window, edge by edge. Parts that hang
// together only through the window's edge are joined along it, which leaves the
// area right.
func (p Polygon) Clip(window Polygon) Polygon {
	out := p
	window.Edges(func(e Segment) {
		in := out
		out = nil
		for i, b := range in {
			a := in[(i+len(in)-1)%len(in)]
			sa, sb := side(e, a), side(e, b)
			if (sa < 0) != (sb < 0) {
				t := sa / (sa - sb)
				out = append(out, Point{
					a.X + Length(math.Round(t*float64(b.X-a.X))),
					a.Y + Length(math.Round(t*float64(b.Y-a.Y))),
				})
			}
			if sb >= 0 {
				out = append(out, b)
			}
		}
	})
	return out
}

// side is positive for points to the left of a segment.
func side(e Segment, p Point) float64 {
	d := Vec{float64(e.B.X - e.A.X), float64(e.B.Y - e.A.Y)}
	return d.Cross(Vec{float64(p.X - e.A.X), float64(p.Y - e.A.Y)})
}
