package schedule

// mistake makes a mistake about tasks.
func (p *Problem) mistake(k Kind, tasks ...int) Mistake {
	m := Mistake{Kind: k, Tasks: tasks, Resource: -1, Calendar: -1}
	for _, t := range tasks {
		m.IDs = append(m.IDs, p.Tasks[t].ID)
	}
	return m
}

// about makes a mistake about a task and a calendar.
func (p *Problem) about(k Kind, task, calendar int) Mistake {
	m := p.mistake(k, task)
	m.Calendar = calendar
	return m
}

// lacks makes a mistake about a task and a resource.
func (p *Problem) lacks(k Kind, task int, d Demand, have int) Mistake {
	m := p.mistake(k, task)
	m.Resource, m.Need, m.Have = d.Resource, d.Units, have
	return m
}

// unknown finds indices that name nothing.
func (p *Problem) unknown() Mistakes {
	var bad Mistakes
	calendar := func(i int) bool { return i == Always || i >= 0 && i < len(p.Calendars) }
	for i, t := range p.Tasks {
		if !calendar(t.Calendar) {
			bad = append(bad, p.about(Unknown, i, t.Calendar))
		}
		for _, d := range t.Demands {
			if d.Resource < 0 || d.Resource >= len(p.Resources) {
				bad = append(bad, p.lacks(Unknown, i, d, 0))
			}
		}
	}
	for _, l := range p.Links {
		if min(l.From, l.To) < 0 || max(l.From, l.To) >= len(p.Tasks) {
			bad = append(bad, p.mistake(Unknown, p.known(l.From, l.To)...))
		}
	}
	for i, r := range p.Resources {
		if !calendar(r.Calendar) {
			bad = append(bad, Mistake{Kind: Unknown, Resource: i, Calendar: r.Calendar})
		}
	}
	return bad
}

// known keeps the indices that name tasks.
func (p *Problem) known(tasks ...int) []int {
	var known []int
	for _, t := range tasks {
		if t >= 0 && t < len(p.Tasks) {
			known = append(known, t)
		}
	}
	return known
}

// negative finds amounts below zero and links that ask for more work than there is.
func (p *Problem) negative() Mistakes {
	var bad Mistakes
	for i, t := range p.Tasks {
		if min(t.Duration, t.Release, t.Due) < 0 || t.Fixed && t.End < t.Start {
			bad = append(bad, p.mistake(Negative, i))
		}
		for _, d := range t.Demands {
			if d.Units < 0 {
				bad = append(bad, p.lacks(Negative, i, d, 0))
			}
		}
	}
	for _, l := range p.Links {
		if min(l.Elapsed, l.Work-All) < 0 || l.Work > p.Tasks[l.From].Duration {
			bad = append(bad, p.mistake(Negative, l.From, l.To))
		}
	}
	for i, r := range p.Resources {
		least := r.Capacity
		for _, c := range r.Changes {
			least = min(least, c.Capacity)
		}
		if least < 0 {
			bad = append(bad, Mistake{Kind: Negative, Resource: i, Calendar: -1, Have: least})
		}
	}
	for i, c := range p.Calendars {
		if c.Repeat < 0 || c.Repeat > len(c.Working) {
			bad = append(bad, Mistake{Kind: Negative, Resource: -1, Calendar: i, Need: c.Repeat, Have: len(c.Working)})
		}
	}
	return bad
}

// demands finds tasks that need more than there ever is.
func (n *network) demands() Mistakes {
	var bad Mistakes
	for _, i := range n.movable {
		for _, d := range n.needs[i] {
			have := n.resources[d.Resource].most()
			if d.Units <= have {
				continue
			}
			kind := TooMuch
			if have == 0 {
				kind = NoResource
			}
			bad = append(bad, n.lacks(kind, i, d, have))
		}
	}
	return bad
}

// ring finds a shortest ring among the tasks that still wait for others.
func (n *network) ring(waits []int) []int {
	var best []int
	for _, from := range n.movable {
		if waits[from] == 0 {
			continue
		}
		if r := n.back(from, waits); r != nil && (best == nil || len(r) < len(best)) {
			best = r
		}
	}
	return best
}

// back finds a shortest way from a task to itself, breadth first.
func (n *network) back(from int, waits []int) []int {
	via := map[int]int{}
	for queue := []int{from}; len(queue) > 0; queue = queue[1:] {
		for _, a := range n.succs[queue[0]] {
			if _, seen := via[a.task]; seen || waits[a.task] == 0 {
				continue
			}
			via[a.task] = queue[0]
			if a.task == from {
				return trail(via, from)
			}
			queue = append(queue, a.task)
		}
	}
	return nil
}

// trail lists the ring from a task back to itself.
func trail(via map[int]int, from int) []int {
	ring := []int{from}
	for t := via[from]; t != from; t = via[t] {
		ring = append(ring, t)
	}
	for i, j := 1, len(ring)-1; i < j; i, j = i+1, j-1 {
		ring[i], ring[j] = ring[j], ring[i]
	}
	return ring
}
