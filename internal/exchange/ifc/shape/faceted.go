package shape

import (
	"errors"

	"nogging/internal/exchange/ifc/step"
)

// faceted computes the solids that are given by their faces: boundary
// representations, shells and face sets.
func (m *Model) faceted(id step.ID, args step.Args, at Transform) (*Solid, error) {
	switch m.file.Type(id) {
	case "IFCFACETEDBREP", "IFCFACETEDBREPWITHVOIDS", "IFCADVANCEDBREP", "IFCADVANCEDBREPWITHVOIDS":
		shell, ok := args.At(0).Ref()
		if !ok {
			return nil, ErrBroken
		}
		return m.shell(shell, at)
	case "IFCCLOSEDSHELL", "IFCOPENSHELL", "IFCCONNECTEDFACESET":
		return m.shell(id, at)
	case "IFCTRIANGULATEDFACESET", "IFCTRIANGULATEDIRREGULARNETWORK":
		return m.indexedFaces(args, at, 3, m.triangle)
	case "IFCPOLYGONALFACESET":
		return m.indexedFaces(args, at, 2, m.polygon)
	}
	return nil, ErrUnsupported
}

// shell computes the faces of an IfcClosedShell or the like. Broken faces are
// left out as long as some remain. It may give both a solid and an error: then
// a face could not be read as it is.
func (m *Model) shell(id step.ID, at Transform) (*Solid, error) {
	s := &Solid{}
	var bent error
	for _, face := range m.file.Arg(id, 0).Refs() {
		f, err := m.faces(face, at)
		if errors.Is(err, errBent) {
			bent = m.fail(face, err)
		} else if err != nil {
			return nil, err
		}
		s.Faces = append(s.Faces, f...)
	}
	if len(s.Faces) == 0 {
		return nil, m.fail(id, ErrBroken)
	}
	return s, bent
}

// bound computes the points of an IfcFaceBound: an IfcPolyLoop, or an
// IfcEdgeLoop with its arcs as chords.
func (m *Model) bound(id step.ID, at Transform) []Vec {
	loop, ok := m.file.Arg(id, 0).Ref()
	if !ok {
		return nil
	}
	list := m.file.Arg(loop, 0)
	var points []Vec
	switch m.file.Type(loop) {
	case "IFCPOLYLOOP":
		for item := range list.Items() {
			if p, ok := m.point(item); ok {
				points = append(points, at.Point(p))
			}
		}
	case "IFCEDGELOOP":
		for _, oriented := range list.Refs() {
			for _, p := range m.edge(oriented) {
				points = append(points, at.Point(p))
			}
		}
	}
	m.budget -= len(points)
	return points
}

// indexedFaces computes a face set whose faces number the points of a list.
func (m *Model) indexedFaces(args step.Args, at Transform, facesAt int, face func(step.Value, []Vec, []int) Face) (*Solid, error) {
	list, ok := args.At(0).Ref()
	if !ok {
		return nil, ErrBroken
	}
	points, err := m.pointList(list)
	if err != nil {
		return nil, err
	}
	moveAll(points, at)
	var renumbered []int // PnIndex; in the first IFC4 the numbers of normals stood in its place
	for item := range args.At(facesAt + 1).Items() {
		n, ok := item.Int()
		if !ok {
			renumbered = nil
			break
		}
		renumbered = append(renumbered, n)
	}
	s := &Solid{}
	for item := range args.At(facesAt).Items() {
		f := face(item, points, renumbered)
		if f != nil {
			s.Faces = append(s.Faces, f)
			if err := m.spend(len(f[0])); err != nil {
				return nil, err
			}
		}
	}
	if len(s.Faces) == 0 {
		return nil, ErrBroken
	}
	return s, nil
}

// triangle is one face of an IfcTriangulatedFaceSet.
func (m *Model) triangle(v step.Value, points []Vec, renumbered []int) Face {
	return oneLoop(pick(v, points, renumbered))
}

// polygon is one IfcIndexedPolygonalFace, with or without holes.
func (m *Model) polygon(v step.Value, points []Vec, renumbered []int) Face {
	id, ok := v.Ref()
	if !ok {
		return nil
	}
	f := oneLoop(pick(m.file.Arg(id, 0), points, renumbered))
	for hole := range m.file.Arg(id, 1).Items() {
		if loop := pick(hole, points, renumbered); f != nil && len(loop) > 2 {
			f = append(f, loop)
		}
	}
	return f
}

func oneLoop(points []Vec) Face {
	if len(points) < 3 {
		return nil
	}
	return Face{points}
}

// pick returns the points that a list of numbers, counted from 1, names; nil
// where a number is out of range.
func pick(list step.Value, points []Vec, renumbered []int) []Vec {
	var loop []Vec
	for item := range list.Items() {
		n, ok := item.Int()
		if ok && renumbered != nil {
			if n < 1 || n > len(renumbered) {
				return nil
			}
			n = renumbered[n-1]
		}
		if !ok || n < 1 || n > len(points) {
			return nil
		}
		loop = append(loop, points[n-1])
	}
	return loop
}
