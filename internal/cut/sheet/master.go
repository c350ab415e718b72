package sheet

import (
	"cmp"
	"math"
	"slices"

	"nogging/internal/lp"
)

// mostRows bounds the linear programme: with more kinds of pieces it would take
// longer than it is worth.
const mostRows = 300

// stepsPerWork is how many steps of the linear programme take as long as to try one
// piece.
const stepsPerWork = 20

// master is the linear programme over all sheets in the pool: how often each is cut,
// so that every piece is made, at the least cost.
type master struct {
	*search
	lp    *lp.Programme
	added int   // patterns of the pool that are columns
	limit []int // row of each stock that is limited, -1 for others
	rows  int
	exact [][]*pricer // of each stock, where pieces are needed so often that a sheet cannot use them up
}

func newMaster(s *search) *master {
	m := &master{search: s}
	var rows []lp.Row
	dear := 0.0
	for _, t := range s.in.stocks {
		dear = max(dear, float64(t.cost))
	}
	for i := range s.in.kinds {
		rows = append(rows, lp.Row{Sense: lp.AtLeast, Right: float64(s.in.kinds[i].demand), Penalty: 2 * dear})
	}
	for _, t := range s.in.stocks {
		m.limit = append(m.limit, -1)
		if t.count > 0 {
			m.limit[len(m.limit)-1] = len(rows)
			rows = append(rows, lp.Row{Sense: lp.AtMost, Right: float64(t.count)})
		}
	}
	m.rows = len(rows)
	m.lp = lp.New(rows)
	if s.in.repeats() {
		m.exact = s.pricers()
	}
	return m
}

// often is how often each kind has to be needed on average, for sheets to be sought
// as if it were needed without end.
const often = 5

// repeats reports whether kinds are needed so often.
func (in *instance) repeats() bool {
	n := 0
	for i := range in.kinds {
		n += in.kinds[i].demand
	}
	return n >= often*len(in.kinds) && !in.edged && !in.notched && in.stages != Free
}

// pricers returns a pricer for each stock and direction of first cuts, or nil where
// one of them would take too long.
func (s *search) pricers() [][]*pricer {
	var all [][]*pricer
	for _, t := range s.in.stocks {
		var list []*pricer
		for _, upright := range s.in.directions {
			x, ok := s.fill.newPricer(layingOut{t, upright})
			if x == nil {
				continue // nothing fits
			}
			if !ok {
				return nil
			}
			list = append(list, x)
		}
		all = append(all, list)
	}
	return all
}

// price looks for the best sheets where pieces may be cut without end, and raises
// the bound: the prices of the programme, made less by what the best sheet is worth
// beyond its cost, are a solution of its dual.
func (m *master) price() bool {
	worth := make([]float64, len(m.in.kinds))
	for i := range worth {
		worth[i] = max(m.lp.Price(i), 0)
	}
	over, found := 1.0, false
	for t, list := range m.exact {
		limit := 0.0
		if r := m.limit[t]; r >= 0 {
			limit = m.lp.Price(r)
		}
		for _, x := range list {
			p, v := x.best(t, worth)
			m.fill.work += x.steps() / stepsPerWork
			over = max(over, v/(float64(p.cost)-limit))
			if v > (float64(p.cost)-limit)*(1+1e-7) {
				m.complete(p)
				found = m.keep(p) || found
			}
		}
	}
	value := 0.0
	for i := range worth {
		value += worth[i] / over * float64(m.in.kinds[i].demand)
	}
	for t, r := range m.limit {
		if r >= 0 {
			value += m.lp.Price(r) * float64(m.in.stocks[t].count)
		}
	}
	m.bound = max(m.bound, m.in.roundUp(value*(1-1e-9)))
	return found
}

// complete counts the pieces of a sheet.
func (m *master) complete(p *pattern) {
	for _, s := range p.steps {
		p.use(s.variant.kind)
		p.area += m.in.kinds[s.variant.kind].area()
	}
}

// solve takes in new patterns and solves; it reports whether that went well.
func (m *master) solve() bool {
	for ; m.added < len(m.pool); m.added++ {
		p := m.pool[m.added]
		var entries []lp.Entry
		for _, u := range p.uses {
			entries = append(entries, lp.Entry{Row: u.kind, Value: float64(u.count)})
		}
		if r := m.limit[p.stock]; r >= 0 {
			entries = append(entries, lp.Entry{Row: r, Value: 1})
		}
		m.lp.Add(float64(p.cost), entries)
	}
	defer func(before int64) { m.fill.work += int(m.lp.Steps()-before) / stepsPerWork }(m.lp.Steps())
	return m.lp.Solve() == nil
}

// ask sets what is still to be made.
func (m *master) ask(mk *making) {
	for i, n := range mk.left {
		m.lp.SetRight(i, float64(n))
	}
	for t, r := range m.limit {
		if r >= 0 {
			m.lp.SetRight(r, float64(mk.stock[t]))
		}
	}
}

