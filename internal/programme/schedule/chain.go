package schedule

import "slices"

// chain walks back from the task that ends last, from each task to what kept it from
// starting sooner. The plan must be one in which each task starts as soon as it can.
func (b *builder) chain(p *plan) []Reason {
	if len(b.Tasks) == 0 {
		return nil
	}
	b.fill(p)
	last := 0
	for i := range b.Tasks {
		if p.end[i] > p.end[last] {
			last = i
		}
	}
	var chain []Reason
	for i := last; i >= 0; {
		why := b.reason(i, p)
		chain = append(chain, why)
		i = why.By
	}
	slices.Reverse(chain)
	return chain
}

// fill places all tasks of a plan in the profile.
func (b *builder) fill(p *plan) {
	b.prof.reset()
	for _, i := range b.movable {
		b.prof.place(i, p.start[i], p.end[i])
	}
}

// reason says why a task does not start sooner; all tasks are in the profile.
func (b *builder) reason(i int, p *plan) Reason {
	why := Reason{Task: i, Cause: AtOnce, By: -1, Link: -1, Resource: -1}
	if b.Tasks[i].Fixed {
		why.Cause = WasFixed
		return why
	}
	if b.Tasks[i].Release > 0 {
		why.Cause, why.Ready = AfterRelease, b.Tasks[i].Release
	}
	for _, a := range b.preds[i] {
		if t := b.passed(a, p) + a.elapsed; t > why.Ready {
			why.Cause, why.By, why.Link, why.Ready = AfterWork, a.task, a.link, t
			if a.elapsed > 0 {
				why.Cause = AfterLag
			}
		}
	}
	if p.start[i] > b.first(i, why.Ready) {
		b.blocked(&why, p)
	}
	why.Calendar = p.start[i] - why.Ready
	return why
}

// first returns the first start from t on that a task's calendars allow.
func (n *network) first(i, t int) int {
	switch {
	case n.Tasks[i].Duration == 0:
		return t
	case n.Tasks[i].Whole:
		return n.clock[i].whole(t, n.Tasks[i].Duration)
	default:
		return n.clock[i].next(t)
	}
}

// blocked finds the resource that is lacking in the last place before a task's own,
// and the task that holds it there.
func (b *builder) blocked(why *Reason, p *plan) {
	i := why.Task
	c, s := b.clock[i], p.start[i]
	before := c.latest(p.end[i]-1, b.Tasks[i].Duration)
	if b.Tasks[i].Whole {
		before = c.wholeLatest(p.end[i]-1, b.Tasks[i].Duration)
	}
	for _, need := range b.needs[i] {
		slot := b.prof.lastLack(c, need, max(before, 0), s)
		if slot < 0 || slot < why.Ready {
			continue
		}
		why.Cause, why.By, why.Link, why.Resource, why.Ready = AfterCapacity, -1, -1, need.Resource, slot+1
		for k := range b.Tasks {
			holds := slices.ContainsFunc(b.needs[k], func(d Demand) bool { return d.Resource == need.Resource })
			if holds && k != i && p.start[k] <= slot && slot < p.end[k] && p.end[k] <= s {
				why.Cause, why.By = AfterResource, k
				break
			}
		}
	}
}
