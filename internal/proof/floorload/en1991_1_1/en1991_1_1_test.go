package en1991_1_1_test

import (
	"testing"

	"nogging/internal/proof/floorload/en1991_1_1"
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
		w := en1991_1_1.Weight(quantity.MassPerArea(c.mass), quantity.Metres(c.height))
		validation.Check(t, validation.Case{Method: "EN 1991-1-1:2002 6.3.1.2", Name: "weight of a wall per metre", Source: "mass × 9.81 m/s² × height", Status: validation.Regression, Unit: "kN/m", Expected: c.weight, Got: float64(w) / 1000, Tolerance: .0015})
		if class, ok := en1991_1_1.ClassOf(w); !ok || class.Floor != c.floor {
			t.Errorf("%v kN/m is in class %v, want %v Pa", float64(w)/1000, class, float64(c.floor))
		}
	}
	if _, ok := en1991_1_1.ClassOf(3001); ok {
		t.Error("a wall above 3 kN/m has no equivalent load")
	}
}
