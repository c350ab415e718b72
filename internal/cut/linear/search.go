package linear

import (
	"context"
	"math"
	"slices"

	"nogging/internal/lp"
)

// search is one solving of one instance.
type search struct {
	ctx      context.Context
	in       *instance
	price    *pricer
	lp       *lp.Programme
	columns  []pattern
	proper   []bool // the column takes part: it cuts no more of any kind than is left, and is not barred
	stockRow []int  // row of each limited stock; -1 for others

	bound    int64
	best     []bar
	bestCost int64
	below    int64 // what a plan that is sought has to cost less than

	unit          float64 // the scale of prices
	effort, steps int64   // allowed; taken outside the programme and the pricing
}

func newSearch(ctx context.Context, in *instance, effort int64) *search {
	s := &search{ctx: ctx, in: in, effort: effort, price: newPricer(in), bestCost: math.MaxInt64, below: math.MaxInt64, unit: float64(in.scale())}
	s.lp = lp.New(s.rows())
	return s
}

// rows are those of the pattern programme: what is needed of each kind, and what
// there is of limited stock.
func (s *search) rows() []lp.Row {
	var rows []lp.Row
	for _, d := range s.in.demand {
		rows = append(rows, lp.Row{Sense: lp.AtLeast, Right: float64(d), Penalty: penalty * float64(s.in.dearest)})
	}
	s.stockRow = s.stockRow[:0]
	for _, u := range s.in.count {
		s.stockRow = append(s.stockRow, -1)
		if u > 0 {
			s.stockRow[len(s.stockRow)-1] = len(rows)
			rows = append(rows, lp.Row{Sense: lp.AtMost, Right: float64(u)})
		}
	}
	return rows
}

// penalty is what a missing piece costs in the programme, in bars of the dearest
// stock: more than any piece is worth paying.
const penalty = 1000

// state is a plan in the making: what is still needed, what stock is left.
type state struct {
	left   []int
	stock  []int // of limited stocks
	bars   []bar
	cost   int64
	prices prices // that bound what the rest costs
	cuts   []int  // what is left of the programme's cuts
}

func (s *search) start() *state {
	return &state{left: slices.Clone(s.in.demand), stock: slices.Clone(s.in.count), prices: s.in.easy()}
}

// done reports whether the search may end: told to, proven, or out of effort.
func (s *search) done() bool {
	return s.bestCost <= s.bound || s.spent() >= s.effort || s.ctx.Err() != nil
}

// spent returns the elementary steps taken so far.
func (s *search) spent() int64 { return s.steps + s.lp.Steps() + s.price.steps }

// run bounds, packs by heuristics, and dives until the plan is proven or effort is
// spent.
func (s *search) run() {
	start := s.start()
	s.bound = max(s.in.easyBound(), s.bounded(start))
	s.pack(start)
	if s.done() {
		return
	}
	for _, b := range s.best {
		s.add(b)
	}
	s.root(start)
	if s.bound = max(s.bound, s.bounded(start)); s.done() {
		return
	}
	root := s.lp.Basis()
	if s.enumerate(); s.done() {
		return
	}
	if s.dives(start, root, 2, s.spent()+s.effort/8); s.done() {
		return
	}
	if s.climb(start); s.done() {
		return
	}
	for !s.done() && s.swap((s.effort-s.spent())/2) {
	}
	s.dives(start, root, len(s.in.weight), s.effort)
}

// dives dives from the root so many times, each farther astray, until so much is spent
// in all.
func (s *search) dives(start *state, root *lp.Basis, times int, until int64) {
	defer func(effort int64) { s.effort = effort }(s.effort)
	s.effort = min(until, s.effort)
	for astray := 0; astray < times && !s.done(); astray++ {
		s.lp.Return(root)
		s.dive(start.clone(), astray)
	}
}

// climb searches for plans that cost as much as the bound, and where there are none,
// for those that cost more, by steps that double.
func (s *search) climb(start *state) {
	for step := s.in.unit; !s.done(); step *= 2 {
		s.below = min(s.bestCost, s.bound+step)
		ended := s.exhaust(start.clone())
		below := s.below
		s.below = s.bestCost
		if !ended {
			return
		}
		s.bound = max(s.bound, min(below, s.bestCost))
	}
}

// restore sets the programme to what a state still needs.
func (s *search) restore(st *state) {
	s.ask(st)
	for j := range s.columns {
		s.allow(j, st.left)
	}
	_ = s.lp.Solve() // what went wrong shows as missing pieces, and the dive ends
}

// ask sets the right-hand sides to what a state still needs and has.
func (s *search) ask(st *state) {
	for k, d := range st.left {
		s.lp.SetRight(k, float64(d))
	}
	for t, row := range s.stockRow {
		if row >= 0 {
			s.lp.SetRight(row, float64(st.stock[t]))
		}
	}
	first := len(st.left) + s.limitedStocks()
	for c, n := range st.cuts {
		s.lp.SetRight(first+c, float64(n))
	}
}

