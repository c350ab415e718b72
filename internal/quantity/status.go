package quantity

import "slices"

// Status says how far a figure can be relied on.
type Status string

// The statuses of a figure, from the firmest to the least firm.
const (
	Published Status = "published"       // from a published source that is named
	Evidence  Status = "test evidence"   // from a test report that the user recorded
	Entered   Status = "entered by user" // typed into the plan
	Derived   Status = "derived"         // reckoned from other figures by a stated method
	Practice  Status = "common practice" // a rule of the trade without a single source
	Memory    Status = "from memory"     // named clause, but nobody could open it: check before relying on it
	Estimate  Status = "estimate"        // a model's figure, with uncertainty
)

// Statuses lists every status, firmest first.
func Statuses() []Status {
	return []Status{Published, Evidence, Entered, Derived, Practice, Memory, Estimate}
}

// Area is an area in square millimetres. Areas of shapes whose corners lie on
// whole micrometres are exact up to about 9000 m².
type Area float64

// SquareMetre is one square metre in the unit of Area.
const SquareMetre Area = 1e6

// SquareMetres returns the area in square metres.
func (a Area) SquareMetres() float64 { return float64(a / SquareMetre) }

// rank orders statuses, the firmest first; one that is not known comes last.
func (s Status) rank() int {
	if i := slices.Index(Statuses(), s); i >= 0 {
		return i
	}
	return len(Statuses())
}
