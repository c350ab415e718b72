package dxf

import (
	"math"

	"nogging/internal/plan"
	"nogging/internal/words"
)

// openingIn says what the gap of a wall is: a door by the arc of its leaf, or by what
// the layer or block is called; a window by lines along it; else, where both jambs
// are closed, an opening without a known use. Confidence is 0 where it is none.
func (r *recogniser) openingIn(w *wall, gap span) opening {
	inLayer := map[Role]bool{}
	along := 0.0 // of the longest line that runs along the gap within the wall
	caps := [2]bool{}
	for _, s := range r.segments {
		a, b := w.local(s.a), w.local(s.b)
		mid := a.mid(b)
		role := r.role(s.ink)
		if math.Abs(mid.y) <= w.thick/2+sameEnd && gap.holds(mid.x) {
			inLayer[role] = true
		}
		if math.Abs(a.y) <= w.thick/2+sameEnd && math.Abs(a.y-b.y) < sameOffset && !role.isWall() {
			along = max(along, gap.overlap(span{min(a.x, b.x), max(a.x, b.x)}).length())
		}
		if math.Abs(a.x-b.x) < sameOffset && math.Abs(math.Abs(a.y-b.y)-w.thick) <= sameEnd && math.Abs(mid.y) <= sameEnd {
			caps[0] = caps[0] || math.Abs(mid.x-gap.lo) <= sameEnd
			caps[1] = caps[1] || math.Abs(mid.x-gap.hi) <= sameEnd
		}
	}
	for _, c := range r.rings {
		if p := w.local(c.points[0]); math.Abs(p.y) <= w.thick/2+sameEnd && gap.holds(p.x) {
			inLayer[r.role(c.ink)] = true
		}
	}
	capped := caps[0] && caps[1]
	switch {
	case r.swings(w, gap):
		return opening{gap, plan.Door, 0.95, "the arc of a door leaf fits it", Swing}
	case inLayer[Window]:
		return opening{gap, plan.Window, 0.8, "lines of a window layer lie in it", WindowLayer}
	case along >= 0.8*gap.length():
		return opening{gap, plan.Window, 0.7, glazed, Glazed}
	case inLayer[Door]:
		return opening{gap, plan.Door, 0.75, "lines of a door layer or block lie in it", DoorLayer}
	case capped && gap.length() <= widestPlain:
		return opening{gap, plan.Bare, 0.5, "both its sides are closed", Capped}
	case gap.length() >= 600 && gap.length() <= 1500:
		return opening{gap, plan.Bare, 0.35, "the wall goes on behind it", GoesOn}
	}
	return opening{}
}

// glazed is why an opening without an arc is a window.
const glazed words.Text = "lines run along it within the wall"

// settleGlazed makes doors of openings that lines run along, as along windows, in walls
// with other walls on both sides: sliding doors are drawn so, and windows look out.
func (r *recogniser) settleGlazed() {
	for _, w := range r.walls {
		for i := range w.openings {
			if o := &w.openings[i]; o.why == glazed && r.spend(len(r.walls)) && r.inner(w, (o.lo+o.hi)/2) {
				o.kind, o.confidence, o.why, o.sign = plan.Door, 0.65, "lines run along it within the wall, which has walls on both its sides", Sliding
			}
		}
	}
}

// inner reports whether other walls lie on both sides of a place of a wall.
func (r *recogniser) inner(w *wall, along float64) bool {
	var sides [2]bool
	from := w.axis.at(along, w.off)
	for _, o := range r.walls {
		turn := w.axis.left().cross(o.axis.dir)
		if o == w || math.Abs(turn) < 0.01 {
			continue
		}
		across := (o.off - o.axis.across(from)) / o.axis.left().dot(w.axis.left())
		if !o.span.holds(o.axis.along(from.add(w.axis.left().times(across)))) {
			continue
		}
		sides[0] = sides[0] || across > w.thick
		sides[1] = sides[1] || across < -w.thick
	}
	return sides[0] && sides[1]
}

// local returns a point in the wall's own directions, measured from its centre line.
func (w *wall) local(p vec) vec { return vec{w.axis.along(p), w.axis.across(p) - w.off} }

// swings reports whether an arc is that of a door leaf in the gap, or of one of two:
// its centre lies at a jamb and its radius is the width, or half of it.
func (r *recogniser) swings(w *wall, gap span) bool {
	for _, c := range r.curves {
		p := w.local(c.centre)
		if math.Abs(p.y) > w.thick/2+atJamb || math.Abs(c.sweep) < radians(20) || math.Abs(c.sweep) > radians(185) {
			continue
		}
		if min(math.Abs(p.x-gap.lo), math.Abs(p.x-gap.hi)) > atJamb {
			continue
		}
		for _, width := range []float64{gap.length(), gap.length() / 2} {
			if c.radius >= 0.85*width && c.radius <= 1.1*width {
				return true
			}
		}
	}
	return false
}
