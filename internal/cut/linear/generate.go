package linear

// root generates columns for all that is needed, with most of the effort at most. What
// a missing piece costs starts little above what it is surely worth, so that the
// programme starts near its end, and is raised where pieces stay missing.
func (s *search) root(st *state) {
	defer func(effort int64) { s.effort = effort }(s.effort)
	s.effort = s.effort / 10 * 8
	most := penalty * float64(s.in.dearest)
	cost := make([]float64, len(s.in.weight))
	for k := range cost {
		cost[k] = float64(st.prices.kind[k]) / s.unit * above
		s.lp.SetPenalty(k, cost[k])
	}
	for s.generate(st, false, rough) && s.raise(cost, most) {
	}
	for s.generate(st, false, gain) && s.raise(cost, most) {
	}
	for k := range cost {
		s.lp.SetPenalty(k, most)
	}
}

// raise doubles what missing pieces cost where some are, up to a most; it reports
// whether it did.
func (s *search) raise(cost []float64, most float64) bool {
	short := false
	for k := range cost {
		if s.lp.Short(k) > whole && cost[k] < most {
			short = true
			cost[k] = min(2*cost[k], most)
			s.lp.SetPenalty(k, cost[k])
		}
	}
	return short
}

const (
	above = 1.01 // what a missing piece costs first, in what it is surely worth
	rough = 2e-3 // how near the bound has to come as long as pieces are missing
)

// generate adds columns until none would lower the cost; with goal set, only until
// the programme lets a cheaper plan than the best hope, or proves that there is none.
// It reports whether it came to that end and there is hope.
//
// Patterns are sought at prices between those of the programme and those that give
// the best bound so far, which are steadier (smoothed prices of column generation).
func (s *search) generate(st *state, goal bool, tolerance float64) bool {
	steady := steadiness
	for s.ctx.Err() == nil && s.spent() < s.effort {
		if s.lp.Solve() != nil {
			return false
		}
		if goal && st.cost+s.roundUp(s.lp.Value()) < s.below {
			return true
		}
		if s.near(st, tolerance) {
			return true
		}
		worth, found := s.price.dearest(s.between(st.prices, steady), st.left)
		if s.price.whole() {
			if low := s.between(st.prices, steady).lower(s.in, worth); low.total(st) > st.prices.total(st) {
				st.prices = low
			}
			if goal && s.hopeless(st) {
				return false
			}
		}
		switch {
		case s.addCheap(found):
			steady = steadiness
		case steady > 0:
			if steady /= 2; steady < 0.1 {
				steady = 0
			}
		default:
			return s.price.whole()
		}
	}
	return false
}

// steadiness is the part that the steady prices have.
const steadiness = 0.8

// gain is the least part of a bar's cost by which a new column has to be worth
// more than it costs.
const gain = 1e-7

// near reports whether the bound is near enough to the programme's value: by a part
// of it, or where both are rounded up to one cost, by a small part of what is below it.
func (s *search) near(st *state, tolerance float64) bool {
	value := s.lp.Value()
	apart := value - float64(st.prices.total(st))/s.unit
	next := s.roundUp(value)
	return apart <= tolerance*value || s.ceiling(st.prices.total(st)) >= next && apart <= (float64(next)-value)/50
}

// addCheap adds those patterns that lower the programme's cost; it reports whether
// there were any.
func (s *search) addCheap(found []pattern) bool {
	added := false
	for _, x := range found {
		v := float64(s.in.cost[x.stock])
		if row := s.stockRow[x.stock]; row >= 0 {
			v -= s.lp.Price(row)
		}
		var worth float64
		for _, u := range x.uses {
			worth += float64(u.count) * s.lp.Price(u.kind)
		}
		if worth-v > gain*float64(s.in.cost[x.stock]) {
			s.add(x)
			added = true
		}
	}
	return added
}

// between returns prices between those of the programme and steady ones.
func (s *search) between(steady prices, part float64) prices {
	p := prices{kind: make([]int64, len(steady.kind)), stock: make([]int64, len(steady.stock))}
	for k := range p.kind {
		p.kind[k] = int64(part*float64(steady.kind[k]) + (1-part)*s.unit*max(s.lp.Price(k), 0))
	}
	for t, row := range s.stockRow {
		if row >= 0 {
			p.stock[t] = int64(part*float64(steady.stock[t]) - (1-part)*s.unit*min(s.lp.Price(row), 0))
		}
	}
	return p
}
