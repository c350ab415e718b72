package schedule

import (
	"cmp"
	"slices"
)

// plan is a schedule: when each task starts and ends.
type plan struct {
	start, end []int
	finish     int
	late       int
	early      []int // ends where all start as soon as they can
	slack      int   // sum of the starts where all end as late as they can
}

func (n *network) newPlan() *plan {
	return &plan{start: make([]int, len(n.Tasks)), end: make([]int, len(n.Tasks)), early: make([]int, len(n.Tasks))}
}

func (p *plan) copy(o *plan) {
	copy(p.start, o.start)
	copy(p.end, o.end)
	copy(p.early, o.early)
	p.finish, p.late, p.slack = o.finish, o.late, o.slack
}

// compare puts the better plan first: less late, then sooner over.
func (p *plan) compare(o *plan) int {
	return cmp.Or(cmp.Compare(p.late, o.late), cmp.Compare(p.finish, o.finish))
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

// builder makes plans; it keeps what it needs for that from one to the next.
type builder struct {
	*network
	prof   *profile
	sorted []sortable
	list   []int
	seen   []bool
	waits  []int // of each task, how many it waits for
	queue  queue
}

type sortable struct{ key, tie, task int }

func (n *network) newBuilder() *builder {
	return &builder{network: n, prof: newProfile(n), seen: make([]bool, len(n.Tasks)), waits: make([]int, len(n.Tasks))}
}

// byKey lists the tasks by rising keys, but each after those it waits for.
func (b *builder) byKey(key []int) []int {
	b.sort(func(i int) sortable { return sortable{key[i], b.rank[i], i} })
	return b.settle(b.preds)
}

// byEnd lists the tasks by falling ends, but each after those that wait for it.
func (b *builder) byEnd(end []int) []int {
	b.sort(func(i int) sortable { return sortable{-end[i], -b.rank[i], i} })
	return b.settle(b.succs)
}

func (b *builder) sort(key func(int) sortable) {
	b.sorted = b.sorted[:0]
	for _, i := range b.movable {
		b.sorted = append(b.sorted, key(i))
	}
	slices.SortFunc(b.sorted, func(x, y sortable) int {
		if x.key != y.key {
			return x.key - y.key
		}
		return x.tie - y.tie
	})
}

// settle lists the sorted tasks, each after its neighbours.
func (b *builder) settle(neighbours [][]arc) []int {
	b.list = b.list[:0]
	clear(b.seen)
	for _, s := range b.sorted {
		b.visit(s.task, neighbours)
	}
	return b.list
}

func (b *builder) visit(i int, neighbours [][]arc) {
	if b.seen[i] || b.Tasks[i].Fixed {
		return
	}
	b.seen[i] = true
	for _, a := range neighbours[i] {
		b.visit(a.task, neighbours)
	}
	b.list = append(b.list, i)
}

// forward is serial schedule generation: each task of the list in turn, which must
// come after those it waits for, starts as soon as it can. It gives the first task for
// which there is no room, or -1.
func (b *builder) forward(list []int, p *plan) int {
	b.prof.reset()
	p.finish, p.late = b.fix(p), 0
	for _, i := range list {
		s, e := b.prof.earliest(i, b.ready(i, p))
		if s >= never {
			return i
		}
		b.put(i, s, e, p)
	}
	return -1
}

// put places a task of a plan that is being made forward.
func (b *builder) put(i, s, e int, p *plan) {
	p.start[i], p.end[i] = s, e
	p.finish = max(p.finish, e)
	if due := b.Tasks[i].Due; due > 0 {
		p.late += max(e-due, 0)
	}
	b.prof.place(i, s, e)
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

// backward lets each task of the list in turn, which must come after those that wait
// for it, end as late as it can, none later than the last end or than it was where it
// has a due date. It reports whether there was room for all.
func (b *builder) backward(list []int, p *plan) bool {
	b.prof.reset()
	for _, i := range list {
		s, e := b.prof.latest(i, b.lastEnd(i, p))
		if s < b.Tasks[i].Release {
			return false
		}
		p.start[i], p.end[i] = s, e
		b.prof.place(i, s, e)
	}
	return true
}

// lastEnd returns the last end that links, due date and the plan's end allow a task.
func (n *network) lastEnd(i int, p *plan) int {
	last := p.finish
	if due := n.Tasks[i].Due; due > 0 {
		last = min(last, max(due, p.end[i]))
	}
	return n.endBefore(i, p, last)
}

// endBefore returns the last end, none after the one given, that links allow a task.
func (n *network) endBefore(i int, p *plan, last int) int {
	d, c := n.Tasks[i].Duration, n.clock[i]
	for _, a := range n.succs[i] {
		point := p.start[a.task] - a.elapsed
		switch {
		case a.work == d:
			last = min(last, point)
		case a.work == 0 && c.always:
			last = min(last, point+d)
		case a.work == 0: // the last working slot that is not later, and all the work from there
			last = min(last, c.after(max(c.at(c.worked(point+1)-1), 0), d))
		default:
			last = min(last, c.after(max(c.latest(point, a.work), 0), d))
		}
	}
	return last
}
