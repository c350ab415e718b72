package ifc

import (
	"math"

	"nogging/internal/exchange/ifc/shape"
)

// at is a point in a wall's plane, in mm: u along the wall, z up.
type at struct{ u, z float64 }

// rect is an upright rectangle in a wall's plane, in mm.
type rect struct{ u0, u1, z0, z1 float64 }

func (r rect) width() float64  { return r.u1 - r.u0 }
func (r rect) height() float64 { return r.z1 - r.z0 }
func (r rect) area() float64   { return r.width() * r.height() }

// atLeast reports whether both sides have a length or more.
func (r rect) atLeast(side float64) bool { return r.width() >= side && r.height() >= side }

// shared returns the rectangle that both cover; its width or height is
// negative where there is none.
func (r rect) shared(o rect) rect {
	return rect{max(r.u0, o.u0), min(r.u1, o.u1), max(r.z0, o.z0), min(r.z1, o.z1)}
}

// overlap returns the area that both cover.
func (r rect) overlap(o rect) float64 {
	s := r.shared(o)
	return max(s.width(), 0) * max(s.height(), 0)
}

// around returns the smallest rectangle that holds both.
func (r rect) around(o rect) rect {
	return rect{min(r.u0, o.u0), max(r.u1, o.u1), min(r.z0, o.z0), max(r.z1, o.z1)}
}

// elevation is what the section of a wall's body shows.
type elevation struct {
	from, to float64
	foot     float64
	top      []at   // from left to right; two points of equal u make a step
	holes    []rect // through the body
	uneven   bool   // whether the foot is not level
	gap      float64
}

// Tolerances of elevations in mm.
const (
	straight  = 0.5  // how far a point may lie off a line that leaves it out
	levelFoot = 5    // how uneven a foot may be
	doorLike  = 1500 // a part of the foot raised by this much is a hole down to the floor
)

// elevationOf reads a section.
func elevationOf(section shape.Section) elevation {
	first, last := section[0], section[len(section)-1]
	e := elevation{from: first.From, to: last.To, foot: math.Inf(1)}
	for _, s := range section {
		lo := s.Spans[0].Lo
		e.foot = min(e.foot, lo[0], lo[1])
	}
	end := first.From
	for _, s := range section {
		n := len(s.Spans)
		lo, hi := s.Spans[0].Lo, s.Spans[n-1].Hi
		e.top = append(e.top, at{s.From, hi[0]}, at{s.To, hi[1]})
		e.gap = max(e.gap, s.From-end)
		end = s.To
		switch raised := max(lo[0], lo[1]) - e.foot; {
		case raised > doorLike:
			e.hole(rect{s.From, s.To, e.foot, max(lo[0], lo[1])})
		case raised > levelFoot:
			e.uneven = true
		}
		for i := 1; i < n; i++ {
			below, above := s.Spans[i-1].Hi, s.Spans[i].Lo
			e.hole(rect{s.From, s.To, min(below[0], below[1]), max(above[0], above[1])})
		}
	}
	e.top = simplified(e.top)
	return e
}

// hole adds a hole, joined to those it touches.
func (e *elevation) hole(h rect) {
	for i, o := range e.holes {
		if h.u0 <= o.u1+straight && o.u0 <= h.u1+straight && h.z0 < o.z1 && o.z0 < h.z1 {
			e.holes[i] = o.around(h)
			return
		}
	}
	e.holes = append(e.holes, h)
}

// simplified leaves out points that lie on the line through those that stay:
// the farthest from it stays until none is farther than it may be.
func simplified(line []at) []at {
	if len(line) < 3 {
		return line
	}
	a, c := line[0], line[len(line)-1]
	far, worst := 0, straight
	for i, b := range line {
		if d := offLine(a, b, c); d > worst {
			far, worst = i, d
		}
	}
	if far == 0 {
		return []at{a, c}
	}
	left, right := simplified(line[:far+1]), simplified(line[far:])
	return append(left[:len(left)-1:len(left)-1], right...)
}

// offLine returns how far b lies from the line from a to c.
func offLine(a, b, c at) float64 {
	du, dz := c.u-a.u, c.z-a.z
	length := math.Hypot(du, dz)
	if length < straight {
		return math.Hypot(b.u-a.u, b.z-a.z)
	}
	t := min(max(((b.u-a.u)*du+(b.z-a.z)*dz)/(length*length), 0), 1)
	return math.Hypot(b.u-a.u-t*du, b.z-a.z-t*dz)
}

// highest returns the greatest height of the top above the foot.
func (e *elevation) highest() float64 {
	h := 0.0
	for _, p := range e.top {
		h = max(h, p.z-e.foot)
	}
	return h
}

// heal takes out of the top what an opening cut from it: the part of its sill
// that a body shows where an opening that is cut already reaches the top.
func (e *elevation) heal(hole rect) {
	healed := e.top[:0:0]
	for _, p := range e.top {
		if p.u < hole.u0-samePart || p.u > hole.u1+samePart || math.Abs(p.z-e.foot-hole.z0) > samePart {
			healed = append(healed, p)
		}
	}
	if len(healed) >= 2 {
		e.top = simplified(healed)
	}
}

// lowestTop returns the least height of the top above the foot between two
// places, rounded down to the millimetre where the top is not level.
func (e *elevation) lowestTop(from, to float64) float64 {
	if e.level() {
		return e.highest()
	}
	low := math.Inf(1)
	for i, p := range e.top {
		if p.u >= from && p.u <= to {
			low = min(low, p.z)
		}
		if i == 0 || p.u-e.top[i-1].u < straight {
			continue
		}
		for _, u := range []float64{from, to} {
			if a := e.top[i-1]; a.u <= u && u <= p.u {
				low = min(low, a.z+(p.z-a.z)*(u-a.u)/(p.u-a.u))
			}
		}
	}
	return math.Floor(low - e.foot)
}

// level reports whether the top is at one height.
func (e *elevation) level() bool {
	for _, p := range e.top {
		if math.Abs(p.z-e.top[0].z) >= 2*straight {
			return false
		}
	}
	return true
}
