package setout

import (
	"cmp"
	"math"
	"slices"

	"nogging/internal/geom"
	"nogging/internal/quantity"
)

// Angles at which two tapes may meet so that a slip of the tape moves the point by
// no more than twice as much (common practice of surveying: 30 to 150 degrees), and
// at which they meet well.
const (
	leastAngle, mostAngle = 30.0, 150.0
	goodLeast, goodMost   = 60.0, 120.0
)

// mostCorners is how many of the nearest corners in sight are paired.
const mostCorners = 12

// offWall is how far a point that touches a body is taken to stand off it when
// asking whether it sees a corner.
const offWall = 2 * quantity.Millimetre

// tieFinder chooses the corners from which points are measured.
type tieFinder struct {
	corners []Point
	sides   []geom.Segment // of the bodies
	bodies  []geom.Polygon
}

func newTies(corners []Point, bodies [][]geom.Point) *tieFinder {
	t := &tieFinder{corners: corners}
	for _, b := range bodies {
		t.bodies = append(t.bodies, b)
		geom.Polygon(b).Edges(func(s geom.Segment) { t.sides = append(t.sides, s) })
	}
	return t
}

// of returns the ties of a point: of the nearest corners in sight, the pair with
// the least to measure whose tapes meet well, or at least well enough. There are
// none where no two corners will do.
func (t *tieFinder) of(p geom.Point) *Ties {
	near := t.nearest(p)
	var best *Ties
	least := math.Inf(1)
	for i, a := range near {
		for _, b := range near[i+1:] {
			angle := angleAt(p, a.At, b.At)
			if angle < leastAngle || angle > mostAngle {
				continue
			}
			cost := p.Dist(a.At).MM() + p.Dist(b.At).MM()
			if angle < goodLeast || angle > goodMost {
				cost *= 2
			}
			if cost < least {
				least = cost
				best = &Ties{From: [2]string{a.Name, b.Name}, Length: [2]Length{p.Dist(a.At), p.Dist(b.At)}, Side: sideOf(a.At, b.At, p), Angle: math.Round(angle)}
			}
		}
	}
	return best
}

// nearest lists the nearest corners that a tape reaches from a point.
func (t *tieFinder) nearest(p geom.Point) []Point {
	order := slices.Clone(t.corners)
	slices.SortStableFunc(order, func(a, b Point) int { return cmp.Compare(p.Dist(a.At), p.Dist(b.At)) })
	var list []Point
	for _, c := range order {
		if len(list) == mostCorners {
			break
		}
		if p.Dist(c.At) > 10*offWall && t.sees(p, c.At) {
			list = append(list, c)
		}
	}
	return list
}

// sees reports whether no body stands between two points.
func (t *tieFinder) sees(p, q geom.Point) bool {
	f, length := geom.FrameOf(geom.Segment{A: p, B: q}), p.Dist(q)
	line, middle := geom.Segment{A: f.Global(offWall, 0), B: f.Global(length-offWall, 0)}, f.Global(length/2, 0)
	return !slices.ContainsFunc(t.sides, func(s geom.Segment) bool { return crosses(line, s) }) &&
		!slices.ContainsFunc(t.bodies, func(b geom.Polygon) bool { return b.Contains(middle) })
}

// crosses reports whether two segments cross.
func crosses(a, b geom.Segment) bool {
	return turn(a.A, a.B, b.A)*turn(a.A, a.B, b.B) < 0 && turn(b.A, b.B, a.A)*turn(b.A, b.B, a.B) < 0
}

// turn is positive where c lies to the left of the line from a to b.
func turn(a, b, c geom.Point) float64 {
	return float64(b.X-a.X)*float64(c.Y-a.Y) - float64(b.Y-a.Y)*float64(c.X-a.X)
}

func sideOf(a, b, p geom.Point) string {
	if turn(a, b, p) > 0 {
		return "left"
	}
	return "right"
}

// angleAt returns the angle in degrees under which a and b are seen from p.
func angleAt(p, a, b geom.Point) float64 {
	u, v := geom.Segment{A: p, B: a}.Dir(), geom.Segment{A: p, B: b}.Dir()
	return degrees(math.Abs(math.Atan2(u.Cross(v), u.Dot(v))))
}
