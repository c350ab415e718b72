package asce7_16_test

import (
	"testing"

	"nogging/internal/proof/structure/asce7_16"
	"nogging/internal/validation"
)

// Check case 1.6e: SDS 0.85, 250 lb, ap = Rp = Ip = 1, at the base of 30 ft.
func TestForce(t *testing.T) {
	c := asce7_16.Component{Amplification: 1, Response: 1, Importance: 1}
	check := func(name string, got, want float64) {
		validation.Check(t, validation.Case{Method: "ASCE 7-16 13.3.1", Name: name, Source: "published worked example", Status: validation.Read, Unit: "lb", Expected: want, Got: got, Tolerance: .1})
	}
	check("Fp at the base", 250*c.Coefficient(.85, 0), 85)
	c.Amplification = 100
	check("Fp at most", 250*c.Coefficient(.85, 1), 340)
	c.Amplification = 0
	check("Fp at least", 250*c.Coefficient(.85, 0), 63.75)
}
