package geom

import (
	"math"
	"math/bits"
	"slices"

	"nogging/internal/quantity"
)

// Polygon is a closed outline; the last corner joins the first without being
// repeated. Counter-clockwise outlines have a positive area.
type Polygon []Point

// Area returns the enclosed area, whichever way round the outline runs.
func (p Polygon) Area() quantity.Area {
	return quantity.Area(math.Abs(p.signedArea()) / (float64(quantity.Millimetre) * float64(quantity.Millimetre)))
}

// signedArea is in square nanometres. Products are summed relative to the
// first corner in 128 bits, so nothing is lost before the last rounding.
func (p Polygon) signedArea() float64 {
	if len(p) < 3 {
		return 0
	}
	var hi int64
	var lo uint64
	o := p[0]
	for i := 1; i+1 < len(p); i++ {
		a, b := p[i].Sub(o), p[i+1].Sub(o)
		hi, lo = addProduct(hi, lo, int64(a.X), int64(b.Y))
		hi, lo = addProduct(hi, lo, int64(a.Y), -int64(b.X))
	}
	return (math.Ldexp(float64(hi), 64) + float64(lo)) / 2
}

// addProduct adds x·y to the signed 128-bit number hi:lo.
func addProduct(hi int64, lo uint64, x, y int64) (int64, uint64) {
	ph, pl := bits.Mul64(uint64(x), uint64(y))
	if x < 0 {
		ph -= uint64(y)
	}
	if y < 0 {
		ph -= uint64(x)
	}
	sum, carry := bits.Add64(lo, pl, 0)
	return hi + int64(ph) + int64(carry), sum
}

// Bounds returns the smallest upright rectangle around the polygon.
func (p Polygon) Bounds() Rect { return Bounds(p...) }

// Contains reports whether q lies inside the polygon; points on the edge may
// go either way.
func (p Polygon) Contains(q Point) bool {
	inside := false
	for i, j := 0, len(p)-1; i < len(p); j, i = i, i+1 {
		a, b := p[i], p[j]
		if (a.Y > q.Y) != (b.Y > q.Y) {
			t := float64(q.Y-a.Y) / float64(b.Y-a.Y)
			if float64(q.X) < float64(a.X)+t*float64(b.X-a.X) {
				inside = !inside
			}
		}
	}
	return inside
}

// Edges calls f for each side of the polygon.
func (p Polygon) Edges(f func(Segment)) {
	for i := range p {
		f(Segment{p[i], p[(i+1)%len(p)]})
	}
}

// SelfCrossing returns the first pair of sides that cross each other, and
// whether there is one.
func (p Polygon) SelfCrossing() (a, b Segment, found bool) {
	n := len(p)
	for i := 0; i < n; i++ {
		s := Segment{p[i], p[(i+1)%n]}
		for j := i + 2; j < n; j++ {
			if i == 0 && j == n-1 {
				continue // neighbours share a corner
			}
			t := Segment{p[j], p[(j+1)%n]}
			if _, _, ok := s.Crossing(t); ok {
				return s, t, true
			}
		}
	}
	return Segment{}, Segment{}, false
}

// Crossing returns where s and t cross, as distances from s.A along s and from
// t.A along t. Parallel segments do not cross; touching ends do.
func (s Segment) Crossing(t Segment) (onS, onT Length, ok bool) {
	d, e := s.Dir(), t.Dir()
	den := d.Cross(e)
	if math.Abs(den) < Parallel {
		return 0, 0, false
	}
	w := Vec{float64(t.A.X - s.A.X), float64(t.A.Y - s.A.Y)}
	onS = Length(math.Round(w.Cross(e) / den))
	onT = Length(math.Round(w.Cross(d) / den))
	ok = onS >= 0 && onS <= s.Length() && onT >= 0 && onT <= t.Length()
	return onS, onT, ok
}

// CounterClockwise returns the outline with its corners in counter-clockwise order.
func (p Polygon) CounterClockwise() Polygon {
	if p.signedArea() >= 0 {
		return p
	}
	q := slices.Clone(p)
	slices.Reverse(q)
	return q
}
