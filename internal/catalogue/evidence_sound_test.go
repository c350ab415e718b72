package catalogue

import (
	"fmt"
	"strings"
	"testing"

	"nogging/internal/finding"
	"nogging/internal/quantity"
)

const soundRecord = `sound_evidence:
  - id: S-1
    name: Office wall
    document: laboratory report 12 of 2027-02-01
    ratings: [Rw 53, "Rw + Ctr 45"]
    first: 100
    spectrum: [30, 35, 40]
    frame: single
    depth: 75
    steel: 0.6
    spacing: 600
    face_a: [{types: [DF], thickness: 12.5, mass: 10}, {types: [DF], thickness: 12.5, mass: 10}]
    fill: [{materials: [stone wool], thickness: 60}]
    source: the report itself
`

func mergeSound(t *testing.T, change ...string) (*Catalogue, finding.List) {
	t.Helper()
	user, found := Parse("own.yaml", []byte(strings.NewReplacer(change...).Replace(soundRecord)))
	merged, more := Shipped().Merge(user)
	return merged, append(found, more...)
}

// A user's record is taken up, as entered by the user.
func TestSoundEvidence(t *testing.T) {
	c, found := mergeSound(t)
	if len(found) > 0 || len(c.SoundEvidence) != 1 || c.SoundEvidence[0].Status != quantity.Entered {
		t.Fatal(found, c.SoundEvidence)
	}
	e := &c.SoundEvidence[0]
	if len(e.Face(0)) != 2 || len(e.Face(1)) != 2 || e.Depth != quantity.MM(75) || c.SoundEntries()[0].Sizes != "Rw 53, Rw + Ctr 45" {
		t.Errorf("%+v", e)
	}
}

func TestWrongSoundEvidence(t *testing.T) {
	for name, tt := range map[string]struct {
		change []string
		says   string
	}{
		"no document":      {[]string{"document: laboratory report 12 of 2027-02-01", "document: ''"}, "what document"},
		"no results":       {[]string{`ratings: [Rw 53, "Rw + Ctr 45"]`, "", "first: 100", "", "spectrum: [30, 35, 40]", ""}, "no result"},
		"field rating":     {[]string{"Rw 53", "R'w 53"}, "from a laboratory"},
		"unreadable":       {[]string{"Rw 53", "53"}, "from a laboratory"},
		"no such band":     {[]string{"first: 100", "first: 110"}, "no band"},
		"too many bands":   {[]string{"first: 100", "first: 4000"}, "beyond 5000"},
		"no level":         {[]string{"[30, 35, 40]", "[30, 350, 40]"}, "350 dB"},
		"no frame":         {[]string{"frame: single", ""}, "frame is missing"},
		"no boards":        {[]string{"face_a:", "face_b:"}, "face_a is missing"},
		"board of no mass": {[]string{"mass: 10}]", "mass: 0}]"}, "kg/m²"},
		"no depth":         {[]string{"depth: 75", ""}, "depth is missing"},
		"fill of nothing":  {[]string{"[stone wool]", "[]"}, "no material"},
	} {
		c, found := mergeSound(t, tt.change...)
		if len(c.SoundEvidence) != 0 || !strings.Contains(fmt.Sprint(found), tt.says) {
			t.Errorf("%s: %v", name, found)
		}
	}
}
