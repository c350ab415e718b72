// Package structure proves that a partition stands: that its studs, jambs,
// headers and boards bear the pressure, the line load, the things hung on it
// and the earthquake that the plan and the practice ask for, and deflect no
// more than allowed.
//
// It takes a laid-out wall with its build-up and what is asked of it, and gives
// checks with their derivations. The methods stand in the packages below it, one
// for each standard and edition; which one proves the steel is the practice's
// rule steel_method. Studs are simply supported by their tracks, and boards
// hold their flanges sideways.
//
// The numbers that decide are in Stud and Frame, cheap enough for a search over
// many build-ups; Prove builds the derivations over the same numbers. Test
// evidence (catalogue.HeightEvidence) goes before calculation. This is no
// certificate: the local code and a licensed engineer decide.
package structure

import (
	"math"

	"nogging/internal/proof/structure/beam"
	"nogging/internal/proof/structure/en1995_1_1"
	"nogging/internal/quantity"
)

// loadFactor is the factor on variable loads (EN 1990 table A1.2(B); DIN 4103-1
// has the same for its line load).
const loadFactor = 1.5

// Frame is the studs of a wall as far as its strength goes: a candidate of a
// search, or the wall at hand.
type Frame struct {
	Stud    *Stud
	Studs   float64 // that stand together as one: 1, or 2 for a boxed pair
	Spacing Length  // of load that each takes
	Boards  [2]en1995_1_1.Board
}

// Demand is what is asked of a frame. What is 0 is not asked.
type Demand struct {
	Pressure   quantity.Pressure // uniform
	Line       quantity.LineLoad // at LineHeight
	LineHeight Length
	Limit      float64           // the height over this is the most that it may deflect
	Quake      quantity.Pressure // design value of the seismic load: not factored any more, or at allowable level
}

// Kind is one thing that may decide.
type Kind int

// What may decide over a frame.
const (
	PressureDeflection Kind = iota
	PressureBending
	PressureShear
	PressureSupport
	LineDeflection
	LineBending
	LineShear // with the bending at the same place
	LineSupport
	QuakeBending
	QuakeSupport
	kinds
)

var kindNames = [kinds]string{
	"deflection under uniform pressure", "bending under uniform pressure", "shear under uniform pressure", "web crippling at the track under uniform pressure",
	"deflection under line load", "bending under line load", "shear with bending under line load", "web crippling at the track under line load",
	"bending in an earthquake", "web crippling at the track in an earthquake",
}

// String names the kind as checks do.
func (k Kind) String() string { return kindNames[k] }

// asked reports whether the demand asks for the kind.
func (k Kind) asked(d *Demand) bool {
	switch {
	case k <= PressureSupport:
		return d.Pressure > 0
	case k <= LineSupport:
		return d.Line > 0
	}
	return d.Quake > 0
}

// spread returns the load per metre of stud.
func (f *Frame) spread(p quantity.Pressure) float64 { return float64(p) * f.Spacing.Metres() }

// point returns the line load on one stud.
func (f *Frame) point(d *Demand) beam.Point {
	return beam.Point{P: float64(d.Line) * f.Spacing.Metres(), A: d.LineHeight.Metres()}
}

// Deflection returns the greatest deflection in metres of the bare studs under
// the uniform pressure or under the line load.
func (f *Frame) Deflection(k Kind, height Length, d *Demand) float64 {
	l := height.Metres()
	if k == LineDeflection {
		p := f.point(d)
		return p.Deflection(l, f.Studs*f.Stud.stiffness(p.Moment(l)/f.Studs))
	}
	w := f.spread(d.Pressure)
	return beam.UniformDeflection(w, l, f.Studs*f.Stud.stiffness(beam.UniformMoment(w, l)/f.Studs))
}

// Composite returns the deflection in metres under the uniform pressure with the
// help of the boards, an estimate.
func (f *Frame) Composite(height Length, d *Demand) float64 {
	w, l := f.spread(d.Pressure), height.Metres()
	return beam.UniformDeflection(w, l, f.compositeStiffness(w, l))
}

