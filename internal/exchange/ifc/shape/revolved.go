package shape

import (
	"math"
	"slices"

	"nogging/internal/exchange/ifc/step"
)

// revolved computes an IfcRevolvedAreaSolid, by chords.
func (m *Model) revolved(args step.Args, at Transform, depth int) (*Solid, error) {
	areas, err := m.profile(args.At(0), depth+1)
	if err != nil {
		return nil, err
	}
	position, err := m.axisPlacement(args.At(1))
	if err != nil {
		return nil, err
	}
	axis, ok := args.At(2).Ref()
	angle, okAngle := args.At(3).Real()
	angle *= m.units.Angle
	if !ok || !okAngle || !(math.Abs(angle) > 1e-9) {
		return nil, ErrBroken
	}
	origin, ok := m.point(m.file.Arg(axis, 0))
	if !ok {
		return nil, ErrBroken
	}
	r := rotation{origin, m.direction(m.file.Arg(axis, 1), Vec{Z: 1})}
	whole := math.Abs(angle) > 2*math.Pi-1e-6
	if whole {
		angle = 2 * math.Pi
	}
	s := &Solid{}
	for _, a := range areas {
		s.revolve(a, r, angle, whole, at.After(position))
	}
	return s, m.spend(4 * len(s.Faces))
}

// rotation is the turning about an axis.
type rotation struct{ origin, axis Vec }

// point turns a point (Rodrigues' formula).
func (r rotation) point(p Vec, angle float64) Vec {
	sin, cos := math.Sincos(angle)
	d := p.Sub(r.origin)
	return r.origin.Add(d.Times(cos)).Add(r.axis.Cross(d).Times(sin)).Add(r.axis.Times(r.axis.Dot(d) * (1 - cos)))
}

// radius returns how far the farthest point of a loop lies from the axis.
func (r rotation) radius(loop []Vec) float64 {
	far := 0.0
	for _, p := range loop {
		far = max(far, r.axis.Cross(p.Sub(r.origin)).Len())
	}
	return far
}

// revolve adds the faces of an area that is turned about an axis.
func (s *Solid) revolve(a area, r rotation, angle float64, whole bool, at Transform) {
	n := chordsOf(r.radius(a.outer), angle)
	var first, last Face
	for _, loop := range append([][]Vec{a.outer}, a.holes...) {
		rings := make([][]Vec, n+1)
		for i := range rings {
			for _, p := range loop {
				rings[i] = append(rings[i], at.Point(r.point(p, angle*float64(i)/float64(n))))
			}
		}
		for i := range n {
			for j := range loop {
				k := (j + 1) % len(loop)
				s.Faces = append(s.Faces, Face{{rings[i][j], rings[i][k], rings[i+1][k], rings[i+1][j]}})
			}
		}
		first, last = append(first, rings[0]), append(last, slices.Clone(rings[n]))
	}
	if !whole {
		s.Faces = append(s.Faces, first, last)
	}
}
