package shape

import (
	"math"

	"nogging/internal/exchange/ifc/step"
)

// chordAngle is the angle that one chord of an arc spans at most, and chordRise
// how far it may lie off the arc, in mm.
const (
	chordAngle = math.Pi / 24
	chordRise  = 1.0
)

// Curve is a curve as a run of chords.
type Curve struct {
	Points []Vec
	Curved bool // whether any part of it is no straight line
}

// curve computes a bounded curve. Consecutive equal points are dropped.
func (m *Model) curve(v step.Value, depth int) (Curve, error) {
	id, ok := v.Ref()
	if !ok || depth > maxDepth {
		return Curve{}, ErrBroken
	}
	if err := m.spend(perItem); err != nil {
		return Curve{}, err
	}
	var c Curve
	var err error
	switch args := m.file.Args(id); m.file.Type(id) {
	case "IFCPOLYLINE":
		for item := range args.At(0).Items() {
			if p, ok := m.point(item); ok {
				c.Points = append(c.Points, p)
			}
		}
	case "IFCINDEXEDPOLYCURVE":
		c, err = m.indexedCurve(args)
	case "IFCCOMPOSITECURVE", "IFCCOMPOSITECURVEONSURFACE", "IFCBOUNDARYCURVE", "IFCOUTERBOUNDARYCURVE":
		c, err = m.compositeCurve(args, depth)
	case "IFCTRIMMEDCURVE":
		c, err = m.trimmedCurve(args, depth)
	case "IFCCIRCLE", "IFCELLIPSE":
		var conic conic
		if conic, err = m.conic(id, args); err == nil {
			c = conic.arc(0, 2*math.Pi)
		}
	case "IFCBSPLINECURVEWITHKNOTS":
		c, err = m.spline(args, false)
	case "IFCRATIONALBSPLINECURVEWITHKNOTS":
		c, err = m.spline(args, true)
	default:
		err = ErrUnsupported
	}
	if err == nil {
		err = m.spend(len(c.Points))
	}
	if err != nil {
		return Curve{}, m.fail(id, err)
	}
	c.Points = distinct(c.Points)
	return c, nil
}

// distinct drops points that repeat the one before.
func distinct(points []Vec) []Vec {
	kept := points[:0]
	for _, p := range points {
		if len(kept) == 0 || p.Sub(kept[len(kept)-1]).Len() > tiny {
			kept = append(kept, p)
		}
	}
	return kept
}

// tiny is the distance in millimetres under which points are the same: well
// below what anybody draws, well above the noise of exporters.
const tiny = 1e-4

// indexedCurve computes an IfcIndexedPolyCurve.
func (m *Model) indexedCurve(args step.Args) (Curve, error) {
	list, ok := args.At(0).Ref()
	if !ok {
		return Curve{}, ErrBroken
	}
	points, err := m.pointList(list)
	if err != nil {
		return Curve{}, err
	}
	if !args.At(1).IsList() {
		return Curve{Points: points}, nil
	}
	var c Curve
	for item := range args.At(1).Items() {
		kind, indices := item.Typed()
		var run []Vec
		for n := range indices.Items() {
			i, _ := n.Int()
			if i < 1 || i > len(points) {
				return Curve{}, ErrBroken
			}
			run = append(run, points[i-1])
		}
		if kind == "IFCARCINDEX" && len(run) == 3 {
			c.Curved = true
			run = arcThrough(run[0], run[1], run[2])
		}
		c.Points = append(c.Points, run...)
		if err := m.spend(len(run)); err != nil {
			return Curve{}, err
		}
	}
	return c, nil
}

// pointList returns the points of an IfcCartesianPointList2D or 3D.
func (m *Model) pointList(id step.ID) ([]Vec, error) {
	var points []Vec
	for item := range m.file.Arg(id, 0).Items() {
		p, n := vector(item)
		if n < 2 {
			return nil, m.fail(id, ErrBroken)
		}
		points = append(points, p.Times(m.units.Length))
	}
	return points, m.spend(len(points))
}

// arcThrough returns the arc from a through b to c, in the plane of x and y.
func arcThrough(a, b, c Vec) []Vec {
	centre, ok := centreOf(a, b, c)
	if !ok {
		return []Vec{a, b, c}
	}
	k := conic{at: Transform{X: Vec{X: 1}, Y: Vec{Y: 1}, Z: Vec{Z: 1}, O: centre}}
	k.rx = a.Sub(centre).Len()
	k.ry = k.rx
	from, to := k.angle(a), k.angle(c)
	if turn(a, b, c) > 0 {
		return k.arc(from, after(to, from)).Points
	}
	return k.arc(from, -after(-to, -from)).Points
}

// after returns the angle a, with as many turns added as put it behind b.
func after(a, b float64) float64 {
	for a <= b+1e-9 {
		a += 2 * math.Pi
	}
	for a > b+2*math.Pi+1e-9 {
		a -= 2 * math.Pi
	}
	return a
}

