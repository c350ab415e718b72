package schedule

import "slices"

// rules gives the keys of priority rules; the task with the least key goes first. The
// first rule is the best on average: latest finish; then latest start,
// and greatest rank positional weight: the work of a task and of those next after it.
func (n *network) rules() [][]int {
	start, end := n.tails(n.heads())
	weight := make([]int, len(n.Tasks))
	for i, t := range n.Tasks {
		weight[i] -= t.Duration
		for _, a := range n.succs[i] {
			weight[i] -= n.Tasks[a.task].Duration
		}
	}
	return [][]int{end, start, weight}
}

// heads places each task as soon as links and calendars alone let it start.
func (n *network) heads() *plan {
	p := n.newPlan()
	p.finish = n.fix(p)
	for _, i := range n.topo {
		s := n.first(i, n.ready(i, p))
		p.start[i], p.end[i] = s, n.clock[i].after(s, n.Tasks[i].Duration)
		p.finish = max(p.finish, p.end[i])
	}
	return p
}

// tails gives the latest starts and ends that links, due dates and calendars alone
// allow if all is to be over when the last of the earliest ends is.
func (n *network) tails(p *plan) (start, end []int) {
	q := n.newPlan()
	q.copy(p)
	for _, i := range slices.Backward(n.topo) {
		e := n.lastEnd(i, q)
		c, d := n.clock[i], n.Tasks[i].Duration
		if q.start[i] = c.latest(e, d); d > 0 && n.Tasks[i].Whole {
			q.start[i] = c.wholeLatest(e, d)
		}
		q.end[i] = e
	}
	return q.start, q.end
}
