package schedule

import "slices"

// latest returns the latest start of each task as links and calendars alone have it
// if all is to be over when the last earliest end is.
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
