package geom

import (
	"math"
	"slices"
)

// Arc is part of a circle. Its own coordinates are u along it from its start
// and v to the left of it, as in a Frame.
//
// Centre and radius are whole nanometres. Every length and coordinate that
// follows from them is reckoned in floating point and rounded once, half away
// from zero, so that points lie within a nanometre or two of the circle.
type Arc struct {
	Centre Point   `json:"centre"`
	Radius Length  `json:"radius"`
	From   float64 `json:"from"`  // direction from the centre to the start, in radians counter-clockwise from x
	Sweep  float64 `json:"sweep"` // in radians; above 0 for an arc that turns left, below 0 for one that turns right
}

// flattest is the least rise of three points over their line, as a share of
// its length, from which a circle is drawn: below it the centre would be lost
// in rounding.
const flattest = 1e-7

// ArcThrough returns the arc from a to b that passes through via, or false if
// the three lie on one line or not apart.
func ArcThrough(a, via, b Point) (Arc, bool) {
	p := Vec{float64(via.X - a.X), float64(via.Y - a.Y)}
	q := Vec{float64(b.X - a.X), float64(b.Y - a.Y)}
	pp, qq, area := p.Dot(p), q.Dot(q), p.Cross(q)
	if pp == 0 || qq == 0 || math.Abs(area) < flattest*qq {
		return Arc{}, false
	}
	// The circle through the origin, p and q (closed form of the circumcentre).
	c := Vec{(pp*q.Y - qq*p.Y) / (2 * area), (qq*p.X - pp*q.X) / (2 * area)}
	arc := Arc{
		Centre: Point{a.X + Length(math.Round(c.X)), a.Y + Length(math.Round(c.Y))},
		Radius: Length(math.Round(math.Hypot(c.X, c.Y))),
		From:   math.Atan2(-c.Y, -c.X),
	}
	end := math.Atan2(q.Y-c.Y, q.X-c.X)
	arc.Sweep = math.Mod(end-arc.From+4*math.Pi, 2*math.Pi)
	if area > 0 { // via lies to the right of the chord: the arc turns left
		return arc, arc.Sweep > 0
	}
	arc.Sweep -= 2 * math.Pi
	return arc, arc.Sweep < 0
}

// turn is 1 for an arc that turns left, -1 for one that turns right.
func (a Arc) turn() float64 { return math.Copysign(1, a.Sweep) }

// Length returns the length along the arc.
func (a Arc) Length() Length { return Length(math.Round(float64(a.Radius) * math.Abs(a.Sweep))) }

// RadiusAt returns the radius of the line at v to the left of the arc; 0 or
// less beyond the centre.
func (a Arc) RadiusAt(v Length) Length { return a.Radius - Length(a.turn())*v }

// Offset returns the arc at v to the left, with the same centre and sweep.
func (a Arc) Offset(v Length) Arc {
	a.Radius = a.RadiusAt(v)
	return a
}

// Along returns how long the stretch from the start to u is on the line at v to
// the left: u times the radius there over the arc's own. Differences of it tile
// exactly.
func (a Arc) Along(u, v Length) Length {
	return Length(math.Round(float64(u) * (float64(a.RadiusAt(v)) / float64(a.Radius))))
}

// angle returns the direction from the centre to the point at u.
func (a Arc) angle(u Length) float64 { return a.From + a.turn()*float64(u)/float64(a.Radius) }

// Global returns the plan point at u along and v to the left of the arc.
func (a Arc) Global(u, v Length) Point {
	sin, cos := math.Sincos(a.angle(u))
	r := float64(a.RadiusAt(v))
	return Point{a.Centre.X + Length(math.Round(r*cos)), a.Centre.Y + Length(math.Round(r*sin))}
}

// Local returns the coordinates of p: X is u, Y is v. Of the places a full turn
// apart it gives the one nearest to the arc's middle, so u lies before the
// start or beyond the end for points there.
func (a Arc) Local(p Point) Point {
	dx, dy := float64(p.X-a.Centre.X), float64(p.Y-a.Centre.Y)
	middle := a.From + a.Sweep/2
	off := math.Remainder(math.Atan2(dy, dx)-middle, 2*math.Pi)
	u := float64(a.Radius) * (a.turn()*off + math.Abs(a.Sweep)/2)
	return Point{Length(math.Round(u)), Length(math.Round(a.turn() * (float64(a.Radius) - math.Hypot(dx, dy))))}
}

// Dir returns the direction in which the arc runs at u, a unit vector.
func (a Arc) Dir(u Length) Vec {
	sin, cos := math.Sincos(a.angle(u))
	return Vec{-a.turn() * sin, a.turn() * cos}
}

