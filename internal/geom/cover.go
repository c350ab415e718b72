package geom

import (
	"cmp"
	"math"
	"slices"

	"nogging/internal/quantity"
)

// Covered returns the area of a region that covers lie on; where covers cross,
// it counts once. The region is what lies inside an odd number of its outlines,
// so that holes are outlines too. Covers are convex.
//
// It is a sweep: between two neighbouring values of x at which nothing begins,
// ends or crosses, the height of what is covered grows evenly, so its value in
// the middle times the width is the area.
func Covered(region, covers []Polygon) quantity.Area {
	s := sweep{region: edgesOf(region, false), covers: edgesOf(covers, true)}
	xs := s.breaks(region, covers)
	area := 0.0
	for i := 1; i < len(xs); i++ {
		area += (xs[i] - xs[i-1]) * s.height((xs[i]+xs[i-1])/2)
	}
	const mm = float64(quantity.Millimetre)
	return quantity.Area(area / (mm * mm))
}

// slant is one side of a polygon that is not upright, from left to right; owner
// numbers the cover that it bounds.
type slant struct {
	x0, y0, x1, y1 float64
	owner          int
}

func (e slant) at(x float64) float64 { return e.y0 + (e.y1-e.y0)*(x-e.x0)/(e.x1-e.x0) }

func edgesOf(list []Polygon, owned bool) []slant {
	var out []slant
	for i, p := range list {
		p.Edges(func(s Segment) {
			if s.A.X == s.B.X {
				return
			}
			e := slant{float64(s.A.X), float64(s.A.Y), float64(s.B.X), float64(s.B.Y), 0}
			if e.x0 > e.x1 {
				e.x0, e.y0, e.x1, e.y1 = e.x1, e.y1, e.x0, e.y0
			}
			if owned {
				e.owner = i
			}
			out = append(out, e)
		})
	}
	slices.SortFunc(out, func(a, b slant) int { return cmp.Compare(a.x0, b.x0) })
	return out
}

type sweep struct {
	region, covers []slant
	active         [2][]slant // of region and covers, about the present x
	next           [2]int
	spans          [2][]interval
	ys             []float64
}

type interval struct{ lo, hi float64 }

// breaks lists the values of x at which an edge begins or ends, or a sloping one
// crosses another.
func (s *sweep) breaks(lists ...[]Polygon) []float64 {
	var xs []float64
	for _, list := range lists {
		for _, p := range list {
			for _, q := range p {
				xs = append(xs, float64(q.X))
			}
		}
	}
	all := slices.Concat(s.region, s.covers)
	for i, a := range all {
		if a.y0 == a.y1 {
			continue
		}
		for k, b := range all {
			if i == k {
				continue
			}
			if x, ok := a.crosses(b); ok {
				xs = append(xs, x)
			}
		}
	}
	slices.Sort(xs)
	return slices.Compact(xs)
}

// crosses returns the x at which two edges cross.
func (e slant) crosses(f slant) (float64, bool) {
	lo, hi := max(e.x0, f.x0), min(e.x1, f.x1)
	if lo >= hi {
		return 0, false
	}
	a, b := e.at(lo)-f.at(lo), e.at(hi)-f.at(hi)
	if a*b >= 0 {
		return 0, false
	}
	return lo + (hi-lo)*a/(a-b), true
}

// height returns how much of the region is covered at x. Calls go from left to
// right.
func (s *sweep) height(x float64) float64 {
	s.move(0, s.region, x)
	s.move(1, s.covers, x)
	if len(s.active[0]) == 0 || len(s.active[1]) == 0 {
		return 0
	}
	s.inside(x)
	s.union(x)
	total, k := 0.0, 0
	for _, r := range s.spans[0] {
		for k < len(s.spans[1]) && s.spans[1][k].hi <= r.lo {
			k++
		}
		for j := k; j < len(s.spans[1]) && s.spans[1][j].lo < r.hi; j++ {
			total += math.Max(0, min(r.hi, s.spans[1][j].hi)-max(r.lo, s.spans[1][j].lo))
		}
	}
	return total
}

// move makes active the edges over x.
func (s *sweep) move(which int, edges []slant, x float64) {
	s.active[which] = slices.DeleteFunc(s.active[which], func(e slant) bool { return e.x1 < x })
	for ; s.next[which] < len(edges) && edges[s.next[which]].x0 <= x; s.next[which]++ {
		if e := edges[s.next[which]]; e.x1 > x {
			s.active[which] = append(s.active[which], e)
		}
	}
}

// inside lists the stretches of the region at x.
func (s *sweep) inside(x float64) {
	s.ys = s.ys[:0]
	for _, e := range s.active[0] {
		s.ys = append(s.ys, e.at(x))
	}
	slices.Sort(s.ys)
	s.spans[0] = s.spans[0][:0]
	for i := 0; i+1 < len(s.ys); i += 2 {
		s.spans[0] = append(s.spans[0], interval{s.ys[i], s.ys[i+1]})
	}
}

// union lists the stretches that any cover has at x.
func (s *sweep) union(x float64) {
	each := s.spans[1][:0]
	slices.SortFunc(s.active[1], func(a, b slant) int { return cmp.Compare(a.owner, b.owner) })
	for i := 0; i+1 < len(s.active[1]); i += 2 {
		a, b := s.active[1][i].at(x), s.active[1][i+1].at(x)
		each = append(each, interval{min(a, b), max(a, b)})
	}
	slices.SortFunc(each, func(a, b interval) int { return cmp.Compare(a.lo, b.lo) })
	merged := each[:0]
	for _, e := range each {
		if n := len(merged) - 1; n >= 0 && e.lo <= merged[n].hi {
			merged[n].hi = max(merged[n].hi, e.hi)
			continue
		}
		merged = append(merged, e)
	}
	s.spans[1] = merged
}
