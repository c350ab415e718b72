package shape

import (
	"cmp"
	"math"
	"slices"
)

// Frame is a wall's own frame: u along its line from Origin, v to the left of
// it, z up from the project's zero. The line is straight, or an arc; then u is
// measured along the arc, whatever v is.
type Frame struct {
	Origin Vec
	Dir    Vec     // of the line at Origin; level and of length 1
	Radius float64 // of an arc: above 0 where it turns left, below 0 where it turns right; 0 of a straight line
	Middle float64 // of an arc: u of its middle; u of other places lies within half a turn of it
}

// Curved reports whether the line is an arc.
func (f Frame) Curved() bool { return f.Radius != 0 }

// left returns the direction to the left of the line at Origin.
func (f Frame) left() Vec { return Vec{X: -f.Dir.Y, Y: f.Dir.X} }

// Local returns a point in the frame: X is u, Y is v, Z stays.
func (f Frame) Local(p Vec) Vec {
	d := p.Sub(f.Origin)
	x, y := d.X*f.Dir.X+d.Y*f.Dir.Y, f.Dir.X*d.Y-f.Dir.Y*d.X
	if !f.Curved() {
		return Vec{x, y, p.Z}
	}
	// The centre lies at x = 0, y = Radius.
	side := math.Copysign(1, f.Radius)
	u := f.Radius * math.Atan2(side*x, side*(f.Radius-y))
	u = f.Middle + math.Remainder(u-f.Middle, 2*math.Pi*math.Abs(f.Radius))
	return Vec{u, side * (math.Abs(f.Radius) - math.Hypot(x, f.Radius-y)), p.Z}
}

// Global returns the point that lies at u, v and z in the frame.
func (f Frame) Global(u, v, z float64) Vec {
	if f.Curved() {
		sin, cos := math.Sincos(u / f.Radius)
		r := f.Radius - v
		u, v = r*sin, f.Radius-r*cos
	}
	return Vec{f.Origin.X + u*f.Dir.X - v*f.Dir.Y, f.Origin.Y + u*f.Dir.Y + v*f.Dir.X, z}
}

// At returns the frame of the line that runs at v beside this one, with its
// origin at u and z.
func (f Frame) At(u, v, z float64) Frame {
	g := f
	g.Origin = f.Global(u, v, z)
	if f.Curved() {
		sin, cos := math.Sincos(u / f.Radius)
		g.Dir = f.Dir.Times(cos).Add(f.left().Times(sin))
		g.Radius = f.Radius - v
		g.Middle = (f.Middle - u) * g.Radius / f.Radius
	}
	return g
}

// Reversed returns the frame of the same line run from u back to its start.
func (f Frame) Reversed(u float64) Frame {
	g := f.At(u, 0, f.Origin.Z)
	g.Dir = g.Dir.Times(-1)
	g.Radius, g.Middle = -g.Radius, -g.Middle
	return g
}

// ArcThrough returns the frame of the arc on which points of a level curve lie,
// from the first to the last, and its length. Points may lie off it by a
// tolerance in mm; ok is false where one lies farther off, where there are
// fewer than three, and where the curve is closed.
func ArcThrough(points []Vec, tolerance float64) (f Frame, length float64, ok bool) {
	n := len(points)
	if n < 3 {
		return Frame{}, 0, false
	}
	a, b, c := points[0], points[n/2], points[n-1]
	centre, ok := centreOf(a, b, c)
	if !ok {
		return Frame{}, 0, false
	}
	out := a.Sub(centre)
	radius := math.Hypot(out.X, out.Y)
	sweep := 0.0
	for i, p := range points {
		d := p.Sub(centre)
		if math.Abs(math.Hypot(d.X, d.Y)-radius) > tolerance {
			return Frame{}, 0, false
		}
		if i > 0 {
			q := points[i-1].Sub(centre)
			sweep += math.Atan2(q.X*d.Y-q.Y*d.X, q.X*d.X+q.Y*d.Y)
		}
	}
	if math.Abs(sweep) > 1.99*math.Pi {
		return Frame{}, 0, false
	}
	side := math.Copysign(1, sweep)
	f = Frame{Origin: a, Dir: Vec{X: -out.Y * side / radius, Y: out.X * side / radius}, Radius: side * radius}
	length = radius * math.Abs(sweep)
	f.Middle = length / 2
	return f, length, true
}

