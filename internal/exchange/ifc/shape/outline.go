package shape

import (
	"cmp"
	"math"
	"slices"
)

// Box is the extent of a body in a frame: u, v and z.
type Box struct{ Min, Max Vec }

// Empty is the box of nothing.
var Empty = Box{Vec{math.Inf(1), math.Inf(1), math.Inf(1)}, Vec{math.Inf(-1), math.Inf(-1), math.Inf(-1)}}

// IsEmpty reports whether the box holds no point.
func (b Box) IsEmpty() bool { return !(b.Min.X <= b.Max.X) }

// Add returns the box that also holds p.
func (b Box) Add(p Vec) Box {
	return Box{
		Vec{min(b.Min.X, p.X), min(b.Min.Y, p.Y), min(b.Min.Z, p.Z)},
		Vec{max(b.Max.X, p.X), max(b.Max.Y, p.Y), max(b.Max.Z, p.Z)},
	}
}

// Size returns the lengths of the box's sides.
func (b Box) Size() Vec { return b.Max.Sub(b.Min) }

// Points yields the corners of all material, as it is before anything is taken
// away from it.
func Points(solids []*Solid) func(yield func(Vec) bool) {
	return func(yield func(Vec) bool) {
		for _, s := range solids {
			for l := range s.Leaves {
				for _, face := range l.Faces {
					for _, loop := range face {
						for _, p := range loop {
							if !yield(p) {
								return
							}
						}
					}
				}
			}
		}
	}
}

// Extent returns the box of a body in a frame.
func Extent(solids []*Solid, f Frame) Box {
	box := Empty
	for p := range Points(solids) {
		box = box.Add(f.Local(p))
	}
	return box
}

// normal returns the vector square to a face; its length is the face's area.
func (f Face) normal() Vec {
	var n Vec
	for k, loop := range f {
		var l Vec
		o := loop[0]
		for i := 1; i+1 < len(loop); i++ {
			l = l.Add(loop[i].Sub(o).Cross(loop[i+1].Sub(o)))
		}
		l = l.Times(0.5)
		switch {
		case k == 0:
			n = l
		case l.Dot(n) > 0:
			n = n.Sub(l) // a hole
		default:
			n = n.Add(l)
		}
	}
	return n
}

// Sides describes the upright and the leaning faces of a body.
type Sides struct {
	Along   Vec     // level direction of the faces that have the largest area together
	Share   float64 // their part of the area of all upright faces
	Leaning float64 // area of leaning faces per area of upright ones
}

// upright is the part of a normal that may point up or down in a face that
// counts as upright: about half a degree.
const upright = 0.01

// SidesOf finds along which direction the largest upright faces of a body run.
// That is along a straight wall, whatever it is made of.
func SidesOf(solids []*Solid) Sides {
	const bins = 720 // a quarter of a degree each
	type bin struct{ area, cos, sin float64 }
	var at [bins]bin
	total, leaning := 0.0, 0.0
	for _, s := range solids {
		for l := range s.Leaves {
			for _, face := range l.Faces {
				n := face.normal()
				area := n.Len()
				rise := math.Abs(n.Z)
				if area < 1 || rise > 0.7*area {
					continue
				}
				if rise > upright*area {
					leaning += area
					continue
				}
				angle := math.Atan2(n.Y, n.X) + math.Pi/2
				sin2, cos2 := math.Sincos(2 * angle)
				turn := math.Mod(angle/math.Pi+2, 1)
				b := &at[int(turn*bins)%bins]
				b.area, b.cos, b.sin = b.area+area, b.cos+area*cos2, b.sin+area*sin2
				total += area
			}
		}
	}
	var best bin
	for i := range at {
		p, q, r := at[(i+bins-1)%bins], at[i], at[(i+1)%bins]
		if sum := p.area + q.area + r.area; q.area > 0 && sum > best.area*(1+1e-9) {
			best = bin{sum, p.cos + q.cos + r.cos, p.sin + q.sin + r.sin}
		}
	}
	if total == 0 || best.area == 0 {
		return Sides{}
	}
	sin, cos := math.Sincos(math.Atan2(best.sin, best.cos) / 2)
	return Sides{Along: Vec{X: cos, Y: sin}, Share: best.area / total, Leaning: leaning / total}
}

