package dxf

import "math"

// vec is a point or direction of the drawing.
type vec struct{ x, y float64 }

func (v vec) add(w vec) vec       { return vec{v.x + w.x, v.y + w.y} }
func (v vec) sub(w vec) vec       { return vec{v.x - w.x, v.y - w.y} }
func (v vec) times(k float64) vec { return vec{v.x * k, v.y * k} }
func (v vec) dot(w vec) float64   { return v.x*w.x + v.y*w.y }
func (v vec) cross(w vec) float64 { return v.x*w.y - v.y*w.x }
func (v vec) length() float64     { return math.Hypot(v.x, v.y) }
func (v vec) dist(w vec) float64  { return v.sub(w).length() }
func (v vec) left() vec           { return vec{-v.y, v.x} }
func (v vec) mid(w vec) vec       { return v.add(w).times(0.5) }
func polar(r, angle float64) vec  { return vec{r * math.Cos(angle), r * math.Sin(angle)} }
func radians(deg float64) float64 { return deg * math.Pi / 180 }
func (v vec) angle() float64      { return math.Atan2(v.y, v.x) }
func (v vec) finite() bool        { return math.Abs(v.x) < 1e12 && math.Abs(v.y) < 1e12 } // false of NaN too

// affine places a block: p becomes x·p.x + y·p.y + o.
type affine struct{ x, y, o vec }

var identity = affine{x: vec{1, 0}, y: vec{0, 1}}

func (m affine) apply(p vec) vec { return m.turn(p).add(m.o) }

// turn maps a direction.
func (m affine) turn(p vec) vec { return m.x.times(p.x).add(m.y.times(p.y)) }

// after returns the map that does n first and m then.
func (m affine) after(n affine) affine { return affine{m.turn(n.x), m.turn(n.y), m.apply(n.o)} }

// mirrored reports whether the map turns left into right.
func (m affine) mirrored() bool { return m.x.cross(m.y) < 0 }

// even reports whether circles stay circles.
func (m affine) even() bool {
	a, b := m.x.length(), m.y.length()
	return math.Abs(a-b) <= 1e-6*max(a, b) && math.Abs(m.x.dot(m.y)) <= 1e-6*a*b
}

// ocs returns the map from an entity's own coordinates, given by its extrusion
// direction with the arbitrary axis rule, seen from above.
func ocs(r record) affine {
	nx, ny, nz := r.or(210, 0), r.or(220, 0), r.or(230, 1)
	l := math.Sqrt(nx*nx + ny*ny + nz*nz)
	if l == 0 || nx == 0 && ny == 0 && nz > 0 {
		return identity
	}
	nx, ny, nz = nx/l, ny/l, nz/l
	ax, ay, az := nz, 0.0, -nx // world y × n
	if math.Abs(nx) < 1.0/64 && math.Abs(ny) < 1.0/64 {
		// kept: world y × n
	} else {
		ax, ay, az = -ny, nx, 0 // world z × n
	}
	k := math.Sqrt(ax*ax + ay*ay + az*az)
	ax, ay, az = ax/k, ay/k, az/k
	bx, by := ny*az-nz*ay, nz*ax-nx*az // n × a
	z := r.or(38, r.float(30))
	return affine{vec{ax, ay}, vec{bx, by}, vec{nx * z, ny * z}}
}

// arc is a part of a circle: from is the angle of its start, sweep how far it turns,
// to the left where positive.
type arc struct {
	centre      vec
	radius      float64
	from, sweep float64
}

func (a arc) at(share float64) vec { return a.centre.add(polar(a.radius, a.from+a.sweep*share)) }

// points returns the arc as a line with corners, from start to end.
func (a arc) points() []vec {
	n := max(2, int(math.Ceil(math.Abs(a.sweep)/radians(7.5))))
	out := make([]vec, n+1)
	for i := range out {
		out[i] = a.at(float64(i) / float64(n))
	}
	return out
}

// mapped returns the arc after an even map.
func (a arc) mapped(m affine) arc {
	c := m.apply(a.centre)
	b := arc{centre: c, radius: a.radius * m.x.length(), from: m.apply(a.at(0)).sub(c).angle(), sweep: a.sweep}
	if m.mirrored() {
		b.sweep = -a.sweep
	}
	return b
}

// bulged returns the arc between two corners of a polyline; the bulge is the tangent
// of a quarter of the angle that it turns, to the left where positive.
func bulged(p, q vec, bulge float64) arc {
	sweep := 4 * math.Atan(bulge)
	chord := q.sub(p)
	centre := p.mid(q).add(chord.left().times((1 - bulge*bulge) / (4 * bulge)))
	return arc{centre, p.dist(centre), p.sub(centre).angle(), sweep}
}
