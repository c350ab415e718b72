package shape

import (
	"errors"
	"math"
	"slices"

	"nogging/internal/exchange/ifc/step"
)

// Face is a flat face: its outer loop, then its holes. Which loop is the outer
// one does not matter for sections.
type Face [][]Vec

// operation says how a solid is made.
type operation int

const (
	leaf         operation = iota // faces
	halfSpace                     // everything on one side of a plane
	difference                    // first without second
	union                         // first and second
	intersection                  // what first and second share
)

// Solid is a solid, or an expression of solids, in the project's axes.
type Solid struct {
	op            operation
	Faces         []Face  // of a leaf
	Rise          float64 // of an extrusion: how far it goes up; 0 for other leaves
	first, second *Solid  // of the operations
	point, normal Vec     // of a half space: it lies on the side against the normal
}

// Leaves yields the parts of the solid that are material, without what is
// taken away.
func (s *Solid) Leaves(yield func(*Solid) bool) { s.leaves(yield) }

func (s *Solid) leaves(yield func(*Solid) bool) bool {
	switch s.op {
	case leaf:
		return yield(s)
	case union:
		return s.first.leaves(yield) && s.second.leaves(yield)
	case difference, intersection:
		return s.first.leaves(yield)
	}
	return true
}

// Clipped reports whether anything is taken away from the solid.
func (s *Solid) Clipped() bool { return s.op == difference || s.op == intersection }

// Less returns solids without what others take away from them.
func Less(solids, voids []*Solid) []*Solid {
	if len(voids) == 0 {
		return solids
	}
	hole := voids[0]
	for _, v := range voids[1:] {
		hole = &Solid{op: union, first: hole, second: v}
	}
	less := make([]*Solid, 0, len(solids))
	for _, s := range solids {
		less = append(less, &Solid{op: difference, first: s, second: hole})
	}
	return less
}

// Body returns the solids of a product's body in the project's axes. What
// could not be read is told by the error, and the solids are those that could.
// A product without a body gives none and no error.
func (m *Model) Body(product step.ID) ([]*Solid, error) {
	at, err := m.Placement(product)
	if err != nil {
		return nil, err
	}
	r := m.bodyRepresentation(product)
	if r == 0 {
		return nil, nil
	}
	return m.items(m.file.Arg(r, 3), at, 0)
}

// Curve returns a product's Axis or FootPrint in the project's axes; no points
// where it has none.
func (m *Model) Curve(product step.ID, identifier string) (Curve, error) {
	at, err := m.Placement(product)
	if err != nil {
		return Curve{}, err
	}
	for _, r := range m.Representations(product) {
		if r.Identifier != identifier {
			continue
		}
		var c Curve
		for item := range m.file.Arg(r.ID, 3).Items() {
			part, err := m.curveItem(item, 0)
			if err != nil {
				return Curve{}, err
			}
			c.Points = append(c.Points, part.Points...)
			c.Curved = c.Curved || part.Curved
		}
		moveAll(c.Points, at)
		c.Points = distinct(c.Points)
		return c, nil
	}
	return Curve{}, nil
}

// curveItem computes a curve, alone or as a set.
func (m *Model) curveItem(v step.Value, depth int) (Curve, error) {
	id, _ := v.Ref()
	if t := m.file.Type(id); t != "IFCGEOMETRICCURVESET" && t != "IFCGEOMETRICSET" {
		return m.curve(v, depth)
	}
	for item := range m.file.Arg(id, 0).Items() {
		return m.curve(item, depth)
	}
	return Curve{}, m.fail(id, ErrBroken)
}

// Representations returns the shape representations of a product by
// identifier, such as Body or Axis.
func (m *Model) Representations(product step.ID) []Representation {
	shape, ok := m.file.Arg(product, 6).Ref()
	if !ok {
		return nil
	}
	var all []Representation
	for _, id := range m.file.Arg(shape, 2).Refs() {
		args := m.file.Args(id)
		all = append(all, Representation{id, args.At(1).Text(), args.At(2).Text()})
	}
	return all
}

// Representation is one of the ways in which a product's shape is given.
type Representation struct {
	ID         step.ID
	Identifier string // Body, Axis, FootPrint, Box …
	Type       string // SweptSolid, Clipping, Brep …
}

// solidTypes are the representation types that can stand for a body where no
// representation is called Body.
var solidTypes = []string{
	"SweptSolid", "AdvancedSweptSolid", "Clipping", "CSG", "Brep", "AdvancedBrep", "SolidModel", "SurfaceModel",
	"Tessellation", "MappedRepresentation",
}

// otherIdentifiers are representations that are not the body whatever their
// type.
var otherIdentifiers = []string{
	"Axis", "FootPrint", "Box", "Annotation", "Profile", "Plan", "CoG", "Clearance", "Lighting", "Surface", "Survey",
}

