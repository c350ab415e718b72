package linear

import (
	"math"

	"nogging/internal/lp"
)

// fewPatterns is how many patterns there may be for the exact search.
const fewPatterns = 4000

// exact is branch and bound over all patterns that hold no further piece, for
// problems with few of them: at each node the programme is solved with what was
// decided so far as rows; first the numbers of bars of each stock are made whole,
// since they make the cost, then the numbers of each pattern.
type exact struct {
	*search
	patterns []pattern
}

// decision holds the number of bars of a stock, or of one pattern.
type decision struct {
	stock, pattern int // -1 for the one that it does not hold
	sense          lp.Sense
	n              float64
}

// enumerate runs the exact search where there are few patterns.
func (s *search) enumerate() {
	e := &exact{search: s}
	for t := range s.in.size {
		if !e.list(t, 0, s.in.size[t], nil) {
			return
		}
	}
	if e.tabulate() || e.branch(nil) {
		s.bound = s.bestCost
	}
}

// list adds the patterns of a stock that hold no further piece; it reports false
// where there are too many.
func (e *exact) list(t, k, room int, uses []use) bool {
	if k == len(e.in.weight) {
		if e.maximal(room, uses) {
			e.patterns = append(e.patterns, pattern{t, append([]use(nil), uses...)})
		}
		e.steps += int64(8 * k)
		return len(e.patterns) <= fewPatterns && e.spent() < e.effort/2
	}
	w := e.in.weight[k]
	for n := min(e.in.demand[k], room/w); n > 0; n-- {
		if !e.list(t, k+1, room-n*w, append(uses, use{k, n})) {
			return false
		}
	}
	return e.list(t, k+1, room, uses)
}

func (e *exact) maximal(room int, uses []use) bool {
	i := 0
	for k, w := range e.in.weight {
		used := 0
		if i < len(uses) && uses[i].kind == k {
			used = uses[i].count
			i++
		}
		if w <= room && used < e.in.demand[k] {
			return false
		}
	}
	return len(uses) > 0
}

// branch searches below the decisions; it reports whether it came to the end, so
// that nothing cheaper than the best is left there.
func (e *exact) branch(decided []decision) bool {
	if e.spent() >= e.effort || e.ctx.Err() != nil {
		return false
	}
	p := e.programme(decided)
	err := p.Solve()
	e.steps += p.Steps() + int64(20*len(e.patterns))
	if err != nil {
		return false
	}
	if e.least(p, decided) >= e.bestCost {
		return true
	}
	e.round(p)
	d, ok := e.part(p)
	if !ok {
		return e.least(p, decided) >= e.bestCost
	}
	below, above := d, d
	below.sense, below.n = lp.AtMost, math.Floor(d.n)
	above.sense, above.n = lp.AtLeast, math.Floor(d.n)+1
	first, second := above, below
	if d.n-below.n < 0.5 {
		first, second = below, above
	}
	decided = decided[:len(decided):len(decided)]
	whole := e.branch(append(decided, first))
	return e.branch(append(decided, second)) && whole
}

// least returns a bound on what a plan with what was decided costs. Prices are made
// whole numbers, and lowered until no pattern is worth more than its bar.
func (e *exact) least(p *lp.Programme, decided []decision) int64 {
	st := e.start()
	at := prices{kind: make([]int64, len(st.left)), stock: make([]int64, len(st.stock))}
	for k := range at.kind {
		at.kind[k] = int64(e.unit * max(p.Price(k), 0))
	}
	for t, row := range e.stockRow {
		if row >= 0 {
			at.stock[t] = int64(-e.unit * min(p.Price(row), 0))
		}
	}
	gains := make([]int64, len(decided)) // what one bar more is worth by a decision
	for i := range decided {
		gains[i] = int64(e.unit * p.Price(e.firstDecided()+i))
	}
	n, d := int64(1), int64(1)
	for j, x := range e.patterns {
		worth, value := at.of(x), at.value(e.in, x.stock)
		for i, g := range gains {
			if decided[i].pattern != j && decided[i].stock != x.stock {
				continue
			}
			worth, value = worth+max(g, 0), value-min(g, 0)
		}
		if less(value, d, n, worth) {
			n, d = value, worth
		}
	}
	total := int64(0)
	for k, left := range st.left {
		total += int64(left) * part(at.kind[k], n, d)
	}
	for i, g := range gains {
		total += int64(decided[i].n) * (part(max(g, 0), n, d) + min(g, 0))
	}
	for t, v := range at.stock {
		total -= int64(st.stock[t]) * v
	}
	return e.ceiling(total)
}

// firstDecided is the row of the first decision.
func (e *exact) firstDecided() int {
	n := len(e.in.weight)
	for _, row := range e.stockRow {
		if row >= 0 {
			n++
		}
	}
	return n
}

// programme is the pattern programme with what was decided.
func (e *exact) programme(decided []decision) *lp.Programme {
	rows := e.rows()
	for _, d := range decided {
		rows = append(rows, lp.Row{Sense: d.sense, Right: d.n, Penalty: rows[0].Penalty})
	}
	p := lp.New(rows)
	for j, x := range e.patterns {
		entries := e.entries(x)
		for i, d := range decided {
			if d.pattern == j || d.stock == x.stock {
				entries = append(entries, lp.Entry{Row: len(rows) - len(decided) + i, Value: 1})
			}
		}
		p.Add(float64(e.in.cost[x.stock]), entries)
	}
	return p
}

// part returns the number that is farthest from a whole one, of bars of a stock, or
// where those are whole, of a pattern.
func (e *exact) part(p *lp.Programme) (decision, bool) {
	bars := make([]float64, len(e.in.size))
	var best decision
	far := whole
	consider := func(stock, pattern int, n float64) {
		if f := math.Abs(n - math.Round(n)); f > far {
			far, best = f, decision{stock: stock, pattern: pattern, n: n}
		}
	}
	for j, x := range e.patterns {
		bars[x.stock] += p.Amount(j)
	}
	for t, n := range bars {
		consider(t, -1, n)
	}
	if far == whole {
		for j := range e.patterns {
			consider(-1, j, p.Amount(j))
		}
	}
	return best, far > whole
}

// round takes the whole bars of the programme into a plan, and packs the rest; what
// the patterns hold beyond need is left out.
func (e *exact) round(p *lp.Programme) {
	st := e.start()
	for j, x := range e.patterns {
		for range int(p.Amount(j) + whole) {
			var uses []use
			for _, u := range x.uses {
				if u.count = min(u.count, st.left[u.kind]); u.count > 0 {
					uses = append(uses, u)
				}
			}
			if len(uses) == 0 || !e.take(st, pattern{x.stock, uses}, 1) {
				break
			}
		}
	}
	e.steps += int64(10 * len(st.bars))
	if finished(st.left) {
		e.offer(st.bars, st.cost)
		return
	}
	e.pack(st)
}
