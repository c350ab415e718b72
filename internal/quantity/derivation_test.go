package quantity

import "testing"

func TestWeakest(t *testing.T) {
	d := Derivation{Status: Derived, From: []Derivation{
		{Status: Published},
		{Status: Derived, From: []Derivation{{Status: Memory}, {Status: Entered}}},
	}}
	if got := d.Weakest(); got != Memory {
		t.Errorf("a figure derived from one that is from memory is %q, not %q", got, Memory)
	}
	d.From[0].Status = "hearsay"
	if got := d.Weakest(); got != "hearsay" {
		t.Errorf("an unknown status counts as the least firm, not %q", got)
	}
}

func TestFigure(t *testing.T) {
	for _, c := range []struct {
		d    Derivation
		want string
	}{
		{Derivation{Value: 0.58512, Unit: "W/(m²·K)"}, "0.585 W/(m²·K)"},
		{Derivation{Value: 52, Unit: "dB", Range: &Range{48.6, 55.4}}, "52 (48.6 to 55.4) dB"},
		{Derivation{Value: 123456.7, Unit: "mm⁴"}, "123457 mm⁴"},
		{Derivation{Value: 0}, "0"},
		{Derivation{Value: 0.001234}, "0.00123"},
		{Derivation{Value: -12.34}, "-12.3"},
		{Derivation{Text: "EI 60", Value: 3}, "EI 60"},
	} {
		if got := c.d.Figure(); got != c.want {
			t.Errorf("%+v is written %q, want %q", c.d, got, c.want)
		}
	}
}
