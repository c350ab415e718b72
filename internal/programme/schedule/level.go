package schedule

import "slices"

// settler betters a plan without moving its end, its critical chain or its lateness.
type settler struct {
	*search
	p      *plan
	held   [][]int32 // units held of each crew in each slot; nil for what is no crew
	frozen []bool
	users  [][]int // tasks that need each crew; nil for what is no crew
	effort int     // tasks that may still be visited to count moves
}

// levelEffort is how many starts may be tried in levelling, over all tasks, of large
// projects: half a second's work for 30,000 tasks, which is most of what can be won.
const levelEffort = 500_000

// trials gives how many starts are tried for a task in a round of levelling, and rounds how
// many rounds there may be.
func (n *network) trials() (trials, rounds int) {
	each := levelEffort / max(len(n.Tasks), 1)
	return min(max(each/2, 8), 24), min(max(each/8, 1), 4)
}

// settleEffort is how many tasks may be visited to count moves: a second's work.
const settleEffort = 40_000_000

// settle follows the goals in turn on the best plan, each without giving up what those
// before have won. It gives the roughness and the moves of the plan.
func (s *search) settle(chain []Reason) (rough, moves int) {
	t := &settler{search: s, p: s.best, users: s.crewUsers(), frozen: make([]bool, len(s.Tasks)), effort: settleEffort}
	for _, why := range chain {
		t.frozen[why.Task] = true
	}
	s.fill(t.p)
	t.count()
	for k, goal := range s.o.Then {
		switch goal {
		case Level:
			t.level(slices.Contains(s.o.Then[:k], Moves))
		case Moves:
			t.gather()
		}
	}
	return t.roughness(), t.allMoves()
}

// count sums up what is held of the crews.
func (t *settler) count() {
	t.held = make([][]int32, len(t.Resources))
	for r, res := range t.Resources {
		if res.Crew {
			t.held[r] = make([]int32, t.p.finish)
		}
	}
	for i := range t.Tasks {
		t.hold(i, 1)
	}
}

// hold adds what a task holds, times 1 or -1.
func (t *settler) hold(i int, times int32) {
	t.slots(i, t.p.start[i], t.p.end[i], func(r int, units int32, slot int) {
		t.held[r][slot] += times * units
	})
}

// slots visits the slots in which a task that works from s to e holds crews.
func (n *network) slots(i, s, e int, visit func(r int, units int32, slot int)) {
	c := n.clock[i]
	for _, d := range n.needs[i] {
		if !n.Resources[d.Resource].Crew {
			continue
		}
		if c.always || n.Tasks[i].Fixed {
			for slot := s; slot < e; slot++ {
				visit(d.Resource, int32(d.Units), slot)
			}
			continue
		}
		for k, last := c.worked(s), c.worked(e); k < last; k++ {
			visit(d.Resource, int32(d.Units), c.at(k))
		}
	}
}

// roughness sums up the squared units of crews over all slots.
func (t *settler) roughness() int {
	sum := 0
	for _, held := range t.held {
		for _, u := range held {
			sum += int(u) * int(u)
		}
	}
	return sum
}

// level moves tasks within their slack to where crews have least to do, last tasks
// first, then first tasks first, while that evens them out.
func (t *settler) level(keepMoves bool) {
	trials, rounds := t.trials()
	for round := range rounds {
		list := slices.Clone(t.byEnd(t.p.end))
		if round%2 == 1 {
			list = slices.Clone(t.byKey(t.p.start))
		}
		changed := false
		for _, i := range list {
			if t.ctx.Err() != nil {
				return
			}
			if !t.frozen[i] && t.crewed(i) && t.even(i, trials, keepMoves) {
				changed = true
			}
		}
		if !changed {
			return
		}
	}
}

// crewed reports whether a task needs a crew.
func (n *network) crewed(i int) bool {
	return slices.ContainsFunc(n.needs[i], func(d Demand) bool { return n.Resources[d.Resource].Crew })
}

// even moves one task to the start that is best for levelling, of so many. It reports
// whether it did.
func (t *settler) even(i, trials int, keepMoves bool) bool {
	p, was, wasEnd := t.p, t.p.start[i], t.p.end[i]
	lo, hi := t.ready(i, p), t.lastEnd(i, p)
	slack := t.clock[i].between(lo, hi) - t.Tasks[i].Duration
	if slack <= 0 {
		return false
	}
	t.prof.lift(i, was, wasEnd)
	t.hold(i, -1)
	best, start, end := t.load(i, was, wasEnd), was, wasEnd
	for k := range trials + 1 {
		s, e := t.prof.earliest(i, lo+(hi-lo)*k/trials)
		if e > hi {
			break
		}
		if load := t.load(i, s, e); load < best {
			best, start, end = load, s, e
		}
	}
	before := 0
	if keepMoves && start != was {
		before = t.moves(i)
	}
	p.start[i], p.end[i] = start, end
	if keepMoves && start != was && (t.effort <= 0 || t.moves(i) > before) {
		p.start[i], p.end[i] = was, wasEnd
	}
	t.prof.place(i, p.start[i], p.end[i])
	t.hold(i, 1)
	return p.start[i] != was
}

// load sums up what crews have to do while a task works from s to e; half of what the
// task then adds to the sum of squares, but for a constant.
func (t *settler) load(i, s, e int) int {
	sum := 0
	t.slots(i, s, e, func(r int, units int32, slot int) { sum += int(units) * int(t.held[r][slot]) })
	return sum
}
