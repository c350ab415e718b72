package schedule

import "slices"

// The genetic algorithm's figures were chosen by measurement on the public instances.
const (
	poolMost     = 100  // plans in the pool, fewer for small budgets: one for 20 schedules
	poolLeast    = 20   // but no fewer than that
	rivals       = 4    // plans of which the best becomes a parent
	patience     = 100  // children in a row that are no better than the worst, before all begins anew
	noise        = 0.6  // how far keys of the first plans are moved at most, as a share of the end
	window       = 0.1  // the least part of its father that a child takes over, as a share of the end
	windowMore   = 0.2  // and how much more that is at most
	mutation     = 0.05 // share of the tasks that mutate
	mutationMost = 0.12 // over how much of the end
)

// fine is how many steps of a key there are to a slot.
const fine = 16

// evolve is a genetic algorithm: it breeds plans from a pool of plans until the budget
// is spent or the bound is reached.
func (s *search) evolve(rules [][]int) {
	var pool []*plan
	for stale := patience; !s.over(); stale++ {
		if stale >= patience {
			pool = s.populate(rules)
			stale = 0
		} else if s.breed(pool) {
			stale = 0
		}
	}
}

// populate makes the first plans: from the rules, then from rules with noise.
func (s *search) populate(rules [][]int) []*plan {
	var pool []*plan
	key := make([]int, len(s.Tasks))
	span := float64(fine * s.best.finish)
	for size := min(max(s.o.Schedules/20, poolLeast), poolMost); len(pool) < size && !s.over(); {
		spread := 0.0
		rule := rules[0]
		if k := len(pool); k < len(rules) && s.made < s.o.Schedules/2 {
			rule = rules[k]
		} else {
			spread = noise * s.rng.share()
			if s.rng.below(2) > 0 {
				rule = rules[len(rules)-1]
			}
		}
		for i := range key {
			key[i] = fine*rule[i] + int(span*spread*(s.rng.share()-0.5))
		}
		p := s.newPlan()
		s.make(s.byKey(key), p)
		s.justify(p)
		pool = append(pool, p)
	}
	return pool
}

// breed makes a child of two plans. If it is as good as the worst of the pool and new,
// it takes that one's place; breed reports whether it is better than that.
func (s *search) breed(pool []*plan) bool {
	child := s.newPlan()
	key := s.cross(pool[s.pick(pool)], pool[s.pick(pool)])
	s.mutate(key)
	worst := slices.MaxFunc(pool, (*plan).compare)
	s.make(s.byKey(key), child)
	if child.compare(worst) > 0 {
		return false
	}
	s.justify(child)
	if slices.ContainsFunc(pool, func(o *plan) bool { return o.finish == child.finish && slices.Equal(o.start, child.start) }) {
		return false
	}
	better := child.compare(worst) < 0
	pool[slices.Index(pool, worst)] = child
	return better
}

// pick chooses the best of some plans.
func (s *search) pick(pool []*plan) int {
	best := s.rng.below(len(pool))
	for range rivals - 1 {
		if k := s.rng.below(len(pool)); pool[k].compare(pool[best]) < 0 {
			best = k
		}
	}
	return best
}

// cross makes keys in which the tasks that start in some window of the father come in
// his order; of the others those go before that the mother starts before the window,
// and the rest after (Debels, Vanhoucke 2007).
func (s *search) cross(mother, father *plan) []int {
	key := make([]int, len(s.Tasks))
	span := max(mother.finish, 1)
	width := int(float64(span) * (window + windowMore*s.rng.share()))
	from := s.rng.below(span - width + 1)
	for i := range key {
		switch {
		case father.start[i] >= from && father.start[i] < from+width:
			key[i] = fine * father.start[i]
		case mother.start[i] < from:
			key[i] = fine * (mother.start[i] - span)
		default:
			key[i] = fine * (mother.start[i] + span)
		}
	}
	return key
}

// mutate moves some keys a little.
func (s *search) mutate(key []int) {
	for i := range key {
		if s.rng.share() < mutation {
			key[i] += int(fine * mutationMost * float64(s.best.finish) * (s.rng.share() - 0.5))
		}
	}
}
