package floorload_test

import (
	"testing"

	"nogging/internal/proof/floorload"
	"nogging/internal/quantity"
	"nogging/internal/validation"
)

// Check cases 1.5a to 1.5d. That the classes end at 3 kN/m is published (New
// Steel Construction on EN 1991-1-1); the weights are mass × g × height. The
// classes themselves are from memory, so they are asserted as they stand in the
// program and are no validation of it.
func TestClasses(t *testing.T) {
	for _, c := range []struct {
		mass, height, weight float64
		floor                quantity.Pressure
	}{{25, 2.6, .638, 500}, {49, 3, 1.442, 800}, {75, 3, 2.207, 1200}, {120, 2.5, 2.943, 1200}} {
		w := floorload.Weight(quantity.MassPerArea(c.mass), quantity.Metres(c.height))
		validation.Check(t, validation.Case{Method: "EN 1991-1-1:2002 6.3.1.2", Name: "weight of a wall per metre", Source: "mass × 9.81 m/s² × height", Status: validation.Regression, Unit: "kN/m", Expected: c.weight, Got: float64(w) / 1000, Tolerance: .0015})
		if class, ok := floorload.ClassOf(w); !ok || class.Floor != c.floor {
			t.Errorf("%v kN/m is in class %v, want %v Pa", float64(w)/1000, class, float64(c.floor))
		}
	}
	if _, ok := floorload.ClassOf(3001); ok {
		t.Error("a wall above 3 kN/m has no equivalent load")
	}
}

// A stack 0.60 m high of boards of 800 kg/m³ lays 480 kg/m², 4.7 kN/m², on the
// floor (reference 4g, derived).
func TestStack(t *testing.T) {
	s := floorload.Stack{Mass: 10, Count: 48} // 48 boards of 12.5 mm
	validation.Check(t, validation.Case{Method: "boards stacked on floors", Name: "48 boards of 12.5 mm, 800 kg/m³", Source: "density × height × g", Status: validation.Regression, Unit: "kN/m²", Expected: 4.7, Got: float64(s.Pressure()) / 1000, Tolerance: .05})
	if n := floorload.Most(10, 2000); n != 20 {
		t.Errorf("%d boards of 10 kg/m² lie on 2 kN/m²; 20 weigh 1.96", n)
	}
}
