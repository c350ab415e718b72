package schedule

import (
	"cmp"
	"math"
	"slices"
)

// The genetic algorithm's figures were chosen by measurement on public instances; what was
// tried later, on half of j30 and j120 only.
const (
	poolMost     = 100  // plans in the pool, fewer for small budgets: one for 20 schedules
	poolLeast    = 20   // but no fewer than that
	rivals       = 4    // plans of which the best becomes a parent
	tries        = 8    // windows of which a child takes over the best
	turn         = 15   // children in a row that are no better than their rivals, before half are built from the end
	patience     = 60   // and before all begins anew; one for each task where those are more
	poor         = 0.1  // how much later than the best a plan ends, as a share, whose rule is not followed up
	noise        = 1.0  // how far keys of the first plans are moved at most, as a share of the end
	window       = 0.1  // the least part of its father that a child takes over, as a share of the end
	windowMore   = 0.2  // and how much more that is at most
	mutation     = 0.05 // share of the tasks that mutate
	mutationMost = 0.12 // over how much of the end
)

// fine is how many steps of a key there are to a slot.
const fine = 16

// evolve is a genetic algorithm: it breeds plans from a pool of plans until the budget
// is spent or the bound is reached.
func (s *search) evolve(families [][][]int) {
	pool := s.populate(s.tryWays(families))
	limit := max(patience, len(s.Tasks))
	for stale := 0; !s.over(); stale++ {
		if stale >= limit {
			pool = s.populate(nil)
			stale = 0
		} else if s.breed(pool, stale >= turn && s.rng.below(2) == 0) {
			stale = 0
		}
	}
}

// way is a way of making plans: by a rule, serially or in parallel. It is graded by the
// end of the plan that it makes.
type way struct {
	key      []int
	parallel bool
	finish   int
}

// follow makes a plan in some way.
func (s *search) follow(w way, key []int) *plan {
	p := s.newPlan()
	if w.parallel {
		s.keep(s.dispatch(key, p), p)
	} else {
		s.make(s.byKey(key), p)
	}
	return p
}

// tryWays makes plans by each rule, serially and in parallel, and gives those that are no
// poor ones. Once the first rule of a family is poor in one of them, so are the others.
func (s *search) tryWays(families [][][]int) []*plan {
	first := s.newPlan()
	first.copy(s.best)
	var pool []*plan
	for f, rules := range families {
		for _, parallel := range []bool{false, true} {
			for r, rule := range rules {
				if s.over() {
					return pool
				}
				w := way{key: rule, parallel: parallel}
				p := first
				if f > 0 || r > 0 || parallel {
					p = s.follow(w, rule)
				}
				if w.finish = p.finish; float64(p.finish) > (1+poor)*float64(s.best.finish) {
					break
				}
				s.justify(p)
				s.ways, pool = append(s.ways, w), append(pool, p)
			}
		}
	}
	return pool
}

// populate fills the pool with plans made in ways with noise, more often in the better of
// them.
func (s *search) populate(pool []*plan) []*plan {
	key := make([]int, len(s.Tasks))
	span := float64(fine * s.best.finish)
	for size := min(max(s.o.Schedules/20, poolLeast), poolMost); len(pool) < size && !s.over(); {
		spread := noise * s.rng.share()
		w := s.ways[s.rng.below(len(s.ways))]
		if other := s.ways[s.rng.below(len(s.ways))]; other.finish < w.finish {
			w = other
		}
		for i := range key {
			key[i] = fine*w.key[i] + int(span*spread*(s.rng.share()-0.5))
		}
		p := s.follow(w, key)
		s.justify(p)
		pool = append(pool, p)
	}
	return pool
}

// breed makes a child of two plans, from the end or from the start. Half the children
// compete with the worst of the pool, and half with their mother, which keeps the pool
// diverse: a child that is as good and new takes the other's place. Breed reports whether
// it ends sooner than that.
func (s *search) breed(pool []*plan, fromEnd bool) bool {
	child := s.newPlan()
	mother, father := pool[s.pick(pool)], pool[s.pick(pool)]
	rival := slices.MaxFunc(pool, (*plan).rate)
	if s.rng.below(2) == 0 {
		mother = pool[s.rng.below(len(pool))]
		rival = mother
	}
	bear := s.fromStart
	if fromEnd {
		bear = s.fromEnd
	}
	if !bear(mother, father, rival, child) || child.compare(rival) > 0 {
		return false
	}
	s.justify(child)
	if slices.ContainsFunc(pool, func(o *plan) bool { return o.finish == child.finish && slices.Equal(o.start, child.start) }) {
		return false
	}
	better := child.compare(rival) < 0
	if child.rate(rival) <= 0 {
		pool[slices.Index(pool, rival)] = child
	}
	return better
}

