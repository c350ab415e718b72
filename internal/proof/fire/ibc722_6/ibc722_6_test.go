package ibc722_6

import (
	"fmt"
	"testing"

	"nogging/internal/quantity"
	"nogging/internal/validation"
)

// IBC Table 722.6.2(1) with the frame's 20 minutes of Table 722.6.2(2), which is
// from memory; UBC-94 Table 7-7-W-A has the same times for membranes.
func TestRating(t *testing.T) {
	const spacing = 16 * quantity.Inch
	for _, c := range []struct {
		a, b Membrane
		want int
	}{
		{TypeX5_8, TypeX5_8, 60},
		{TypeX1_2, TypeX1_2, 45},
		{DoubleGypsum1_2, DoubleGypsum1_2, 60},
		{TypeX5_8, Gypsum1_2, 35}, // the weaker side
		{Gypsum1_2, TypeX5_8, 35},
		{Gypsum5_8, Gypsum5_8, 50},
	} {
		got, err := Rating(Wood, spacing, c.a, c.b)
		if err != nil {
			t.Error(err)
			continue
		}
		validation.Check(t, validation.Case{
			Method: "IBC 722.6", Name: fmt.Sprintf("%s and %s on wood studs at 16 in", c.a, c.b), Unit: "min",
			Source: "IBC Table 722.6.2(1); the 20 min of the frame are from memory", Status: validation.Read,
			Expected: float64(c.want), Got: float64(got),
		})
	}
}

func TestOutOfScope(t *testing.T) {
	for _, c := range []struct {
		framing Framing
		spacing quantity.Length
		a       Membrane
	}{
		{Wood, 24 * quantity.Inch, TypeX5_8}, // IBC 722.6.2.1: 16 in or less
		{Steel, 16 * quantity.Inch, TypeX5_8},
		{Wood, 16 * quantity.Inch, "paper"},
	} {
		if got, err := Rating(c.framing, c.spacing, c.a, c.a); err == nil {
			t.Errorf("%v is rated %d minutes", c, got)
		}
	}
}
