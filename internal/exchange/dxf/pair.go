package dxf

import (
	"cmp"
	"math"
	"slices"
)

// Limits of walls in mm.
const (
	thinnest     = 45
	thickest     = 600
	sameThick    = 3
	shortestPart = 20
)

// Bounds of the work on drawings that are no plans: looks at pairs of lines, and pairs.
const (
	mostLooks = 20_000_000
	mostPairs = 500_000
)

// pair is two faces with the stretch along which they lie side by side.
type pair struct {
	span
	a, b    *face // b to the left of a
	thick   float64
	blocked bool // another line lies between them
	weight  float64
	middle  []*face // lines half way between them, within the stretch
	usual   bool    // of a thickness that the drawing has much of
}

func (p *pair) centre() float64 { return (p.a.off + p.b.off) / 2 }

// role is what the faces' layers say of the wall.
func (p *pair) role() Role {
	if p.a.role != Wall {
		return p.a.role
	}
	return p.b.role
}

// pairs returns the parts of walls: pairs of faces, each stretch of a face in one
// wall only. The pairs that are most like the others are chosen first.
func pairs(all []*face) []*pair {
	candidates := candidatePairs(all)
	rows, halves := series(candidates), halved(candidates)
	candidates = slices.DeleteFunc(candidates, func(p *pair) bool {
		return rows[p.a] && rows[p.b] || halves[[2]*face{p.a, p.b}]
	})
	weigh(candidates)
	slices.SortStableFunc(candidates, func(p, q *pair) int { return cmp.Compare(q.weight, p.weight) })
	var out []*pair
	for _, c := range candidates {
		if !c.usual && c.length() < 2*c.thick {
			continue
		}
		for _, s := range c.span.without(slices.Concat(c.a.taken, c.b.taken)) {
			if s.length() < shortestPart {
				continue
			}
			part := *c
			part.span = s
			c.a.taken, c.b.taken = append(c.a.taken, s), append(c.b.taken, s)
			out = append(out, &part)
		}
	}
	return out
}

// candidatePairs lists faces that lie beside each other at the distance of a wall.
func candidatePairs(all []*face) []*pair {
	var out []*pair
	steps := 0
	for i, a := range all {
		var between []*face
		for _, b := range all[i+1:] {
			if steps += 1 + len(between); steps > mostLooks || len(out) == mostPairs || b.axis != a.axis || b.off-a.off > thickest {
				break
			}
			s := a.overlap(b.span)
			if s.length() < shortestPart {
				continue
			}
			if b.off-a.off >= thinnest {
				middle := (s.lo + s.hi) / 2
				p := &pair{span: s, a: a, b: b, thick: b.off - a.off}
				for _, f := range between {
					p.blocked = p.blocked || f.holds(middle)
					if math.Abs(f.off-p.centre()) <= sameThick && f.lo >= s.lo-sameEnd && f.hi <= s.hi+sameEnd {
						p.middle = append(p.middle, f)
					}
				}
				out = append(out, p)
			}
			if b.off-a.off > sameThick {
				between = append(between, b)
			}
		}
	}
	return out
}

// halved lists the pairs of a face with a line half way to its other face: those of
// glazing, or of an axis.
func halved(all []*pair) map[[2]*face]bool {
	out := map[[2]*face]bool{}
	for _, p := range all {
		for _, m := range p.middle {
			out[[2]*face{p.a, m}], out[[2]*face{m, p.b}] = true, true
		}
	}
	return out
}

// weigh finds the thicknesses that the drawing has much of, and weighs the pairs: by
// length, by the square of that thickness's share, and less where a line lies between, as
// that of a finish may. The weights are judgement.
func weigh(all []*pair) {
	bins := map[int]float64{}
	total := 0.0
	bin := func(t float64) int { return int(math.Round(t)) }
	for _, p := range all {
		if !p.blocked && p.length() >= p.thick {
			bins[bin(p.thick)] += p.length()
			total += p.length()
		}
	}
	for _, p := range all {
		near := 0.0
		for d := -sameThick; d <= sameThick; d++ {
			near += bins[bin(p.thick)+d]
		}
		share := near / max(total, 1)
		p.usual = share >= 0.04 && near >= 2000
		p.weight = p.length() * (share + 0.02) * (share + 0.02) / max(p.thick, 100) * math.Sqrt(p.length()/max(p.a.length(), p.b.length()))
		if p.blocked {
			p.weight /= 3
		}
	}
}
