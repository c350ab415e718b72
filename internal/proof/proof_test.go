package proof

import "testing"

func TestWorst(t *testing.T) {
	for _, c := range []struct {
		checks []Check
		want   Verdict
	}{
		{nil, Shown},
		{[]Check{{Verdict: Shown}, {Verdict: Passes}}, Passes},
		{[]Check{{Verdict: Passes}, {Verdict: NotProven}, {Verdict: Passes}}, NotProven},
		{[]Check{{Verdict: NotProven}, {Verdict: Fails}}, Fails},
	} {
		if got := Worst(c.checks); got != c.want {
			t.Errorf("Worst(%v) = %s, want %s", c.checks, got, c.want)
		}
	}
}