// MainFaces returns v of the outermost of the large faces that run along a
// frame: the wall's faces, without what projects from them. ok is false where
// there are no two.
func MainFaces(solids []*Solid, f Frame) (right, left float64, ok bool) {
	type plane struct{ v, area float64 }
	var planes []plane
	for _, s := range solids {
		for l := range s.Leaves {
			for _, face := range l.Faces {
				if v, area, ok := f.runsAlong(face); ok {
					planes = append(planes, plane{v, area})
				}
			}
		}
	}
	slices.SortFunc(planes, func(a, b plane) int { return cmp.Or(cmp.Compare(a.v, b.v), cmp.Compare(a.area, b.area)) })
	merged := planes[:0]
	for _, p := range planes {
		if k := len(merged); k > 0 && p.v-merged[k-1].v < 1 {
			merged[k-1].area += p.area
		} else {
			merged = append(merged, p)
		}
	}
	largest := 0.0
	for _, p := range merged {
		largest = max(largest, p.area)
	}
	large := slices.DeleteFunc(merged, func(p plane) bool { return p.area < largest*largeFace })
	if len(large) < 2 {
		return 0, 0, false
	}
	return large[0].v, large[len(large)-1].v, true
}

// largeFace is the part of the largest face's area from which a face counts as
// one of the wall's own. Between the layers of a wall there are faces too, and
// two for each layer.
const largeFace = 0.4

// Footprint returns the outline of a body's lowest level faces, and whether it
// has one.
func Footprint(solids []*Solid) ([]Vec, bool) {
	lowest := math.Inf(1)
	var level []Face
	for _, s := range solids {
		for l := range s.Leaves {
			for _, face := range l.Faces {
				if n := face.normal(); math.Abs(n.Z) > 0.999*n.Len() && n.Len() > 1 {
					level = append(level, face)
					lowest = min(lowest, face[0][0].Z)
				}
			}
		}
	}
	level = slices.DeleteFunc(level, func(f Face) bool { return f[0][0].Z > lowest+1 })
	if len(level) == 1 {
		return outer(level[0]), true
	}
	return ringOf(level)
}

// outer returns the largest loop of a face.
func outer(f Face) []Vec {
	best := f[0]
	for _, loop := range f[1:] {
		if math.Abs(ringArea(loop)) > math.Abs(ringArea(best)) {
			best = loop
		}
	}
	return best
}

// ringArea returns the area within a level loop, positive where it runs
// counter-clockwise.
func ringArea(loop []Vec) float64 {
	a := 0.0
	for i := 1; i+1 < len(loop); i++ {
		p, q := loop[i].Sub(loop[0]), loop[i+1].Sub(loop[0])
		a += p.X*q.Y - p.Y*q.X
	}
	return a / 2
}

// corner is a point of a plan on a grid of a tenth of a millimetre, for
// comparison.
type corner struct{ x, y int64 }

func cornerAt(p Vec) corner { return corner{int64(math.Round(p.X * 10)), int64(math.Round(p.Y * 10))} }

// ringOf joins level faces that lie side by side and returns the largest
// outline around them. An edge that two faces share is inside.
func ringOf(faces []Face) ([]Vec, bool) {
	type side struct{ a, b corner }
	next := map[side]Vec{} // where the side ends
	var order []side
	for _, f := range faces {
		for _, loop := range f {
			if ringArea(loop) < 0 {
				loop = slices.Clone(loop)
				reverse(loop)
			}
			for i, p := range loop {
				q := loop[(i+1)%len(loop)]
				s := side{cornerAt(p), cornerAt(q)}
				if _, shared := next[side{s.b, s.a}]; shared {
					delete(next, side{s.b, s.a})
				} else if s.a != s.b {
					next[s] = q
					order = append(order, s)
				}
			}
		}
	}
	from := map[corner]side{}
	for _, s := range order {
		if _, still := next[s]; still {
			from[s.a] = s
		}
	}
	var best []Vec
	for _, start := range order {
		var ring []Vec
		for s, ok := from[start.a]; ok; s, ok = from[s.b] {
			ring = append(ring, next[s])
			delete(from, s.a)
		}
		if math.Abs(ringArea(ring)) > math.Abs(ringArea(best)) {
			best = ring
		}
	}
	return best, len(best) > 2
}

// Hull returns the convex outline of points in plan, counter-clockwise.
func Hull(points []Vec) []Vec {
	slices.SortFunc(points, func(a, b Vec) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	var hull []Vec
	for range 2 {
		floor := max(len(hull), 1)
		for _, p := range points {
			for len(hull) > floor && turn(hull[len(hull)-2], hull[len(hull)-1], p) <= 1e-6 {
				hull = hull[:len(hull)-1]
			}
			if len(hull) == 0 || math.Hypot(p.X-hull[len(hull)-1].X, p.Y-hull[len(hull)-1].Y) > tiny {
				hull = append(hull, p)
			}
		}
		slices.Reverse(points)
	}
	if n := len(hull); n > 1 && math.Hypot(hull[0].X-hull[n-1].X, hull[0].Y-hull[n-1].Y) <= tiny {
		hull = hull[:n-1]
	}
	return hull
}

func turn(a, b, c Vec) float64 { return (b.X-a.X)*(c.Y-b.Y) - (b.Y-a.Y)*(c.X-b.X) }
