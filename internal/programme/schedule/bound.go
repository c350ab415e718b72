package schedule

import (
	"context"
	"math"
	"slices"
)

// prover finds ends before which a problem cannot be over, by destruction: it takes it
// to be over at some time, and looks for a contradiction in the work that leads to a task
// or waits for it, in the slots in which tasks are then certain to work (time-tabling), or
// in the work that is then certain to lie in some interval (energetic reasoning). Its
// plans hold the earliest and the latest starts and ends.
type prover struct {
	*builder
	users       [][]user // by resource
	supply      [][]int  // by resource: units times slots there are before each point of time
	opening     []bool   // tasks of which all that comes before is summed up
	closing     []bool   // and all that comes after
	heads       []int    // earliest starts, whenever all is over
	first, last *plan
}

// user is a task that needs a resource.
type user struct{ task, units int }

// raise returns the highest bound it can prove that is no higher than the end of a plan,
// and the latest ends of tasks that it leaves if all were over then.
func (b *builder) raise(ctx context.Context, low, high int) (bound int, ends []int) {
	pr := b.newProver(high)
	step := 1
	for low < high && ctx.Err() == nil {
		mid := min(low+step-1, low+(high-low)/2)
		if pr.refuted(mid) {
			low = mid + 1
			step *= 4
		} else {
			high = mid
		}
	}
	pr.refuted(low)
	return low, pr.last.end
}

// newProver makes one for ends up to a point of time.
func (b *builder) newProver(until int) *prover {
	pr := &prover{builder: b, first: b.newPlan(), last: b.newPlan()}
	pr.setUsers(until)
	pr.opening, pr.closing = b.gates(b.preds), b.gates(b.succs)
	pr.setHeads()
	return pr
}

// setUsers lists the tasks by resource and sums up what there is for them: fixed tasks
// leave less, and slots in which none of them works count for nothing.
func (pr *prover) setUsers(until int) {
	pr.users = make([][]user, len(pr.resources))
	pr.supply = make([][]int, len(pr.resources))
	for _, i := range pr.movable {
		for _, d := range pr.needs[i] {
			pr.users[d.Resource] = append(pr.users[d.Resource], user{i, d.Units})
		}
	}
	for r, users := range pr.users {
		var clocks []*clock
		for _, u := range users {
			if !slices.Contains(clocks, pr.clock[u.task]) {
				clocks = append(clocks, pr.clock[u.task])
			}
		}
		free := pr.prof.fixed.grow(r, until)
		pr.supply[r] = make([]int, until+1)
		for t := range until {
			pr.supply[r][t+1] = pr.supply[r][t]
			if slices.ContainsFunc(clocks, func(c *clock) bool { return c.working(t) }) {
				pr.supply[r][t+1] += max(int(free[t]), 0)
			}
		}
	}
}

// refuted reports whether it is proven that not all can be over at the given end.
func (pr *prover) refuted(end int) bool {
	if pr.first.finish = pr.fix(pr.first); pr.first.finish > end {
		return true
	}
	pr.fix(pr.last)
	pr.last.finish = end
	for _, i := range pr.movable {
		pr.first.start[i], pr.first.end[i] = pr.heads[i], pr.heads[i]
	}
	if !pr.setTails(end) {
		return true
	}
	pr.prof.reset()
	for range min(12, 2+20000/(len(pr.topo)+1)) {
		earlier, ok := pr.push()
		if !ok {
			return true
		}
		later, ok := pr.pull()
		if !ok {
			return true
		}
		if !earlier && !later {
			break
		}
	}
	for r := range pr.users {
		if pr.overloaded(r) {
			return true
		}
	}
	return false
}

// setHeads finds the earliest starts that links and the work that leads to tasks allow,
// whenever all is over.
func (pr *prover) setHeads() {
	p := pr.first
	pr.heads = make([]int, len(pr.Tasks))
	pr.fix(p)
	for _, i := range pr.topo {
		s := pr.ready(i, p)
		if pr.opening[i] {
			s = max(s, pr.opens(i))
		}
		p.start[i] = pr.network.first(i, s)
		p.end[i] = pr.clock[i].after(p.start[i], pr.Tasks[i].Duration)
		pr.heads[i] = p.start[i]
	}
}

