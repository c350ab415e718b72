package linear

import "slices"

// tree is branch and bound over the programme's columns, which hold every pattern of
// the plans that are sought. It branches on whether two pieces, of each of which one
// is left, are cut from the same bar, and where there is no
// doubt about any two, on whether a pattern is cut at all.
type tree struct {
	*search
	until  int64 // effort
	surest bool  // decide pairs first about which there is least doubt, not the heaviest
}

// exhaust makes the pool and searches it; it reports whether no plan is left that is
// sought. The heaviest pieces are decided first, which proves soonest; where that
// leads nowhere, those about which there is least doubt, which may find soonest.
func (s *search) exhaust(st *state) bool {
	patterns, all := s.gather(st)
	known := map[string]bool{}
	for _, x := range s.columns {
		known[x.key()] = true
	}
	for _, x := range patterns {
		if !known[x.key()] {
			s.add(x)
		}
	}
	root := s.lp.Basis()
	for _, surest := range []bool{false, true} {
		t := &tree{search: s, until: s.spent() + (s.effort-s.spent())*2/5, surest: surest}
		s.lp.Return(root)
		if ended := t.node(st.clone()); ended || s.done() {
			return ended && all
		}
	}
	return false
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

// barWhere bars those columns that are out, and lists them.
func (t *tree) barWhere(out func(pattern) bool) []int {
	var barred []int
	for j, x := range t.columns {
		if t.proper[j] && out(x) {
			t.proper[j] = false
			t.lp.Bar(j, true)
			barred = append(barred, j)
		}
	}
	t.steps += int64(10 * len(t.columns))
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
	worth := make([]int64, len(t.in.size))
	for j, x := range t.columns {
		if t.proper[j] {
			worth[x.stock] = max(worth[x.stock], at.of(x))
		}
	}
	t.steps += int64(10 * len(t.columns))
	if low := at.lower(t.in, worth); low.total(st) > st.prices.total(st) {
		st.prices = low
	}
}

// narrow bars the patterns that no cheaper plan from here on can hold.
func (t *tree) narrow(st *state) []int {
	room := t.room(st)
	return t.barWhere(func(x pattern) bool { return st.prices.value(t.in, x.stock)-st.prices.of(x) > room })
}

// round takes the whole amounts of the programme into a plan and packs the rest.
func (t *tree) round(st *state) {
	next := st.clone()
	t.fixWhole(next)
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
