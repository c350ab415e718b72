package linear

import "slices"

// mostStates bounds a table.
const mostStates = 1_000_000

// tabulate finds the cheapest plan where there are few kinds of pieces, however many of
// each. It reports whether the table was small enough; the plan that it then offers is
// proven.
func (e *exact) tabulate() bool {
	return e.table(e.start(), e.patterns, mostStates, e.effort/2-e.spent())
}

// Bounds on a table over what is left amid a dive.
const (
	restStates = 200_000
	restSteps  = 20_000_000
)

// tableRest looks for a plan that holds most of the whole amounts of the programme, and
// the rest as cheaply as its columns can give it, cut down to what is needed: as much is
// left for the table as it can take.
func (s *search) tableRest(st *state) {
	for spare := 2; spare >= 0 && !s.done(); spare-- {
		rest := st.clone()
		s.fix(rest, spare)
		if s.table(rest, s.columns, restStates, min(restSteps, s.effort-s.spent())) {
			return
		}
	}
}

// table finds the cheapest way to cut what is left by some patterns, and offers the
// plan: what may be needed of each kind is one axis of a table, and some bar holds the
// longest piece that is left. It reports whether the table has no more than so many
// states and steps.
func (s *search) table(st *state, patterns []pattern, most int, steps int64) bool {
	states := 1
	for _, d := range st.left {
		if states *= d + 1; states > most {
			return false
		}
	}
	limited := slices.ContainsFunc(s.in.count, func(n int) bool { return n > 0 })
	if limited || int64(states)*int64(len(patterns)) > steps {
		return false
	}
	t := newTable(s, st.left, patterns, states)
	left := make([]int, len(st.left))
	for at := 1; at < states; at++ {
		step(left, st.left)
		t.settle(at, left)
		if s.ctx.Err() != nil {
			return false
		}
	}
	t.offer(st)
	return true
}

// table is the least cost of everything that may be needed, -1 for what cannot be cut,
// and the pattern to cut first for it. Needs are numbered with the shortest pieces as
// the lowest digits.
type table struct {
	*search
	patterns []pattern
	holding  [][]int // patterns by the kinds that they hold
	cost     []int64
	by       []int32
	stride   []int
}

func newTable(s *search, demand []int, patterns []pattern, states int) *table {
	t := &table{search: s, patterns: patterns, holding: make([][]int, len(demand)), cost: make([]int64, states), by: make([]int32, states), stride: strides(demand)}
	for j, x := range patterns {
		for _, u := range x.uses {
			t.holding[u.kind] = append(t.holding[u.kind], j)
		}
	}
	return t
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
func (t *table) settle(at int, left []int) {
	t.cost[at] = -1
	patterns := t.holding[first(left)]
	for _, j := range patterns {
		x := &t.patterns[j]
		rest := t.cost[t.after(at, left, x)]
		if rest < 0 {
			continue
		}
		if c := rest + t.in.cost[x.stock]; t.cost[at] < 0 || c < t.cost[at] {
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

// offer reads the plan for all that is left off the table.
func (t *table) offer(st *state) {
	at := len(t.cost) - 1
	if t.cost[at] < 0 || st.cost+t.cost[at] >= t.below {
		return
	}
	whole := st.clone()
	for at > 0 {
		x := &t.patterns[t.by[at]]
		at = t.after(at, whole.left, x)
		var uses []use
		for _, u := range x.uses {
			if u.count = min(u.count, whole.left[u.kind]); u.count > 0 {
				uses = append(uses, u)
			}
		}
		t.take(whole, pattern{x.stock, uses}, 1)
	}
	t.search.offer(whole.bars, whole.cost)
}
