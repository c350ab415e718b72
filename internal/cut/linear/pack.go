package linear

import "slices"

// pack completes a plan in the making by each heuristic and offers the results.
// The state itself stays as it is.
func (s *search) pack(st *state) {
	for _, order := range []fitting{bestFit, fullest} {
		if bars, cost, ok := s.complete(st, order); ok {
			s.offer(bars, cost)
		}
	}
}

// fitting fills the rest of one bar that holds the heaviest kind left.
type fitting func(in *instance, left []int, room int) []use

// complete cuts bar after bar: for the heaviest kind that is left, on each stock
// that takes it, the bar is filled, and the stock that costs least for what it then
// holds is taken.
func (s *search) complete(st *state, fill fitting) (bars []bar, cost int64, ok bool) {
	in := s.in
	left, stock := slices.Clone(st.left), slices.Clone(st.stock)
	bars, cost = slices.Clone(st.bars), st.cost
	for k := range left {
		for left[k] > 0 {
			next, found := s.cheapest(k, left, stock, fill)
			if !found {
				return nil, 0, false
			}
			for _, u := range next.uses {
				left[u.kind] -= u.count
			}
			stock[next.stock]--
			bars = append(bars, next)
			if cost += in.cost[next.stock]; cost >= s.below {
				return nil, 0, false
			}
		}
	}
	return bars, cost, true
}

// cheapest returns the bar for kind k that costs least for the length it holds.
func (s *search) cheapest(k int, left, stock []int, fill fitting) (best bar, found bool) {
	in := s.in
	var least float64
	for t, size := range in.size {
		if in.weight[k] > size || in.count[t] > 0 && stock[t] == 0 {
			continue
		}
		left[k]--
		uses := fill(in, left, size-in.weight[k])
		left[k]++
		uses = merge(uses, k)
		held := 0
		for _, u := range uses {
			held += u.count * in.weight[u.kind]
		}
		if per := float64(in.cost[t]) / float64(held); !found || per < least-1e-12 {
			best, least, found = bar{t, uses}, per, true
		}
	}
	return best, found
}

// merge adds one of kind k, which is the heaviest, to what fills the rest.
func merge(uses []use, k int) []use {
	if len(uses) > 0 && uses[0].kind == k {
		uses[0].count++
		return uses
	}
	return slices.Insert(uses, 0, use{k, 1})
}

// bestFit fills with the heaviest that fits, then the next.
func bestFit(in *instance, left []int, room int) []use {
	var uses []use
	for k, n := range left {
		if n = min(n, room/in.weight[k]); n > 0 {
			uses = append(uses, use{k, n})
			room -= n * in.weight[k]
		}
	}
	return uses
}

// fullLimit ends the search for the fullest bar.
const fullLimit = 4000

// fullest fills so that least is left over, by depth-first search from the
// heaviest down.
func fullest(in *instance, left []int, room int) []use {
	f := filler{in: in, left: left, least: room + 1, taken: make([]int, len(left)), best: make([]int, len(left))}
	f.lightest = len(left) - 1
	for f.lightest >= 0 && left[f.lightest] == 0 {
		f.lightest--
	}
	f.descend(0, room)
	var uses []use
	for k, n := range f.best {
		if n > 0 {
			uses = append(uses, use{k, n})
		}
	}
	return uses
}

type filler struct {
	in          *instance
	left        []int
	taken, best []int
	least       int // room left over in the best
	lightest    int // kind
	nodes       int
}

// descend tries the kinds from k on; it reports whether to end.
func (f *filler) descend(k, room int) bool {
	if room < f.least {
		f.least = room
		copy(f.best, f.taken)
	}
	if f.nodes++; f.least == 0 || f.nodes > fullLimit {
		return true
	}
	for ; k <= f.lightest; k++ {
		if f.in.weight[f.lightest] > room {
			return false
		}
		w := f.in.weight[k]
		for n := min(f.left[k], room/w); n > 0; n-- {
			f.taken[k] = n
			if f.descend(k+1, room-n*w) {
				return true
			}
		}
		f.taken[k] = 0
	}
	return false
}