// Tangent returns the frame that touches the arc at u, with its origin at the
// arc's start measured back along the tangent: near u its coordinates are those
// of the arc.
func (a Arc) Tangent(u Length) Frame {
	d, at := a.Dir(u), a.Global(u, 0)
	f := Frame{at, d}
	f.Origin = f.Global(-u, 0)
	return f
}

// Nearest returns the u of the arc's own point that is nearest to p.
func (a Arc) Nearest(p Point) Length { return min(max(a.Local(p).X, 0), a.Length()) }

// Chord returns the straight distance between two points of the arc that lie
// the given length apart along it.
func (a Arc) Chord(along Length) Length {
	return Length(math.Round(2 * float64(a.Radius) * math.Sin(float64(along)/(2*float64(a.Radius)))))
}

// Rise returns the height of the arc over the chord of a stretch of the given
// length.
func (a Arc) Rise(along Length) Length {
	return Length(math.Round(float64(a.Radius) * (1 - math.Cos(float64(along)/(2*float64(a.Radius))))))
}

// Under returns the length along the arc over a chord of the given length, for
// chords up to the diameter.
func (a Arc) Under(chord Length) Length {
	half := min(1, float64(chord)/(2*float64(a.Radius)))
	return Length(math.Round(2 * float64(a.Radius) * math.Asin(half)))
}

// Points returns points along the stretch of the line at v to the left, its ends
// included, close enough that the straight lines between them stay within the
// tolerance of it.
func (a Arc) Points(stretch Interval, v, tolerance Length) []Point {
	r := float64(a.RadiusAt(v).Abs())
	step := math.Pi / 8
	if t := float64(tolerance) / r; t > 0 && t < 1 {
		step = min(step, 2*math.Acos(1-t))
	}
	n := max(1, int(math.Ceil(float64(stretch.Len().Abs())/float64(a.Radius)/step)))
	points := make([]Point, 0, n+1)
	for i := range n {
		points = append(points, a.Global(stretch.From+stretch.Len()*Length(i)/Length(n), v))
	}
	return append(points, a.Global(stretch.To, v))
}

// Bounds returns the smallest upright rectangle around the arc.
func (a Arc) Bounds() Rect {
	points := []Point{a.Global(0, 0), a.Global(a.Length(), 0)}
	for _, d := range []Point{{1, 0}, {0, 1}, {-1, 0}, {0, -1}} {
		p := Point{a.Centre.X + d.X*a.Radius, a.Centre.Y + d.Y*a.Radius}
		if u := a.Local(p).X; u >= 0 && u <= a.Length() {
			points = append(points, p)
		}
	}
	return Bounds(points...)
}

// Crossings returns where a segment crosses the arc, as u along the arc,
// ascending; ends that touch count.
func (a Arc) Crossings(s Segment) []Length {
	var us []Length
	length := s.Length()
	for _, p := range CircleLine(a.Centre, a.Radius, s.A, s.Dir()) {
		along := FrameOf(s).Local(p).X
		if u := a.Local(p).X; along >= 0 && along <= length && u >= 0 && u <= a.Length() {
			us = append(us, u)
		}
	}
	slices.Sort(us)
	return us
}

// CircleLine returns where the line through p in direction d, a unit vector,
// meets a circle: two points in the order in which the line passes them, or none.
func CircleLine(centre Point, radius Length, p Point, d Vec) []Point {
	w := Vec{float64(centre.X - p.X), float64(centre.Y - p.Y)}
	foot, off := w.Dot(d), d.Cross(w)
	rest := float64(radius)*float64(radius) - off*off
	if rest < 0 || d == (Vec{}) {
		return nil
	}
	half := math.Sqrt(rest)
	f := Frame{p, d}
	return []Point{f.Global(Length(math.Round(foot-half)), 0), f.Global(Length(math.Round(foot+half)), 0)}
}

// CircleCircle returns where two circles meet: two points, or none.
func CircleCircle(c Point, r Length, o Point, q Length) []Point {
	d := Vec{float64(o.X - c.X), float64(o.Y - c.Y)}
	dist := math.Hypot(d.X, d.Y)
	if dist == 0 {
		return nil
	}
	along := (dist*dist + float64(r)*float64(r) - float64(q)*float64(q)) / (2 * dist)
	rest := float64(r)*float64(r) - along*along
	if rest < 0 {
		return nil
	}
	f := Frame{c, Vec{d.X / dist, d.Y / dist}}
	u, v := Length(math.Round(along)), Length(math.Round(math.Sqrt(rest)))
	return []Point{f.Global(u, -v), f.Global(u, v)}
}
