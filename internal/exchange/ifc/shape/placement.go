package shape

import (
	"nogging/internal/exchange/ifc/step"
)

// Placement returns the map from a product's own axes to the project's, by the
// chain of its IfcLocalPlacement. A product without a placement stands in the
// project's axes.
func (m *Model) Placement(product step.ID) (Transform, error) {
	id, ok := m.file.Arg(product, 5).Ref()
	if !ok {
		return Identity, nil
	}
	return m.objectPlacement(id, 0)
}

func (m *Model) objectPlacement(id step.ID, depth int) (Transform, error) {
	if t, ok := m.placements[id]; ok {
		return t, nil
	}
	if depth > maxDepth {
		return Identity, m.fail(id, ErrNested)
	}
	relative := 1
	switch m.file.Type(id) {
	case "IFCLOCALPLACEMENT":
	case "IFCLINEARPLACEMENT":
		relative = 2 // CartesianPosition: the same place without the curve it is measured along
	default:
		return Identity, m.fail(id, ErrUnsupported)
	}
	args := m.file.Args(id)
	t, err := m.axisPlacement(args.At(relative))
	if err != nil {
		return Identity, err
	}
	if parent, ok := args.At(0).Ref(); ok {
		outer, err := m.objectPlacement(parent, depth+1)
		if err != nil {
			return Identity, err
		}
		t = outer.After(t)
	}
	m.placements[id] = t
	return t, nil
}

// axisPlacement returns the map of an IfcAxis2Placement3D or 2D; no change
// where it is not given.
func (m *Model) axisPlacement(v step.Value) (Transform, error) {
	id, ok := v.Ref()
	if !ok {
		return Identity, nil
	}
	args := m.file.Args(id)
	o, ok := m.point(args.At(0))
	if !ok {
		return Identity, m.fail(id, ErrBroken)
	}
	z, ref := Vec{Z: 1}, args.At(1)
	switch m.file.Type(id) {
	case "IFCAXIS2PLACEMENT3D":
		z, ref = m.direction(ref, z), args.At(2)
	case "IFCAXIS2PLACEMENT2D":
	default:
		return Identity, m.fail(id, ErrUnsupported)
	}
	x := firstAxis(z, m.direction(ref, Vec{X: 1}))
	return Transform{X: x, Y: z.Cross(x), Z: z, O: o}, nil
}

// firstAxis makes a direction square to z (IfcFirstProjAxis).
func firstAxis(z, x Vec) Vec {
	return x.Sub(z.Times(z.Dot(x))).unit(anySquare(z))
}

// anySquare returns a direction square to z.
func anySquare(z Vec) Vec {
	if z.X*z.X < 0.5 {
		return Vec{X: 1}.Sub(z.Times(z.X)).unit(Vec{Y: 1})
	}
	return Vec{Y: 1}.Sub(z.Times(z.Y)).unit(Vec{X: 1})
}

// operator returns the map of an IfcCartesianTransformationOperator, which may
// scale and mirror.
func (m *Model) operator(id step.ID) (Transform, error) {
	args := m.file.Args(id)
	o, ok := m.point(args.At(2))
	if !ok {
		return Identity, m.fail(id, ErrBroken)
	}
	scale := func(n int, fallback float64) float64 {
		if s, ok := args.At(n).Real(); ok && s != 0 {
			return s
		}
		return fallback
	}
	z, sx := Vec{Z: 1}, scale(3, 1)
	sy, sz := sx, sx
	switch m.file.Type(id) {
	case "IFCCARTESIANTRANSFORMATIONOPERATOR3D":
		z = m.direction(args.At(4), z)
	case "IFCCARTESIANTRANSFORMATIONOPERATOR3DNONUNIFORM":
		z = m.direction(args.At(4), z)
		sy, sz = scale(5, sx), scale(6, sx)
	case "IFCCARTESIANTRANSFORMATIONOPERATOR2D":
	case "IFCCARTESIANTRANSFORMATIONOPERATOR2DNONUNIFORM":
		sy = scale(4, sx)
	default:
		return Identity, m.fail(id, ErrUnsupported)
	}
	x := firstAxis(z, m.direction(args.At(0), Vec{X: 1}))
	y := secondAxis(z, x, m.direction(args.At(1), z.Cross(x)))
	return Transform{X: x.Times(sx), Y: y.Times(sy), Z: z.Times(sz), O: o}, nil
}

// secondAxis makes a direction square to z and x (IfcSecondProjAxis).
func secondAxis(z, x, y Vec) Vec {
	y = y.Sub(z.Times(z.Dot(y)))
	return y.Sub(x.Times(x.Dot(y))).unit(z.Cross(x))
}

// Mapped returns where a product's body stands as it is shown: the product's placement,
// and of a body that is one mapped item what that does to it, which may mirror.
func (m *Model) Mapped(product step.ID) (Transform, error) {
	at, err := m.Placement(product)
	if err != nil {
		return at, err
	}
	items := m.file.Arg(m.bodyRepresentation(product), 3).Refs()
	if len(items) != 1 || m.file.Type(items[0]) != "IFCMAPPEDITEM" {
		return at, nil
	}
	target, ok := m.file.Arg(items[0], 1).Ref()
	if !ok {
		return at, nil
	}
	op, err := m.operator(target)
	return at.After(op), err
}
