package plan

import "testing"

// Zone 2 of DIN 4103-1 has twice the load of zone 1; the grades of BS 5234-2
// rise from light to severe. Neither standard stands for the other.
func TestDutyCovers(t *testing.T) {
	for _, c := range []struct {
		has, asked string
		want       bool
	}{
		{"zone 2", "zone 1", true}, {"zone 1", "zone 2", false}, {"Zone 1", "zone 1", true},
		{"SD", "hd", true}, {"MD", "HD", false}, {"SD", "zone 1", false}, {"zone 2", "LD", false},
	} {
		has, ok := ParseDuty(c.has)
		asked, also := ParseDuty(c.asked)
		if !ok || !also || has.Covers(asked) != c.want {
			t.Errorf("%s covers %s: %v", c.has, c.asked, !c.want)
		}
	}
	if _, ok := ParseDuty("strong"); ok {
		t.Error(`"strong" is no duty`)
	}
}
