package schedule

import "context"

// search is the state of a search for the best plan.
type search struct {
	*builder
	ctx         context.Context
	o           Options
	rng         random
	made        int   // schedules generated
	work        []int // of each task
	more        []int // for choosing windows
	bound       int
	ways        []way           // of making plans that are worth while
	tried       map[uint64]bool // lists of tasks that children were made of
	best        *plan
	right, left *plan // for justification
}

// solve searches for the best plan within the budget.
func (n *network) solve(ctx context.Context, o Options) (Solution, error) {
	s := &search{builder: n.newBuilder(), ctx: ctx, o: o, rng: random(o.Seed), best: n.newPlan(), right: n.newPlan(), left: n.newPlan(), work: n.works(), tried: map[uint64]bool{}}
	rules := n.rules()
	families := [][][]int{rules}
	if zoned := n.byZone(rules); zoned != nil {
		families = [][][]int{zoned, rules}
	}
	if i := s.forward(s.byKey(families[0][0]), s.best); i >= 0 {
		return Solution{}, Mistakes{n.mistake(NoRoom, i)}
	}
	copy(s.best.early, s.best.end)
	s.made = 1
	bound, ends := s.raise(ctx, n.heads().finish, s.best.finish)
	s.bound = bound
	families[len(families)-1] = append(rules, ends)
	s.evolve(families)
	chain := s.chain(s.best)
	rough, moves := s.settle(chain)
	return Solution{
		Start: s.best.start, End: s.best.end, Finish: s.best.finish, Bound: s.bound, Late: s.best.late,
		Roughness: rough, Moves: moves, Chain: chain, Schedules: s.made, Stopped: ctx.Err() != nil,
	}, nil
}

// over reports whether the search has to end.
func (s *search) over() bool {
	return s.made >= s.o.Schedules || s.best.late == 0 && s.best.finish <= s.bound || s.ctx.Err() != nil
}

// make generates a schedule serially and remembers the best.
func (s *search) make(list []int, p *plan) { s.keep(s.forward(list, p), p) }

// keep remembers a plan in which all start as soon as they can, if it is the best. Where
// there was no room for a task, the plan becomes the best there is.
func (s *search) keep(left int, p *plan) {
	copy(p.early, p.end)
	if left >= 0 {
		p.copy(s.best)
	} else if p.compare(s.best) < 0 {
		s.best.copy(p)
	}
	s.count()
}

// count counts a schedule and tells how far the search has come.
func (s *search) count() {
	s.made++
	if s.o.Progress != nil {
		s.o.Progress(Progress{Schedules: s.made, Budget: s.o.Schedules, End: s.best.finish, Bound: s.bound})
	}
}

// justify lets all tasks of a plan end as late as they can, and from there start again
// as soon as they can; where that was worth it, it does so once more. It leaves the
// starts and ends of the plan as late as they can be: they make the better list, while
// its finish stays that of the plan in which all start as soon as they can.
func (s *search) justify(p *plan) {
	for again := true; !s.over(); {
		s.right.copy(p)
		ok := s.backward(s.byEnd(s.right.end), s.right)
		s.count()
		if !ok {
			return
		}
		if again && !s.over() {
			s.make(s.byKey(s.right.start), s.left)
			if s.left.compare(p) < 0 {
				p.copy(s.left)
				again = false
				continue
			}
		}
		copy(p.start, s.right.start)
		copy(p.end, s.right.end)
		p.slack = sum(p.start)
		return
	}
}

func sum(all []int) int {
	total := 0
	for _, v := range all {
		total += v
	}
	return total
}
