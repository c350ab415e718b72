package schedule

import (
	"cmp"
	"slices"
)

// network is a problem made ready for the search: links by task, clocks shared by
// tasks with the same calendars, tasks in an order in which they can be planned.
type network struct {
	Problem
	clocks    []*clock
	clock     []*clock   // of each task
	preds     [][]arc    // none into fixed tasks
	succs     [][]arc    // none into fixed tasks
	needs     [][]Demand // of each task, a resource once and none of 0 units
	topo      []int      // all tasks that are not fixed, each after those it waits for
	rank      []int      // of each task in topo
	movable   []int      // tasks that are not fixed, in order of their indices
	resources []resource
}

// arc is a link seen from one of its ends.
type arc struct {
	task, link    int
	work, elapsed int
}

// resource is a capacity over time: units[i] from since[i] on, of which the first is 0.
type resource struct {
	since, units []int
}

// settled returns the point of time after which the capacity does not change.
func (r resource) settled() int { return r.since[len(r.since)-1] }

func (r resource) most() int { return slices.Max(r.units) }

// compile checks a problem and makes it ready.
func compile(p Problem) (*network, error) {
	n := &network{Problem: p}
	if bad := append(p.unknown(), p.negative()...); len(bad) > 0 {
		return nil, bad
	}
	n.arcs()
	n.setNeeds()
	bad := n.order()
	for _, r := range p.Resources {
		n.resources = append(n.resources, capacity(r))
	}
	bad = append(bad, n.demands()...)
	bad = append(bad, n.setClocks()...)
	if len(bad) > 0 {
		return nil, bad
	}
	return n, nil
}

func (n *network) arcs() {
	n.preds = make([][]arc, len(n.Tasks))
	n.succs = make([][]arc, len(n.Tasks))
	for i, l := range n.Links {
		to := n.Tasks[l.To]
		if to.Fixed {
			continue // it has happened, whatever it should have waited for
		}
		work := l.Work
		if work == All {
			work = n.Tasks[l.From].Duration
		}
		n.preds[l.To] = append(n.preds[l.To], arc{l.From, i, work, l.Elapsed})
		n.succs[l.From] = append(n.succs[l.From], arc{l.To, i, work, l.Elapsed})
	}
}

// setNeeds sums up what each task needs of each resource.
func (n *network) setNeeds() {
	n.needs = make([][]Demand, len(n.Tasks))
	for i, t := range n.Tasks {
		for _, d := range t.Demands {
			at := slices.IndexFunc(n.needs[i], func(o Demand) bool { return o.Resource == d.Resource })
			if at >= 0 {
				n.needs[i][at].Units += d.Units
			} else if d.Units > 0 {
				n.needs[i] = append(n.needs[i], d)
			}
		}
	}
}

// order sorts the tasks topologically, or finds a shortest ring.
func (n *network) order() Mistakes {
	waits := make([]int, len(n.Tasks))
	for i, t := range n.Tasks {
		if t.Fixed {
			continue
		}
		n.movable = append(n.movable, i)
		for _, a := range n.preds[i] {
			if !n.Tasks[a.task].Fixed {
				waits[i]++
			}
		}
	}
	for _, i := range n.movable {
		if waits[i] == 0 {
			n.topo = append(n.topo, i)
		}
	}
	for k := 0; k < len(n.topo); k++ {
		for _, a := range n.succs[n.topo[k]] {
			if waits[a.task]--; waits[a.task] == 0 {
				n.topo = append(n.topo, a.task)
			}
		}
	}
	n.rank = make([]int, len(n.Tasks))
	for k, i := range n.topo {
		n.rank[i] = k
	}
	if len(n.topo) == len(n.movable) {
		return nil
	}
	return Mistakes{n.mistake(Cycle, n.ring(waits)...)}
}

// capacity puts the steps of a resource's capacity in a row.
func capacity(r Resource) resource {
	c := resource{[]int{0}, []int{r.Capacity}}
	for _, ch := range r.Changes {
		if last := len(c.since) - 1; ch.At <= c.since[last] {
			c.units[last] = ch.Capacity
			continue
		}
		c.since = append(c.since, ch.At)
		c.units = append(c.units, ch.Capacity)
	}
	return c
}

// setClocks gives each task the clock of all its calendars together.
func (n *network) setClocks() Mistakes {
	var bad Mistakes
	n.clock = make([]*clock, len(n.Tasks))
	known := map[string]*clock{}
	for i, t := range n.Tasks {
		used := n.calendars(i)
		key := string(appendInts(nil, used))
		c := known[key]
		if c == nil {
			c = n.common(used)
			known[key] = c
			n.clocks = append(n.clocks, c)
		}
		n.clock[i] = c
		if t.Fixed || t.Duration == 0 && c.always {
			continue
		}
		if !c.always && len(c.slots) == 0 {
			bad = append(bad, n.about(NoWork, i, t.Calendar))
		} else if t.Whole && c.whole(0, t.Duration) >= never {
			m := n.about(TooLong, i, t.Calendar)
			m.Need, m.Have = t.Duration, c.most
			bad = append(bad, m)
		}
	}
	return bad
}

// calendars lists the calendars of a task and of the resources that it needs.
func (n *network) calendars(task int) []int {
	used := []int{n.Tasks[task].Calendar}
	for _, d := range n.needs[task] {
		used = append(used, n.Resources[d.Resource].Calendar)
	}
	slices.SortFunc(used, cmp.Compare)
	used = slices.Compact(used)
	return slices.DeleteFunc(used, func(c int) bool { return c == Always })
}

func appendInts(b []byte, ints []int) []byte {
	for _, i := range ints {
		b = append(b, byte(i), byte(i>>8), byte(i>>16), byte(i>>24))
	}
	return b
}

// mostSlots is how far calendars are written out: to look up is faster than to count.
const mostSlots = 1 << 16

// common makes the clock of the slots in which all of the calendars work.
func (n *network) common(calendars []int) *clock {
	if len(calendars) == 0 {
		return &clock{always: true}
	}
	head, period := 0, 1
	for _, i := range calendars {
		c := n.Calendars[i]
		head = max(head, len(c.Working)-c.Repeat)
		period = lcm(period, max(c.Repeat, 1))
	}
	repeats := 1
	if span := min(64*len(n.Tasks), mostSlots); period > 1 {
		repeats += span / period // written out for speed
	}
	mask := make([]bool, head+repeats*period)
	for t := range mask {
		mask[t] = !slices.ContainsFunc(calendars, func(i int) bool { return !n.Calendars[i].works(t) })
	}
	return newClock(mask, period)
}

// works reports whether a slot is one of work.
func (c Calendar) works(t int) bool {
	if head := len(c.Working) - c.Repeat; t >= len(c.Working) {
		return c.Repeat > 0 && c.Working[head+(t-head)%c.Repeat]
	}
	return c.Working[t]
}

func lcm(a, b int) int {
	x, y := a, b
	for y > 0 {
		x, y = y, x%y
	}
	return a / x * b
}