// allow lets a column take part where it cuts no more than is left, and else bars it.
func (s *search) allow(j int, left []int) {
	ok := true
	for _, u := range s.columns[j].uses {
		ok = ok && u.count <= left[u.kind]
	}
	if ok == s.proper[j] {
		return
	}
	s.proper[j] = ok
	s.lp.Bar(j, !ok)
}

// entries are the coefficients of a pattern's column.
func (s *search) entries(p pattern) []lp.Entry {
	entries := make([]lp.Entry, 0, len(p.uses)+1)
	for _, u := range p.uses {
		entries = append(entries, lp.Entry{Row: u.kind, Value: float64(u.count)})
	}
	if row := s.stockRow[p.stock]; row >= 0 {
		entries = append(entries, lp.Entry{Row: row, Value: 1})
	}
	return entries
}

// add makes a pattern a column.
func (s *search) add(p pattern) {
	s.lp.Add(float64(s.in.cost[p.stock]), s.entries(p))
	s.columns = append(s.columns, p)
	s.proper = append(s.proper, true)
}

// dive fixes patterns one after another until nothing is left or no cheaper plan
// can come of it. At each step it takes the column of which the programme takes
// most; up to astray times on the way down it takes another as well, the first
// steps last, since what follows from them is longest (limited discrepancy search,
// 1995).
func (s *search) dive(st *state, astray int) {
	s.restore(st)
	if !s.generate(st, true, gain) || s.hopeless(st) {
		return
	}
	s.tableRest(st)
	s.fix(st, 0)
	s.pack(st)
	if s.done() || finished(st.left) || s.finish(st) {
		return
	}
	s.restore(st)
	here := s.lp.Basis()
	parts := s.parts(astray + 1)
	for i := 0; i < len(parts) && !s.done(); i++ {
		if i > 0 {
			s.lp.Return(here)
			s.restore(st)
		}
		next := st.clone()
		s.take(next, parts[i], 1)
		s.dive(next, astray-i)
	}
}

func (st *state) clone() *state {
	return &state{left: slices.Clone(st.left), stock: slices.Clone(st.stock), bars: slices.Clone(st.bars), cost: st.cost, prices: st.prices, cuts: slices.Clone(st.cuts)}
}

func finished(left []int) bool {
	return !slices.ContainsFunc(left, func(n int) bool { return n > 0 })
}

// hopeless reports whether no plan from here on is cheaper than the best.
func (s *search) hopeless(st *state) bool { return s.bounded(st) >= s.below }

// bounded returns the least that a plan from here on may cost; costs are multiples
// of a unit.
func (s *search) bounded(st *state) int64 {
	return st.cost + s.ceiling(st.prices.total(st))
}

// ceiling returns the least cost that is worth so much.
func (s *search) ceiling(worth int64) int64 {
	unit := s.in.unit * s.in.scale()
	return (worth + unit - 1) / unit * s.in.unit
}

// roundUp turns a value of the programme into what it lets hope for.
func (s *search) roundUp(v float64) int64 {
	unit := float64(s.in.unit)
	return int64(math.Ceil(v*(1-2*gain)/unit-1e-6)) * s.in.unit
}

// fix takes the whole amounts of the programme's columns into the plan, each less so
// many to spare.
func (s *search) fix(st *state, spare int) {
	for j := range s.columns {
		if n := int(s.lp.Amount(j)+whole) - spare; n > 0 && s.proper[j] {
			s.take(st, s.columns[j], n)
		}
	}
}

// whole is how far an amount may be from a whole number and count as it.
const whole = 1e-6

// parts lists the patterns of which the programme takes most, the largest first.
func (s *search) parts(most int) []pattern {
	type part struct {
		column int
		amount float64
	}
	var parts []part
	for j := range s.columns {
		if x := s.lp.Amount(j); x > whole && s.proper[j] {
			parts = append(parts, part{j, x})
		}
	}
	slices.SortStableFunc(parts, func(a, b part) int {
		switch {
		case a.amount > b.amount+1e-9:
			return -1
		case b.amount > a.amount+1e-9:
			return 1
		}
		return 0
	})
	list := make([]pattern, 0, most)
	for _, p := range parts[:min(most, len(parts))] {
		list = append(list, s.columns[p.column])
	}
	return list
}

// take cuts up to n bars by a pattern, as long as what it cuts is needed and stock
// is left.
func (s *search) take(st *state, p pattern, n int) bool {
	took := false
	for ; n > 0; n-- {
		if s.in.count[p.stock] > 0 && st.stock[p.stock] == 0 {
			break
		}
		if slices.ContainsFunc(p.uses, func(u use) bool { return u.count > st.left[u.kind] }) {
			break
		}
		for _, u := range p.uses {
			st.left[u.kind] -= u.count
		}
		st.stock[p.stock]--
		st.bars = append(st.bars, p)
		st.cost += s.in.cost[p.stock]
		took = true
	}
	return took
}

// offer takes a whole plan as the best where it is cheaper.
func (s *search) offer(bars []bar, cost int64) {
	if cost < s.bestCost {
		s.best, s.bestCost = slices.Clone(bars), cost
		s.below = min(s.below, cost)
	}
}
