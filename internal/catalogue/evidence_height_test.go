package catalogue

import (
	"strings"
	"testing"
)

// A tested height has to say what document it is, of what, and what was shown.
func TestHeightEvidence(t *testing.T) {
	const good = "{id: H, name: n, document: d, frames: [single], stud: CW75, spacing: 625, height: 3500, duties: [zone 1]}"
	for _, c := range []struct{ from, to, code string }{
		{"", "", ""},
		{"document: d, ", "", "document"}, {"frames: [single], ", "", "frames"}, {"stud: CW75, ", "", "stud"}, {"spacing: 625", "spacing: 0", "spacing"},
		{", duties: [zone 1]", "", "duties"}, {"height: 3500", "height: -1", "height"}, {"height: 3500", "height: 3500, pressure: -1", "pressure"},
		{"CW75", "CW76", "in the catalogue"},
	} {
		user, found := Parse("own.yaml", []byte("height_evidence:\n  - "+strings.Replace(good, c.from, c.to, 1)+"\n"))
		merged, more := Shipped().Merge(user)
		found = append(found, more...)
		if c.code == "" {
			if len(found) > 0 || len(merged.HeightEvidence) != len(Shipped().HeightEvidence)+1 || merged.HeightEvidence[len(merged.HeightEvidence)-1].Status != "entered by user" {
				t.Errorf("%v %+v", found, merged.HeightEvidence)
			}
			continue
		}
		if len(found) == 0 || !strings.Contains(found[0].Path+" "+found[0].What.String(), c.code) {
			t.Errorf("%q for %q: %v", c.to, c.from, found)
		}
	}
}
