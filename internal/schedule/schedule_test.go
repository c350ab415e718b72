package schedule_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/schedule"
	"nogging/internal/table"
)

// Two rooms side by side, a corridor below them.
const planText = `nogging: 1
practice: metric
levels: [{id: L1, clear_height: 2700, floor: concrete, soffit: concrete}]
buildups:
  - {id: W1, frame: {kind: single, stud: CW75}, face_a: [GKB-12.5]}
  - {id: W2, frame: {kind: single, stud: CW100}, face_a: [GKF-12.5, GKF-12.5]}
rooms:
  - {id: R1, level: L1, name: Office, outline: [[0, 0], [4000, 0], [4000, 3000], [0, 3000]]}
  - {id: R2, level: L1, name: Store, outline: [[4000, 0], [8000, 0], [8000, 3000], [4000, 3000]]}
  - {id: R3, level: L1, name: Corridor, outline: [[0, -1500], [8000, -1500], [8000, 0], [0, 0]]}
walls:
  - {id: L1-01, level: L1, line: [[0, 0], [4000, 0]], buildup: W1, openings: [{kind: door, at: 500, width: 900, height: 2100}]}
  - {id: L1-02, level: L1, line: [[4000, 0], [8000, 0]], buildup: W1, openings: [{id: D2, kind: door, at: 500, width: 900, height: 2100}]}
  - {id: L1-03, level: L1, line: [[4000, 0], [4000, 3000]], buildup: W1}
`

func merged(t *testing.T, csv string, c *schedule.Columns) (*plan.Plan, *schedule.Result) {
	t.Helper()
	p, _, found := plan.Read("plan.yaml", []byte(planText))
	if found.Count(finding.Error) > 0 {
		t.Fatal(found)
	}
	rows, err := table.CSV([]byte(csv), "")
	if err != nil {
		t.Fatal(err)
	}
	if c == nil {
		c = &schedule.Columns{}
	}
	before, _ := plan.Marshal(p)
	r := schedule.Merge(p, "schedule.csv", rows, c)
	if after, _ := plan.Marshal(p); string(after) != string(before) {
		t.Error("the plan itself changed")
	}
	return p, r
}

func errors(r *schedule.Result) []string {
	var list []string
	for _, f := range r.Findings {
		if f.Severity == finding.Error {
			list = append(list, f.Code+" "+f.Place.String())
		}
	}
	return list
}

func TestByNumber(t *testing.T) {
	_, r := merged(t, "Wall No.;Type;Fire;Rw;Height [m]\nl1-01;W2;EI 60;53;2,6\nL1-03;W2;;;\n", nil)
	if got := errors(r); got != nil {
		t.Fatal(got)
	}
	w := r.Plan.Walls[0]
	if w.BuildUp != "W2" || w.Require.Fire != "EI 60" || w.Require.Sound != "Rw 53" || w.Height != quantity.MM(2600) || r.Plan.Walls[2].BuildUp != "W2" || r.Plan.Walls[1].BuildUp != "W1" {
		t.Errorf("%+v", r.Plan.Walls)
	}
	if len(r.Changes) != 5 || r.Changes[0] != (schedule.Change{Object: "L1-01", Field: "buildup", Was: "W1", Is: "W2", Place: finding.Place{File: "schedule.csv", Line: 2, Column: 2, Text: "W2"}}) {
		t.Errorf("%+v", r.Changes)
	}
	if n := r.Findings.Count(finding.Note); n != 1 || !strings.Contains(r.Findings[0].What.String(), "L1-02") {
		t.Errorf("what it leaves out: %v", r.Findings)
	}
}

func TestByRooms(t *testing.T) {
	_, r := merged(t, "Room,To,Sound\nOffice,Store,Rw 50\nR1,Corridor,Rw 42\nR2,R9,Rw 1\n", nil)
	var got []string
	for _, w := range r.Plan.Walls {
		got = append(got, w.Require.Sound)
	}
	if diff := cmp.Diff([]string{"Rw 42", "", "Rw 50"}, got); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]string{"schedule-no-wall schedule.csv:4:1"}, errors(r)); diff != "" {
		t.Error(diff)
	}
}

func TestDoors(t *testing.T) {
	_, r := merged(t, "Door;Wall;Width;Height;Leaf mass;Sound\nD2;;1010;2130;45 kg;Rw 32\nD1;L1-01;885;;25,5;\nD7;;900;;;\n", nil)
	one, two := r.Plan.Walls[0].Openings[0], r.Plan.Walls[1].Openings[0]
	if two.Width != quantity.MM(1010) || two.Height != quantity.MM(2130) || two.LeafMass != 45 || two.Sound != "Rw 32" {
		t.Errorf("D2: %+v", two)
	}
	if one.ID != "D1" || one.Width != quantity.MM(885) || one.LeafMass != 25.5 || one.Height != quantity.MM(2100) {
		t.Errorf("D1: %+v", one)
	}
	if diff := cmp.Diff([]string{"schedule-no-door schedule.csv:4:1"}, errors(r)); diff != "" {
		t.Error(diff)
	}
}

// A person says once what the columns are called and what the words mean.
func TestColumns(t *testing.T) {
	c, found := schedule.ReadColumns("columns.yaml", []byte("columns: {wall: Nr, fire: Klasse}\nvalues: {fire: {F60: EI 60}}\nunit: m\n"))
	if len(found) > 0 {
		t.Fatal(found)
	}
	_, r := merged(t, "Nr;Klasse;Height\nL1-01;F60;2,5\n", c)
	if w := r.Plan.Walls[0]; errors(r) != nil || w.Require.Fire != "EI 60" || w.Height != quantity.MM(2500) {
		t.Errorf("%v %+v", errors(r), w)
	}
	if _, found := schedule.ReadColumns("columns.yaml", []byte("columns: {colour: Farbe}\n")); found.Count(finding.Error) != 1 || found[0].Place.Line != 1 {
		t.Errorf("an unknown field: %v", found)
	}
}

func TestBadRows(t *testing.T) {
	for _, c := range []struct{ name, csv, want string }{
		{"no such wall", "wall,fire\nL1-99,EI 60\n", "schedule-no-wall schedule.csv:2:1"},
		{"no such build-up", "wall,type\nL1-01,W9\n", "schedule-value schedule.csv:2:2"},
		{"no fire class", "wall,fire\nL1-01,high\n", "schedule-value schedule.csv:2:2"},
		{"no rating", "wall,sound\nL1-01,53\n", "schedule-value schedule.csv:2:2"},
		{"no length", "wall,height\nL1-01,tall\n", "schedule-value schedule.csv:2:2"},
		{"below zero", "wall,height\nL1-01,-2700\n", "schedule-value schedule.csv:2:2"},
		{"no mass", "door,leaf mass\nD2,heavy\n", "schedule-value schedule.csv:2:2"},
		{"said twice", "wall,fire\nL1-01,EI 30\nL1-01,EI 60\n", "schedule-twice schedule.csv:3:2"},
		{"no key", "fire,sound\nEI 30,Rw 40\n", "schedule-key schedule.csv"},
		{"empty", "", "list-empty schedule.csv"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, r := merged(t, c.csv, nil)
			if diff := cmp.Diff([]string{c.want}, errors(r)); diff != "" {
				t.Error(diff)
			}
			for _, f := range r.Findings {
				if f.Fix == "" {
					t.Errorf("no fix: %v", f)
				}
			}
		})
	}
}