// bodyRepresentation finds the representation called Body, or else the one
// that does for it: Facetation, any other solid, Reference, Box, in this order.
func (m *Model) bodyRepresentation(product step.ID) step.ID {
	best, id := 100, step.ID(0)
	for _, r := range m.Representations(product) {
		rank := 100
		switch {
		case r.Identifier == "Body":
			rank = 0
		case r.Identifier == "Facetation":
			rank = 1
		case r.Identifier == "Reference":
			rank = 3
		case r.Identifier == "Box" || r.Type == "BoundingBox":
			rank = 4
		case slices.Contains(solidTypes, r.Type) && !slices.Contains(otherIdentifiers, r.Identifier):
			rank = 2
		}
		if rank < best {
			best, id = rank, r.ID
		}
	}
	return id
}

// items computes a list of representation items.
func (m *Model) items(list step.Value, at Transform, depth int) ([]*Solid, error) {
	var solids []*Solid
	var failed error
	for _, id := range list.Refs() {
		got, err := m.item(id, at, depth+1)
		solids = append(solids, got...)
		if failed == nil {
			failed = err
		}
		if m.budget < 0 {
			return solids, ErrTooMuch
		}
	}
	return solids, failed
}

// item computes one representation item.
func (m *Model) item(id step.ID, at Transform, depth int) ([]*Solid, error) {
	if depth > maxDepth {
		return nil, m.fail(id, ErrNested)
	}
	if err := m.spend(perItem); err != nil {
		return nil, err
	}
	args := m.file.Args(id)
	switch m.file.Type(id) {
	case "IFCMAPPEDITEM":
		return m.mappedItem(id, args, at, depth)
	case "IFCSHELLBASEDSURFACEMODEL", "IFCFACEBASEDSURFACEMODEL", "IFCGEOMETRICSET":
		return m.items(args.At(0), at, depth)
	}
	s, err := m.solid(id, at, depth)
	if s == nil {
		return nil, err
	}
	return []*Solid{s}, err
}

// mappedItem computes an IfcMappedItem: the mapped shape, taken from its
// origin to the target.
func (m *Model) mappedItem(id step.ID, args step.Args, at Transform, depth int) ([]*Solid, error) {
	source, okSource := args.At(0).Ref()
	target, okTarget := args.At(1).Ref()
	if !okSource || !okTarget {
		return nil, m.fail(id, ErrBroken)
	}
	to, err := m.operator(target)
	if err != nil {
		return nil, err
	}
	origin, err := m.axisPlacement(m.file.Arg(source, 0))
	if err != nil {
		return nil, err
	}
	mapped, ok := m.file.Arg(source, 1).Ref()
	if !ok {
		return nil, m.fail(id, ErrBroken)
	}
	return m.items(m.file.Arg(mapped, 3), at.After(to).After(origin.rigidInverse()), depth)
}

// solid computes one solid. It may give both a solid and an error: then
// something that should have been taken away from the solid could not be read.
func (m *Model) solid(id step.ID, at Transform, depth int) (*Solid, error) {
	if depth > maxDepth {
		return nil, m.fail(id, ErrNested)
	}
	args := m.file.Args(id)
	var s *Solid
	var err error
	switch kind := m.file.Type(id); kind {
	case "IFCEXTRUDEDAREASOLID", "IFCEXTRUDEDAREASOLIDTAPERED":
		s, err = m.extrusion(args, at, depth)
	case "IFCREVOLVEDAREASOLID":
		s, err = m.revolved(args, at, depth)
	case "IFCBOOLEANRESULT", "IFCBOOLEANCLIPPINGRESULT":
		return m.boolean(id, args, at, depth)
	case "IFCHALFSPACESOLID", "IFCPOLYGONALBOUNDEDHALFSPACE", "IFCBOXEDHALFSPACE":
		return m.halfSpace(id, args, at, depth)
	case "IFCCSGSOLID":
		if root, ok := args.At(0).Ref(); ok {
			return m.solid(root, at, depth+1)
		}
		err = ErrBroken
	case "IFCBLOCK", "IFCRIGHTCIRCULARCYLINDER", "IFCBOUNDINGBOX":
		s, err = m.primitive(kind, args, at)
	default:
		s, err = m.faceted(id, args, at)
	}
	switch {
	case errors.Is(err, errBent):
		return s, err
	case err != nil:
		return nil, m.fail(id, err)
	}
	return s, nil
}

// extrusion computes an IfcExtrudedAreaSolid.
func (m *Model) extrusion(args step.Args, at Transform, depth int) (*Solid, error) {
	areas, err := m.profile(args.At(0), depth+1)
	if err != nil {
		return nil, err
	}
	position, err := m.axisPlacement(args.At(1))
	if err != nil {
		return nil, err
	}
	at = at.After(position)
	by := at.Dir(m.direction(args.At(2), Vec{Z: 1}).Times(m.length(args.At(3))))
	s := &Solid{Rise: math.Abs(by.Z)}
	for _, a := range areas {
		s.extrude(a, at, by)
	}
	return s, m.spend(4 * len(s.Faces))
}

