package plan

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// A rating that nobody can read is doubted where it stands; the wall is kept.
func TestUnreadableSound(t *testing.T) {
	for _, tt := range []struct {
		wall, door string
		want       []string
	}{
		{"Rw 53", "Rw 32", nil},
		{"R'w >= 53 dB", "", nil},
		{"quiet", "Rw 32", []string{"walls[0].require.sound"}},
		{"STC 50", "37", []string{"walls[0].openings[0].sound"}},
	} {
		p, found := Parse("wall.yaml", []byte(`nogging: 1
levels: [{id: L1, clear_height: 3000}]
buildups: [{id: W, frame: {kind: single, stud: CW75}, face_a: [GKB-12.5]}]
walls:
  - id: L1-01
    level: L1
    line: [[0, 0], [6000, 0]]
    buildup: W
    require: {sound: "`+tt.wall+`"}
    openings: [{kind: door, at: 1000, width: 885, height: 2130, leaf_mass: 25, sound: "`+tt.door+`"}]
`))
		var doubted []string
		for _, f := range found {
			if f.Code == "unknown-demand" && f.Place.Line > 0 && f.Fix != "" {
				doubted = append(doubted, f.Path)
			}
		}
		slices.Sort(doubted)
		if diff := cmp.Diff(tt.want, doubted); diff != "" || len(p.Walls) != 1 {
			t.Errorf("%s, %s: %s", tt.wall, tt.door, diff)
		}
	}
}
