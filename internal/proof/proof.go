// Package proof holds what every proof of a wall has in common: one check of one
// wall against one need, its verdict, and the derivation behind it. The methods
// stand in the packages below it, one for each need, and under those one for each
// standard and edition.
//
// A check never guesses: where a property that the method needs is not known, its
// verdict is NotProven and it says what is missing.
package proof

import (
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// Need is what a wall is asked for.
type Need string

// The needs that walls are proven for.
const (
	Structure Need = "structure"
	Fire      Need = "fire"
	Sound     Need = "sound"
	Heat      Need = "heat"
	Moisture  Need = "moisture"
	FloorLoad Need = "load on the floor"
)

// Verdict is the outcome of a check.
type Verdict string

// The outcomes of a check.
const (
	Passes    Verdict = "passes"
	Fails     Verdict = "fails"
	NotProven Verdict = "not proven" // something is missing or out of the method's scope; Check.Missing says what
	Shown     Verdict = "shown"      // a figure that nothing was asked of
)

// Check is one check of one wall.
type Check struct {
	Need    Need                 `json:"need"`
	Name    string               `json:"name"` // such as "deflection under uniform pressure"
	Verdict Verdict              `json:"verdict"`
	Asked   string               `json:"asked,omitempty"`   // as the plan asks it, such as "Rw 53"
	Use     float64              `json:"use,omitempty"`     // utilisation: demand over resistance, 1 at the limit; 0 where the check is no ratio
	Got     *quantity.Derivation `json:"got,omitempty"`     // the figure that decides
	Missing []string             `json:"missing,omitempty"` // for NotProven: what is missing or out of scope, one each
	Advice  words.Text           `json:"advice,omitempty"`  // the nearest thing that works
}

// Result says in a few words what was got: the figure that decides with its unit
// and range, or what is missing.
func (c *Check) Result() string {
	switch {
	case c.Got == nil && len(c.Missing) > 0:
		return "missing: " + c.Missing[0]
	case c.Got == nil:
		return ""
	}
	return c.Got.Figure()
}

// Worst returns the gravest verdict of some checks: a failed check counts before
// one that is not proven, and that before one that passes.
func Worst(checks []Check) Verdict {
	worst := Shown
	for _, c := range checks {
		if c.Verdict.gravity() > worst.gravity() {
			worst = c.Verdict
		}
	}
	return worst
}

func (v Verdict) gravity() int {
	switch v {
	case Fails:
		return 3
	case NotProven:
		return 2
	case Passes:
		return 1
	}
	return 0
}
