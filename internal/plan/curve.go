package plan

import (
	"math"
	"slices"

	"nogging/internal/geom"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// Arc returns the arc of a curved wall's line, or false for a straight wall and
// for three points that make no arc.
func (w *Wall) Arc() (geom.Arc, bool) {
	if w.Via == nil || len(w.Line) != 2 {
		return geom.Arc{}, false
	}
	arc, ok := geom.ArcThrough(geom.Point(w.Line[0]), geom.Point(*w.Via), geom.Point(w.Line[1]))
	return arc, ok && arc.Rise(arc.Length()) >= leastRise && arc.Radius >= leastRadius
}

const (
	// leastRise is the least height of a curved wall's arc over its chord: what
	// is flatter is a straight wall.
	leastRise = 2 * quantity.Millimetre
	// leastRadius is the least radius of a wall's line: tighter, it is a slip.
	leastRadius = 250 * quantity.Millimetre
)

// via checks the third point of a curved wall.
func (c *checker) via(w *Wall, s *spot) {
	if w.Via == nil {
		return
	}
	if _, ok := w.Arc(); ok {
		return
	}
	a, b, via := geom.Point(w.Line[0]), geom.Point(w.Line[1]), geom.Point(*w.Via)
	arc, ok := geom.ArcThrough(a, via, b)
	switch {
	case ok && arc.Radius < leastRadius:
		s.wrong("wall-arc", "via", words.F("the arc through [%s, %s] has a radius of %s; no wall turns so tightly", via.X, via.Y, mm(arc.Radius.Round(quantity.Millimetre))),
			"check the three points; lengths without a unit are millimetres")
	case via.Dist(a) < geom.Same || via.Dist(b) < geom.Same:
		s.wrong("wall-arc", "via", words.F("[%s, %s] is an end of the wall", via.X, via.Y), "give a point of the arc between start and end")
	default:
		s.wrong("wall-arc", "via", words.F("[%s, %s] lies on the straight line between start and end, so the wall is not curved", via.X, via.Y),
			"leave via out, or give a point that the arc passes through")
	}
}

// overlapArcs tells if two curved walls lie on each other.
func (r *run) overlapArcs(o *run) bool {
	if r.arc.Centre.Dist(o.arc.Centre) > onOneLine || (r.arc.Radius-o.arc.Radius).Abs() > onOneLine {
		return false
	}
	a, b := r.arc.Local(o.line.A).X, r.arc.Local(o.line.B).X
	if middle := r.arc.Local(o.arc.Global(o.arc.Length()/2, 0)).X; middle < min(a, b) || middle > max(a, b) {
		return false // the other way round the circle
	}
	from, to := max(min(a, b), 0), min(max(a, b), r.arc.Length())
	if to-from <= lap {
		return false
	}
	o.spot.doubt("walls-overlap", "line",
		words.F("the wall lies on %s for %s, from %s to %s along it", r.wall.ID, mm((to-from).Round(quantity.Millimetre)), mm(from.Round(quantity.Millimetre)), mm(to.Round(quantity.Millimetre))),
		"take one of the two out, or let one end where the other begins")
	return true
}

// crossCurved is cross where one of the walls, or both, is curved.
func (r *run) crossCurved(o *run) bool {
	for _, p := range r.meetings(o) {
		u, v := r.at(p), o.at(p)
		sine := max(math.Abs(r.dir(u).Cross(o.dir(v))), geom.Parallel)
		if !ends(u, r.wall.Length(), o.reach, sine) && !ends(v, o.wall.Length(), r.reach, sine) {
			r.tellCross(o, u, v)
			return true
		}
	}
	return false
}

// ends reports whether a place is so near an end of a wall that it can be meant
// to end there.
func ends(at, length, reach Length, sine float64) bool {
	d := Length(float64(reach) / sine)
	return at <= d || at >= length-d
}

// meetings returns the points in which the lines of two walls meet, of which one
// is curved.
func (r *run) meetings(o *run) []geom.Point {
	if r.arc == nil {
		return o.meetings(r)
	}
	if o.arc == nil {
		var points []geom.Point
		for _, u := range r.arc.Crossings(o.line) {
			points = append(points, r.arc.Global(u, 0))
		}
		return points
	}
	points := geom.CircleCircle(r.arc.Centre, r.arc.Radius, o.arc.Centre, o.arc.Radius)
	return slices.DeleteFunc(points, func(p geom.Point) bool {
		u, v := r.at(p), o.at(p)
		return u < 0 || u > r.wall.Length() || v < 0 || v > o.wall.Length()
	})
}

// at returns how far along the wall a point of its line lies.
func (r *run) at(p geom.Point) Length {
	if r.arc != nil {
		return r.arc.Local(p).X
	}
	return geom.FrameOf(r.line).Local(p).X
}

// dir returns the direction of the wall at u.
func (r *run) dir(u Length) geom.Vec {
	if r.arc != nil {
		return r.arc.Dir(u)
	}
	return r.line.Dir()
}

// throughCurved is through for a curved wall.
func (r *run) throughCurved(m *mass) (times int) {
	var cuts []Length
	m.outline.Edges(func(s geom.Segment) { cuts = append(cuts, r.arc.Crossings(s)...) })
	slices.Sort(cuts)
	for i := 1; i < len(cuts); i++ {
		from, to := cuts[i-1], cuts[i]
		if to-from > geom.Same && m.outline.Contains(r.arc.Global((from+to)/2, 0)) {
			r.tellThrough(m, from, to)
			times++
		}
	}
	return times
}
