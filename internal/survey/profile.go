package survey

import (
	"cmp"
	"slices"

	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// profile is a height along a wall, straight between its points, level beyond the
// first and the last. Two points at one place are a step. It has at least one point.
type profile []geom.Point

func profileOf(list []station) profile {
	var p profile
	for _, s := range list {
		p = append(p, geom.Pt(s.u, s.z))
	}
	return p
}

// planned is the height of a wall's top as the plan has it.
func planned(w *plan.Wall, l *plan.Level) profile {
	switch {
	case len(w.Heights) > 0:
		var p profile
		for _, h := range w.Heights {
			p = append(p, geom.Pt(h.At, h.Height))
		}
		slices.SortStableFunc(p, func(a, b geom.Point) int { return cmp.Compare(a.X, b.X) })
		return p
	case w.Height > 0:
		return profile{geom.Pt(0, w.Height)}
	}
	return profile{geom.Pt(0, l.ClearHeight)}
}

// at returns the height at u; at a step the one before it.
func (p profile) at(u Length) Length { before, _ := p.around(u); return before }

// around returns the heights just before and just after u, which differ at a step.
func (p profile) around(u Length) (before, after Length) {
	i := 0
	for i < len(p) && p[i].X < u {
		i++
	}
	k := i
	for k < len(p) && p[k].X == u {
		k++
	}
	switch {
	case k > i: // points stand there
		return p[i].Y, p[k-1].Y
	case i == 0:
		return p[0].Y, p[0].Y
	case i == len(p):
		return p[i-1].Y, p[i-1].Y
	}
	a, b := p[i-1], p[i]
	y := a.Y + round(float64(b.Y-a.Y)*float64(u-a.X)/float64(b.X-a.X))
	return y, y
}

// less returns the height of p over q along a wall.
func (p profile) less(q profile, length Length) profile {
	places := []Length{0, length}
	for _, x := range slices.Concat(p, q) {
		places = append(places, min(max(x.X, 0), length))
	}
	slices.Sort(places)
	var out profile
	for _, u := range slices.Compact(places) {
		pb, pa := p.around(u)
		qb, qa := q.around(u)
		out = append(out, geom.Pt(u, pb-qb))
		if pa-qa != pb-qb {
			out = append(out, geom.Pt(u, pa-qa))
		}
	}
	return out
}

// differs reports whether the two are further apart than the tolerance anywhere.
func (p profile) differs(q profile, length, tolerance Length) bool {
	for _, d := range p.less(q, length) {
		if d.Y.Abs() > tolerance {
			return true
		}
	}
	return false
}

// extremes returns the lowest and the highest point.
func (p profile) extremes() (lowest, highest Length) {
	lowest, highest = p[0].Y, p[0].Y
	for _, x := range p {
		lowest, highest = min(lowest, x.Y), max(highest, x.Y)
	}
	return lowest, highest
}

// heights gives the profile as a plan writes it: one height where it is level, else
// whole millimetres with as few points as keep it within a bend.
func (p profile) heights(length Length) (Length, []plan.HeightAt) {
	if lowest, highest := p.extremes(); highest-lowest <= bend {
		return lowest.Round(quantity.Millimetre), nil
	}
	var out []plan.HeightAt
	add := func(x geom.Point) {
		out = append(out, plan.HeightAt{At: x.X.Round(quantity.Millimetre), Height: x.Y.Round(quantity.Millimetre)})
	}
	add(p[0])
	for i := 0; i+1 < len(p); {
		k := i + 1
		for k+1 < len(p) && p.straight(i, k+1) {
			k++
		}
		add(p[k])
		i = k
	}
	out[len(out)-1].At = length
	return 0, out
}

// straight reports whether the points between two lie within a bend of the straight
// line through them. A step is never straight.
func (p profile) straight(i, k int) bool {
	if p[i].X == p[k].X {
		return false
	}
	chord := profile{p[i], p[k]}
	for j := i + 1; j < k; j++ {
		if p[j].X == p[j-1].X || p[j].X == p[j+1].X || (p[j].Y-chord.at(p[j].X)).Abs() > bend {
			return false
		}
	}
	return true
}
