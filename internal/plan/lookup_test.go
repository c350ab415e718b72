package plan

import (
	"fmt"
	"strings"
	"testing"

	"nogging/internal/finding"
)

const usablePlan = `nogging: 1
practice: metric
levels: [{id: L1, clear_height: 2750}, {id: L2, clear_height: 0}, {id: L4, clear_height: 2.75}, {id: L5, clear_height: 275 m}]
buildups:
  - {id: W1, frame: {kind: single, stud: CW75}, face_a: [GKB-12.5]}
  - {id: W2, frame: {kind: single, stud: [CW75]}, face_a: [GKB-12.5]}
  - {id: W3, frame: {kind: single, stud: CW75}, face_a: []}
  - {id: W5, frame: {kind: single, stud: CW75, spacing: 30}, face_a: [GKB-12.5]}
  - {id: W6, frame: {kind: single, stud: CW75, spacing: 100}, face_a: [GKB-12.5]}
walls:
  - `

func TestUsable(t *testing.T) {
	for wall, want := range map[string]bool{
		"{id: a, level: L1, line: [[0, 0], [4000, 0]], buildup: W1}":                                                               true,
		"{id: a, level: L1, line: [[0, 0], [4000, 0]], thickness: 100}":                                                            true,
		"{id: a, level: L1, line: [[0, 0], [4000, 0]], buildup: W1, height: 2.6}":                                                  false,
		"{id: a, level: L1, line: [[0, 0], [4000, 0]], buildup: W1, height: 25000}":                                                true, // doubtful, but buildable
		"{id: a, level: L1, line: [[0, 0], [4000, 0]], buildup: W1, height: 61 m}":                                                 false,
		"{id: a, level: L1, line: [[0, 0], [501 m, 0]], buildup: W1}":                                                              false,
		"{id: a, level: L5, line: [[0, 0], [4000, 0]], buildup: W1}":                                                               false,
		"{id: a, level: L1, line: [[0, 0], [4000, 0]], buildup: W5}":                                                               false,
		"{id: a, level: L1, line: [[0, 0], [4000, 0]], buildup: W6}":                                                               true,
		"{id: a, level: L4, line: [[0, 0], [4000, 0]], buildup: W1}":                                                               false,
		"{id: a, level: L2, line: [[0, 0], [4000, 0]], buildup: W1, height: 2600}":                                                 true,
		"{id: a, level: L1, line: [[0, 0], [4000, 0]], buildup: W1, openings: [{kind: door, at: 9000, width: 900, height: 2000}]}": true, // without the opening
		"{id: a, level: L2, line: [[0, 0], [4000, 0]], buildup: W1}":                                                               false,
		"{id: a, level: L3, line: [[0, 0], [4000, 0]], buildup: W1}":                                                               false,
		"{id: a, level: L1, line: [[0, 0], [0, 0]], buildup: W1}":                                                                  false,
		"{id: a, level: L1, line: [[0, 0]], buildup: W1}":                                                                          false,
		"{id: a, level: L1, line: [[0, 0], [4000, 0]], buildup: W2}":                                                               false,
		"{id: a, level: L1, line: [[0, 0], [4000, 0]], buildup: W3}":                                                               false,
		"{id: a, level: L1, line: [[0, 0], [4000, 0]], buildup: W4}":                                                               false,
		"{id: a, level: L1, line: [[0, 0], [4000, 0]]}":                                                                            false,
		"{id: a, level: L1, line: [[0, 0], [4000, 0]], buildup: W1, justify: left}":                                                false,
		"{id: a, level: L1, line: [[0, 0], [4000, 0]], buildup: W1, height: -1}":                                                   false,
		"{id: a, level: L1, line: [[0, 0], [4000, 0]], buildup: W1, heights: [{at: 0, height: 0}, {at: 4000, height: 2000}]}":      false,
		"{id: a, level: L1, line: [[0, 0], [4000, 0]], buildup: W1, openings: [{kind: door, at: 0, width: x, height: 2000}]}":      false, // who knows what is there
		"5": false,
	} {
		p, found := Parse("x.yaml", []byte(usablePlan+wall+"\n"))
		if len(p.Walls) != 1 {
			t.Fatalf("%s: %v", wall, found)
		}
		if got := p.Usable(&p.Walls[0]); got != want {
			t.Errorf("%s: usable is %v", wall, got)
		}
	}
}

