package shape

import (
	"math"
	"slices"

	"nogging/internal/exchange/ifc/step"
	"nogging/internal/words"
)

// errBent is told of faces on surfaces other than planes and cylinders.
var errBent = words.Err("a bent face of it is taken as flat")

// faces computes one IfcFace, IfcFaceSurface or IfcAdvancedFace: one flat face,
// or for part of a cylinder a flat one for each of its chords.
func (m *Model) faces(face step.ID, at Transform) ([]Face, error) {
	surface, _ := m.file.Arg(face, 1).Ref()
	if c, ok := m.cylinder(surface); ok {
		f, err := m.bounds(face, Identity)
		if err != nil {
			return nil, err
		}
		strips, err := m.chords(f, c)
		for _, s := range strips {
			for _, loop := range s {
				moveAll(loop, at)
			}
		}
		return strips, err
	}
	f, err := m.bounds(face, at)
	if t := m.file.Type(surface); err == nil && t != "IFCPLANE" && t != "" && len(f) > 0 && !f.flat() {
		err = errBent
	}
	return keep(f), err
}

// bounds computes the loops of a face.
func (m *Model) bounds(face step.ID, at Transform) (Face, error) {
	var f Face
	for _, bound := range m.file.Arg(face, 0).Refs() {
		if loop := m.bound(bound, at); len(loop) > 2 {
			f = append(f, loop)
		}
		if err := m.spend(1); err != nil {
			return nil, err
		}
	}
	return f, nil
}

func keep(f Face) []Face {
	if len(f) == 0 {
		return nil
	}
	return []Face{f}
}

// flat reports whether the points of a face lie in one plane.
func (f Face) flat() bool {
	n := f.normal().unit(Vec{})
	for _, loop := range f {
		for _, p := range loop {
			if math.Abs(p.Sub(f[0][0]).Dot(n)) > chordRise {
				return false
			}
		}
	}
	return true
}

// edge returns the points along an IfcOrientedEdge, its last point left out.
func (m *Model) edge(oriented step.ID) []Vec {
	args := m.file.Args(oriented)
	id, ok := args.At(2).Ref()
	if !ok {
		return nil
	}
	edge := m.file.Args(id)
	from, okFrom := m.vertex(edge.At(0))
	to, okTo := m.vertex(edge.At(1))
	if !okFrom || !okTo {
		return nil
	}
	points := m.edgeCurve(edge, from, to)
	if same, known := args.At(3).Bool(); known && !same {
		slices.Reverse(points)
	}
	return points[:len(points)-1]
}

// vertex returns the point of an IfcVertexPoint.
func (m *Model) vertex(v step.Value) (Vec, bool) {
	id, ok := v.Ref()
	if !ok {
		return Vec{}, false
	}
	return m.point(m.file.Arg(id, 0))
}

// edgeCurve returns the points of an IfcEdgeCurve from one vertex to the other;
// of curves that are not read, the vertices.
func (m *Model) edgeCurve(edge step.Args, from, to Vec) []Vec {
	ends := []Vec{from, to}
	basis := edge.At(2)
	id, ok := basis.Ref()
	if t := m.file.Type(id); t == "IFCSURFACECURVE" || t == "IFCINTERSECTIONCURVE" || t == "IFCSEAMCURVE" {
		basis = m.file.Arg(id, 0)
		id, ok = basis.Ref()
	}
	if !ok || m.spend(perItem) != nil {
		return ends
	}
	forward, known := edge.At(3).Bool()
	forward = forward || !known
	switch m.file.Type(id) {
	case "IFCLINE":
		return ends
	case "IFCCIRCLE", "IFCELLIPSE":
		k, err := m.conic(id, m.file.Args(id))
		if err != nil {
			return ends
		}
		a, b := k.angle(from), k.angle(to)
		if forward {
			ends = k.arc(a, after(b, a)).Points
		} else {
			ends = k.arc(a, -after(-b, -a)).Points
		}
		ends[0], ends[len(ends)-1] = from, to
	default:
		c, err := m.curve(basis, 0)
		if n := len(c.Points); err == nil && n > 1 {
			ends = c.Points
			if from.Sub(ends[0]).Len() > from.Sub(ends[n-1]).Len() {
				slices.Reverse(ends)
			}
		}
	}
	m.budget -= len(ends)
	return ends
}

// cylinder is a round surface about the z axis of a frame.
type cylinder struct {
	at Transform
	r  float64
}

