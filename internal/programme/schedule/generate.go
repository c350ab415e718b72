package schedule

// plan is a schedule in the making: when each task starts and ends.
type plan struct {
	start, end []int
	finish     int
}

func (n *network) newPlan() *plan {
	return &plan{start: make([]int, len(n.Tasks)), end: make([]int, len(n.Tasks))}
}

// ready returns the point of time at which links and release let a task start.
func (n *network) ready(i int, p *plan) int {
	t := n.Tasks[i].Release
	for _, a := range n.preds[i] {
		t = max(t, n.passed(a, p)+a.elapsed)
	}
	return t
}

// passed returns when the work that a link asks of its first task is done.
func (n *network) passed(a arc, p *plan) int {
	from := &n.Tasks[a.task]
	if a.work == from.Duration {
		return p.end[a.task]
	}
	t := n.clock[a.task].after(p.start[a.task], a.work)
	if from.Fixed {
		t = min(t, p.end[a.task])
	}
	return t
}

// forward is serial schedule generation: each task of the list in turn, which must
// come after those it waits for, starts as soon as it can. It gives the first task for
// which there is no room, or -1.
func (n *network) forward(list []int, prof *profile, p *plan) int {
	prof.reset()
	p.finish = n.fix(p)
	for _, i := range list {
		s, e := prof.earliest(i, n.ready(i, p))
		if s >= never {
			return i
		}
		p.start[i], p.end[i] = s, e
		p.finish = max(p.finish, e)
		prof.place(i, s, e)
	}
	return -1
}

// fix sets the times of fixed tasks and gives the last end of them.
func (n *network) fix(p *plan) int {
	finish := 0
	for i, t := range n.Tasks {
		if t.Fixed {
			p.start[i], p.end[i] = t.Start, t.End
			finish = max(finish, t.End)
		}
	}
	return finish
}