// fromStart makes a child by letting tasks start as soon as they can. It reports whether
// its list is new; one that has been made already is not made again.
func (s *search) fromStart(mother, father, _, child *plan) bool {
	key := s.cross(mother.start, father.start, mother.finish)
	s.mutate(key)
	list := s.byKey(key)
	mark := markOf(list)
	if s.tried[mark] {
		return false
	}
	s.tried[mark] = true
	s.make(list, child)
	return true
}

// markOf tells lists apart: FNV-1a over the tasks.
func markOf(list []int) uint64 {
	mark := uint64(14695981039346656037)
	for _, i := range list {
		mark = (mark ^ uint64(i)) * 1099511628211
	}
	return mark
}

// fromEnd makes a child by letting tasks end as late as they can if all is over when it
// is in its rival, and from there start as soon as they can. It reports whether
// there was room for all.
func (s *search) fromEnd(mother, father, rival, child *plan) bool {
	key := s.cross(mother.early, father.early, mother.finish)
	s.mutate(key)
	child.copy(rival)
	ok := s.backward(s.byEnd(key), child)
	s.count()
	if !ok || s.over() {
		return false
	}
	s.make(s.byKey(child.start), child)
	return true
}

// rate puts the better plan first: among those that compare as equal the one in which
// tasks may start later, which leaves more room before them.
func (p *plan) rate(o *plan) int {
	return cmp.Or(p.compare(o), cmp.Compare(o.slack, p.slack))
}

// pick chooses the best of some plans.
func (s *search) pick(pool []*plan) int {
	best := s.rng.below(len(pool))
	for range rivals - 1 {
		if k := s.rng.below(len(pool)); pool[k].rate(pool[best]) < 0 {
			best = k
		}
	}
	return best
}

// cross makes keys of the times that mother and father give the tasks: those that lie in
// some window of the father come in his order; of the others those go before that lie
// before the window with the mother, and the rest after.
func (s *search) cross(mother, father []int, span int) []int {
	key := make([]int, len(s.Tasks))
	span = max(span, 1)
	from, to := s.peak(mother, father, span)
	for i := range key {
		switch {
		case father[i] >= from && father[i] < to:
			key[i] = fine * father[i]
		case mother[i] < from:
			key[i] = fine * (mother[i] - span)
		default:
			key[i] = fine * (mother[i] + span)
		}
	}
	return key
}

// peak chooses, among some windows, the one in which the father has most work more than
// the mother: there he uses resources best.
func (s *search) peak(mother, father []int, span int) (from, to int) {
	more := s.ahead(mother, father, span)
	width := int(float64(span) * (window + windowMore*s.rng.share()))
	most := math.MinInt
	for range tries {
		at := s.rng.below(span - width + 1)
		if gain := more[at+width] - more[at]; gain > most {
			most, from = gain, at
		}
	}
	return from, from + width
}

// ahead sums up, for each point of time, how much more work begins before it with the
// father than with the mother.
func (s *search) ahead(mother, father []int, span int) []int {
	s.more = slices.Grow(s.more[:0], span+1)[:span+1]
	clear(s.more)
	for i, work := range s.work {
		if father[i] < span {
			s.more[father[i]+1] += work
		}
		if mother[i] < span {
			s.more[mother[i]+1] -= work
		}
	}
	for t := range span {
		s.more[t+1] += s.more[t]
	}
	return s.more
}

// works gives the work of each task in thousandths of what a resource can do in a slot.
func (n *network) works() []int {
	work := make([]int, len(n.Tasks))
	for i, t := range n.Tasks {
		for _, d := range n.needs[i] {
			work[i] += 1000 * d.Units * t.Duration / max(n.resources[d.Resource].most(), 1)
		}
	}
	return work
}

// mutate moves some keys a little.
func (s *search) mutate(key []int) {
	for i := range key {
		if s.rng.share() < mutation {
			key[i] += int(fine * mutationMost * float64(s.best.finish) * (s.rng.share() - 0.5))
		}
	}
}