// cylinder returns an IfcCylindricalSurface, or an IfcSurfaceOfLinearExtrusion
// of an arc.
func (m *Model) cylinder(surface step.ID) (cylinder, bool) {
	args := m.file.Args(surface)
	switch m.file.Type(surface) {
	case "IFCCYLINDRICALSURFACE":
		position, err := m.axisPlacement(args.At(0))
		r := m.length(args.At(1))
		return cylinder{position, r}, err == nil && r > tiny
	case "IFCSURFACEOFLINEAREXTRUSION":
		profile, ok := args.At(0).Ref()
		if !ok {
			break
		}
		position, err := m.axisPlacement(args.At(1))
		arc, errArc := m.curve(m.file.Arg(profile, 2), 0)
		upright := math.Abs(m.direction(args.At(2), Vec{Z: 1}).Z) > 0.999999
		n := len(arc.Points)
		if err != nil || errArc != nil || !upright || !arc.Curved || n < 3 {
			break
		}
		centre, ok := centreOf(arc.Points[0], arc.Points[n/2], arc.Points[n-1])
		r := arc.Points[0].Sub(centre).Len()
		for _, p := range arc.Points {
			ok = ok && math.Abs(p.Sub(centre).Len()-r) < onCircle
		}
		position.O = position.Point(centre)
		return cylinder{position, r}, ok
	}
	return cylinder{}, false
}

// unroll returns the angle about the axis, nearest to another, and the height
// along it.
func (c cylinder) unroll(p Vec, near float64) Vec {
	d := p.Sub(c.at.O)
	angle := math.Atan2(d.Dot(c.at.Y), d.Dot(c.at.X))
	return Vec{X: near + math.Remainder(angle-near, 2*math.Pi), Y: d.Dot(c.at.Z)}
}

func (c cylinder) roll(p Vec) Vec {
	sin, cos := math.Sincos(p.X)
	return c.at.Point(Vec{X: c.r * cos, Y: c.r * sin, Z: p.Y})
}

// chords divides a face that lies on a cylinder into flat strips, between the
// corners of its loops.
func (m *Model) chords(f Face, c cylinder) ([]Face, error) {
	if len(f) == 0 {
		return nil, nil
	}
	loops := c.unrolled(f)
	var cuts []float64
	for _, loop := range loops {
		for _, p := range loop {
			cuts = append(cuts, p.X)
		}
	}
	slices.Sort(cuts)
	cuts = slices.CompactFunc(cuts, func(a, b float64) bool { return math.Abs(a-b) < 1e-7 })
	var strips []Face
	for i := 1; i < len(cuts); i++ {
		for k, n := 0.0, math.Ceil((cuts[i]-cuts[i-1])/chordAngle-1e-6); k < n; k++ {
			step := (cuts[i] - cuts[i-1]) / n
			var strip Face
			for _, loop := range loops {
				if part := between(loop, cuts[i-1]+k*step, cuts[i-1]+(k+1)*step); len(part) > 2 {
					for j, p := range part {
						part[j] = c.roll(p)
					}
					strip = append(strip, part)
				}
			}
			strips = append(strips, keep(strip)...)
			if err := m.spend(4 + len(loops)); err != nil {
				return nil, err
			}
		}
	}
	return strips, nil
}

// unrolled returns the loops of a face on the cylinder as they lie when it is
// rolled out. Two loops that run all round make one between them.
func (c cylinder) unrolled(f Face) [][]Vec {
	var loops, round [][]Vec
	start := c.unroll(f[0][0], 0).X
	for _, loop := range f {
		var flat []Vec
		near := start
		for _, p := range loop {
			q := c.unroll(p, near)
			near = q.X
			flat = append(flat, q)
		}
		if end := c.unroll(loop[0], near); math.Abs(end.X-flat[0].X) > 1 {
			round = append(round, append(flat, end))
		} else {
			loops = append(loops, flat)
		}
	}
	if len(round) == 2 {
		a, b := round[0], round[1]
		if (a[len(a)-1].X > a[0].X) == (b[len(b)-1].X > b[0].X) {
			slices.Reverse(b)
		}
		turn := math.Round((a[len(a)-1].X-b[0].X)/(2*math.Pi)) * 2 * math.Pi
		for i := range b {
			b[i].X += turn
		}
		loops = append(loops, append(a, b...))
	}
	return loops
}

// between returns the part of a loop between two places along x. Where it comes
// apart, its pieces are joined along the edges.
func between(loop []Vec, from, to float64) []Vec {
	part := beyond(loop, from, 1)
	return beyond(part, to, -1)
}

// beyond returns the part of a loop on the side of a place to which sign points.
func beyond(loop []Vec, at, sign float64) []Vec {
	var part []Vec
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		dp, dq := sign*(p.X-at), sign*(q.X-at)
		if dp >= 0 {
			part = append(part, p)
		}
		if dp*dq < 0 {
			t := dp / (dp - dq)
			part = append(part, Vec{X: at, Y: p.Y + t*(q.Y-p.Y)})
		}
	}
	return part
}
