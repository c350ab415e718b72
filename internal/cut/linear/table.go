package linear

import "slices"

// mostStates bounds the table of tabulate.
const mostStates = 1_000_000

// tabulate finds the cheapest plan by a table over all that may still be needed, for
// problems with few kinds of pieces, however many of each: what is needed of each kind
// is one axis, and some bar holds the longest piece that is left. It reports whether the
// table was small enough; the plan that it then offers is proven.
func (e *exact) tabulate() bool {
	states := 1
	for _, d := range e.in.demand {
		if states *= d + 1; states > mostStates {
			return false
		}
	}
	limited := slices.ContainsFunc(e.in.count, func(n int) bool { return n > 0 })
	if work := int64(states) * int64(len(e.patterns)); limited || e.spent()+work > e.effort/2 {
		return false
	}
	holding := make([][]int, len(e.in.demand)) // patterns by the kinds that they hold
	for j, x := range e.patterns {
		for _, u := range x.uses {
			holding[u.kind] = append(holding[u.kind], j)
		}
	}
	t := table{exact: e, cost: make([]int64, states), by: make([]int32, states), stride: strides(e.in.demand)}
	left := make([]int, len(e.in.demand))
	for at := 1; at < states; at++ {
		step(left, e.in.demand)
		t.settle(at, left, holding[first(left)])
		if e.ctx.Err() != nil {
			return false
		}
	}
	t.offer(left)
	return true
}

// table is the least cost of everything that may be needed, and the pattern to cut
// first for it. Needs are numbered with the shortest pieces as the lowest digits.
type table struct {
	*exact
	cost   []int64
	by     []int32
	stride []int
}

// strides returns by how much one piece of each kind changes the number of a need.
func strides(demand []int) []int {
	list := make([]int, len(demand))
	n := 1
	for k := len(demand) - 1; k >= 0; k-- {
		list[k] = n
		n *= demand[k] + 1
	}
	return list
}

// step counts a need up to the next.
func step(left, demand []int) {
	for k := len(left) - 1; k >= 0; k-- {
		if left[k]++; left[k] <= demand[k] {
			return
		}
		left[k] = 0
	}
}

// first returns the longest kind that is left.
func first(left []int) int { return slices.IndexFunc(left, func(n int) bool { return n > 0 }) }

// settle finds the cheapest pattern to begin with.
func (t *table) settle(at int, left []int, patterns []int) {
	t.cost[at] = -1
	for _, j := range patterns {
		x := &t.patterns[j]
		c := t.cost[t.after(at, left, x)] + t.in.cost[x.stock]
		if t.cost[at] < 0 || c < t.cost[at] {
			t.cost[at], t.by[at] = c, int32(j)
		}
	}
	t.steps += int64(len(patterns))
}

// after returns the number of what is left of a need once a pattern is cut.
func (t *table) after(at int, left []int, x *pattern) int {
	for _, u := range x.uses {
		at -= min(left[u.kind], u.count) * t.stride[u.kind]
	}
	return at
}

// offer reads the plan for a need off the table.
func (t *table) offer(left []int) {
	st := t.start()
	for at := len(t.cost) - 1; at > 0; {
		x := &t.patterns[t.by[at]]
		at = t.after(at, left, x)
		var uses []use
		for _, u := range x.uses {
			if u.count = min(u.count, left[u.kind]); u.count > 0 {
				uses = append(uses, u)
				left[u.kind] -= u.count
			}
		}
		t.take(st, pattern{x.stock, uses}, 1)
	}
	t.exact.offer(st.bars, st.cost)
}
