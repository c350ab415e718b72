package sheet

import (
	"context"
	"math"
	"slices"
)

// workPerEffort is how many pieces are tried for one unit of effort.
const workPerEffort = 2_000_000

// search looks for a cheap plan.
type search struct {
	ctx      context.Context
	in       *instance
	fill     *filler
	budget   int
	chance   random
	worth    []float64 // of one piece of each kind, as corrected so far
	pool     []*pattern
	known    map[uint64][]*pattern
	best     []*pattern
	bestCost int64
	bound    int64
}

func newSearch(ctx context.Context, in *instance, effort int) *search {
	return &search{
		ctx: ctx, in: in, fill: newFiller(in), budget: effort * workPerEffort, chance: 7,
		worth: make([]float64, len(in.kinds)), known: map[uint64][]*pattern{}, bestCost: math.MaxInt64,
	}
}

// ended reports whether nothing better can come, or nothing more is asked for.
func (s *search) ended() bool {
	return s.best != nil && (s.bestCost <= s.bound || s.fill.work >= s.budget) || s.ctx.Err() != nil
}

// powers are exponents of area for what a piece is worth: the higher, the sooner
// large pieces are cut.
var powers = []float64{1.1, 1, 1.3, 1.03, 1.6}

func (s *search) run() {
	for _, width := range []int{1, 6} {
		for _, p := range powers {
			s.value(p)
			s.pass(s.start(), width, nil)
			if s.ended() {
				return
			}
		}
	}
	s.correct()
}

// value sets what pieces are worth to a power of their area.
func (s *search) value(power float64) {
	whole := s.in.stocks[0].area()
	for i := range s.in.kinds {
		s.worth[i] = math.Pow(s.in.kinds[i].area()/whole, power)
	}
}

// correct makes plan after plan, and raises after each sheet what the pieces on a
// badly used one are worth; between, it dives in the linear programme. The width of
// the search changes from plan to plan: narrow ones give many sheets to choose from,
// wide ones good ones.
func (s *search) correct() {
	m, j := newMaster(s), newJoint(s)
	widest := s.widest()
	for round := 0; !s.ended(); round++ {
		s.value(powers[round%len(powers)])
		many := j != nil && s.many()
		until, plans := s.fill.work+s.budget/12, 20
		if many {
			plans = 2
		}
		for n := 0; n < plans && (n < 2 || s.fill.work < until); n++ {
			power := 1 + 0.3*s.chance.unit()
			width := 4 * math.Pow(widest/4, s.chance.unit())
			s.pass(s.start(), int(width), func(p *pattern) { s.reprice(p, power) })
			if s.ended() {
				return
			}
		}
		if j != nil {
			s.jointly(j, round)
		}
		if m.rows <= mostRows && (!many || round%4 == 3) {
			s.dives(m, min(4*(round+2), int(widest)))
		}
	}
}

// manyPieces is how many pieces on a sheet make it better to fill all sheets at once
// than to choose among sheets.
const manyPieces = 8

func (s *search) many() bool {
	n := 0
	for i := range s.in.kinds {
		n += s.in.kinds[i].demand
	}
	return n >= manyPieces*len(s.best)
}

// mostPreference is the greatest power by which all sheets at once prefer large
// pieces; more leaves small ones that fill no sheet.
const mostPreference = 0.2

// broadest bounds the beam: small problems come to many rounds before their effort is
// spent.
const broadest = 100_000

// jointly fills all sheets at once, with one sheet less than in the best plan.
func (s *search) jointly(j *joint, round int) {
	width := int(min(40*math.Pow(1.6, float64(round)), broadest))
	until := s.fill.work + s.budget/8
	for n := 0; n < 8 && (n == 0 || s.fill.work < until) && !s.ended(); n++ {
		power := 0.0
		if n > 0 {
			power = mostPreference * s.chance.unit()
		}
		list := j.pack(int(s.bestCost/j.stock.cost)-1, width+n, power, s.ended)
		if list == nil {
			continue
		}
		m := s.start()
		for _, p := range list {
			s.keep(p)
			m.take(p)
		}
		s.offer(m)
	}
}

// widest returns the width at which one plan takes a sixth of the effort.
func (s *search) widest() float64 {
	const probe = 4
	before := s.fill.work
	s.value(1.05)
	s.pass(s.start(), probe, nil)
	one := float64(s.fill.work-before) / probe
	return min(max(float64(s.budget)/6/max(one, 1), probe), 1000)
}

