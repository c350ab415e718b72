package schedule

// profile holds how many units of each resource are free in each slot, as far as
// tasks have been placed.
type profile struct {
	n     *network
	free  [][]int32 // by resource, then slot
	used  []int     // by resource, the slot after the last that is held
	fixed *profile  // what fixed tasks leave, or nil
}

func newProfile(n *network) *profile {
	p := &profile{n: n, free: make([][]int32, len(n.resources)), used: make([]int, len(n.resources))}
	base := *p
	base.free, base.used = make([][]int32, len(n.resources)), make([]int, len(n.resources))
	for i, t := range n.Tasks {
		for _, d := range n.needs[i] {
			for slot := t.Start; t.Fixed && slot < t.End; slot++ {
				base.grow(d.Resource, t.End)[slot] -= int32(d.Units)
				base.used[d.Resource] = max(base.used[d.Resource], t.End)
			}
		}
	}
	p.fixed = &base
	return p
}

// reset frees what is held but by fixed tasks.
func (p *profile) reset() {
	for r, free := range p.free {
		known := p.fixed.grow(r, p.used[r])
		copy(free[:min(len(free), p.used[r])], known)
		p.used[r] = p.fixed.used[r]
	}
}

// grow makes a resource's slots known up to a point of time and gives them.
func (p *profile) grow(r, to int) []int32 {
	free := p.free[r]
	if to <= len(free) {
		return free
	}
	from := len(free)
	to = max(to, 2*from, 64)
	free = append(free, make([]int32, to-from)...)
	c := p.n.resources[r]
	for i, since := range c.since {
		until := to
		if i+1 < len(c.since) {
			until = min(c.since[i+1], to)
		}
		for t := max(since, from); t < until; t++ {
			free[t] = int32(c.units[i])
		}
	}
	if p.fixed != nil {
		if held := p.fixed.free[r]; from < len(held) {
			copy(free[from:], held[from:])
		}
	}
	p.free[r] = free
	return free
}

// place holds what a task needs when it works from s to e.
func (p *profile) place(i, s, e int) { p.take(i, s, e, 1) }

// lift frees it again.
func (p *profile) lift(i, s, e int) { p.take(i, s, e, -1) }

func (p *profile) take(i, s, e int, times int32) {
	c := p.n.clock[i]
	for _, d := range p.n.needs[i] {
		units, free := times*int32(d.Units), p.grow(d.Resource, e)
		p.used[d.Resource] = max(p.used[d.Resource], e)
		if c.always {
			for t := s; t < e; t++ {
				free[t] -= units
			}
			continue
		}
		for k, last := c.worked(s), c.worked(e); k < last; k++ {
			free[c.at(k)] -= units
		}
	}
}

// earliest returns the first start from t on at which a task finds all it needs,
// and its end; never where there is none.
func (p *profile) earliest(i, t int) (start, end int) {
	n, c := p.n, p.n.clock[i]
	d, whole := n.Tasks[i].Duration, n.Tasks[i].Whole
	if d == 0 {
		return t, t
	}
search:
	for {
		s := t
		if whole {
			s = c.whole(t, d)
		} else if !c.always {
			s = c.next(t)
		}
		if s >= never {
			return never, never
		}
		e := c.after(s, d)
		if e >= never {
			return never, never
		}
		for _, need := range n.needs[i] {
			if last := p.lastLack(c, need, s, e); last >= 0 {
				if last >= max(p.used[need.Resource], n.resources[need.Resource].settled()) {
					return never, never
				}
				t = last + 1
				continue search
			}
		}
		return s, e
	}
}

// lastLack returns the last working slot from s to e in which too little is free, or -1.
func (p *profile) lastLack(c *clock, need Demand, s, e int) int {
	free, units := p.grow(need.Resource, e), int32(need.Units)
	for t := e - 1; t >= s; t-- {
		if free[t] < units && c.working(t) {
			return t
		}
	}
	return -1
}

// latest returns the last start at which a task finds all it needs and is over at e,
// and its end; a start below 0 where there is none.
func (p *profile) latest(i, e int) (start, end int) {
	n, c := p.n, p.n.clock[i]
	d, whole := n.Tasks[i].Duration, n.Tasks[i].Whole
	if d == 0 {
		return e, e
	}
search:
	for {
		s := c.latest(e, d)
		if whole && s >= 0 {
			s = c.wholeLatest(e, d)
		}
		if s < 0 {
			return s, s
		}
		e = c.after(s, d)
		for _, need := range n.needs[i] {
			if first := p.firstLack(c, need, s, e); first >= 0 {
				e = first
				continue search
			}
		}
		return s, e
	}
}

// firstLack returns the first working slot from s to e in which too little is free, or -1.
func (p *profile) firstLack(c *clock, need Demand, s, e int) int {
	free, units := p.grow(need.Resource, e), int32(need.Units)
	for t := s; t < e; t++ {
		if free[t] < units && c.working(t) {
			return t
		}
	}
	return -1
}