// moreColumns is how many patterns of one search are taken besides the best.
const moreColumns = 6

// grow looks for patterns that would lower the cost, at the prices of the programme,
// and reports whether it found any.
func (m *master) grow(mk *making, width int, spread float64) bool {
	found := false
	worth := make([]float64, len(m.in.kinds))
	whole := m.in.stocks[0].area()
	for i := range worth {
		k := &m.in.kinds[i]
		least := 1e-5 * float64(m.in.stocks[0].cost) * k.area() / whole
		worth[i] = max(m.lp.Price(i), least) * (1 + spread*(m.chance.unit()-0.5))
	}
	for t := range m.in.stocks {
		if m.in.stocks[t].count > 0 && mk.stock[t] == 0 {
			continue
		}
		for _, upright := range m.in.directions {
			l := layingOut{m.in.stocks[t], upright}
			p := m.fill.sheet(l, t, mk.left, worth, width)
			if p == nil || m.reduced(p) > -1e-6*float64(p.cost) || !m.keep(p) {
				continue
			}
			found = true
			if m.in.stages == Free || m.in.notched {
				continue
			}
			for _, o := range m.fill.others(l, t, moreColumns, float64(p.cost)) {
				m.keep(o)
			}
		}
	}
	return found
}

// reduced is by how much one sheet cut so would change the cost.
func (m *master) reduced(p *pattern) float64 {
	r := float64(p.cost)
	for _, u := range p.uses {
		r -= m.lp.Price(u.kind) * float64(u.count)
	}
	if row := m.limit[p.stock]; row >= 0 {
		r -= m.lp.Price(row)
	}
	return r
}

// generate solves and grows in turn until nothing is found, for so many rounds at
// most.
func (m *master) generate(mk *making, width, rounds int) bool {
	idle := 0
	for range rounds {
		if !m.solve() {
			return false
		}
		if m.ended() || idle > 2 {
			break
		}
		if m.exact != nil && m.price() || m.grow(mk, width, 0.1*float64(idle)) {
			idle = 0
		} else {
			idle++
		}
	}
	return m.solve()
}

// dive fixes sheets one after another as the programme would cut them, with new
// patterns for what is left, and completes the plan from wherever that may pay.
func (m *master) dive(width int, noise float64) {
	mk := m.start()
	for !mk.done() && !m.ended() {
		m.ask(mk)
		if !m.generate(mk, width, 4) {
			return
		}
		if mk.cost+m.in.roundUp(m.lp.Value()-1e-4) >= m.bestCost && len(mk.patterns) > 0 {
			m.generate(mk, width, 20)
			if mk.cost+m.in.roundUp(m.lp.Value()-1e-4) >= m.bestCost {
				return
			}
		}
		if !m.fix(mk, noise) {
			return
		}
		if m.lp.Value() > 8*float64(m.in.stocks[0].cost) {
			continue
		}
		rest := &making{append([]int(nil), mk.left...), append([]int(nil), mk.stock...), append([]*pattern(nil), mk.patterns...), mk.cost}
		for i := range m.worth {
			m.worth[i] = max(m.lp.Price(i), 1e-5)
		}
		m.pass(rest, width, nil)
	}
	if mk.done() {
		m.offer(mk)
	}
}

// nearly is how much of a sheet the programme has to cut for it to be fixed along
// with others.
const nearly = 0.75

// fix takes the sheets that the programme cuts whole or nearly so, or else the one
// nearest to it.
func (m *master) fix(mk *making, noise float64) bool {
	var list []weighed
	for j := range m.added {
		if x := m.lp.Amount(j); x > 1e-6 {
			list = append(list, weighed{m.pool[j], x, x + noise*m.chance.unit()})
		}
	}
	slices.SortStableFunc(list, func(a, b weighed) int { return cmp.Compare(b.score, a.score) })
	taken := false
	for _, w := range list {
		for n := int(math.Floor(w.amount + 1e-6)); n > 0 && m.useful(mk, w.pattern); n-- {
			mk.take(w.pattern)
			taken = true
		}
	}
	for _, w := range list {
		if whole := math.Floor(w.amount + 1e-6); (!taken || w.amount-whole > nearly) && m.useful(mk, w.pattern) && (!taken || m.repeats(mk, w.pattern)) {
			mk.take(w.pattern)
			taken = true
		}
	}
	return taken
}

// weighed is how much the programme cuts of a pattern, and that with chance in it.
type weighed struct {
	pattern       *pattern
	amount, score float64
}

// useful reports whether a sheet is there to be cut so, and gives anything needed.
// What lies in a notch goes with its piece, so that notched pieces are never made in
// vain.
func (m *master) useful(mk *making, p *pattern) bool {
	if m.in.stocks[p.stock].count > 0 && mk.stock[p.stock] == 0 {
		return false
	}
	gives := false
	for _, u := range p.uses {
		gives = gives || mk.left[u.kind] > 0
		if m.in.notched && u.count > mk.left[u.kind] {
			return false
		}
	}
	return gives
}
