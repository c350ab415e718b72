package shape

import (
	"cmp"
	"math"
	"slices"

	"nogging/internal/exchange/ifc/step"
)

// area is a flat outline with holes, in the plane of x and y.
type area struct {
	outer []Vec
	holes [][]Vec
}

// profile computes the areas of an IfcProfileDef: one, but for composite
// profiles.
func (m *Model) profile(v step.Value, depth int) ([]area, error) {
	id, ok := v.Ref()
	if !ok || depth > maxDepth {
		return nil, ErrBroken
	}
	if err := m.spend(perItem); err != nil {
		return nil, err
	}
	args := m.file.Args(id)
	var areas []area
	var err error
	switch m.file.Type(id) {
	case "IFCARBITRARYCLOSEDPROFILEDEF", "IFCARBITRARYPROFILEDEFWITHVOIDS":
		areas, err = m.drawnProfile(args, depth)
	case "IFCCENTERLINEPROFILEDEF":
		areas, err = m.centreLine(args, depth)
	case "IFCCOMPOSITEPROFILEDEF":
		for item := range args.At(2).Items() {
			parts, err := m.profile(item, depth+1)
			if err != nil {
				return nil, err
			}
			areas = append(areas, parts...)
		}
	case "IFCDERIVEDPROFILEDEF", "IFCMIRROREDPROFILEDEF":
		areas, err = m.derivedProfile(id, args, depth)
	default:
		areas, err = m.formedProfile(id, args)
	}
	if err == nil {
		err = sound(areas)
	}
	if err != nil {
		return nil, m.fail(id, err)
	}
	return areas, nil
}

// sound checks that every outline has three corners or more.
func sound(areas []area) error {
	if len(areas) == 0 {
		return ErrBroken
	}
	for _, a := range areas {
		if len(a.outer) < 3 {
			return ErrBroken
		}
	}
	return nil
}

func (m *Model) drawnProfile(args step.Args, depth int) ([]area, error) {
	outer, err := m.loop(args.At(2), depth)
	if err != nil {
		return nil, err
	}
	a := area{outer: outer}
	for item := range args.At(3).Items() {
		hole, err := m.loop(item, depth)
		if err != nil {
			return nil, err
		}
		if len(hole) > 2 {
			a.holes = append(a.holes, hole)
		}
	}
	return []area{a}, nil
}

// centreLine computes an IfcCenterLineProfileDef: a strip along a curve, with
// mitred corners.
func (m *Model) centreLine(args step.Args, depth int) ([]area, error) {
	c, err := m.curve(args.At(2), depth+1)
	half := m.length(args.At(3)) / 2
	n := len(c.Points)
	if err != nil || n < 2 || !(half > tiny) {
		return nil, cmp.Or(err, ErrBroken)
	}
	closed := n > 3 && c.Points[0].Sub(c.Points[n-1]).Len() <= tiny
	var left, right []Vec
	for i, p := range c.Points {
		off := c.beside(i, closed).Times(half)
		left, right = append(left, p.Add(off)), append(right, p.Sub(off))
	}
	if closed {
		if math.Abs(ringArea(left)) < math.Abs(ringArea(right)) {
			left, right = right, left
		}
		return []area{{outer: left[:n-1], holes: [][]Vec{right[:n-1]}}}, nil
	}
	slices.Reverse(right)
	return []area{{outer: append(left, right...)}}, nil
}

// sharpest is the longest mitre, in half widths of the strip.
const sharpest = 4

// beside returns where the left side of a strip of half width 1 lies beside
// corner i of its middle: on the mitre, and along an arc square to it.
func (c Curve) beside(i int, closed bool) Vec {
	last := len(c.Points) - 2 // chord
	run := func(k int) Vec { return c.Points[k+1].Sub(c.Points[k]).unit(Vec{X: 1}) }
	a, b := run(max(i-1, 0)), run(min(i, last))
	switch {
	case closed && (i == 0 || i == last+1):
		a, b = run(last), run(0)
	case c.Curved && last > 0 && i == 0:
		a = beyondChord(a, run(1))
		b = a
	case c.Curved && last > 0 && i == last+1:
		a = beyondChord(b, run(last-1))
		b = a
	}
	square := Vec{X: -a.Y, Y: a.X}
	l := Vec{X: -a.Y - b.Y, Y: a.X + b.X}.unit(square)
	if cos := l.Dot(square); !c.Curved || cos < math.Cos(chordAngle/2) {
		l = l.Times(1 / max(cos, 1/float64(sharpest)))
	}
	return l
}

