package own

import "math"

// Point is a place in mm off a wall's storey.
type Point [3]float64

// Box is a range of u, v and z in mm: along the wall from the start of its axis, to the
// left of it, and up from the storey. The zero value holds nothing.
type Box struct {
	Low  Point `json:"low"`
	High Point `json:"high"`
}

// NoBox holds nothing yet.
func NoBox() Box {
	inf := math.Inf(1)
	return Box{Point{inf, inf, inf}, Point{-inf, -inf, -inf}}
}

// Empty reports whether the box holds nothing.
func (b Box) Empty() bool { return !(b.Low[0] <= b.High[0]) }

// With returns the box that holds a point, too.
func (b Box) With(p Point) Box {
	for i := range p {
		b.Low[i], b.High[i] = min(b.Low[i], p[i]), max(b.High[i], p[i])
	}
	return b
}

// Join returns the box that holds both.
func (b Box) Join(o Box) Box { return b.With(o.Low).With(o.High) }

// Off returns how far the faces of two boxes are apart at most.
func (b Box) Off(o Box) float64 {
	off := 0.0
	for i := range b.Low {
		off = max(off, math.Abs(b.Low[i]-o.Low[i]), math.Abs(b.High[i]-o.High[i]))
	}
	return off
}

// Hole is an opening of a wall.
type Hole struct {
	ID string `json:"id"`
	Box
}

// Measured is where a wall stands in a model and how large it is there.
type Measured struct {
	Axis   [3]Point `json:"axis"`   // start, middle and end
	Layers float64  `json:"layers"` // thickness of the layers together; 0 where there are none
	Pieces int      `json:"pieces"` // of which its body is made; 0 where it has one of its own
	Body   *Box     `json:"body,omitempty"`
	Holes  []Hole   `json:"holes,omitempty"`
}

// Near is how far, in mm, measures may differ and be the same.
const Near = 0.1

// Frame is the frame in which boxes of a wall are measured: along its axis, or for a
// curved wall along the chord from its start to its end.
type Frame struct {
	Origin Point
	Dir    [2]float64
}

// FrameOf returns the frame of a wall's axis.
func FrameOf(axis [3]Point) Frame {
	dx, dy := axis[2][0]-axis[0][0], axis[2][1]-axis[0][1]
	long := math.Hypot(dx, dy)
	if !(long > Near) { // a whole circle
		return Frame{axis[0], [2]float64{1, 0}}
	}
	return Frame{axis[0], [2]float64{dx / long, dy / long}}
}

// Local returns a point of the storey in the frame; z stays.
func (f Frame) Local(p Point) Point {
	x, y := p[0]-f.Origin[0], p[1]-f.Origin[1]
	return Point{x*f.Dir[0] + y*f.Dir[1], f.Dir[0]*y - f.Dir[1]*x, p[2]}
}

// Global returns the point of the storey at u, v and z of the frame.
func (f Frame) Global(p Point) Point {
	return Point{f.Origin[0] + p[0]*f.Dir[0] - p[1]*f.Dir[1], f.Origin[1] + p[0]*f.Dir[1] + p[1]*f.Dir[0], p[2]}
}

// Length returns the distance in plan from the start of an axis to its end.
func (m *Measured) Length() float64 {
	return math.Hypot(m.Axis[2][0]-m.Axis[0][0], m.Axis[2][1]-m.Axis[0][1])
}

// Curved reports whether the axis is an arc.
func (m *Measured) Curved() bool {
	f := FrameOf(m.Axis)
	return math.Abs(f.Local(m.Axis[1])[1]) > Near
}

// AxisOff returns how far the ends or the middle of two axes are apart at most, up and
// down too.
func (m *Measured) AxisOff(o *Measured) float64 {
	off := 0.0
	for i := range m.Axis {
		p, q := m.Axis[i], o.Axis[i]
		off = max(off, math.Hypot(math.Hypot(p[0]-q[0], p[1]-q[1]), p[2]-q[2]))
	}
	return off
}

// farthest bounds coordinates that are reckoned with, in mm.
const farthest = 1e11

// Sane reports whether all measures can be reckoned with.
func (m *Measured) Sane() bool {
	points := m.Axis[:]
	if m.Body != nil {
		points = append(points[:len(points):len(points)], m.Body.Low, m.Body.High)
	}
	for _, h := range m.Holes {
		points = append(points[:len(points):len(points)], h.Low, h.High)
	}
	for _, p := range points {
		for _, v := range p {
			if !(math.Abs(v) < farthest) {
				return false
			}
		}
	}
	return true
}
