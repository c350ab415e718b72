package schedule

import (
	"context"
	"os"
	"slices"
	"strconv"
)

// search is the state of a search for the best plan.
type search struct {
	*builder
	ctx     context.Context
	o       Options
	rng     random
	made    int // schedules generated
	best    *plan
	bound   int
	scratch *plan
	limit   *plan
}

// over reports whether the search has to end.
func (s *search) over() bool {
	return s.made >= s.o.Schedules || s.best.late == 0 && s.best.finish <= s.bound || s.ctx.Err() != nil
}

// keep remembers a plan that is better than all before.
func (s *search) keep(p *plan) {
	if p.compare(s.best) < 0 {
		s.best.copy(p)
	}
}

func param(name string, def float64) float64 {
	if v, err := strconv.ParseFloat(os.Getenv(name), 64); err == nil {
		return v
	}
	return def
}

// rj
func (s *search) rj(list []int, p *plan, limit *plan) {
	s.forward(list, p)
	s.made++
	s.keep(p)
	if limit != nil && p.compare(limit) > 0 {
		return
	}
	if s.over() {
		return
	}
	q := s.scratch
	q.copy(p)
	s.made++
	if s.backward(s.byEnd(q), q) {
		if param("V", 0) == 2 && !s.over() {
			// one more forward
			r := s.newPlan()
			s.made++
			s.forward(s.byKey(q.start), r)
			s.keep(r)
			if r.compare(p) < 0 {
				p.copy(r)
				if s.over() {
					return
				}
				s.made++
				q.copy(p)
				s.backward(s.byEnd(q), q)
			}
		}
		fin, late := p.finish, p.late
		p.copy(q)
		p.finish, p.late = fin, late
	}
}

// decode makes the plan of a list and betters it by forward-backward improvement.
func (s *search) decode(list []int, p *plan) {
	if param("V", 0) > 0 {
		s.rj(list, p, s.limit)
		return
	}
	s.forward(list, p)
	s.made++
	s.keep(p)
	s.improve(p)
}

// improve moves all tasks to the right and back to the left while that gets better.
func (s *search) improve(p *plan) {
	for !s.over() && s.made+2 <= s.o.Schedules {
		q := s.scratch
		q.copy(p)
		s.made += 2
		if !s.backward(s.byEnd(q), q) || s.forward(s.byKey(q.start), q) >= 0 {
			return
		}
		s.keep(q)
		c := q.compare(p)
		if c <= 0 {
			p.copy(q)
		}
		if c >= 0 || param("ONCE", 0) > 0 {
			return
		}
	}
}

// solve searches for the best plan within the budget.
func (n *network) solve(ctx context.Context, o Options) (Solution, error) {
	b := n.newBuilder()
	s := &search{builder: b, ctx: ctx, o: o, rng: random(o.Seed), best: n.newPlan(), scratch: n.newPlan()}
	head := n.heads()
	s.bound = head.finish
	_, lft := n.tails(head)
	if i := s.forward(s.byKey(lft), s.best); i >= 0 {
		return Solution{}, Mistakes{n.mistake(NoRoom, i)}
	}
	s.made = 1
	if param("BOUND", 1) > 0 {
		s.bound = s.raise(s.bound, s.best.finish)
	}
	p := n.newPlan()
	p.copy(s.best)
	s.improve(p)
	s.evolve(lft, p)
	return Solution{Chain: s.chain(s.best), Start: s.best.start, End: s.best.end, Finish: s.best.finish, Late: s.best.late, Bound: s.bound, Schedules: s.made, Stopped: ctx.Err() != nil}, nil
}

// evolve is a genetic algorithm.
func (s *search) evolve(lft []int, first *plan) {
	size := int(param("POP", 40))
	noise := param("NOISE", 0.3)
	pop := []*plan{first}
	key := make([]int, len(lft))
	span := s.best.finish
	for len(pop) < size && !s.over() {
		noise := noise
		if noise < 0 {
			noise = -noise * s.rng.share()
		}
		for i := range key {
			key[i] = lft[i]*16 + int(float64(16*span)*noise*(s.rng.share()-0.5))
		}
		p := s.newPlan()
		s.decode(s.byKey(key), p)
		pop = append(pop, p)
	}
	if s.over() {
		return
	}
	mut := param("MUT", 0.05)
	stale := 0
	for !s.over() {
		if lim := int(param("STALE", 0)); lim > 0 && stale > lim {
			stale = 0
			for k := range pop {
				if s.over() {
					return
				}
				noise := noise
				if noise < 0 {
					noise = -noise * s.rng.share()
				}
				for i := range key {
					key[i] = lft[i]*16 + int(float64(16*span)*noise*(s.rng.share()-0.5))
				}
				p := s.newPlan()
				s.decode(s.byKey(key), p)
				pop[k] = p
			}
		}
		a := s.pick(pop)
		b := s.pick(pop)
		child := s.newPlan()
		s.cross(pop[a], pop[b], key)
		if mut > 0 {
			for i := range key {
				if s.rng.share() < mut {
					key[i] += int(float64(span) * param("MUTW", 0.1) * (s.rng.share() - 0.5))
				}
			}
		}
		worst := 0
		for i := range pop {
			if pop[i].compare(pop[worst]) > 0 {
				worst = i
			}
		}
		s.limit = pop[worst]
		s.decode(s.byKey(key), child)
		s.limit = nil
		// replace the worse parent, or worst
		same := slices.ContainsFunc(pop, func(o *plan) bool { return o.finish == child.finish && slices.Equal(o.start, child.start) })
		stale++
		if !same && child.compare(pop[worst]) < 0 {
			stale = 0
		}
		if !same && child.compare(pop[worst]) <= 0 {
			pop[worst] = child
		}
	}
}

func (s *search) pick(pop []*plan) int {
	a, b := s.rng.below(len(pop)), s.rng.below(len(pop))
	if pop[b].compare(pop[a]) < 0 {
		return b
	}
	return a
}

// cross
func (s *search) cross(m, f *plan, key []int) {
	span := max(m.finish, 1)
	w := int(float64(span) * (param("WMIN", .25) + param("WR", .5)*s.rng.share()))
	t1 := s.rng.below(span - w + 1)
	t2 := t1 + w
	if k := int(param("PEAK", 0)); k > 0 {
		load := make([]float64, span+1)
		for i, t := range s.Tasks {
			e := 0.0
			for _, d := range s.needs[i] {
				e += float64(d.Units) / float64(s.resources[d.Resource].units[0])
			}
			_ = t
			for u := f.start[i]; u < f.end[i] && u < span; u++ {
				load[u+1] += e
			}
		}
		for u := 1; u <= span; u++ {
			load[u] += load[u-1]
		}
		for j := 0; j < k; j++ {
			u := s.rng.below(span - w + 1)
			if load[u+w]-load[u] > load[t2]-load[t1] {
				t1, t2 = u, u+w
			}
		}
	}
	switch int(param("CROSS", 0)) {
	case 1: // one point
		t2 = span + 1
		t1 = s.rng.below(span)
	case 2:
		t1 = 0
		t2 = s.rng.below(span) + 1
	}
	for i := range key {
		switch {
		case f.start[i] >= t1 && f.start[i] < t2:
			key[i] = f.start[i] * 4
		case m.start[i] < t1:
			key[i] = m.start[i]*4 - 4*span
		default:
			key[i] = m.start[i]*4 + 4*span
		}
	}
}
