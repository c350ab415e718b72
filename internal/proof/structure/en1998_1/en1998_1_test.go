package en1998_1_test

import (
	"testing"

	"nogging/internal/proof/structure/en1998_1"
	"nogging/internal/quantity"
	"nogging/internal/validation"
)

// Check cases 1.6a to 1.6d: reckoned by hand from equation 4.25.
func TestCoefficient(t *testing.T) {
	check := func(name, unit string, got, want float64) {
		validation.Check(t, validation.Case{Method: "EN 1998-1:2004 4.3.5", Name: name, Source: "equations 4.24 and 4.25, by hand", Status: validation.Regression, Unit: unit, Expected: want, Got: got, Tolerance: 5e-5})
	}
	site := func(place, ratio float64) en1998_1.Site {
		return en1998_1.Site{Alpha: .16, Soil: 1.15, Place: place, PeriodRatio: ratio}
	}
	check("Sa, roof, stiff wall", "", site(1, 0).Coefficient(), .4600)
	check("Sa, half height, stiff wall", "", site(.5, 0).Coefficient(), .3220)
	check("Sa, roof, resonance", "", site(1, 1).Coefficient(), 1.0120)
	check("Sa, not below αS", "", site(0, 4).Coefficient(), .184)
	check("Fa of a wall of 0.45 kN/m²", "kN/m²", float64(site(1, 0).Load(quantity.MassPerArea(450/quantity.Gravity), 1))/1000, .1035)
}
