package en1995_1_2

import (
	"fmt"
	"testing"

	"nogging/internal/quantity"
	"nogging/internal/validation"
)

const mm = quantity.Millimetre

// EN 1995-1-2:2004 equations 3.11 and 3.12, as published with comments.
func TestCharring(t *testing.T) {
	for _, c := range []struct {
		thickness, gap quantity.Length
		want           float64
	}{
		{25 * mm / 2, 0, 21.0},
		{15 * mm, 0, 28.0},
		{18 * mm, 2 * mm, 36.4},
		{19 * mm / 2, 0, 12.6},
		{15 * mm, 3 * mm, 19.0},
		{3 * mm, 0, 0},
	} {
		validation.Check(t, validation.Case{
			Method: "EN 1995-1-2:2004", Name: fmt.Sprintf("charring behind %s mm, gaps of %s mm", c.thickness, c.gap), Unit: "min",
			Source: "EN 1995-1-2:2004, equations 3.11 and 3.12, as published with comments", Status: validation.Read,
			Expected: c.want, Got: Charring(c.thickness, c.gap), Tolerance: 0.05,
		})
	}
}

// EN 1995-1-2:2004, 3.4.3.3(3), with equation 3.11.
func TestCharringTwo(t *testing.T) {
	for _, c := range []struct {
		thickness quantity.Length
		of        Type
		want      float64
	}{
		{25 * mm / 2, A, 38.5},
		{25 * mm / 2, F, 49.0},
		{15 * mm, F, 61.6},
	} {
		validation.Check(t, validation.Case{
			Method: "EN 1995-1-2:2004", Name: fmt.Sprintf("charring behind two of %s mm, type %s", c.thickness, c.of), Unit: "min",
			Source: "EN 1995-1-2:2004, 3.4.3.3(3) with equation 3.11, as published with comments", Status: validation.Read,
			Expected: c.want, Got: CharringTwo(c.thickness, c.thickness, c.of), Tolerance: 0.05,
		})
	}
}

func TestScope(t *testing.T) {
	if Scope(Steel) == nil || Scope(Timber) != nil {
		t.Error("the method is for timber only")
	}
}
