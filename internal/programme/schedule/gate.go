package schedule

import (
	"cmp"
	"slices"
)

// gateEffort is how many tasks may be looked at for all gates, and gateLinks how many
// links a task of a large problem has that is worth it.
const gateEffort, gateLinks = 400_000, 8

// gates lists the tasks of which all that comes before, or after, is summed up: all of
// small problems, of large ones those that many others lead to.
func (n *network) gates(links [][]arc) []bool {
	gate := make([]bool, len(n.Tasks))
	left := gateEffort / max(len(n.Tasks), 1)
	all := len(n.Tasks) <= left
	for _, i := range n.topo {
		if left > 0 && len(links[i]) > 0 && (all || len(links[i]) >= gateLinks) {
			gate[i] = true
			left--
		}
	}
	return gate
}

// load is some work that a resource has to do between two points of time.
type load struct{ start, end, work int }

// collect sums up what is linked to a task, directly or not, by resource.
func (pr *prover) collect(i int, links [][]arc, passes func(int, arc) bool) [][]load {
	loads := make([][]load, len(pr.users))
	clear(pr.seen)
	stack := []int{i}
	for len(stack) > 0 {
		k := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for _, a := range links[k] {
			if pr.seen[a.task] || !passes(k, a) {
				continue
			}
			pr.seen[a.task] = true
			stack = append(stack, a.task)
			for _, d := range pr.needs[a.task] {
				loads[d.Resource] = append(loads[d.Resource], load{pr.first.start[a.task], pr.last.end[a.task], d.Units * pr.Tasks[a.task].Duration})
			}
		}
	}
	return loads
}

// opens returns the point of time before which the work that leads to a task cannot have
// been done, by what there is of each resource.
func (pr *prover) opens(i int) int {
	at := 0
	for r, loads := range pr.collect(i, pr.preds, pr.allBefore) {
		at = max(at, pr.soonest(r, loads))
	}
	return at
}

// soonest returns the point of time before which a resource cannot have done all loads:
// those that start last have to be done from then on.
func (pr *prover) soonest(r int, loads []load) int {
	slices.SortFunc(loads, func(a, b load) int { return cmp.Compare(b.start, a.start) })
	at, work := 0, 0
	for _, l := range loads {
		work += l.work
		end, _ := slices.BinarySearch(pr.supply[r], pr.supply[r][min(l.start, len(pr.supply[r])-1)]+work)
		at = max(at, end)
	}
	return at
}

// closes returns the point of time after which the work that waits for a task can no
// longer be done, if all is over at an end.
func (pr *prover) closes(i, end int) int {
	at := end
	for r, loads := range pr.collect(i, pr.succs, pr.allOf) {
		at = min(at, pr.latest(r, loads, end))
	}
	return at
}

// latest returns the point of time after which a resource can no longer do all loads:
// those that end first have to be done until then.
func (pr *prover) latest(r int, loads []load, end int) int {
	slices.SortFunc(loads, func(a, b load) int { return cmp.Compare(a.end, b.end) })
	at, work := end, 0
	for _, l := range loads {
		work += l.work
		after, _ := slices.BinarySearch(pr.supply[r], pr.supply[r][l.end]-work+1)
		at = min(at, after-1)
	}
	return at
}

// allOf and allBefore report whether a link of a task to, or from, another waits for all
// of the first one's work.
func (pr *prover) allOf(i int, a arc) bool {
	return a.work == pr.Tasks[i].Duration && !pr.Tasks[a.task].Fixed
}

func (pr *prover) allBefore(_ int, a arc) bool {
	return a.work == pr.Tasks[a.task].Duration && !pr.Tasks[a.task].Fixed
}
