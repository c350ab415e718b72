package structure

import (
	"slices"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/quantity"
)

// Shown is what a tested height shows of what is asked.
type Shown struct {
	Pressure, Line, Impact bool
	Firm                   bool // it proves what it shows; records from memory do not
}

// ShownBy says what a record shows of a demand and of the duty that is asked.
func ShownBy(e *catalogue.HeightEvidence, d *Demand, duty string) Shown {
	line := lineShown(e, duty)
	return Shown{Pressure: pressureShown(e, d), Line: line, Impact: e.Impact && line, Firm: firm(e)}
}

// FrameTested reports whether a build-up of a height, with a sliding head or not,
// is as a record covers it in all that is not a face.
func FrameTested(e *catalogue.HeightEvidence, b *buildup.BuildUp, height Length, sliding bool) bool {
	return slices.Contains(e.Frames, string(b.Kind)) && e.Stud == b.Stud.ID && b.Stud.Thickness >= e.Steel &&
		b.Spacing <= e.Spacing && height <= e.Height && (!sliding || e.Sliding)
}

// FaceTested reports whether the boards of a face are as a record covers them.
func FaceTested(e *catalogue.HeightEvidence, boards []*catalogue.Board, pr *catalogue.Practice) bool {
	var thick Length
	for _, b := range boards {
		if thick += b.Thickness; len(e.Types) > 0 && !slices.Contains(e.Types, b.Type) {
			return false
		}
	}
	return len(boards) >= e.Layers && thick >= e.Boards && (e.Screws == 0 || outerScrews(len(boards), pr) <= e.Screws)
}

// Uses is how far a frame is used by calculation.
type Uses struct {
	Deflection float64 // under uniform pressure, by the bare studs
	Pressure   float64 // the greatest of strength under uniform pressure
	Line       float64 // the greatest under the line load
}

// UsesOf returns the uses of a frame at a height.
func (f *Frame) UsesOf(height Length, d *Demand) Uses {
	u := Uses{Deflection: f.Use(PressureDeflection, height, d)}
	for k := PressureBending; k <= PressureSupport; k++ {
		u.Pressure = max(u.Pressure, f.Use(k, height, d))
	}
	for k := LineDeflection; k <= LineSupport; k++ {
		u.Line = max(u.Line, f.Use(k, height, d))
	}
	return u
}

// HelpedUse returns the use by deflection under uniform pressure with the
// estimated help of the boards.
func (f *Frame) HelpedUse(height Length, d *Demand) float64 {
	return f.Composite(height, d) * d.Limit / height.Metres()
}

// HelpedHeight returns the greatest height in whole millimetres at which the
// frame does what is asked with the estimated help of the boards; 0 where it
// does not at 1.8 m.
func (f *Frame) HelpedHeight(d *Demand) Length {
	holds := func(h Length) bool {
		u := f.UsesOf(h, d)
		return u.Pressure <= 1 && u.Line <= 1 && f.HelpedUse(h, d) <= 1
	}
	low, high := leastHeight/quantity.Millimetre, greatestHeight/quantity.Millimetre
	if !holds(leastHeight) {
		return 0
	}
	for low+1 < high { // it does at low
		if mid := (low + high) / 2; holds(mid * quantity.Millimetre) {
			low = mid
		} else {
			high = mid
		}
	}
	return low * quantity.Millimetre
}
