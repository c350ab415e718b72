package finding_test

import (
	"slices"
	"testing"

	"nogging/internal/finding"
)

func TestString(t *testing.T) {
	f := finding.Finding{
		Code: "x", Severity: finding.Error, Object: "L1-07", What: "has no length",
		Place: finding.Place{File: "plan.yaml", Line: 12, Column: 5},
	}
	if got, want := f.String(), "plan.yaml:12:5: error: L1-07: has no length"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	f.Place, f.Object = finding.Place{}, ""
	if got, want := f.String(), "error: has no length"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// Lists stand in the order of the file, then of severity, whatever the order in
// which findings were met.
func TestSort(t *testing.T) {
	at := func(line int, s finding.Severity, object string) finding.Finding {
		return finding.Finding{Severity: s, Object: object, Place: finding.Place{File: "plan.yaml", Line: line}}
	}
	want := finding.List{
		at(0, finding.Note, "L1-01"), at(3, finding.Error, "L1-02"), at(3, finding.Warning, "L1-01"), at(3, finding.Warning, "L1-02"), at(9, finding.Assumed, "L1-01"),
	}
	got := slices.Clone(want)
	slices.Reverse(got)
	got.Sort()
	if !slices.Equal(got, want) {
		t.Errorf("%v", got)
	}
}

func TestNeedsPerson(t *testing.T) {
	for _, s := range finding.Severities() {
		var l finding.List
		l.Add(finding.Finding{Severity: s})
		if want := s == finding.Error || s == finding.Warning; l.NeedsPerson() != want || l.Count(s) != 1 {
			t.Errorf("%s: needs a person: %v", s, l.NeedsPerson())
		}
	}
}
