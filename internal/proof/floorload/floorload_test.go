package floorload_test

import (
	"testing"

	"nogging/internal/proof/floorload"
	"nogging/internal/validation"
)

// A stack 0.60 m high of boards of 800 kg/m³ lays 480 kg/m², 4.7 kN/m², on the
// floor (reference 4g, derived).
func TestStack(t *testing.T) {
	s := floorload.Stack{Mass: 10, Count: 48} // 48 boards of 12.5 mm
	validation.Check(t, validation.Case{Method: "boards stacked on floors", Name: "48 boards of 12.5 mm, 800 kg/m³", Source: "density × height × g", Status: validation.Regression, Unit: "kN/m²", Expected: 4.7, Got: float64(s.Pressure()) / 1000, Tolerance: .05})
	if n := floorload.Most(10, 2000); n != 20 {
		t.Errorf("%d boards of 10 kg/m² lie on 2 kN/m²; 20 weigh 1.96", n)
	}
}