// setTails finds the latest ends likewise, if all is over at an end. It reports whether
// there are any.
func (pr *prover) setTails(end int) bool {
	for _, i := range slices.Backward(pr.topo) {
		e := pr.endBefore(i, pr.last, end)
		if pr.closing[i] && e > pr.first.end[i] {
			e = min(e, pr.closes(i, end))
		}
		c, d := pr.clock[i], pr.Tasks[i].Duration
		if pr.last.start[i] = c.latest(e, d); d > 0 && pr.Tasks[i].Whole {
			pr.last.start[i] = c.wholeLatest(e, d)
		}
		pr.last.end[i] = e
		if pr.last.start[i] < pr.first.start[i] {
			return false
		}
	}
	return true
}

// push raises earliest starts, by links and by the slots in which others are certain
// to work. It reports whether any was, and false where a task has no place left.
func (pr *prover) push() (changed, ok bool) {
	for _, i := range pr.topo {
		pr.lift(i)
		s, e := pr.prof.earliest(i, max(pr.ready(i, pr.first), pr.first.start[i]))
		if s > pr.last.start[i] || e > pr.last.end[i] {
			return false, false
		}
		changed = changed || s != pr.first.start[i]
		pr.first.start[i], pr.first.end[i] = s, e
		pr.certain(i)
	}
	return changed, true
}

// pull lowers latest ends likewise.
func (pr *prover) pull() (changed, ok bool) {
	for _, i := range slices.Backward(pr.topo) {
		pr.lift(i)
		s, e := pr.prof.latest(i, pr.endBefore(i, pr.last, pr.last.end[i]))
		if s < pr.first.start[i] {
			return false, false
		}
		changed = changed || s != pr.last.start[i]
		pr.last.start[i], pr.last.end[i] = s, e
		pr.certain(i)
	}
	return changed, true
}

// certain holds the slots in which a task works wherever it is placed; lift frees them.
func (pr *prover) certain(i int) {
	if pr.last.start[i] < pr.first.end[i] {
		pr.prof.place(i, pr.last.start[i], pr.first.end[i])
	}
}

func (pr *prover) lift(i int) {
	if pr.last.start[i] < pr.first.end[i] {
		pr.prof.lift(i, pr.last.start[i], pr.first.end[i])
	}
}

// looks is how many tasks may be looked at, over all intervals of a resource.
const looks = 1 << 20

// overloaded reports whether more work of a resource is certain to lie in some
// interval than it can do there.
func (pr *prover) overloaded(r int) bool {
	var starts, ends []int
	for _, u := range pr.users[r] {
		starts = append(starts, pr.first.start[u.task], pr.last.start[u.task])
		ends = append(ends, pr.first.end[u.task], pr.last.end[u.task])
	}
	corners := max(24, int(math.Sqrt(2*looks/float64(len(starts)+1))))
	starts, ends = some(starts, corners), some(ends, corners)
	for _, t1 := range starts {
		for _, t2 := range ends {
			if t2 > t1 && pr.certainWork(r, t1, t2) > pr.supply[r][t2]-pr.supply[r][t1] {
				return true
			}
		}
	}
	return false
}

// some keeps an even choice of so many points of time.
func some(points []int, corners int) []int {
	slices.Sort(points)
	points = slices.Compact(points)
	if len(points) <= corners {
		return points
	}
	few := make([]int, corners)
	for k := range few {
		few[k] = points[k*(len(points)-1)/(corners-1)]
	}
	return few
}

// certainWork sums up the least work of all tasks of a resource between two points of
// time: a task has least there when it is as early or as late as it can be.
func (pr *prover) certainWork(r, t1, t2 int) int {
	sum := 0
	for _, u := range pr.users[r] {
		i := u.task
		if pr.first.end[i] <= t1 || pr.last.start[i] >= t2 {
			continue
		}
		early := pr.clock[i].between(max(pr.first.start[i], t1), min(pr.first.end[i], t2))
		late := pr.clock[i].between(max(pr.last.start[i], t1), min(pr.last.end[i], t2))
		sum += u.units * min(early, late)
	}
	return sum
}
