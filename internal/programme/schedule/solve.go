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

// decode makes the plan of a list and betters it by forward-backward improvement.
func (s *search) decode(list []int, p *plan) {
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
	p := n.newPlan()
	p.copy(s.best)
	s.improve(p)
	s.evolve(lft, p)
	return Solution{Start: s.best.start, End: s.best.end, Finish: s.best.finish, Late: s.best.late, Bound: s.bound, Schedules: s.made, Stopped: ctx.Err() != nil}, nil
}

// evolve is a genetic algorithm.
func (s *search) evolve(lft []int, first *plan) {
	size := int(param("POP", 40))
	noise := param("NOISE", 0.3)
	pop := []*plan{first}
	key := make([]int, len(lft))
	span := s.best.finish
	for len(pop) < size && !s.over() {
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
	for !s.over() {
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
		s.decode(s.byKey(key), child)
		// replace the worse parent, or worst
		worst := 0
		for i := range pop {
			if pop[i].compare(pop[worst]) > 0 {
				worst = i
			}
		}
		same := slices.ContainsFunc(pop, func(o *plan) bool { return o.finish == child.finish && slices.Equal(o.start, child.start) })
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
	w := int(float64(span) * (0.25 + 0.5*s.rng.share()))
	t1 := s.rng.below(span - w + 1)
	t2 := t1 + w
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
