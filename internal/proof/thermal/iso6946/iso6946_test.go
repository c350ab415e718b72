package iso6946

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	_ "nogging/internal/draws"
	"nogging/internal/quantity"
	"nogging/internal/validation"
)

// Boards and wool without studs, both faces inside, reckoned by hand.
func TestLayersInSeries(t *testing.T) {
	board, wool := Layer(25*mm/2, 0.25), Layer(75*mm, 0.036)
	upper, lower, err := Limits(Inside, Inside, []Slice{{Clear: board}, {Clear: wool}, {Clear: board}})
	if err != nil || math.Abs(float64(upper-lower)) > 1e-12 {
		t.Fatalf("without bridges the limits differ: %v, %v, %v", upper, lower, err)
	}
	validation.Check(t, validation.Case{
		Method: "ISO 6946", Name: "12.5 mm board, 75 mm wool, 12.5 mm board: resistance", Unit: "m²K/W",
		Source: "ISO 6946, layers in series, by hand", Status: validation.Regression,
		Expected: 2.4433, Got: float64(upper), Tolerance: 1e-4,
	})
}

// ISO 6946, table of unventilated air layers.
func TestAir(t *testing.T) {
	validation.Check(t, validation.Case{
		Method: "ISO 6946", Name: "unventilated air layer of 25 mm", Unit: "m²K/W",
		Source: "published project calculation by BRE Digest 465, 11 August 2020", Status: validation.Read,
		Expected: 0.18, Got: float64(Air(25 * mm)),
	})
	rapid.Check(t, func(t *rapid.T) {
		a := quantity.Length(rapid.Int64Range(0, 60e6).Draw(t, "a"))
		b := a + quantity.Length(rapid.Int64Range(0, 60e6).Draw(t, "more"))
		if Air(a) > Air(b) || Air(a) < 0 {
			t.Fatalf("%s mm has %v, %s mm has %v", a, Air(a), b, Air(b))
		}
	})
}

// The upper limit is never below the lower, and neither rises with more bridges.
func TestLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5).Draw(t, "n")
		slices := make([]Slice, n)
		r := rapid.Float64Range(0.001, 5)
		for i := range slices {
			slices[i] = Slice{Clear: Resistance(r.Draw(t, "clear")), Fraction: rapid.Float64Range(0, 0.9).Draw(t, "f"), Set: rapid.IntRange(0, 2).Draw(t, "set")}
			slices[i].Bridge = slices[i].Clear * Resistance(rapid.Float64Range(0.01, 1).Draw(t, "bridge"))
		}
		upper, lower, err := Limits(Inside, Outside, slices)
		if err != nil || upper < lower*(1-1e-9) {
			t.Fatalf("limits %v and %v, %v", upper, lower, err)
		}
		slices[0].Fraction = (slices[0].Fraction + 0.9) / 2
		more, _, _ := Limits(Inside, Outside, slices)
		if more > upper*(1+1e-9) {
			t.Fatalf("more bridges raise the upper limit from %v to %v", upper, more)
		}
	})
}

func TestFraction(t *testing.T) {
	for _, f := range []float64{-0.1, 1, 2} {
		if _, _, err := Limits(Inside, Inside, []Slice{{Clear: 1, Bridge: 0.1, Fraction: f}}); err == nil {
			t.Errorf("a bridged part of %v is taken", f)
		}
	}
}
