package layout

import (
	"cmp"
	"math"
	"slices"

	"nogging/internal/geom"
	"nogging/internal/plan"
)

// profileOf returns the wall's height profile along its line.
func profileOf(w *plan.Wall, level *plan.Level, length Length) Profile {
	if len(w.Heights) > 0 {
		p := make(Profile, 0, len(w.Heights))
		for _, h := range w.Heights {
			p = append(p, geom.Pt(h.At, h.Height))
		}
		slices.SortStableFunc(p, func(a, b geom.Point) int { return compare(a.X, b.X) })
		if len(p) > 1 {
			return p
		}
		return flat(p[0].Y, length)
	}
	if w.Height > 0 {
		return flat(w.Height, length)
	}
	return flat(level.ClearHeight, length)
}

func flat(height, length Length) Profile {
	return Profile{geom.Pt(0, height), geom.Pt(length, height)}
}

// After returns the height just beyond u; the profile carries on at its ends
// with the slope that it has there.
func (p Profile) After(u Length) Length {
	i := 0
	for i+2 < len(p) && p[i+1].X <= u {
		i++
	}
	return between(p[i], p[i+1], u)
}

// Before returns the height just short of u.
func (p Profile) Before(u Length) Length {
	i := len(p) - 2
	for i > 0 && p[i].X >= u {
		i--
	}
	return between(p[i], p[i+1], u)
}

func between(a, b geom.Point, u Length) Length {
	if a.Y == b.Y || a.X == b.X {
		return a.Y
	}
	t := float64(u-a.X) / float64(b.X-a.X)
	return a.Y + Length(math.Round(t*float64(b.Y-a.Y)))
}

// Min returns the least height between from and to.
func (p Profile) Min(from, to Length) Length {
	low := min(p.After(from), p.Before(to))
	for _, q := range p {
		if q.X > from && q.X < to {
			low = min(low, q.Y)
		}
	}
	return low
}

// Max returns the greatest height between from and to.
func (p Profile) Max(from, to Length) Length {
	high := max(p.After(from), p.Before(to))
	for _, q := range p {
		if q.X > from && q.X < to {
			high = max(high, q.Y)
		}
	}
	return high
}

// Lowered returns the profile moved down by d.
func (p Profile) Lowered(d Length) Profile {
	low := make(Profile, len(p))
	for i, q := range p {
		low[i] = geom.Pt(q.X, q.Y-d)
	}
	return low
}

// Within returns the profile's corners from one u to another, both included;
// points on a straight stretch are no corners.
func (p Profile) Within(from, to Length) Profile {
	part := Profile{geom.Pt(from, p.After(from))}
	for i, q := range p {
		if q.X > from && q.X < to && !p.carriesOn(i) {
			part = append(part, q)
		}
	}
	return append(part, geom.Pt(to, p.Before(to)))
}

// carriesOn reports whether the profile runs straight through its point i; at
// its ends it does.
func (p Profile) carriesOn(i int) bool {
	return i == 0 || i == len(p)-1 || p[i-1].Y == p[i].Y && p[i].Y == p[i+1].Y
}

// compare orders two lengths.
func compare(a, b Length) int { return cmp.Compare(a, b) }
