package layout

import (
	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// pairTolerance is how far apart the studs of two frames may stand along the
// wall and still be tied to each other.
const pairTolerance = 60 * quantity.Millimetre

// tie sets the gussets between the stud pairs of a braced twin frame: strips of
// board across both frames, at equal distances up the studs, moved up or down
// where a pipe, a box or an opening is in the way. Height and spacing are the
// build-up's or the practice's.
func (w *wallLayout) tie(lines []int) {
	if len(lines) < 2 || len(w.spec.A) == 0 {
		return
	}
	others := w.uprights(lines[1])
	width := w.spec.Gap + 2*w.spec.FrameDepth()
	height, spacing := w.spec.GussetHeight, w.spec.GussetSpacing
	for _, m := range w.uprights(lines[0]) {
		o := pairOf(m, others)
		if m.Role == Cripple || o == nil {
			continue
		}
		span := geom.Interval{From: max(m.From.Y, o.From.Y), To: min(m.To.Y, o.To.Y)}
		us := geom.Interval{From: min(m.From.X-m.Width/2, o.From.X-o.Width/2), To: max(m.From.X+m.Width/2, o.From.X+o.Width/2)}
		places, untied := gussetPlaces(span, height, spacing, within(w.obstacles(), us))
		for _, z := range places {
			w.out.Gussets = append(w.out.Gussets, Gusset{
				Number: len(w.out.Gussets) + 1, Board: w.spec.A[0].ID, Width: width, Height: height, At: geom.Pt(m.From.X, z),
			})
		}
		if untied > spacing {
			w.find(finding.Warning, "studs-untied",
				words.F("pipes, boxes or openings leave the studs %s mm from the start without a gusset over %s mm, %s mm more than the practice's %s mm", mm(m.From.X), mm(untied), mm(untied-spacing), spacing),
				"move the pipe or the box, or write a lower gusset_height in the build-up's frame")
		}
	}
}

// pairOf returns the stud of the other frame that stands beside m, or nil.
func pairOf(m *Member, others []*Member) *Member {
	for _, o := range others {
		if (o.From.X-m.From.X).Abs() <= pairTolerance && o.Role != Cripple {
			return o
		}
	}
	return nil
}

// obstacles lists what gussets keep clear of, as rectangles of the wall's plane:
// openings, boxes, and pipes along the wall piece by piece.
func (w *wallLayout) obstacles() []geom.Rect {
	var list []geom.Rect
	for _, o := range w.out.Openings {
		list = append(list, geom.Rect{Min: geom.Pt(o.U.From, o.Sill), Max: geom.Pt(o.U.To, o.Head)})
	}
	for _, b := range w.body.wall.Boxes {
		half := (boxHole + boxPitch*Length(max(b.Gangs, 1)-1)) / 2
		list = append(list, geom.Rect{Min: geom.Pt(b.At-half, b.Height-boxHole/2), Max: geom.Pt(b.At+half, b.Height+boxHole/2)})
	}
	for _, p := range w.body.wall.Pipes {
		for i := 1; i < len(p.Path); i++ {
			list = append(list, alongPipe(geom.Point(p.Path[i-1]), geom.Point(p.Path[i]), p.Diameter/2)...)
		}
	}
	return list
}

// pipeStep is the length of the pieces in which a sloping pipe is an obstacle, so
// that it blocks no more height at a stud than it takes there.
const pipeStep = 50 * quantity.Millimetre

// alongPipe lists the rectangles that a straight length of pipe takes up.
func alongPipe(a, b geom.Point, radius Length) []geom.Rect {
	if a.X == b.X || a.Y == b.Y {
		return []geom.Rect{geom.Bounds(a, b).Grow(radius)}
	}
	total := a.Dist(b)
	var list []geom.Rect
	for d := Length(0); d < total; d += pipeStep {
		list = append(list, geom.Bounds(toward(a, b, d, total), toward(a, b, min(d+pipeStep, total), total)).Grow(radius))
	}
	return list
}

// within lists the stretches of height that obstacles take up between two places
// along the wall. What only touches is not in the way.
func within(obstacles []geom.Rect, us geom.Interval) []geom.Interval {
	var list []geom.Interval
	for _, o := range obstacles {
		if o.Min.X < us.To && us.From < o.Max.X {
			list = append(list, geom.Interval{From: o.Min.Y, To: o.Max.Y})
		}
	}
	return list
}

// gussetPlaces returns the heights of the middles of the gussets that tie a pair
// of studs, and the longest stretch that stays without one. They divide the studs
// into equal parts no longer than the spacing; one that would hit an obstacle goes
// to the nearest place where it does not, and the rest is divided anew.
func gussetPlaces(studs geom.Interval, height, spacing Length, taken []geom.Interval) (places []Length, untied Length) {
	last := studs.From
	for studs.To-last > spacing {
		n := (studs.To - last + spacing - 1) / spacing
		low := last + height // clear of the one before
		if len(places) == 0 {
			low = last + height/2
		}
		z, ok := nearestFree(last+(studs.To-last)/n, geom.Interval{From: low, To: min(last+spacing, studs.To-height/2)}, height, taken)
		if !ok { // nothing within the spacing: the next place above it
			z, ok = nearestFree(last+spacing, geom.Interval{From: max(low, last+spacing), To: studs.To - height/2}, height, taken)
		}
		if !ok {
			break
		}
		places = append(places, z)
		untied = max(untied, z-last)
		last = z
	}
	return places, max(untied, studs.To-last)
}

// nearestFree returns the place nearest to z, within limits, at which something of
// a height hits nothing that is taken.
func nearestFree(z Length, limits geom.Interval, height Length, taken []geom.Interval) (Length, bool) {
	spots := []Length{min(max(z, limits.From), limits.To)}
	for _, t := range taken {
		spots = append(spots, t.From-height/2, t.To+height/2)
	}
	best, found := Length(0), false
	for _, s := range spots {
		if s < limits.From || s > limits.To || found && (s-z).Abs() >= (best-z).Abs() || hits(s, height, taken) {
			continue
		}
		best, found = s, true
	}
	return best, found
}

// hits reports whether something of a height with its middle at z would overlap
// what is taken.
func hits(z, height Length, taken []geom.Interval) bool {
	for _, t := range taken {
		if t.From < z+height/2 && z-height/2 < t.To {
			return true
		}
	}
	return false
}