// centreOf returns the centre, in plan, of the circle through three points.
func centreOf(a, b, c Vec) (Vec, bool) {
	p, q := b.Sub(a), c.Sub(a)
	cross := 2 * (p.X*q.Y - p.Y*q.X)
	pp, qq := p.X*p.X+p.Y*p.Y, q.X*q.X+q.Y*q.Y
	if math.Abs(cross) <= 1e-7*qq {
		return Vec{}, false
	}
	return a.Add(Vec{X: (q.Y*pp - p.Y*qq) / cross, Y: (p.X*qq - q.X*pp) / cross}), true
}

// Along returns the points of the frame's line between two places, near enough
// to each other that chords stay within a tolerance of the arc.
func (f Frame) Along(from, to, tolerance float64) []Vec {
	n := 1
	if f.Curved() {
		step := max(2*math.Acos(1-min(tolerance/math.Abs(f.Radius), 1)), leastStep)
		n = max(2, int(math.Ceil(min(math.Abs((to-from)/f.Radius)/step, 1000))))
	}
	points := make([]Vec, 0, n+1)
	for i := 0; i <= n; i++ {
		points = append(points, f.Global(from+(to-from)*float64(i)/float64(n), 0, f.Origin.Z))
	}
	return points
}

// runsAlong reports whether a face of a body runs along the frame's line, at
// which v, and over which area. Of a face that is a chord of an arc, that is the
// v of its ends.
func (f Frame) runsAlong(face Face) (v, area float64, ok bool) {
	n := face.normal()
	area = n.Len()
	if area < 1 {
		return 0, 0, false
	}
	if !f.Curved() {
		return f.Local(face[0][0]).Y, area, math.Abs(f.Dir.X*n.Y-f.Dir.Y*n.X) >= 0.999*area
	}
	box := Empty
	for _, p := range face[0] {
		box = box.Add(f.Local(p))
	}
	size := box.Size()
	rise := math.Abs(f.Radius) * (1 - math.Cos(min(size.X/math.Abs(f.Radius)/2, math.Pi/2)))
	v = box.Min.Y
	if f.Radius < 0 {
		v = box.Max.Y
	}
	return v, area, math.Abs(n.Z) < 0.1*area && size.X > 1 && size.X < widestChord*math.Abs(f.Radius) && size.Y <= 1.1*rise+0.5
}

// widestChord is the angle over which a flat face may stand for a part of an arc.
const widestChord = math.Pi / 4

// mostPanels bounds the flat panels into which an arc is divided.
const mostPanels = 400

// panels divides a curved line for sections of a body: at the ends of the
// body's own chords, which lie farthest from the centre, and where these leave
// wide gaps.
func (f Frame) panels(solids []*Solid) []float64 {
	const widest = math.Pi / 8
	farthest := 0.0
	side := math.Copysign(1, f.Radius)
	from, to := math.Inf(1), math.Inf(-1)
	var all []Vec
	for p := range Points(solids) {
		l := f.Local(p)
		all = append(all, l)
		farthest = max(farthest, -side*l.Y)
		from, to = min(from, l.X), max(to, l.X)
	}
	us := []float64{from, to}
	for _, l := range all {
		if -side*l.Y > farthest-0.5 {
			us = append(us, l.X)
		}
	}
	slices.SortFunc(us, cmp.Compare)
	least := max(1, (to-from)/mostPanels)
	panels := us[:0:0]
	for _, u := range us {
		n := len(panels)
		switch {
		case n == 0:
		case u-panels[n-1] < least:
			continue
		default:
			last := panels[n-1]
			for k, parts := 1.0, math.Ceil((u-last)/(widest*math.Abs(f.Radius))); k < parts; k++ {
				panels = append(panels, last+(u-last)*k/parts)
			}
		}
		panels = append(panels, u)
	}
	if n := len(panels); n > 0 && panels[n-1] < to {
		panels = append(panels, to)
	}
	return panels
}

// maxTurn is the angle by which the chords of an arc turn at most, from one to
// the next: an outline with wider corners is none of an arc.
const maxTurn = math.Pi / 5

