package bre465

import (
	"testing"

	"nogging/internal/proof/thermal/iso6946"
	"nogging/internal/quantity"
	"nogging/internal/validation"
)

const mm = quantity.Millimetre

// A published project calculation by BRE Digest 465 of 11 August 2020: brick
// outer leaf with mortar, cavity, sheathing, air and wool between studs of 2 mm at
// 400 mm, board. It prints limits 2.785 and 0.932, p 0.168 and U 0.805.
func TestPublishedSheet(t *testing.T) {
	const sheet = 2 * mm
	const spacing = 400 * mm
	steel := func(thickness quantity.Length) quantity.Resistance {
		return iso6946.Layer(thickness, iso6946.SteelConductivity)
	}
	f := Fraction(sheet, spacing)
	upper, lower, err := iso6946.Limits(iso6946.Inside, iso6946.Outside, []iso6946.Slice{
		{Clear: iso6946.Layer(103*mm, 0.77), Bridge: iso6946.Layer(103*mm, 0.94), Fraction: 0.17185},
		{Clear: iso6946.Air(50 * mm)},
		{Clear: iso6946.Layer(10*mm, 0.13)},
		{Clear: iso6946.Air(25 * mm), Bridge: steel(25 * mm), Fraction: f, Set: 1},
		{Clear: iso6946.Layer(75*mm, 0.0366), Bridge: steel(75 * mm), Fraction: f, Set: 1},
		{Clear: iso6946.Layer(25*mm/2, 0.25)},
	})
	if err != nil {
		t.Fatal(err)
	}
	studs := Studs{Flange: 80 * mm, Depth: 100 * mm, Spacing: spacing}
	for _, c := range []struct {
		name      string
		want, got float64
		tolerance float64
	}{
		{"upper limit", 2.785, float64(upper), 0.0005},
		{"lower limit", 0.932, float64(lower), 0.0005},
		{"p", 0.168, studs.Share(upper, lower), 0.0005},
		{"U without fixings", 0.8043, 1 / float64(studs.Total(upper, lower)), 0.0005},
	} {
		validation.Check(t, validation.Case{
			Method: "BRE Digest 465", Name: "brick wall with steel studs: " + c.name,
			Source: "published project calculation by BRE Digest 465, 11 August 2020", Status: validation.Reworked,
			Expected: c.want, Got: c.got, Tolerance: c.tolerance,
		})
	}
}

// The formula worked by hand: 0.4 + 0.44 - 0.125 - 0.2 - 0.04.
func TestShare(t *testing.T) {
	validation.Check(t, validation.Case{
		Method: "BRE Digest 465", Name: "p for flange 50, spacing 600, depth 100 mm, limits 1 to 2",
		Source: "formula of BRE Digest 465, by hand", Status: validation.Regression,
		Expected: 0.475, Got: Studs{Flange: 50 * mm, Depth: 100 * mm, Spacing: 600 * mm}.Share(2, 1), Tolerance: 1e-9,
	})
}
