package shape

import (
	"math"

	"nogging/internal/exchange/ifc/step"
)

// Units are the units in which a file gives lengths and angles.
type Units struct {
	Length float64 // millimetres in one unit
	Area   float64 // square millimetres in one unit
	Angle  float64 // radians in one unit
	Stated bool    // whether the file states its unit of length
}

// Imperial reports whether lengths are in inches, feet or yards.
func (u Units) Imperial() bool {
	for _, mm := range []float64{25.4, 304.8, 914.4} {
		if math.Abs(u.Length/mm-1) < 1e-4 {
			return true
		}
	}
	return false
}

// String names the unit of length.
func (u Units) String() string {
	names := map[float64]string{1: "millimetres", 10: "centimetres", 100: "decimetres", 1000: "metres", 25.4: "inches", 304.8: "feet"}
	for mm, name := range names {
		if math.Abs(u.Length/mm-1) < 1e-4 {
			return name
		}
	}
	return "a unit of its own"
}

// Factor returns how many SI base units one of a unit is, and whether it is one that is
// read: metres for a length, square metres for an area.
func (m *Model) Factor(unit step.ID) (float64, bool) { return unitFactor(m.file, unit, 0) }

// unitsOf finds the units that the project assigns (IfcProject.UnitsInContext).
// Where the file states none, metres and radians are taken: the SI units.
func unitsOf(f *step.File) Units {
	u := Units{Length: 1000, Area: 1e6, Angle: 1}
	for _, id := range assignedUnits(f) {
		args := f.Args(id)
		kind := args.At(1).Enum()
		factor, ok := unitFactor(f, id, 0)
		switch {
		case !ok:
		case kind == "LENGTHUNIT" && !u.Stated:
			u.Length, u.Stated = factor*1000, true
		case kind == "AREAUNIT":
			u.Area = factor * 1e6
		case kind == "PLANEANGLEUNIT":
			u.Angle = factor
		}
	}
	return u
}

// assignedUnits lists the units of the project's assignment, or of the first
// assignment where the project is broken.
func assignedUnits(f *step.File) []step.ID {
	for _, project := range f.OfType("IFCPROJECT") {
		if id, ok := f.Arg(project, 8).Ref(); ok && f.Type(id) == "IFCUNITASSIGNMENT" {
			return f.Arg(id, 0).Refs()
		}
	}
	for _, id := range f.OfType("IFCUNITASSIGNMENT") {
		return f.Arg(id, 0).Refs()
	}
	return nil
}

var prefixes = map[string]float64{
	"": 1, "EXA": 1e18, "PETA": 1e15, "TERA": 1e12, "GIGA": 1e9, "MEGA": 1e6, "KILO": 1e3, "HECTO": 1e2, "DECA": 1e1,
	"DECI": 1e-1, "CENTI": 1e-2, "MILLI": 1e-3, "MICRO": 1e-6, "NANO": 1e-9,
}

// unitFactor returns how many SI base units one of the unit is. Units are told
// apart by what they refer to, never by name.
func unitFactor(f *step.File, id step.ID, depth int) (float64, bool) {
	args := f.Args(id)
	switch f.Type(id) {
	case "IFCSIUNIT":
		factor, ok := prefixes[args.At(2).Enum()]
		if args.At(3).Enum() == "SQUARE_METRE" { // of which the prefix is that of the metre
			factor *= factor
		}
		return factor, ok
	case "IFCCONVERSIONBASEDUNIT", "IFCCONVERSIONBASEDUNITWITHOFFSET":
		measure, ok := args.At(3).Ref()
		if !ok || depth > 8 {
			return 0, false
		}
		value, okValue := f.Arg(measure, 0).Real()
		base, okBase := f.Arg(measure, 1).Ref()
		if !okValue || !okBase {
			return 0, false
		}
		factor, ok := unitFactor(f, base, depth+1)
		factor *= value
		return factor, ok && factor > 1e-9 && factor < 1e9
	}
	return 0, false
}
