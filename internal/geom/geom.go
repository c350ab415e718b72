// Package geom is the plane geometry of plans and wall faces: points,
// segments, frames and polygons on exact nanometre coordinates, with every
// tolerance named.
//
// It is used in two planes: the plan (x east, y north) and a wall's own plane
// (u along the wall, z up), for which Point.X is u and Point.Y is z.
package geom

import (
	"math"

	"nogging/internal/quantity"
)

// Length is the unit of every coordinate.
type Length = quantity.Length

// Named tolerances.
const (
	// Same is how near two points of one drawing must lie to be taken as one:
	// nobody draws or builds a partition to less than a millimetre.
	Same = quantity.Millimetre
	// Parallel is the sine under which two directions count as parallel
	// (about 0.06 degrees: 1 mm in a metre).
	Parallel = 1e-3
)

// Point is a place in a plane.
type Point struct {
	X Length `json:"x"`
	Y Length `json:"y"`
}

// Pt returns the point at x, y.
func Pt(x, y Length) Point { return Point{x, y} }

// Sub returns p - q.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Add returns p + q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Dist returns the distance from p to q, rounded to the nanometre.
func (p Point) Dist(q Point) Length {
	return Length(math.Round(math.Hypot(float64(p.X-q.X), float64(p.Y-q.Y))))
}

// Vec is a direction or an offset in floating point.
type Vec struct {
	X float64 `json:"x"` // without a unit where it is a direction, else millimetres
	Y float64 `json:"y"` // likewise
}

// Dot returns the scalar product of v and w.
func (v Vec) Dot(w Vec) float64 { return v.X*w.X + v.Y*w.Y }

// Cross returns the z part of the vector product: the sine of the angle from v
// to w when both are unit vectors.
func (v Vec) Cross(w Vec) float64 { return v.X*w.Y - v.Y*w.X }

// Left returns v turned a quarter to the left.
func (v Vec) Left() Vec { return Vec{-v.Y, v.X} }

// Segment is the straight line from A to B.
type Segment struct {
	A Point `json:"a"`
	B Point `json:"b"`
}

// Length returns the segment's length.
func (s Segment) Length() Length { return s.A.Dist(s.B) }

// Dir returns the unit vector from A to B, or zero for a segment of no length.
func (s Segment) Dir() Vec {
	dx, dy := float64(s.B.X-s.A.X), float64(s.B.Y-s.A.Y)
	l := math.Hypot(dx, dy)
	if l == 0 {
		return Vec{}
	}
	return Vec{dx / l, dy / l}
}

// Frame maps between the plan and a wall's own coordinates: u along Dir from
// Origin, v to the left of it.
type Frame struct {
	Origin Point `json:"origin"`
	Dir    Vec   `json:"dir"` // unit vector
}

// FrameOf returns the frame that starts at s.A and runs along s.
func FrameOf(s Segment) Frame { return Frame{s.A, s.Dir()} }

// Local returns the coordinates of p in the frame: X is u, Y is v.
func (f Frame) Local(p Point) Point {
	d := Vec{float64(p.X - f.Origin.X), float64(p.Y - f.Origin.Y)}
	return Point{Length(math.Round(d.Dot(f.Dir))), Length(math.Round(f.Dir.Cross(d)))}
}

// Global returns the plan point at u along and v to the left of the frame.
func (f Frame) Global(u, v Length) Point {
	n := f.Dir.Left()
	return Point{
		f.Origin.X + Length(math.Round(float64(u)*f.Dir.X+float64(v)*n.X)),
		f.Origin.Y + Length(math.Round(float64(u)*f.Dir.Y+float64(v)*n.Y)),
	}
}

// Interval is a stretch of one coordinate.
type Interval struct {
	From Length `json:"from"`
	To   Length `json:"to"`
}

// Len returns the interval's length.
func (i Interval) Len() Length { return i.To - i.From }

// Contains reports whether x lies in the interval, its ends included.
func (i Interval) Contains(x Length) bool { return i.From <= x && x <= i.To }

// Overlaps reports whether the two intervals share more than an end.
func (i Interval) Overlaps(j Interval) bool { return i.From < j.To && j.From < i.To }

// Rect is an upright rectangle.
type Rect struct{ Min, Max Point }

// Overlaps reports whether the two rectangles share any area or edge.
func (r Rect) Overlaps(o Rect) bool {
	return r.Min.X <= o.Max.X && o.Min.X <= r.Max.X && r.Min.Y <= o.Max.Y && o.Min.Y <= r.Max.Y
}

// Grow returns the rectangle with every side moved out by d.
func (r Rect) Grow(d Length) Rect {
	return Rect{Point{r.Min.X - d, r.Min.Y - d}, Point{r.Max.X + d, r.Max.Y + d}}
}

// Bounds returns the smallest rectangle around the points; the zero Rect for
// none.
func Bounds(points ...Point) Rect {
	if len(points) == 0 {
		return Rect{}
	}
	r := Rect{points[0], points[0]}
	for _, p := range points[1:] {
		r.Min.X, r.Min.Y = min(r.Min.X, p.X), min(r.Min.Y, p.Y)
		r.Max.X, r.Max.Y = max(r.Max.X, p.X), max(r.Max.Y, p.Y)
	}
	return r
}
