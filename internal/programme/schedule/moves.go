package schedule

import (
	"cmp"
	"slices"
)

// unit is one gang of a crew: where it is, and until when it works there.
type unit struct{ zone, until int }

// shifts counts how often the units of a crew change zone if each task takes those that
// are in its zone, else those that have not begun, else those that are free longest.
func (t *settler) shifts(r int, users []int) int {
	p := t.p
	slices.SortFunc(users, func(a, b int) int { return cmp.Or(cmp.Compare(p.start[a], p.start[b]), cmp.Compare(a, b)) })
	t.effort -= len(users)
	units := make([]unit, t.resources[r].most())
	for k := range units {
		units[k] = unit{-1, 0}
	}
	moves := 0
	for _, i := range users {
		for range t.needOf(i, r) {
			k := pickUnit(units, t.Tasks[i].Zone, p.start[i])
			if k < 0 {
				break // done work may have had more
			}
			if zone := t.Tasks[i].Zone; zone >= 0 {
				if units[k].zone >= 0 && units[k].zone != zone {
					moves++
				}
				units[k].zone = zone
			}
			units[k].until = p.end[i]
		}
	}
	return moves
}

// pickUnit chooses a free unit for a task in a zone, or -1.
func pickUnit(units []unit, zone, start int) int {
	best, rank := -1, 0
	for k, u := range units {
		if u.until > start {
			continue
		}
		r := 1
		if u.zone == zone {
			r = 3
		} else if u.zone < 0 {
			r = 2
		}
		if best < 0 || r > rank || r == rank && u.until < units[best].until {
			best, rank = k, r
		}
	}
	return best
}

// needOf returns how many units of a resource a task needs.
func (n *network) needOf(i, r int) int {
	for _, d := range n.needs[i] {
		if d.Resource == r {
			return d.Units
		}
	}
	return 0
}

// crewUsers lists, for each crew, the tasks that need it.
func (n *network) crewUsers() [][]int {
	users := make([][]int, len(n.Resources))
	for i := range n.Tasks {
		for _, d := range n.needs[i] {
			if n.Resources[d.Resource].Crew {
				users[d.Resource] = append(users[d.Resource], i)
			}
		}
	}
	return users
}

// moves counts the changes of zone of the crews that a task needs.
func (t *settler) moves(i int) int {
	sum := 0
	for _, d := range t.needs[i] {
		if users := t.users[d.Resource]; users != nil {
			sum += t.shifts(d.Resource, users)
		}
	}
	return sum
}

// allMoves counts the changes of zone of all crews.
func (t *settler) allMoves() int {
	sum := 0
	for r, users := range t.users {
		if users != nil {
			sum += t.shifts(r, users)
		}
	}
	return sum
}

// reach is how many tasks ahead a task looks for one to change places with.
const reach = 12

// gather lets tasks that need the same crews for the same time change places where that
// saves changes of zone. What crews have to do in each slot stays as it is.
func (t *settler) gather() {
	for changed := true; changed && t.effort > 0 && t.ctx.Err() == nil; {
		changed = false
		for _, users := range t.users {
			order := slices.Clone(users)
			slices.SortFunc(order, func(a, b int) int {
				return cmp.Or(cmp.Compare(t.p.start[a], t.p.start[b]), cmp.Compare(a, b))
			})
			for k, i := range order {
				for _, j := range order[k+1 : min(k+1+reach, len(order))] {
					if t.effort > 0 && t.alike(i, j) && t.swap(i, j) {
						changed = true
					}
				}
			}
		}
	}
}

// alike reports whether two tasks in different zones could change places: both can be
// moved, and need the same crews for as long, at the same times of the week.
func (t *settler) alike(i, j int) bool {
	a, b := &t.Tasks[i], &t.Tasks[j]
	if t.frozen[i] || t.frozen[j] || a.Fixed || b.Fixed || a.Zone == b.Zone || a.Duration != b.Duration ||
		a.Whole != b.Whole || t.clock[i] != t.clock[j] || t.p.start[i] == t.p.start[j] || a.Due != b.Due {
		return false
	}
	return t.sameCrews(i, j) && t.sameCrews(j, i)
}

func (t *settler) sameCrews(i, j int) bool {
	for _, d := range t.needs[i] {
		if t.Resources[d.Resource].Crew && t.needOf(j, d.Resource) != d.Units {
			return false
		}
	}
	return true
}

// swap lets two tasks change places if links and resources allow it and it saves moves.
func (t *settler) swap(i, j int) bool {
	before := t.moves(i)
	t.exchange(i, j)
	if t.fits(i) && t.fits(j) && t.moves(i) < before {
		return true
	}
	t.exchange(i, j)
	return false
}

func (t *settler) exchange(i, j int) {
	p := t.p
	t.prof.lift(i, p.start[i], p.end[i])
	t.prof.lift(j, p.start[j], p.end[j])
	p.start[i], p.start[j] = p.start[j], p.start[i]
	p.end[i], p.end[j] = p.end[j], p.end[i]
	t.prof.place(i, p.start[i], p.end[i])
	t.prof.place(j, p.start[j], p.end[j])
}

// fits reports whether a task, which the profile holds, breaks no rule.
func (t *settler) fits(i int) bool {
	p := t.p
	if p.start[i] < t.ready(i, p) || p.end[i] > t.lastEnd(i, p) {
		return false
	}
	for _, d := range t.needs[i] {
		if t.prof.lastLack(t.clock[i], Demand{d.Resource, 0}, p.start[i], p.end[i]) >= 0 {
			return false // less than nothing is free
		}
	}
	return true
}
