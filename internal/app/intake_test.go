package app_test

import (
	"strings"
	"testing"

	"nogging/internal/app"
	"nogging/internal/plan"
)

// floor is a plan of one wall with a door.
const floor = `nogging: 1
levels: [{id: L0, clear_height: 2750}]
buildups: [{id: P, frame: {kind: single, stud: CW75}, face_a: [GKB-12.5], face_b: [GKB-12.5]}]
walls: [{id: L0-01, level: L0, line: [[0, 0], [4000, 0]], buildup: P, start: free, end: free, openings: [{id: D1, kind: door, at: 1000, width: 885, height: 2130}]}]
`

func stateOf(t *testing.T, text string) *app.State {
	t.Helper()
	p, found := plan.Parse("plan.yaml", []byte(text))
	if found.NeedsPerson() {
		t.Fatal(found)
	}
	return app.NewLive(p, app.LiveFiles{}).State()
}

// Tables are told by their columns, and their changes make one edit of the plan.
func TestIntake(t *testing.T) {
	s := stateOf(t, floor)
	nothing := func(string) []byte { return nil }
	for _, c := range []struct {
		name, text, kind string
		ask              app.TableAsk
		changes          int
	}{
		{"schedule", "Wall;Fire\nL0-01;EI 60\n", app.ScheduleTable, app.TableAsk{}, 1},
		{"by columns said", "Nr;FR\nL0-01;F60\n", app.ScheduleTable, app.TableAsk{Columns: map[string]string{"wall": "Nr", "fire": "FR"}, Values: map[string]map[string]string{"fire": {"F60": "EI 60"}}}, 1},
		{"a word not known", "Wall;Fire\nL0-01;FH\n", app.ScheduleTable, app.TableAsk{}, 0},
		{"not known", "Nr;FR\nL0-01;EI 60\n", app.ScheduleTable, app.TableAsk{}, 0},
		{"points", "x;y;z;on\n0;0;0;floor\n4000;0;0;floor\n0;0;2700;soffit\n4000;0;2700;soffit\n", app.SurveyTable, app.TableAsk{}, 1},
		{"points in metres", "Rechts;Hoch;Hoehe;on\n0;0;0;floor\n4;0;0;floor\n0;0;2.7;soffit\n4;0;2.7;soffit\n", app.SurveyTable, app.TableAsk{Kind: app.SurveyTable, Unit: "m", Columns: map[string]string{"x": "Rechts", "y": "Hoch", "z": "Hoehe"}}, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.ask.Name = c.name + ".csv"
			got, err := s.Intake(c.ask, []byte(c.text), nothing)
			if err != nil {
				t.Fatal(err)
			}
			if got.Kind != c.kind || len(got.Changes) != c.changes {
				t.Fatalf("a %s with %d changes, want a %s with %d: %v", got.Kind, len(got.Changes), c.kind, c.changes, got.Findings)
			}
			if c.kind == app.SurveyTable && len(got.Survey.Deviations) == 0 {
				t.Error("no deviation of 50 mm is told")
			}
			// What is remembered serves the next table without being said.
			again, err := s.Intake(app.TableAsk{Name: c.ask.Name, Kind: c.ask.Kind}, []byte(c.text), func(name string) []byte {
				if name == got.File {
					return []byte(got.Remember)
				}
				return nil
			})
			if err != nil || len(again.Changes) != c.changes {
				t.Errorf("with\n%s%d changes, %v", got.Remember, len(again.Changes), err)
			}
		})
	}
}

// Columns that are remembered of one table do not keep another from being read.
func TestIntakeOfAnotherTable(t *testing.T) {
	s := stateOf(t, floor)
	got, err := s.Intake(app.TableAsk{Name: "doors.csv"}, []byte("Door;Width\nD1;1010\n"), func(name string) []byte {
		if name == app.ColumnsFile {
			return []byte("columns: {wall: Nr, fire: FR}\n")
		}
		return nil
	})
	if err != nil || len(got.Changes) != 1 {
		t.Fatalf("%d changes, %v, %v", len(got.Changes), err, got.Findings)
	}
	if !strings.Contains(got.Remember, "FR") {
		t.Errorf("forgot what was remembered:\n%s", got.Remember)
	}
}

func TestIntakeOfNoTable(t *testing.T) {
	s := stateOf(t, floor)
	if _, err := s.Intake(app.TableAsk{Name: "a.xlsx"}, []byte("PK\x03\x04 nothing"), func(string) []byte { return nil }); err == nil {
		t.Error("a broken workbook was read")
	}
	got, err := s.Intake(app.TableAsk{Name: "a.csv"}, []byte(strings.Repeat("a;b;c\n", 3)), func(string) []byte { return nil })
	if err != nil || len(got.Changes) > 0 || !got.Findings.NeedsPerson() {
		t.Errorf("%+v, %v", got, err)
	}
}
