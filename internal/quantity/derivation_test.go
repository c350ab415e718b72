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
