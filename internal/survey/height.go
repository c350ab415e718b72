package survey

import (
	"cmp"
	"slices"

	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// station is a height measured at a place along a wall.
type station struct {
	u, z  Length
	point placed
}

// wall bends a wall's heights to the floor and soffit measured along it.
func (b *bender) wall(w *plan.Wall) {
	level := b.plan.LevelByID(w.Level)
	on, ok := lineOf(w)
	if !ok || level == nil {
		return
	}
	length := w.Length()
	top := planned(w, level)
	floor := b.along(w, on, length, Floor, func(Length) Length { return 0 })
	soffit := b.along(w, on, length, Soffit, top.at)
	if w.Head == plan.HeadFree {
		soffit = nil
	}
	if len(floor)+len(soffit) == 0 {
		return
	}
	out := Wall{ID: w.ID, Floor: len(floor), Soffit: len(soffit)}
	under, over := profileOf(merged(floor)), profileOf(merged(soffit))
	if under == nil {
		under = profile{{}}
	}
	if over == nil {
		over = top
	}
	built := over.less(under, length)
	out.Lowest, out.Most = built.extremes()
	if out.Bent = built.differs(top, length, b.tolerance); out.Bent {
		w.Height, w.Heights = built.heights(length)
	}
	b.out.Walls = append(b.out.Walls, out)
	b.told(w, length, floor, soffit)
}

// told says what was not measured of a wall.
func (b *bender) told(w *plan.Wall, length Length, floor, soffit []station) {
	if w.Head == plan.HeadFree {
		return
	}
	for _, s := range []struct {
		name string
		list []station
	}{{"floor", floor}, {"soffit", soffit}} {
		if len(s.list) == 0 {
			b.out.Findings.Add(finding.Finding{Code: "survey-one-sided", Severity: finding.Assumed, Object: w.ID, What: words.F("no point of the %s was measured along the wall; the plan's height of it is taken", s.name), Fix: "measure it where the wall stands"})
			continue
		}
		last, gap := Length(0), Length(0)
		for _, p := range append(slices.Clone(s.list), station{u: length}) {
			gap, last = max(gap, p.u-last), p.u
		}
		if gap > seldom {
			b.out.Findings.Add(finding.Finding{Code: "survey-gap", Severity: finding.Assumed, Object: w.ID, What: words.F("no point of the %s was measured on %s mm of the wall; it is taken to run straight between its neighbours", s.name, gap.Round(quantity.Millimetre)), Fix: words.F("measure at least every %s mm", seldom)})
		}
	}
}

// along returns the heights above the level's floor that were measured of a surface
// along a wall, and notes those that differ from the plan.
func (b *bender) along(w *plan.Wall, on line, length Length, surface Surface, want func(Length) Length) []station {
	var list []station
	for _, p := range b.points {
		if p.On != surface || p.level.ID != w.Level {
			continue
		}
		at := on.Local(p.at())
		z := p.Z - p.level.Elevation
		u := min(max(at.X, 0), length)
		if at.Y.Abs() > reach || at.X < -reach || at.X > length+reach || (z-want(u)).Abs() > offPlan {
			continue
		}
		b.used[p.number] = true
		list = append(list, station{u, z, p})
	}
	byStation(list)
	for _, s := range list {
		b.deviates(w.Level, w.ID, string(surface), s.u, want(s.u), s.z, s.point)
	}
	return list
}

// merged makes one station of points at one place; two heights there that differ are
// a step, and both stay.
func merged(list []station) []station {
	const step = 30 * quantity.Millimetre
	var out []station
	for i := 0; i < len(list); {
		k := i
		for k < len(list) && list[k].u-list[i].u <= together {
			k++
		}
		group := slices.Clone(list[i:k])
		slices.SortStableFunc(group, func(a, c station) int { return cmp.Compare(a.z, c.z) })
		u := (list[i].u + list[k-1].u) / 2
		low, high := group[0].z, group[len(group)-1].z
		if high-low <= step {
			out = append(out, station{u: u, z: (low + high) / 2})
		} else {
			if n := len(out); n > 0 && (out[n-1].z-low).Abs() > (out[n-1].z-high).Abs() {
				low, high = high, low
			}
			out = append(out, station{u: u, z: low}, station{u: u, z: high})
		}
		i = k
	}
	return out
}
