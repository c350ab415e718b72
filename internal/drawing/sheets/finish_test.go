package sheets_test

import (
	"slices"
	"strings"
	"testing"
)

// TestFinishSchedule: a level's schedule has a row for each wall and their sum, and
// the wall's own sheet has the finish where there is room.
func TestFinishSchedule(t *testing.T) {
	set, w := named(t, "plain").laid(t)
	said := wordsOf(set.FinishSchedule(w.Level))
	for _, want := range []string{w.ID, "Q2 (usual)", "In all", "3: 300 wide"} {
		if !slices.Contains(said, want) {
			t.Errorf("%q is not in the schedule: %q", want, said)
		}
	}
	// A wall of 4.00 x 2.75 m: two faces of 2.735 m (boards are 15 mm short).
	if want := "21.88"; !slices.Contains(said, want) {
		t.Errorf("area %s of the faces is missing: %q", want, said)
	}
	title := func(text string) bool { return strings.HasPrefix(text, "Finish Q2, the usual level") }
	with := 0
	for _, f := range fixtures {
		if set, w := f.laid(t); slices.ContainsFunc(wordsOf(set.Wall(w)), title) {
			with++
		}
	}
	if with == 0 {
		t.Error("no wall's own sheet has the finish")
	}
	t.Logf("%d of %d walls have the finish on their own sheets", with, len(fixtures))
}