// onCircle is how far corners may lie off the circle that they stand for, in mm.
const onCircle = 0.5

// arcsOf finds the runs of an outline's corners that are chords of arcs, three
// chords or more.
func arcsOf(ring []Vec) []arcRun {
	n := len(ring)
	at := func(i int) Vec { return ring[i%n] }
	bent := func(i int) bool { // whether an arc may go on at a corner
		a, b := at(i+n).Sub(at(i+n-1)), at(i+1).Sub(at(i))
		return math.Abs(math.Atan2(a.X*b.Y-a.Y*b.X, a.X*b.X+a.Y*b.Y)) < maxTurn
	}
	start := 0
	for start < n && bent(start) {
		start++
	}
	var runs []arcRun
	for i := start; i < start+n; {
		centre, ok := centreOf(at(i), at(i+1), at(i+2))
		end := i + 1
		if ok {
			r := math.Hypot(at(i).X-centre.X, at(i).Y-centre.Y)
			for end < start+n && bent(end) && math.Abs(math.Hypot(at(end+1).X-centre.X, at(end+1).Y-centre.Y)-r) <= onCircle {
				end++
			}
		}
		if end-i >= fewestChords {
			run := make([]Vec, 0, end-i+1)
			for k := i; k <= end; k++ {
				run = append(run, at(k))
			}
			if f, length, ok := ArcThrough(run, onCircle); ok {
				runs = append(runs, arcRun{f, length, run})
			}
			i = end
			continue
		}
		i++
	}
	return runs
}

// arcRun is a part of an outline that is an arc.
type arcRun struct {
	frame  Frame
	length float64
	points []Vec
}

// ArcBetween finds the arc that runs in the middle between two concentric arcs
// of an outline, as a curved wall's footprint has them, and how long about it is.
// It turns left.
func ArcBetween(ring []Vec) (f Frame, length float64, ok bool) {
	if len(ring) > maxSection {
		return Frame{}, 0, false
	}
	runs := arcsOf(ring)
	slices.SortStableFunc(runs, func(a, b arcRun) int { return cmp.Compare(b.length, a.length) })
	for i, outer := range runs {
		f := outer.frame
		if f.Radius < 0 {
			f = f.Reversed(outer.length)
		}
		for _, inner := range runs[i+1:] {
			box := Empty
			for _, p := range inner.points {
				box = box.Add(f.Local(p))
			}
			if size := box.Size(); size.Y <= 2*onCircle && box.Min.Y > onCircle && size.X > outer.length/2 {
				return f.At(0, (box.Min.Y+box.Max.Y)/2, f.Origin.Z), (outer.length + inner.length) / 2, true
			}
		}
	}
	return Frame{}, 0, false
}

// wedges tell between which u of an arc the faces of leaves lie.
type wedges map[*Solid][][2]float64

// widestWedge is the angle up to which a face surely lies between the u of its
// corners.
const widestWedge = 1.0

// add finds where the faces of a solid lie.
func (w wedges) add(s *Solid, f Frame) {
	switch s.op {
	case halfSpace:
		return
	case leaf:
	default:
		w.add(s.first, f)
		w.add(s.second, f)
		return
	}
	for _, face := range s.Faces {
		at := [2]float64{math.Inf(1), math.Inf(-1)}
		for _, loop := range face {
			for _, p := range loop {
				u := f.Local(p).X
				at[0], at[1] = min(at[0], u), max(at[1], u)
			}
		}
		if at[1]-at[0] > widestWedge*math.Abs(f.Radius) {
			at = [2]float64{math.Inf(-1), math.Inf(1)} // it may lie across the centre, or where u begins anew
		}
		w[s] = append(w[s], at)
	}
}

// between returns a solid with only those of its faces that reach between two
// places of the arc.
func (w wedges) between(s *Solid, from, to float64) *Solid {
	switch s.op {
	case halfSpace:
		return s
	case leaf:
	default:
		return &Solid{op: s.op, first: w.between(s.first, from, to), second: w.between(s.second, from, to)}
	}
	near := &Solid{}
	for i, at := range w[s] {
		if at[0] <= to+1 && at[1] >= from-1 {
			near.Faces = append(near.Faces, s.Faces[i])
		}
	}
	return near
}