// A wall that is not usable is named by an error, so that it never goes
// missing in silence.
func TestUnusableIsSaid(t *testing.T) {
	for _, file := range []string{"walls", "references", "syntax", "buildups"} {
		p, found := readBad(t, file)
		said := map[string]bool{}
		for _, f := range found {
			if f.Severity == finding.Error {
				path, _, _ := strings.Cut(f.Path, ".")
				said[path] = true
			}
		}
		for i := range p.Walls {
			w := &p.Walls[i]
			path := fmt.Sprintf("walls[%d]", i)
			if b := p.BuildUpByID(w.BuildUp); !p.Usable(w) && !said[path] && b == nil {
				t.Errorf("%s: %s %s is not usable, but nobody says so", file, path, w.ID)
			}
		}
	}
}

func TestOpeningID(t *testing.T) {
	w := Wall{ID: "L1-07", Openings: []Opening{{}, {ID: "D3"}, {}}}
	for i, want := range []string{"L1-07/1", "D3", "L1-07/3"} {
		if got := w.OpeningID(i); got != want {
			t.Errorf("opening %d is %s, want %s", i, got, want)
		}
	}
}

func TestCheckProducts(t *testing.T) {
	p := readGood(t, "metric.yaml")
	has := map[string][]string{
		ProductBoard: {"GKB-12.5", "GKBI-12.5", "GKF-12.5"}, ProductStud: {"CW50", "CW75"}, ProductTrack: {"UW50", "UW75"},
		ProductInsulation: {"MW-60"}, ProductPractice: {"metric", "us"},
	}
	ids := func(kind string) []string { return has[kind] }
	if found := p.CheckProducts(ids); len(found) > 0 {
		t.Errorf("found %v", found)
	}
	has[ProductBoard], has[ProductStud], has[ProductTrack], has[ProductInsulation], has[ProductPractice] = []string{"GKB-12.5", "GKB-15"}, []string{"CW100"}, nil, []string{"GW-60"}, []string{"us"}
	var got []string
	for _, f := range p.CheckProducts(ids) {
		got = append(got, f.Path+": "+f.Object+": "+f.What.String()+" | "+f.Fix.String())
	}
	want := []string{
		`practice: : practice "metric" is not in the catalogue | practice ids: us`,
		`buildups[0].frame.stud: W1: stud "CW75" is not in the catalogue | stud ids: CW100`,
		`buildups[0].frame.track: W1: track "UW75" is not in the catalogue | there are no track ids`,
		`buildups[0].face_b[0]: W1: board "GKBI-12.5" is not in the catalogue | did you mean "GKB-12.5"?`,
		`buildups[0].insulation[0].product: W1: insulation "MW-60" is not in the catalogue | did you mean "GW-60"?`,
		`buildups[1].frame.stud: W2: stud "CW50" is not in the catalogue | stud ids: CW100`,
		`buildups[1].insulation[0].product: W2: insulation "MW-60" is not in the catalogue | did you mean "GW-60"?`,
		`buildups[2].frame.stud: W3: stud "CW50" is not in the catalogue | stud ids: CW100`,
		`buildups[3].frame.stud: W4: stud "CW75" is not in the catalogue | stud ids: CW100`,
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got:\n%s\nwant:\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// Later checks find the places of what they speak of.
func TestReadGivesPlaces(t *testing.T) {
	_, places, _ := Read("starter.yaml", Starter())
	list := finding.List{{Path: "walls[0].openings[0].width"}, {Path: "buildups[1].face_a[0]"}, {Path: "walls[1].require.fire"}}
	places.Fill(list)
	for i, want := range []string{"      - {kind: door, at: 800, width: 885", "    face_a: [GKBI-12.5", "  - id: L1-02"} {
		if !strings.HasPrefix(list[i].Place.Text, want) {
			t.Errorf("%s stands at %q", list[i].Path, list[i].Place.Text)
		}
	}
}