// mostDives bounds the dives of one round.
const mostDives = 40

// dives solves the programme and dives in it a few times.
func (s *search) dives(m *master, width int) {
	mk := s.start()
	m.ask(mk)
	if !m.generate(mk, width, 100) {
		return
	}
	until := s.fill.work + s.budget/10
	for i := 0; (i < 3 || i < mostDives && s.fill.work < until) && !s.ended(); i++ {
		m.dive(width, min(0.2*float64(i), 0.8)*s.chance.unit())
	}
}

// reprice corrects what the pieces of a pattern are worth.
func (s *search) reprice(p *pattern, power float64) {
	whole := s.in.stocks[0].area()
	used := p.area / s.in.stocks[p.stock].area()
	for _, u := range p.uses {
		now := math.Pow(s.in.kinds[u.kind].area()/whole, power) / max(used, 0.1)
		share := 0.2 + 0.4*s.chance.unit()
		s.worth[u.kind] += share * (now - s.worth[u.kind])
	}
}

// state of a plan in the making.
type making struct {
	left     []int // pieces of each kind
	stock    []int // sheets of each stock, where they are limited
	patterns []*pattern
	cost     int64
}

func (s *search) start() *making {
	m := &making{}
	for i := range s.in.kinds {
		m.left = append(m.left, s.in.kinds[i].demand)
	}
	for _, t := range s.in.stocks {
		m.stock = append(m.stock, t.count)
	}
	return m
}

// take adds a sheet to the plan.
func (m *making) take(p *pattern) {
	for _, u := range p.uses {
		m.left[u.kind] = max(0, m.left[u.kind]-u.count)
	}
	m.stock[p.stock]--
	m.patterns = append(m.patterns, p)
	m.cost += p.cost
}

func (m *making) done() bool { return !slices.ContainsFunc(m.left, func(n int) bool { return n > 0 }) }

// pass completes a plan sheet by sheet, offers it, and calls after for each sheet.
func (s *search) pass(m *making, width int, after func(*pattern)) {
	for !m.done() {
		if s.best != nil && s.ended() {
			return
		}
		p := s.next(m, width)
		if p == nil {
			return
		}
		s.keep(p)
		for again := true; again; again = s.repeats(m, p) {
			m.take(p)
		}
		if after != nil {
			after(p)
		}
	}
	s.offer(m)
}

// repeats reports whether the plan can use the same pattern once more in full.
func (s *search) repeats(m *making, p *pattern) bool {
	if s.in.stocks[p.stock].count > 0 && m.stock[p.stock] == 0 {
		return false
	}
	return !slices.ContainsFunc(p.uses, func(u use) bool { return m.left[u.kind] < u.count })
}

// next fills each kind of sheet in both directions and picks the one that gives
// most for its cost, or the cheapest that takes all that is left.
func (s *search) next(m *making, width int) (best *pattern) {
	most, whole := 0.0, false
	for t := range s.in.stocks {
		if s.in.stocks[t].count > 0 && m.stock[t] == 0 {
			continue
		}
		for _, upright := range s.in.directions {
			p := s.fill.sheet(layingOut{s.in.stocks[t], upright}, t, m.left, s.worth, width)
			if p == nil {
				continue
			}
			all := p.takesAll(m.left)
			gives := p.value / float64(p.cost)
			if best == nil || all && (!whole || p.cost < best.cost) || !all && !whole && gives > most {
				best, most, whole = p, gives, all
			}
		}
	}
	return best
}

// takesAll reports whether nothing is left after the pattern.
func (p *pattern) takesAll(left []int) bool {
	need := 0
	for _, n := range left {
		if n > 0 {
			need++
		}
	}
	for _, u := range p.uses {
		if left[u.kind] > 0 && u.count >= left[u.kind] {
			need--
		}
	}
	return need == 0
}

// offer takes a complete plan if it is the cheapest so far.
func (s *search) offer(m *making) {
	if m.cost < s.bestCost {
		s.best, s.bestCost = slices.Clone(m.patterns), m.cost
	}
}

// keep puts a pattern into the pool unless one like it is there.
func (s *search) keep(p *pattern) bool {
	key := uint64(p.stock)
	for _, u := range p.uses {
		key += s.fill.marks[u.kind] * uint64(u.count)
	}
	for _, o := range s.known[key] {
		if o.stock == p.stock && slices.Equal(o.uses, p.uses) {
			return false
		}
	}
	s.known[key] = append(s.known[key], p)
	s.pool = append(s.pool, p)
	return true
}
