package dxf

import (
	"cmp"
	"math"
	"slices"
)

// curvedWall is a wall along an arc, its centre line turning to the left.
type curvedWall struct {
	arc
	thick float64
	role  Role
}

// shortestCurve is the least length of a curved wall in mm.
const shortestCurve = 300

// curved returns the walls between arcs about one centre, each arc in one wall only;
// the nearest pairs first.
func (r *recogniser) curved() []curvedWall {
	var arcs []curve
	for _, c := range r.curves {
		if r.role(c.ink).isWall() {
			if c.sweep < 0 {
				c.from, c.sweep = c.from+c.sweep, -c.sweep
			}
			arcs = append(arcs, c)
		}
	}
	type pair struct {
		a, b int
		curvedWall
	}
	var all []pair
	for i, a := range arcs {
		if !r.spend(len(arcs)) {
			break
		}
		for k, b := range arcs {
			if t := b.radius - a.radius; t >= thinnest && t <= thickest && a.centre.dist(b.centre) <= sameEnd {
				if w, ok := between(a, b); ok {
					w.role = r.role(a.ink)
					all = append(all, pair{i, k, w})
				}
			}
		}
	}
	slices.SortStableFunc(all, func(p, q pair) int { return cmp.Compare(p.thick, q.thick) })
	taken := map[int]bool{}
	var out []curvedWall
	for _, p := range all {
		if !taken[p.a] && !taken[p.b] {
			taken[p.a], taken[p.b] = true, true
			out = append(out, p.curvedWall)
		}
	}
	return out
}

// between returns the wall between two arcs about one centre, as far as both run.
func between(inner, outer curve) (w curvedWall, ok bool) {
	for turn := -2.0; turn <= 2; turn++ {
		from := outer.from + turn*2*math.Pi
		s := span{inner.from, inner.from + inner.sweep}.overlap(span{from, from + outer.sweep})
		if s.length() > w.sweep {
			w = curvedWall{arc: arc{inner.centre, (inner.radius + outer.radius) / 2, s.lo, s.length()}, thick: outer.radius - inner.radius}
		}
	}
	return w, w.sweep*w.radius >= max(shortestCurve, w.thick)
}
