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
	usual   bool // of a thickness that the drawing has much of
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
				blocked := slices.ContainsFunc(between, func(f *face) bool { return f.holds(middle) })
				out = append(out, &pair{span: s, a: a, b: b, thick: b.off - a.off, blocked: blocked})
			}
			if b.off-a.off > sameThick {
				between = append(between, b)
			}
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
		p.weight = p.length() * (share + 0.02) * (share + 0.02) / max(p.thick, 100)
		if p.blocked {
			p.weight /= 3
		}
	}
}
