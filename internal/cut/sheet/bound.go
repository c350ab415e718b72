package sheet

import (
	"cmp"
	"math"
	"slices"
)

// Bound returns what every plan of a problem must cost at least, without looking for
// one.
func Bound(p Problem) (int64, error) {
	if err := p.check(); err != nil {
		return 0, err
	}
	in, err := normalise(p)
	if err != nil || len(in.kinds) == 0 {
		return 0, err
	}
	return in.bound(), nil
}

// bound returns what every plan must cost at least, by area and by products of dual
// feasible functions over widths and heights.
func (in *instance) bound() int64 {
	b := newBounder(in)
	across, along := b.graded()
	least := 0.0
	for _, f := range across {
		for _, g := range along {
			least = max(least, b.cost(f, g))
		}
	}
	return max(in.roundUp(least), in.fewBound())
}

// roundUp rounds a bound up to what plans can cost; a rounding error in it does no
// harm.
func (in *instance) roundUp(least float64) int64 {
	unit := float64(in.unit)
	return int64(math.Ceil(least/unit-1e-6)) * in.unit
}

// bounder holds what counts for bounds: pieces that fit into a notch of another may
// take no room of their own, and count nothing; nor do turned functions.
type bounder struct {
	in     *instance
	counts []bool // of each kind
}

func newBounder(in *instance) *bounder {
	b := &bounder{in: in}
	for i := range in.kinds {
		b.counts = append(b.counts, !in.inNotch(&in.kinds[i]))
	}
	return b
}

// inNotch reports whether a kind fits into a notch of some piece.
func (in *instance) inNotch(k *kind) bool {
	kerf := in.problem.Kerf
	small, large := min(k.w, k.h)-kerf, max(k.w, k.h)-kerf
	for i := range in.kinds {
		for _, n := range in.kinds[i].notches {
			w, h := n.Max.X-n.Min.X, n.Max.Y-n.Min.Y
			if small <= min(w, h) && large <= max(w, h) {
				return true
			}
		}
	}
	return false
}

// graded evaluates functions over widths and over heights.
func (b *bounder) graded() (across, along []graded) {
	w, h := b.in.stocks[0].w, b.in.stocks[0].h
	for _, s := range b.in.stocks {
		w, h = max(w, s.w), max(h, s.h)
	}
	across = b.functions(w, func(k *kind) Length { return k.w }, func(s *stock) Length { return s.w })
	along = b.functions(h, func(k *kind) Length { return k.h }, func(s *stock) Length { return s.h })
	return across, along
}

// graded is a dual feasible function evaluated: for each kind as it lies and turned,
// and for each stock.
type graded struct {
	upright, turned []float64
	stock           []float64
}

// function is a dual feasible function over lengths up to a size.
type function func(Length) float64

// functions evaluates dual feasible functions over the extents of kinds and stocks
// in one direction.
func (b *bounder) functions(size Length, of func(*kind) Length, room func(*stock) Length) []graded {
	var list []graded
	for _, f := range dualFeasible(size, b.thresholds(size, of)) {
		var g graded
		for i := range b.in.kinds {
			k := &b.in.kinds[i]
			across := k.w + k.h - of(k) // its extent in this direction when turned
			g.upright = append(g.upright, f(min(of(k), size)))
			g.turned = append(g.turned, f(min(across, size)))
		}
		for i := range b.in.stocks {
			g.stock = append(g.stock, f(room(&b.in.stocks[i])))
		}
		list = append(list, g)
	}
	return list
}

// mostThresholds bounds the number of functions of one family.
const mostThresholds = 60

// thresholds lists the lengths at which functions change: of pieces, and what they
// leave of the size.
func (b *bounder) thresholds(size Length, of func(*kind) Length) []Length {
	var list []Length
	for i := range b.in.kinds {
		k := &b.in.kinds[i]
		for _, l := range []Length{of(k), k.w + k.h - of(k)} {
			for _, t := range []Length{l, l + 1, size - l, size - l + 1} {
				if t > 0 && 2*t <= size && (l == of(k) || k.turn) {
					list = append(list, t)
				}
			}
		}
	}
	slices.Sort(list)
	list = slices.Compact(list)
	for len(list) > mostThresholds {
		var half []Length
		for i := 0; i < len(list); i += 2 {
			half = append(half, list[i])
		}
		list = half
	}
	return list
}

// dualFeasible lists dual feasible functions over lengths up to a size: the
// first and second family of arXiv cs/0402044, and a third of 2007. All are superadditive, so they hold for smaller sheets too.
func dualFeasible(size Length, thresholds []Length) []function {
	whole := float64(size)
	list := []function{func(x Length) float64 { return float64(x) / whole }}
	for _, e := range thresholds {
		list = append(list, func(x Length) float64 {
			switch {
			case x > size-e:
				return 1
			case x < e:
				return 0
			}
			return float64(x) / whole
		})
	}
	for k := Length(1); k <= 8; k++ {
		list = append(list, func(x Length) float64 {
			if (k+1)*x%size == 0 {
				return float64(x) / whole
			}
			return float64((k+1)*x/size) / float64(k)
		})
	}
	for _, k := range thresholds {
		list = append(list, func(x Length) float64 {
			most := size / k
			switch {
			case 2*x > size:
				return float64(most-(size-x)/k) / float64(most)
			case 2*x == size:
				return 0.5
			}
			return float64(x/k) / float64(most)
		})
	}
	return list
}

// cost is what sheets must cost that hold all pieces, each sheet and piece being as
// large as the product of two functions says.
func (b *bounder) cost(f, g graded) float64 {
	need := 0.0
	for i := range b.in.kinds {
		if b.counts[i] {
			need += float64(b.in.kinds[i].demand) * b.size(i, &f, &g)
		}
	}
	return b.cheapest(need, func(t int) float64 { return f.stock[t] * g.stock[t] })
}

// size is the product of two functions of a piece, as it lies smaller.
func (b *bounder) size(kind int, f, g *graded) float64 {
	size := f.upright[kind] * g.upright[kind]
	if b.in.kinds[kind].turn {
		size = min(size, f.turned[kind]*g.turned[kind])
	}
	return size
}

// cheapest is what stocks must cost that give so much, taken in parts: those that
// cost least for what they give first.
func (b *bounder) cheapest(need float64, gives func(int) float64) float64 {
	if len(b.in.stocks) == 1 {
		return need / gives(0) * float64(b.in.stocks[0].cost)
	}
	order := make([]int, len(b.in.stocks))
	for t := range order {
		order[t] = t
	}
	per := func(t int) float64 {
		if gives(t) <= 0 {
			return math.Inf(1)
		}
		return float64(b.in.stocks[t].cost) / gives(t)
	}
	slices.SortStableFunc(order, func(x, y int) int { return cmp.Compare(per(x), per(y)) })
	cost := 0.0
	for _, t := range order {
		s := &b.in.stocks[t]
		if need <= 0 || gives(t) <= 0 {
			break
		}
		n := need / gives(t)
		if s.count > 0 {
			n = min(n, float64(s.count))
		}
		cost += n * float64(s.cost)
		need -= n * gives(t)
	}
	return cost
}
