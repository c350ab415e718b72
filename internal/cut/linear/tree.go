package linear

import (
	"slices"

	"nogging/internal/lp"
)

// tree is branch and bound over a pool of patterns, which holds every pattern of the
// plans that are sought, under a programme of its own that cuts make tighter. It
// branches on whether two pieces, of each of which one is left, are cut from the same
// bar, and where there is no doubt about any two, on whether a pattern is cut at all.
type tree struct {
	*search
	until  int64 // effort
	surest bool  // decide pairs first about which there is least doubt, not the heaviest
	cuts   []cut
	shares [][]share // of each column in the cuts
}

// share is how much a column takes of a cut.
type share struct{ cut, count int }

// exhaust makes the pool and searches it; it reports whether no plan is left that is
// sought. The heaviest pieces are decided first, which proves soonest; where that
// leads nowhere, those about which there is least doubt, which may find soonest.
func (s *search) exhaust(st *state) bool {
	patterns, all := s.gather(st)
	if !all {
		patterns = s.withColumns(patterns)
	}
	t := &tree{search: s.over(patterns), shares: make([][]share, len(patterns))}
	defer s.takeOver(t.search)
	t.until = s.spent() + (s.effort-s.spent())/5
	t.tighten(st)
	root := t.lp.Basis()
	for _, t.surest = range []bool{false, true} {
		t.until = t.spent() + (t.effort-t.spent())*2/5
		t.lp.Return(root)
		ended := t.node(st.clone())
		if ended || t.done() {
			return ended && all
		}
	}
	return false
}

// withColumns adds the columns that there are to patterns.
func (s *search) withColumns(patterns []pattern) []pattern {
	known := map[string]bool{}
	for _, x := range patterns {
		known[x.key()] = true
	}
	for _, x := range s.columns {
		if !known[x.key()] {
			patterns = append(patterns, x)
		}
	}
	return patterns
}

// over returns a search of the same with a programme over some patterns alone.
func (s *search) over(patterns []pattern) *search {
	o := *s
	o.lp, o.columns, o.proper = lp.New(s.rows()), nil, nil
	o.steps = s.spent() - s.price.steps
	for _, x := range patterns {
		o.add(x)
	}
	return &o
}

// takeOver takes what a search over some patterns found, and what it took.
func (s *search) takeOver(o *search) {
	s.best, s.bestCost, s.below = o.best, o.bestCost, o.below
	s.steps = o.spent() - s.price.steps - s.lp.Steps()
}

// key tells patterns apart.
func (x pattern) key() string {
	b := []byte{byte(x.stock), byte(x.stock >> 8)}
	for _, u := range x.uses {
		b = append(b, byte(u.kind), byte(u.kind>>8), byte(u.count), byte(u.count>>8))
	}
	return string(b)
}

// node searches all plans from here on; it reports whether it came to the end.
func (t *tree) node(st *state) bool {
	if t.spent() >= t.until || t.ctx.Err() != nil {
		return false
	}
	if t.lp.Solve() != nil {
		return false
	}
	t.reprice(st)
	if t.hopeless(st) {
		return true
	}
	barred := t.narrow(st)
	defer t.unbar(barred)
	t.round(st)
	if t.hopeless(st) {
		return true
	}
	i, j, ok := t.pair(st)
	if !ok {
		return t.onPattern(st)
	}
	here := t.lp.Basis()
	whole := t.with(st, func(x pattern) bool { return x.has(i) != x.has(j) })
	if t.hopeless(st) {
		return true
	}
	t.lp.Return(here)
	return t.with(st, func(x pattern) bool { return x.has(i) && x.has(j) }) && whole
}

// with searches on without the patterns that are out.
func (t *tree) with(st *state, out func(pattern) bool) bool {
	barred := t.barWhere(out)
	defer t.unbar(barred)
	return t.node(st.clone())
}

// barWhere bars the columns of those patterns that are out, and lists them.
func (t *tree) barWhere(out func(pattern) bool) []int {
	return t.barIf(func(j int) bool { return out(t.columns[j]) })
}

// barIf bars those columns that are out, and lists them.
func (t *tree) barIf(out func(column int) bool) []int {
	var barred []int
	for j := range t.columns {
		if t.proper[j] && out(j) {
			t.proper[j] = false
			t.lp.Bar(j, true)
			barred = append(barred, j)
		}
	}
	t.steps += int64(3 * len(t.columns))
	return barred
}

