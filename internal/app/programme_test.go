package app

import (
	"bytes"
	"strings"
	"testing"

	"nogging/internal/catalogue"
	"nogging/internal/programme"
)

// Norms that records suggest can be named under catalogue in a plan as they are written;
// those of few records are left out.
func TestNormsAreACatalogue(t *testing.T) {
	var b bytes.Buffer
	err := writeNorms(&b, &programme.Progress{Today: 20_000, Norms: []programme.Norm{
		{Name: "tracks", Records: 9, Factor: 1.1, Low: 1, High: 1.2, Operations: []programme.NormMinutes{{Operation: catalogue.FixTrack, Name: "Fix tracks", Unit: "m", Now: 4, Suggested: 4.4}}},
		{Name: "beads", Records: 1, Few: true, Operations: []programme.NormMinutes{{Operation: catalogue.FitBead, Name: "Fit beads", Unit: "m", Now: 3, Suggested: 9}}},
	}})
	if err != nil {
		t.Fatal(err)
	}
	user, found := catalogue.Parse("norms.yaml", b.Bytes())
	if len(found) > 0 {
		t.Fatal(found)
	}
	merged, _ := catalogue.Shipped().Merge(user)
	track, _ := merged.OperationFor(catalogue.FixTrack)
	bead, _ := merged.OperationFor(catalogue.FitBead)
	if track.Minutes != 4.4 || !strings.Contains(track.Source, "9 records") || bead.Minutes != 3 {
		t.Errorf("%+v, %+v", track, bead)
	}
}
