package linear

import "slices"

// poolLimit is how many patterns there may be for an exact search, poolNodes the
// nodes that listing them may take, and poolSample how many are listed where they are
// more.
const (
	poolLimit  = 15_000
	poolNodes  = 100 * poolLimit
	poolSample = 4000
)

// pool lists patterns that a plan below a cost can hold: prices bound the cost of
// every plan, and a bar worth less than it costs by more than the room between that
// bound and the cost has no place in such a plan.
type pool struct {
	in               *instance
	prices           prices
	ceilings         *ceilings
	least            int64 // that a pattern has to be worth
	patterns         []pattern
	uses             []use
	nodes            int
	limit, nodeLimit int
	mixed            bool // list in no order
	chance           chance
}

// gather lists all patterns of the plans that are sought. Where they are too many, it
// lists some of each kind that may be the heaviest, and reports false.
func (s *search) gather(st *state) ([]pattern, bool) {
	p := &pool{in: s.in, prices: st.prices, ceilings: newCeilings(s.in), limit: poolLimit, nodeLimit: poolNodes}
	p.ceilings.fill(s.in, st.prices.kind, st.left)
	defer func() { s.steps += p.ceilings.steps() + int64(20*p.nodes) }()
	all := true
	for t, size := range s.in.size {
		p.least = st.prices.value(s.in, t) - s.room(st)
		all = all && p.walk(t, 0, size, 0, st.left)
	}
	if all {
		return p.patterns, true
	}
	p.patterns, p.mixed = nil, true
	for t := range s.in.size {
		p.least = st.prices.value(s.in, t) - s.room(st)
		p.sample(t, st.left)
	}
	return p.patterns, false
}

// room is how much more than the bound a plan that is sought may cost, in units of
// price.
func (s *search) room(st *state) int64 {
	return (s.below-s.in.unit-st.cost)*s.in.scale() - st.prices.total(st)
}

// sample lists some patterns of a stock with each kind as their heaviest.
func (p *pool) sample(stock int, most []int) {
	each := max(1, poolSample/len(most)/len(p.in.size))
	size := p.in.size[stock]
	for k, w := range p.in.weight {
		for n := min(most[k], size/w); n > 0; n-- {
			p.limit, p.nodeLimit = len(p.patterns)+each, p.nodes+40*each
			p.uses = append(p.uses[:0], use{k, n})
			p.walk(stock, k+1, size-n*w, int64(n)*p.prices.kind[k], most)
		}
	}
	p.uses = p.uses[:0]
}

// walk lists the patterns of a stock with what it already holds and kinds from k on;
// it reports false where it met a limit.
func (p *pool) walk(stock, k, room int, worth int64, most []int) bool {
	if worth+p.ceilings.of(k, room) < p.least {
		return true
	}
	if p.nodes++; p.nodes > p.nodeLimit || len(p.patterns) >= p.limit {
		return false
	}
	if k == len(most) {
		if len(p.uses) > 0 {
			p.patterns = append(p.patterns, pattern{stock, slices.Clone(p.uses)})
		}
		return true
	}
	w, held := p.in.weight[k], len(p.uses)
	top := min(most[k], room/w)
	fewFirst := p.mixed && p.chance.below(2) == 0
	for n := range top + 1 {
		if !fewFirst {
			n = top - n
		}
		if n > 0 {
			p.uses = append(p.uses, use{k, n})
		}
		whole := p.walk(stock, k+1, room-n*w, worth+int64(n)*p.prices.kind[k], most)
		p.uses = p.uses[:held]
		if !whole {
			return false
		}
	}
	return true
}