// compositeStiffness returns EI in N·m² with the help of the boards.
func (f *Frame) compositeStiffness(w, l float64) float64 {
	bare := f.Studs * f.Stud.stiffness(beam.UniformMoment(w, l)/f.Studs)
	axial := f.Studs * float64(f.Stud.E) * float64(f.Stud.Area)
	return en1995_1_1.Stiffness(bare*1e6, axial, f.Stud.Profile.Web.MM(), l*1000, f.Boards[0], f.Boards[1]) * 1e-6
}

// Use returns demand over resistance of one kind for a wall of the given
// height, 0 where it is not asked for.
func (f *Frame) Use(k Kind, height Length, d *Demand) float64 {
	if !k.asked(d) || height <= 0 {
		return 0
	}
	l := height.Metres()
	switch k {
	case PressureDeflection, LineDeflection:
		return f.Deflection(k, height, d) * d.Limit / l
	case LineShear:
		foot, head := f.point(d).Reactions(l)
		return f.combined(f.Stud.Factor*f.point(d).Moment(l), f.Stud.Factor*math.Max(foot, head))
	}
	if force, ok := f.shear(k, l, d); ok {
		capacity := f.Stud.Support
		if k == PressureShear {
			capacity = f.Stud.Shear
		}
		return force / (f.Studs * float64(capacity))
	}
	return f.moment(k, l, d) / (f.Studs * float64(f.Stud.Moment))
}

// moment returns the moment in N·m with its factor.
func (f *Frame) moment(k Kind, l float64, d *Demand) float64 {
	switch k {
	case LineBending:
		return f.Stud.Factor * f.point(d).Moment(l)
	case QuakeBending:
		return beam.UniformMoment(f.spread(d.Quake), l)
	}
	return f.Stud.Factor * beam.UniformMoment(f.spread(d.Pressure), l)
}

// shear returns the reaction in N with its factor; false where the kind is of
// moments.
func (f *Frame) shear(k Kind, l float64, d *Demand) (float64, bool) {
	switch k {
	case PressureShear, PressureSupport:
		return f.Stud.Factor * beam.UniformShear(f.spread(d.Pressure), l), true
	case LineSupport:
		foot, head := f.point(d).Reactions(l)
		return f.Stud.Factor * math.Max(foot, head), true
	case QuakeSupport:
		return beam.UniformShear(f.spread(d.Quake), l), true
	}
	return 0, false
}

// combined returns the use under shear and bending at one place: by AISI S100
// H2 the root of the sum of squares; by EN 1993-1-3 6.1.10 bending is reduced
// where shear is above half of its resistance (with Mf,Rd taken as 0, on the
// safe side).
func (f *Frame) combined(m, v float64) float64 {
	um, uv := m/(f.Studs*float64(f.Stud.Moment)), v/(f.Studs*float64(f.Stud.Shear))
	if f.Stud.Factor == 1 {
		return math.Sqrt(um*um + uv*uv)
	}
	if uv <= 0.5 {
		return math.Max(um, uv)
	}
	return math.Max(um+(2*uv-1)*(2*uv-1), uv)
}

// Worst returns the greatest use and what it is of.
func (f *Frame) Worst(height Length, d *Demand) (float64, Kind) {
	worst, decides := 0.0, Kind(0)
	for k := range kinds {
		if u := f.Use(k, height, d); u > worst || math.IsNaN(u) {
			worst, decides = u, k
		}
	}
	return worst, decides
}

// Heights between which MaxHeight looks: below the least, the line load is
// nearer to the head than to the foot, and walls are no longer weaker the higher
// they are.
const (
	leastHeight    = 1800 * quantity.Millimetre
	greatestHeight = 30 * quantity.Metre
)

// MaxHeight returns the greatest height in whole millimetres up to which the
// frame does what is asked, and what decides; 0 where it does not at 1.8 m. 30 m
// is the most that it looks at.
func (f *Frame) MaxHeight(d *Demand) (Length, Kind) {
	low, high := leastHeight/quantity.Millimetre, greatestHeight/quantity.Millimetre
	if u, k := f.Worst(leastHeight, d); !(u <= 1) {
		return 0, k
	}
	for low+1 < high { // it does at low
		mid := (low + high) / 2
		if u, _ := f.Worst(mid*quantity.Millimetre, d); u <= 1 {
			low = mid
		} else {
			high = mid
		}
	}
	_, k := f.Worst(high*quantity.Millimetre, d)
	return low * quantity.Millimetre, k
}
