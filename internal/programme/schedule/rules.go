package schedule

import (
	"cmp"
	"maps"
	"slices"
)

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

// byZone turns rules into such that take zone after zone, each as its most urgent task by
// the first rule demands; none where there are not several zones. Where much of a zone has
// to be done before something else there can begin, gangs that work in all zones at once
// would then all have to wait at once.
func (n *network) byZone(rules [][]int) [][]int {
	first := map[int]int{}
	for _, i := range n.movable {
		z := n.Tasks[i].Zone
		if known, ok := first[z]; z >= 0 && (!ok || rules[0][i] < known) {
			first[z] = rules[0][i]
		}
	}
	if len(first) < 2 {
		return nil
	}
	zones := slices.Collect(maps.Keys(first))
	slices.SortFunc(zones, func(a, b int) int { return cmp.Or(cmp.Compare(first[a], first[b]), cmp.Compare(a, b)) })
	zoned := make([][]int, len(rules))
	for r, rule := range rules {
		zoned[r] = slices.Clone(rule)
		span := slices.Max(rule) - slices.Min(rule) + 1
		for _, i := range n.movable {
			zoned[r][i] += span * max(slices.Index(zones, n.Tasks[i].Zone), 0)
		}
	}
	return zoned
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
