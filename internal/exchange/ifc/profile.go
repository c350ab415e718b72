package ifc

import (
	"cmp"
	"math"
	"slices"
)

// slope is a stretch of a line in a wall's plane, without steps.
type slope struct{ u0, u1, z0, z1 float64 }

// at returns the height at a place on the line through the stretch.
func (s slope) at(u float64) float64 {
	if s.u1-s.u0 < straight {
		return (s.z0 + s.z1) / 2
	}
	return s.z0 + (s.z1-s.z0)*(u-s.u0)/(s.u1-s.u0)
}

// profile is a line in a wall's plane from left to right, which may have steps
// and gaps.
type profile []slope

// profileOf is the profile along points.
func profileOf(points []at) profile {
	var p profile
	for i := 1; i < len(points); i++ {
		if a, b := points[i-1], points[i]; b.u > a.u {
			p = append(p, slope{a.u, b.u, a.z, b.z})
		}
	}
	return p
}

// points returns the ends of the profile's stretches.
func (p profile) points() []at {
	var points []at
	for _, s := range p {
		a, b := at{s.u0, s.z0}, at{s.u1, s.z1}
		if n := len(points); n == 0 || points[n-1] != a {
			points = append(points, a)
		}
		points = append(points, b)
	}
	return points
}

// over returns the heights at both ends of a stretch within which the profile
// neither begins nor ends nor bends.
func (p profile) over(a, b float64) ([2]float64, bool) {
	middle := (a + b) / 2
	i, _ := slices.BinarySearchFunc(p, middle, func(s slope, u float64) int { return cmp.Compare(s.u1, u) })
	if i == len(p) || p[i].u0 > middle {
		return [2]float64{}, false
	}
	return [2]float64{p[i].at(a), p[i].at(b)}, true
}

// closed reports whether the profile has no gaps.
func (p profile) closed() bool {
	for i := 1; i < len(p); i++ {
		if p[i].u0-p[i-1].u1 > straight {
			return false
		}
	}
	return true
}

// bridged closes narrow gaps in the profile and at its ends.
func (p profile) bridged(length float64) profile {
	if len(p) == 0 {
		return nil
	}
	p = slices.Clone(p)
	if first := p[0]; first.u0 > 0 && first.u0 < soffitGap {
		p = slices.Insert(p, 0, slope{0, first.u0, first.z0, first.z0})
	}
	if last := p[len(p)-1]; last.u1 < length && length-last.u1 < soffitGap {
		p = append(p, slope{last.u1, length, last.z1, last.z1})
	}
	var whole profile
	for i, s := range p {
		if i > 0 {
			if a := p[i-1]; s.u0 > a.u1 && s.u0-a.u1 < soffitGap {
				whole = append(whole, slope{a.u1, s.u0, a.z1, s.z0})
			}
		}
		whole = append(whole, s)
	}
	return whole
}

// underJoists lowers what lies between beams that are near to each other and
// equally high, such as joists, to their underside.
func (p profile) underJoists() profile {
	for i := 1; i+1 < len(p); i++ {
		before := p[i-1]
		end := i
		for end < len(p) && p[end].u1-before.u1 < betweenJoist && min(p[end].z0, p[end].z1) > before.z1+sameJoists {
			end++
		}
		if end == i || end == len(p) || math.Abs(p[end].z0-before.z1) > sameJoists || p[end].u0-before.u1 > betweenJoist {
			continue
		}
		for k := i; k < end; k++ {
			p[k].z0, p[k].z1 = before.z1, p[end].z0
		}
		i = end
	}
	return p
}

// each calls f for the stretches in which several profiles run on without bends
// or steps, and the first two do not cross; ok tells which have no gap there.
func each(profiles []profile, f func(a, b float64, z [][2]float64, ok []bool)) {
	var us []float64
	for _, p := range profiles {
		for _, s := range p {
			us = append(us, s.u0, s.u1)
		}
	}
	slices.Sort(us)
	us = slices.CompactFunc(us, func(a, b float64) bool { return math.Abs(b-a) < straight/5 })
	z, ok := make([][2]float64, len(profiles)), make([]bool, len(profiles))
	emit := func(a, b float64) {
		for i, p := range profiles {
			z[i], ok[i] = p.over(a, b)
		}
		if slices.Contains(ok, true) {
			f(a, b, z, ok)
		}
	}
	for i := 1; i < len(us); i++ {
		a, b := us[i-1], us[i]
		if cross, crosses := crossing(profiles, a, b); crosses {
			emit(a, cross)
			a = cross
		}
		emit(a, b)
	}
}

// crossing returns where the first two profiles cross in a stretch.
func crossing(profiles []profile, a, b float64) (float64, bool) {
	p, okP := profiles[0].over(a, b)
	q, okQ := profiles[1].over(a, b)
	d0, d1 := p[0]-q[0], p[1]-q[1]
	if !okP || !okQ || d0*d1 >= 0 {
		return 0, false
	}
	at := a + (b-a)*d0/(d0-d1)
	return at, at > a && at < b
}

// lowest returns the lower of two profiles at each place, and the other where
// one has a gap.
func lowest(p, q profile) profile {
	if len(p) == 0 || len(q) == 0 {
		return append(p, q...)
	}
	var low profile
	each([]profile{p, q}, func(a, b float64, z [][2]float64, ok []bool) {
		one := z[0]
		if !ok[0] || ok[1] && z[1][0]+z[1][1] < one[0]+one[1] {
			one = z[1]
		}
		low = append(low, slope{a, b, one[0], one[1]})
	})
	return low
}

// underneath returns the top of a wall under a soffit: that of its body, cut off
// at the soffit, and raised to it where the body ends just below. lower is how
// far, at most, it ends below elsewhere; reaches tells whether it reaches the
// soffit anywhere.
func underneath(body, soffit profile) (top profile, lower float64, reaches bool) {
	if len(body) == 0 || len(soffit) == 0 {
		return body, 0, false
	}
	var below []slope // a stretch over which the soffit is higher: the body there
	var soffits []slope
	off := 0.0
	settle := func() {
		if off <= underSoffit {
			below, reaches = soffits, reaches || len(soffits) > 0
		} else {
			lower = max(lower, off)
		}
		top = append(top, below...)
		below, soffits, off = nil, nil, 0
	}
	each([]profile{body, soffit}, func(a, b float64, z [][2]float64, ok []bool) {
		if !ok[0] {
			return
		}
		own, under := slope{a, b, z[0][0], z[0][1]}, slope{a, b, z[1][0], z[1][1]}
		switch d0, d1 := z[1][0]-z[0][0], z[1][1]-z[0][1]; {
		case !ok[1]:
			settle()
			top = append(top, own)
		case d0+d1 > 0:
			below, soffits, off = append(below, own), append(soffits, under), max(off, d0, d1)
		default:
			settle()
			top, reaches = append(top, under), true
		}
	})
	settle()
	return top, lower, reaches
}
