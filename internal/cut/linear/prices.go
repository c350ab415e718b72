package linear

import (
	"math"
	"math/bits"
)

// prices are what a piece of each kind is worth, and what a bar of each limited
// stock is worth beyond its cost. They are whole numbers, so that a bound drawn
// from them does not rest on rounding: the least cost of any plan is at least what
// all pieces are worth, less what all limited bars are, wherever no pattern is worth
// more than its bar (duality of the pattern programme).
//
// In a programme with cuts, what is left of a cut has a price too, which patterns that
// take of it pay.
type prices struct {
	kind, stock, cut []int64
}

// fine is how many units of price the dearest stock costs.
const fine = 1 << 38

// scale is how many units of price one unit of cost is.
func (in *instance) scale() int64 { return max(1, fine/in.dearest) }

// easy returns prices by weight, at the least that any stock it fits costs for it.
func (in *instance) easy() prices {
	p := prices{kind: make([]int64, len(in.weight)), stock: make([]int64, len(in.size))}
	for k, w := range in.weight {
		p.kind[k] = math.MaxInt64
		for t, size := range in.size {
			if w > size {
				continue
			}
			p.kind[k] = min(p.kind[k], part(in.cost[t]*in.scale(), int64(w), int64(size)))
		}
	}
	return p
}

// part returns x*n/d, rounded down, for n up to d.
func part(x, n, d int64) int64 {
	high, low := bits.Mul64(uint64(x), uint64(n))
	q, _ := bits.Div64(high, low, uint64(d))
	return int64(q)
}

// value returns what a bar of a stock is worth.
func (p prices) value(in *instance, t int) int64 { return in.cost[t]*in.scale() + p.stock[t] }

// of returns what the pieces of a pattern are worth.
func (p prices) of(x pattern) (sum int64) {
	for _, u := range x.uses {
		sum += int64(u.count) * p.kind[u.kind]
	}
	return sum
}

// total returns what all that is left is worth.
func (p prices) total(st *state) (sum int64) {
	for k, n := range st.left {
		sum += int64(n) * p.kind[k]
	}
	for t, v := range p.stock {
		sum -= int64(st.stock[t]) * v
	}
	for c, v := range p.cut {
		sum -= int64(st.cuts[c]) * v
	}
	return sum
}

// lower returns prices lowered so far that no pattern is worth more than its bar,
// given what the best pattern of each stock is worth.
func (p prices) lower(in *instance, worth []int64) prices {
	n, d := int64(1), int64(1)
	for t, w := range worth {
		if v := p.value(in, t); less(v, d, n, w) {
			n, d = v, w
		}
	}
	low := prices{make([]int64, len(p.kind)), p.stock, make([]int64, len(p.cut))}
	for k, x := range p.kind {
		low.kind[k] = part(x, n, d)
	}
	for c, x := range p.cut {
		low.cut[c] = min(x, part(x, n, d)+1)
	}
	return low
}

// less reports whether a*b is less than c*d, none of them below 0.
func less(a, b, c, d int64) bool {
	h1, l1 := bits.Mul64(uint64(a), uint64(b))
	h2, l2 := bits.Mul64(uint64(c), uint64(d))
	return h1 < h2 || h1 == h2 && l1 < l2
}