// extrude adds the faces of an area that is drawn out by a vector.
func (s *Solid) extrude(a area, at Transform, by Vec) {
	n := len(a.outer)
	for _, h := range a.holes {
		n += len(h)
	}
	points := make([]Vec, 0, 6*n) // the loops of foot and head, and four corners for each side
	loops := make([][]Vec, 0, n)
	foot, head := make(Face, 0, 1+len(a.holes)), make(Face, 0, 1+len(a.holes))
	s.Faces = slices.Grow(s.Faces, n+2)
	add := func(loop []Vec) {
		start := len(points)
		for _, p := range loop {
			points = append(points, at.Point(p))
		}
		low := points[start:len(points):len(points)]
		start = len(points)
		for _, p := range low {
			points = append(points, p.Add(by))
		}
		high := points[start:len(points):len(points)]
		foot, head = append(foot, low), append(head, high)
		for i := range low {
			j := (i + 1) % len(low)
			start := len(points)
			points = append(points, low[i], low[j], high[j], high[i])
			loops = append(loops, points[start:len(points):len(points)])
			s.Faces = append(s.Faces, loops[len(loops)-1:len(loops):len(loops)])
		}
	}
	add(a.outer)
	for _, h := range a.holes {
		add(h)
	}
	s.Faces = append(s.Faces, foot, head)
}

// primitive computes the solids that are given by dimensions.
func (m *Model) primitive(kind string, args step.Args, at Transform) (*Solid, error) {
	if kind == "IFCBOUNDINGBOX" {
		corner, ok := m.point(args.At(0))
		if !ok {
			return nil, ErrBroken
		}
		at.O = at.Point(corner)
	} else {
		position, err := m.axisPlacement(args.At(0))
		if err != nil {
			return nil, err
		}
		at = at.After(position)
	}
	x, y, z := m.length(args.At(1)), m.length(args.At(2)), m.length(args.At(3))
	outer := []Vec{{}, {X: x}, {X: x, Y: y}, {Y: y}}
	if kind == "IFCRIGHTCIRCULARCYLINDER" {
		outer, z = oval(y, y), x
	}
	by := at.Dir(Vec{Z: z})
	s := &Solid{Rise: math.Abs(by.Z)}
	s.extrude(area{outer: outer}, at, by)
	return s, m.spend(4 * len(s.Faces))
}

// boolean computes an IfcBooleanResult. Where the second operand cannot be
// read, it gives the first and the error.
func (m *Model) boolean(id step.ID, args step.Args, at Transform, depth int) (*Solid, error) {
	operation := map[string]operation{"DIFFERENCE": difference, "UNION": union, "INTERSECTION": intersection}
	op, known := operation[args.At(0).Enum()]
	first, okFirst := args.At(1).Ref()
	second, okSecond := args.At(2).Ref()
	if !known || !okFirst || !okSecond {
		return nil, m.fail(id, ErrBroken)
	}
	if err := m.spend(perItem); err != nil {
		return nil, err
	}
	a, err := m.solid(first, at, depth+1)
	if a == nil {
		return nil, err
	}
	b, errSecond := m.solid(second, at, depth+1)
	if err == nil {
		err = errSecond
	}
	if b == nil {
		return a, err
	}
	return &Solid{op: op, first: a, second: b}, err
}

// reach is how far the sides of a bounded half space are drawn out: farther
// than any building is high.
const reach = 1e6

// halfSpace computes an IfcHalfSpaceSolid or IfcPolygonalBoundedHalfSpace. The
// box of an IfcBoxedHalfSpace is only a hint to the computer and is left out.
func (m *Model) halfSpace(id step.ID, args step.Args, at Transform, depth int) (*Solid, error) {
	surface, ok := args.At(0).Ref()
	if !ok || m.file.Type(surface) != "IFCPLANE" {
		return nil, m.fail(id, ErrUnsupported)
	}
	plane, err := m.axisPlacement(m.file.Arg(surface, 0))
	if err != nil {
		return nil, err
	}
	plane = at.After(plane)
	s := &Solid{op: halfSpace, point: plane.O, normal: plane.X.Cross(plane.Y).unit(plane.Z)}
	if at.mirrors() {
		s.normal = s.normal.Times(-1)
	}
	if agreement, _ := args.At(1).Bool(); !agreement {
		s.normal = s.normal.Times(-1)
	}
	if m.file.Type(id) != "IFCPOLYGONALBOUNDEDHALFSPACE" {
		return s, nil
	}
	position, err := m.axisPlacement(args.At(2))
	if err != nil {
		return nil, err
	}
	boundary, err := m.loop(args.At(3), depth)
	if err != nil {
		return nil, err
	}
	at = at.After(position)
	prism := &Solid{}
	at.O = at.O.Sub(at.Z.Times(reach))
	prism.extrude(area{outer: boundary}, at, at.Z.Times(2*reach))
	return &Solid{op: intersection, first: s, second: prism}, nil
}

// mirrors reports whether the map turns a right hand into a left one.
func (t Transform) mirrors() bool { return t.X.Cross(t.Y).Dot(t.Z) < 0 }

// Block returns a box that stands in a frame: x, y and z from its origin.
func Block(at Transform, x, y, z float64) *Solid {
	s := &Solid{Rise: math.Abs(at.Dir(Vec{Z: z}).Z)}
	s.extrude(area{outer: []Vec{{}, {X: x}, {X: x, Y: y}, {Y: y}}}, at, at.Dir(Vec{Z: z}))
	return s
}
