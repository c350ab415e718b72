package parts

import (
	"math"
	"slices"

	"nogging/internal/geom"
)

// sagitta is how far the chords of a curved part may lie from its arc, in metres.
const sagitta = 0.001

// Mesh is a closed surface of triangles, seen from outside counter-clockwise. Points
// are in metres; faces are three places in them each.
type Mesh struct {
	Points [][3]float64
	Faces  []uint32
}

// Mesh is the surface of a solid of a straight wall in the wall's coordinates: u, v, z.
func (s *Solid) Mesh() Mesh {
	return sweep(s, nil, func(u, v, z float64) [3]float64 { return [3]float64{u, v, z} })
}

// Bent is the surface of a solid of a curved wall with the given axis: x and y of the
// plan less those of zero, and z. Chords lie within a millimetre of the arc.
func (s *Solid) Bent(a geom.Arc, zero geom.Point) Mesh {
	c := a.Centre.Sub(zero)
	x, y, r, turn := c.X.Metres(), c.Y.Metres(), a.Radius.Metres(), 1.0
	if a.Sweep < 0 {
		turn = -1
	}
	step := 2 * math.Acos(max(1-sagitta/r, 0)) * r
	bounds := s.Outline.Bounds()
	var at []float64
	from, to := bounds.Min.X.Metres(), bounds.Max.X.Metres()
	for n := 1; from+float64(n)*step < to; n++ {
		at = append(at, from+float64(n)*step)
	}
	return sweep(s, at, func(u, v, z float64) [3]float64 {
		angle, radius := a.From+turn*u/r, r-turn*v // left of a left turn is inwards
		return [3]float64{x + radius*math.Cos(angle), y + radius*math.Sin(angle), z}
	})
}

// sweep builds the surface of a solid: its outline cut into upright strips at each of
// its corners and at the given places, so that holes need no other care, and a side
// along each piece of an edge.
func sweep(s *Solid, at []float64, place func(u, v, z float64) [3]float64) Mesh {
	edges, stops := edgesOf(s)
	stops = append(stops, at...)
	slices.Sort(stops)
	stops = slices.Compact(stops)
	b := &surface{place: place, near: s.V.From.Metres(), far: s.V.To.Metres(), at: map[[3]float32]uint32{}}
	if b.near == b.far || len(stops) < 2 {
		return Mesh{}
	}
	for i := 0; i+1 < len(stops); i++ {
		b.strip(edges, stops[i], stops[i+1])
	}
	for _, e := range edges {
		b.side(e, stops)
	}
	return b.Mesh
}

// edge is an edge of an outline in u and z, with the solid on its left.
type edge struct{ u0, z0, u1, z1 float64 }

func (e edge) z(u float64) float64 { return e.z0 + (e.z1-e.z0)*(u-e.u0)/(e.u1-e.u0) }

func edgesOf(s *Solid) (edges []edge, stops []float64) {
	rings := append([]geom.Polygon{s.Outline}, s.Holes...)
	for i, ring := range rings {
		var list []edge
		sum := 0.0
		ring.Edges(func(e geom.Segment) {
			x := edge{e.A.X.Metres(), e.A.Y.Metres(), e.B.X.Metres(), e.B.Y.Metres()}
			list, sum = append(list, x), sum+x.u0*x.z1-x.u1*x.z0
			stops = append(stops, x.u0)
		})
		if (sum > 0) != (i == 0) { // outlines run left about, holes right about
			for k, x := range list {
				list[k] = edge{x.u1, x.z1, x.u0, x.z0}
			}
		}
		edges = append(edges, list...)
	}
	return edges, stops
}

// surface gathers triangles; points that meet are one.
type surface struct {
	Mesh
	place     func(u, v, z float64) [3]float64
	near, far float64
	at        map[[3]float32]uint32
}

func (b *surface) point(u, v, z float64) uint32 {
	p := b.place(u, v, z)
	key := [3]float32{float32(p[0]), float32(p[1]), float32(p[2])}
	n, ok := b.at[key]
	if !ok {
		n = uint32(len(b.Points))
		b.Points, b.at[key] = append(b.Points, p), n
	}
	return n
}

// quad adds two triangles; corners that fall together leave one or none.
func (b *surface) quad(p, q, r, s uint32) {
	b.triangle(p, q, r)
	b.triangle(p, r, s)
}

func (b *surface) triangle(p, q, r uint32) {
	if p != q && q != r && r != p {
		b.Faces = append(b.Faces, p, q, r)
	}
}

// strip fills both faces between two places: edges that cross the strip, from the
// bottom up, bound filled pieces two by two.
func (b *surface) strip(edges []edge, u0, u1 float64) {
	var across []edge
	middle := (u0 + u1) / 2
	for _, e := range edges {
		if min(e.u0, e.u1) < middle && max(e.u0, e.u1) > middle {
			across = append(across, e)
		}
	}
	slices.SortStableFunc(across, func(a, c edge) int {
		if d := a.z(middle) - c.z(middle); d < 0 {
			return -1
		} else if d > 0 {
			return 1
		}
		return 0
	})
	for i := 0; i+1 < len(across); i += 2 {
		low, high := across[i], across[i+1]
		corner := func(v, u, z float64) uint32 { return b.point(u, v, z) }
		n := [4]uint32{corner(b.near, u0, low.z(u0)), corner(b.near, u1, low.z(u1)), corner(b.near, u1, high.z(u1)), corner(b.near, u0, high.z(u0))}
		f := [4]uint32{corner(b.far, u0, low.z(u0)), corner(b.far, u1, low.z(u1)), corner(b.far, u1, high.z(u1)), corner(b.far, u0, high.z(u0))}
		b.quad(n[0], n[1], n[2], n[3])
		b.quad(f[3], f[2], f[1], f[0])
	}
}

// side adds the surface along an edge, in pieces between the stops.
func (b *surface) side(e edge, stops []float64) {
	if e.u0 == e.u1 {
		b.quad(b.point(e.u0, b.near, e.z0), b.point(e.u0, b.far, e.z0), b.point(e.u1, b.far, e.z1), b.point(e.u1, b.near, e.z1))
		return
	}
	low, high := min(e.u0, e.u1), max(e.u0, e.u1)
	for i := 0; i+1 < len(stops); i++ {
		from, to := stops[i], stops[i+1]
		if from < low || to > high {
			continue
		}
		if e.u0 > e.u1 {
			from, to = to, from
		}
		b.quad(b.point(from, b.near, e.z(from)), b.point(from, b.far, e.z(from)), b.point(to, b.far, e.z(to)), b.point(to, b.near, e.z(to)))
	}
}
