package shape

import (
	"math"

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
	case "IFCCIRCLEPROFILEDEF", "IFCCIRCLEHOLLOWPROFILEDEF":
		a1.outer = oval(a, a)
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
