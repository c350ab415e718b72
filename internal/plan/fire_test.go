package plan

import "testing"

func TestParseFire(t *testing.T) {
	for _, c := range []struct {
		text string
		want FireClass
	}{
		{"EI 60", FireClass{FireEN, "EI", 60}},
		{"EI60", FireClass{FireEN, "EI", 60}},
		{"rei 90", FireClass{FireEN, "REI", 90}},

		{"E 30", FireClass{FireEN, "E", 30}},
		{"F30-A", FireClass{FireDIN, "", 30}},
		{"F 90-AB", FireClass{FireDIN, "", 90}},
		{"1 h", FireClass{FireHours, "", 60}},
		{"2 HR", FireClass{FireHours, "", 120}},
		{"1.5 h", FireClass{FireHours, "", 90}},
		{"1-1/2 hr", FireClass{FireHours, "", 90}},
		{"1/2 h", FireClass{FireHours, "", 30}},
		{"45 min", FireClass{FireHours, "", 45}},
		{"60", FireClass{}},
		{"as needed", FireClass{}},
		{"EI 0", FireClass{}},
		{"99999999999999999999 min", FireClass{}},
		{"", FireClass{}},
	} {
		got, err := ParseFire(c.text)
		if got != c.want || (err != nil) != (c.want == FireClass{}) {
			t.Errorf("ParseFire(%q) = %v, %v; want %v", c.text, got, err, c.want)
		}
		if err == nil {
			if again, _ := ParseFire(got.String()); again != got {
				t.Errorf("%q is written %q, which reads as %v", c.text, got, again)
			}
		}
	}
}

func TestFireClassCovers(t *testing.T) {
	for _, c := range []struct {
		has, asked string
		want       bool
	}{
		{"EI 60", "EI 60", true},
		{"EI 90", "EI 60", true},
		{"EI 30", "EI 60", false},
		{"EI 60", "E 60", true},
		{"E 60", "EI 60", false},
		{"EI 60", "EW 60", true},
		{"EI 60", "REI 60", false},
		{"F90-A", "EI 90", false}, // the local code says which stands for which
		{"2 h", "1 h", true},
		{"1 h", "2 h", false},
	} {
		has, _ := ParseFire(c.has)
		asked, _ := ParseFire(c.asked)
		if got := has.Covers(asked); got != c.want {
			t.Errorf("%s for %s: %v", c.has, c.asked, got)
		}
	}
}

// A demand that nobody can read is doubted where it stands; the wall is kept.
func TestUnreadableDemand(t *testing.T) {
	for fire, want := range map[string]int{"EI 60": 0, "sixty": 1, "60": 1, "''": 0} {
		p, found := Parse("wall.yaml", []byte(`nogging: 1
levels: [{id: L1, clear_height: 3000}]
buildups: [{id: W, frame: {kind: single, stud: CW75}, face_a: [GKB-12.5]}]
walls:
  - {id: L1-01, level: L1, line: [[0, 0], [6000, 0]], buildup: W, require: {fire: `+fire+`}}
`))
		doubts := 0
		for _, f := range found {
			if f.Code == "unknown-demand" && f.Place.Line == 5 {
				doubts++
			}
		}
		if doubts != want || len(p.Walls) != 1 {
			t.Errorf("%s: %d doubts, want %d", fire, doubts, want)
		}
	}
}
