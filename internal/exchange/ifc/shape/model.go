// Package shape computes the geometry of products in an IFC file (IFC2X3,
// IFC4 or IFC4X3). It takes an indexed file and gives solids, axes and
// outlines in millimetres and in the project's own axes, and the sections of a
// wall's body that a plan needs.
//
// It is no general modeller. Every solid becomes flat faces; boolean
// operations are carried out only in a section, in two dimensions, which is
// all that is needed to know how long and how high a wall is and where it has
// holes. Curves become chords.
//
// Entity and attribute names follow the EXPRESS schemas of buildingSMART.
package shape

import (
	"fmt"

	"nogging/internal/exchange/ifc/step"
	"nogging/internal/words"
)

// Errors of geometry. They are wrapped with the entity they concern.
var (
	ErrUnsupported = words.Err("this kind of geometry is not read")
	ErrBroken      = words.Err("the geometry is incomplete")
	ErrTooMuch     = words.Err("the geometry is too large")
	ErrNested      = words.Err("the geometry is nested too deeply or contains itself")
)

// maxDepth bounds nested placements, mapped items and boolean operations. The
// deepest met in practice are chains of some dozen clippings.
const maxDepth = 256

// Model gives the geometry of an IFC file. It is not safe for use by several
// goroutines.
type Model struct {
	file       *step.File
	units      Units
	placements map[step.ID]Transform
	budget     int // points that may still be computed, so that hostile files end
}

// New returns the model of a file.
func New(f *step.File, bytes int) *Model {
	return &Model{
		file:       f,
		units:      unitsOf(f),
		placements: map[step.ID]Transform{},
		// A point takes 30 bytes or more in the file, but mapped shapes are
		// used again and again.
		budget: 200_000 + bytes/2,
	}
}

// Units returns the units of the file.
func (m *Model) Units() Units { return m.units }

// perItem is what computing an item costs beside its points.
const perItem = 20

// spend takes n points from the budget.
func (m *Model) spend(n int) error {
	m.budget -= n
	if m.budget < 0 {
		return ErrTooMuch
	}
	return nil
}

// fail names the entity that an error is about.
func (m *Model) fail(id step.ID, err error) error {
	return fmt.Errorf("#%d %s: %w", id, Name(m.file.Type(id)), err)
}

// length returns a length in millimetres, 0 where it is not given.
func (m *Model) length(v step.Value) float64 {
	x, _ := v.Real()
	return x * m.units.Length
}

// point returns the point of an IfcCartesianPoint.
func (m *Model) point(v step.Value) (Vec, bool) {
	id, ok := v.Ref()
	if !ok {
		return Vec{}, false
	}
	p, n := vector(m.file.Arg(id, 0))
	return p.Times(m.units.Length), n >= 2 && m.file.Type(id) == "IFCCARTESIANPOINT"
}

// direction returns an IfcDirection with length 1, or the fallback.
func (m *Model) direction(v step.Value, fallback Vec) Vec {
	id, ok := v.Ref()
	if !ok {
		return fallback
	}
	d, _ := vector(m.file.Arg(id, 0))
	return d.unit(fallback)
}

// vector reads up to three numbers of a list and says how many there were.
func vector(list step.Value) (Vec, int) {
	x, n := list.Three()
	return Vec{x[0], x[1], x[2]}, n
}