func (t *tree) unbar(columns []int) {
	for _, j := range columns {
		t.proper[j] = true
		t.lp.Bar(j, false)
	}
}

func (x pattern) has(kind int) bool {
	return slices.ContainsFunc(x.uses, func(u use) bool { return u.kind == kind })
}

// reprice takes the programme's prices, lowered until no pattern is worth more than
// its bar, where they bound better.
func (t *tree) reprice(st *state) {
	at := t.between(st.prices, 0)
	first := len(t.in.weight) + t.limitedStocks()
	at.cut = make([]int64, len(t.cuts))
	for c := range at.cut {
		at.cut[c] = int64(-t.unit * min(t.lp.Price(first+c), 0))
	}
	worth := make([]int64, len(t.in.size))
	for j, x := range t.columns {
		if t.proper[j] {
			worth[x.stock] = max(worth[x.stock], t.worth(at, j))
		}
	}
	t.steps += int64(3 * len(t.columns))
	if low := at.lower(t.in, worth); low.total(st) > st.prices.total(st) {
		st.prices = low
	}
}

// worth is what the pieces of a column are worth, less what it takes of the cuts.
func (t *tree) worth(at prices, j int) int64 {
	worth := at.of(t.columns[j])
	for _, u := range t.shares[j] {
		if u.cut < len(at.cut) {
			worth -= int64(u.count) * at.cut[u.cut]
		}
	}
	return worth
}

// narrow bars the patterns that no cheaper plan from here on can hold.
func (t *tree) narrow(st *state) []int {
	room := t.room(st)
	return t.barIf(func(j int) bool { return st.prices.value(t.in, t.columns[j].stock)-t.worth(st.prices, j) > room })
}

// round takes the whole amounts of the programme into a plan and packs the rest.
func (t *tree) round(st *state) {
	next := st.clone()
	t.fix(next, 0)
	if finished(next.left) {
		t.offer(next.bars, next.cost)
		return
	}
	t.pack(next)
	if !t.hopeless(st) {
		t.finish(next)
	}
}

// pair returns two kinds, of each of which one piece is left, about which the
// programme is in doubt whether one bar holds them.
func (t *tree) pair(st *state) (i, j int, ok bool) {
	var parts []int
	for c := range t.columns {
		if x := t.lp.Amount(c); t.proper[c] && x > whole && x < 1-whole {
			parts = append(parts, c)
		}
	}
	t.steps += int64(2 * len(t.columns))
	most := 0.0
	for a := range st.left {
		if st.left[a] != 1 || ok && !t.surest {
			continue
		}
		for b, x := range t.shared(parts, a) {
			if b <= a || st.left[b] != 1 || x < whole || x > 1-whole {
				continue
			}
			if x *= float64(t.in.weight[a] + t.in.weight[b]); x > most+1e-9 {
				i, j, ok, most = a, b, true, x
			}
		}
	}
	return i, j, ok
}

// shared returns how much of bars a kind shares with each.
func (t *tree) shared(columns []int, kind int) []float64 {
	shared := make([]float64, len(t.in.weight))
	for _, c := range columns {
		if x := t.columns[c]; x.has(kind) {
			for _, u := range x.uses {
				shared[u.kind] += t.lp.Amount(c)
			}
		}
	}
	return shared
}

// onPattern branches on the pattern of which the programme takes most: one bar is
// cut by it, or none.
func (t *tree) onPattern(st *state) bool {
	best := -1
	for c := range t.columns {
		if x := t.lp.Amount(c); t.proper[c] && x > whole && (best < 0 || x > t.lp.Amount(best)+1e-9) {
			best = c
		}
	}
	if best < 0 {
		return false
	}
	here := t.lp.Basis()
	next := st.clone()
	if !t.take(next, t.columns[best], 1) {
		return false
	}
	for _, u := range t.shares[best] {
		next.cuts[u.cut] -= u.count
	}
	t.ask(next)
	ended := t.with(next, func(x pattern) bool {
		return slices.ContainsFunc(x.uses, func(u use) bool { return u.count > next.left[u.kind] })
	})
	t.ask(st)
	if t.hopeless(st) {
		return true
	}
	t.lp.Return(here)
	key := t.columns[best].key()
	return t.with(st, func(x pattern) bool { return x.key() == key }) && ended
}