// compositeCurve joins the segments of an IfcCompositeCurve.
func (m *Model) compositeCurve(args step.Args, depth int) (Curve, error) {
	var c Curve
	for _, id := range args.At(0).Refs() {
		segment := m.file.Args(id)
		part, err := m.curve(segment.At(2), depth+1)
		if err != nil {
			return Curve{}, err
		}
		if same, known := segment.At(1).Bool(); known && !same {
			reverse(part.Points)
		}
		c.Points = append(c.Points, part.Points...)
		c.Curved = c.Curved || part.Curved
	}
	return c, nil
}

func reverse(points []Vec) {
	for i, j := 0, len(points)-1; i < j; i, j = i+1, j-1 {
		points[i], points[j] = points[j], points[i]
	}
}

// trim is one end of an IfcTrimmedCurve.
type trim struct {
	at       Vec
	hasPoint bool
	t        float64
	hasT     bool
}

func (m *Model) trim(set step.Value) trim {
	var t trim
	for item := range set.Items() {
		if p, ok := m.point(item); ok {
			t.at, t.hasPoint = p, true
		} else if x, ok := item.Real(); ok {
			t.t, t.hasT = x, true
		}
	}
	return t
}

// trimmedCurve computes an IfcTrimmedCurve on a line, a circle or an ellipse;
// on any other curve the trimming is left out.
func (m *Model) trimmedCurve(args step.Args, depth int) (Curve, error) {
	basis, ok := args.At(0).Ref()
	if !ok {
		return Curve{}, ErrBroken
	}
	from, to := m.trim(args.At(1)), m.trim(args.At(2))
	forward, known := args.At(3).Bool()
	forward = forward || !known
	switch of := m.file.Args(basis); m.file.Type(basis) {
	case "IFCLINE":
		return m.trimmedLine(of, from, to)
	case "IFCCIRCLE", "IFCELLIPSE":
		k, err := m.conic(basis, of)
		if err != nil {
			return Curve{}, err
		}
		byPoints := args.At(4).Enum() == "CARTESIAN"
		a, okA := k.trimAngle(from, m.units.Angle, byPoints)
		b, okB := k.trimAngle(to, m.units.Angle, byPoints)
		if !okA || !okB {
			return Curve{}, ErrBroken
		}
		if forward {
			return k.arc(a, after(b, a)), nil
		}
		return k.arc(a, -after(-b, -a)), nil
	}
	return m.curve(args.At(0), depth+1)
}

func (m *Model) trimmedLine(line step.Args, ends ...trim) (Curve, error) {
	at, okAt := m.point(line.At(0))
	vec, okVec := line.At(1).Ref()
	if !okAt || !okVec {
		return Curve{}, ErrBroken
	}
	step := m.direction(m.file.Arg(vec, 0), Vec{X: 1}).Times(m.length(m.file.Arg(vec, 1)))
	var c Curve
	for _, end := range ends {
		switch {
		case end.hasPoint:
			c.Points = append(c.Points, end.at)
		case end.hasT:
			c.Points = append(c.Points, at.Add(step.Times(end.t)))
		default:
			return Curve{}, ErrBroken
		}
	}
	return c, nil
}

// conic is a circle or an ellipse.
type conic struct {
	at     Transform
	rx, ry float64
}

func (m *Model) conic(id step.ID, args step.Args) (conic, error) {
	at, err := m.axisPlacement(args.At(0))
	k := conic{at: at, rx: m.length(args.At(1))}
	k.ry = k.rx
	if m.file.Type(id) == "IFCELLIPSE" {
		k.ry = m.length(args.At(2))
	}
	if err == nil && !(k.rx > tiny && k.ry > tiny) {
		err = ErrBroken
	}
	return k, err
}

// angle returns the parameter of a point on or near the conic.
func (k conic) angle(p Vec) float64 {
	d := p.Sub(k.at.O)
	return math.Atan2(d.Dot(k.at.Y)/k.ry, d.Dot(k.at.X)/k.rx)
}

func (k conic) trimAngle(t trim, unit float64, byPoint bool) (float64, bool) {
	switch {
	case byPoint && t.hasPoint:
		return k.angle(t.at), true
	case t.hasT && math.Abs(t.t*unit) < 1e4:
		return t.t * unit, true
	case t.hasPoint:
		return k.angle(t.at), true
	}
	return 0, false
}

// fewestChords stand for any arc, so that it is known again in an outline.
const fewestChords = 3

// leastStep is the least angle of a chord: less is lost in rounding.
const leastStep = 1e-7

// chordsOf returns the number of chords that stand for an arc.
func chordsOf(radius, angle float64) int {
	step := chordAngle
	if radius > chordRise {
		step = min(step, max(2*math.Acos(1-chordRise/radius), leastStep))
	}
	return max(int(math.Ceil(min(math.Abs(angle)/step, 1000))), fewestChords)
}

// arc returns the part between two angles as chords.
func (k conic) arc(from, to float64) Curve {
	n := chordsOf(max(k.rx, k.ry), to-from)
	c := Curve{Curved: true}
	for i := 0; i <= n; i++ {
		sin, cos := math.Sincos(from + (to-from)*float64(i)/float64(n))
		c.Points = append(c.Points, k.at.Point(Vec{X: k.rx * cos, Y: k.ry * sin}))
	}
	return c
}