// beyondChord returns the tangent of an arc at the end of its last chord, by the
// chord before: turned on by half of the angle between them.
func beyondChord(chord, before Vec) Vec {
	half := chord.Add(before).unit(chord)
	if chord.Dot(half) < math.Cos(chordAngle/2) {
		return chord // a corner
	}
	return chord.Times(2 * chord.Dot(half)).Sub(half)
}

// loop returns a closed curve without repeating its first point.
func (m *Model) loop(v step.Value, depth int) ([]Vec, error) {
	c, err := m.curve(v, depth+1)
	if n := len(c.Points); n > 1 && c.Points[0].Sub(c.Points[n-1]).Len() <= tiny {
		c.Points = c.Points[:n-1]
	}
	return c.Points, err
}

func (m *Model) derivedProfile(id step.ID, args step.Args, depth int) ([]area, error) {
	areas, err := m.profile(args.At(2), depth+1)
	if err != nil {
		return nil, err
	}
	t := Transform{X: Vec{X: -1}, Y: Vec{Y: 1}, Z: Vec{Z: 1}} // mirrored at the y axis
	if m.file.Type(id) == "IFCDERIVEDPROFILEDEF" {
		operator, ok := args.At(3).Ref()
		if !ok {
			return nil, ErrBroken
		}
		if t, err = m.operator(operator); err != nil {
			return nil, err
		}
	}
	for _, a := range areas {
		moveAll(a.outer, t)
		for _, hole := range a.holes {
			moveAll(hole, t)
		}
	}
	return areas, nil
}

func moveAll(points []Vec, t Transform) {
	for i, p := range points {
		points[i] = t.Point(p)
	}
}

// formedProfile computes the profiles that are given by dimensions. Of rolled
// sections the enclosing rectangle is taken: they are only ever met as
// structure.
func (m *Model) formedProfile(id step.ID, args step.Args) ([]area, error) {
	at, err := m.axisPlacement(args.At(2))
	if err != nil {
		return nil, err
	}
	a, b := m.length(args.At(3)), m.length(args.At(4))
	var a1 area
	switch m.file.Type(id) {
	case "IFCRECTANGLEPROFILEDEF", "IFCROUNDEDRECTANGLEPROFILEDEF", "IFCRECTANGLEHOLLOWPROFILEDEF",
		"IFCISHAPEPROFILEDEF", "IFCASYMMETRICISHAPEPROFILEDEF":
		a1.outer = rectangle(a, b)
	case "IFCCSHAPEPROFILEDEF", "IFCUSHAPEPROFILEDEF", "IFCTSHAPEPROFILEDEF", "IFCZSHAPEPROFILEDEF":
		a1.outer = rectangle(b, a) // depth comes before width
	case "IFCLSHAPEPROFILEDEF":
		if b == 0 {
			b = a
		}
		a1.outer = rectangle(b, a)
	case "IFCTRAPEZIUMPROFILEDEF":
		top, height, shift := b, m.length(args.At(5)), m.length(args.At(6))
		a1.outer = []Vec{
			{-a / 2, -height / 2, 0}, {a / 2, -height / 2, 0},
			{-a/2 + shift + top, height / 2, 0}, {-a/2 + shift, height / 2, 0},
		}
	case "IFCCIRCLEPROFILEDEF":
		a1.outer = oval(a, a)
	case "IFCCIRCLEHOLLOWPROFILEDEF":
		a1.outer = oval(a, a)
		if inner := a - b; b > tiny && inner > tiny {
			a1.holes = append(a1.holes, oval(inner, inner))
			moveAll(a1.holes[0], at)
		}
	case "IFCELLIPSEPROFILEDEF":
		a1.outer = oval(a, b)
	default:
		return nil, ErrUnsupported
	}
	moveAll(a1.outer, at)
	a1.outer = distinct(a1.outer)
	return []area{a1}, m.spend(len(a1.outer))
}

func rectangle(x, y float64) []Vec {
	return []Vec{{-x / 2, -y / 2, 0}, {x / 2, -y / 2, 0}, {x / 2, y / 2, 0}, {-x / 2, y / 2, 0}}
}

func oval(rx, ry float64) []Vec {
	points := conic{at: Identity, rx: rx, ry: ry}.arc(0, 2*math.Pi).Points
	return points[:len(points)-1]
}
