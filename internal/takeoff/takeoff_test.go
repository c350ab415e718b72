package takeoff_test

import (
	"bytes"
	"encoding/csv"
	"math"
	"strings"
	"testing"

	"nogging/internal/catalogue"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/plantest"
	"nogging/internal/quantity"
	"nogging/internal/takeoff"
)

func measured(t *testing.T) (*plan.Plan, *layout.Project, *takeoff.Project, *catalogue.Catalogue, *catalogue.Practice) {
	t.Helper()
	p := plantest.Offices(60)
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID("metric")
	l := layout.Of(p, cat, pr)
	return p, l, takeoff.Of(p, l, cat, pr), cat, pr
}

// Every quantity of a wall is the sum of the shares of its parts.
func TestTraceSumsToQuantity(t *testing.T) {
	_, l, tk, cat, pr := measured(t)
	for i, w := range l.Walls {
		traces := takeoff.Traces(w, cat, pr)
		for _, line := range tk.Walls[i].Lines {
			sum, parts := 0.0, map[string]bool{}
			for _, s := range traces[line.Key()] {
				sum += s.Quantity
				parts[s.Part] = true
				if !strings.HasPrefix(s.Part, w.ID) {
					t.Fatalf("%s: part %q does not name its wall", w.ID, s.Part)
				}
			}
			if math.Abs(sum-line.Quantity) > 1e-9 {
				t.Errorf("%s %s: parts make %v, the line says %v", w.ID, line.Code, sum, line.Quantity)
			}
			if line.Group == takeoff.Profiles && len(parts) != line.Pieces {
				t.Errorf("%s %s: %d marks for %d pieces", w.ID, line.Code, len(parts), line.Pieces)
			}
		}
	}
}

// Levels and project are the sums of their walls.
func TestFolding(t *testing.T) {
	_, _, tk, _, _ := measured(t)
	walls, levels := map[takeoff.Key]float64{}, map[takeoff.Key]float64{}
	for _, w := range tk.Walls {
		for _, l := range w.Lines {
			walls[l.Key()] += l.Quantity
		}
	}
	for _, level := range tk.Levels {
		for _, l := range level.Lines {
			levels[l.Key()] += l.Quantity
		}
	}
	for _, l := range tk.Total {
		if math.Abs(walls[l.Key()]-l.Quantity) > 1e-6 || math.Abs(levels[l.Key()]-l.Quantity) > 1e-6 {
			t.Errorf("%s: walls %v, levels %v, project %v", l.Code, walls[l.Key()], levels[l.Key()], l.Quantity)
		}
	}
}

// TestMass weighs a wall of 8 ft between two structural walls, with studs
// 362S125-18 at 24 in: five studs (0, 2, 4, 6 and 8 ft) of 9 ft less 1/4 in are
// 44.896 ft, at 0.40 lb/ft 17.96 lb (SSMA product technical guide, section
// properties).
func TestMass(t *testing.T) {
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID("us")
	changed, found := pr.With(plan.Overrides{"stud_spacing": "24 in", "stud_shortfall": "1/4 in"})
	if len(found) > 0 {
		t.Fatal(found)
	}
	lines := onlyWall(8*quantity.Foot, 9*quantity.Foot, "362S125-18", "GWB-0.5", cat, &changed)
	const pound = 0.45359237 // kg, by definition
	want := 5 * (9 - 0.25/12) * 0.40 * pound
	if got := lines["362S125-18"].Mass; math.Abs(got-want) > 0.005*want { // 0.40 is printed to two digits
		t.Errorf("studs weigh %.3f kg, want %.3f", got, want)
	}
}

// TestMetricMass: the same of a wall of 2.40 x 2.50 m: five studs CW75 of
// 2.485 m at 0.852 kg/m (section formula by the linear method, dimensions from
// memory), two tracks of 2.40 m at 0.718 kg/m, and two faces of 2.40 x 2.485 m of
// fire board 12.5 mm of 10.0 kg/m² (OEKOBAUDAT 2020-II).
func TestMetricMass(t *testing.T) {
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID("metric")
	changed, found := pr.With(plan.Overrides{"stud_shortfall": 15, "board_shortfall": 15, "stud_spacing": 600})
	if len(found) > 0 {
		t.Fatal(found)
	}
	const mm = quantity.Millimetre
	lines := onlyWall(2400*mm, 2500*mm, "CW75", "GKF-12.5", cat, &changed)
	for code, want := range map[string]float64{"CW75": 10.586, "UW75": 3.446, "GKF-12.5": 119.28} {
		if got := lines[code].Mass; math.Abs(got-want) > 0.001 {
			t.Errorf("%s: %.4f kg, want %.3f", code, got, want)
		}
	}
}

// onlyWall measures one wall without openings between two structural walls, one
// layer of board a face.
func onlyWall(length, height quantity.Length, stud, board string, cat *catalogue.Catalogue, pr *catalogue.Practice) map[string]takeoff.Line {
	p := &plan.Plan{
		Levels:   []plan.Level{{ID: "L0", ClearHeight: height}},
		BuildUps: []plan.BuildUp{{ID: "plain", Frame: plan.FrameSpec{Kind: plan.Single, Stud: stud}, FaceA: []string{board}}},
		Walls: []plan.Wall{{
			ID: "L0-01", Level: "L0", BuildUp: "plain", Start: plan.ToStructure, End: plan.ToStructure, Line: []plan.Pt{{}, {X: length}},
		}},
	}
	lines := map[string]takeoff.Line{}
	for _, l := range takeoff.Of(p, layout.Of(p, cat, pr), cat, pr).Total {
		lines[l.Code] = l
	}
	return lines
}

func TestCSV(t *testing.T) {
	_, l, tk, _, _ := measured(t)
	var out bytes.Buffer
	if err := takeoff.WriteCSV(&out, tk); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	walls := map[string]bool{}
	for _, r := range rows[1:] {
		if r[0] == "wall" {
			walls[r[2]] = true
		}
	}
	if len(walls) != len(l.Walls) || rows[len(rows)-1][0] != "project" {
		t.Errorf("%d walls in the table, %d laid out", len(walls), len(l.Walls))
	}
}

// A wall of 4.00 x 2.75 m with a door of 0.885 x 2.13 m: areas by hand.
func TestWallAreas(t *testing.T) {
	const mm = quantity.Millimetre
	p := &plan.Plan{
		Levels:   []plan.Level{{ID: "L0", ClearHeight: 2750 * mm}},
		BuildUps: []plan.BuildUp{{ID: "plain", Frame: plan.FrameSpec{Kind: plan.Single, Stud: "CW75"}, FaceA: []string{"GKB-12.5"}}},
		Walls: []plan.Wall{{
			ID: "L0-01", Level: "L0", BuildUp: "plain", Start: plan.ToStructure, End: plan.ToStructure,
			Line:     []plan.Pt{{}, {X: 4000 * mm}},
			Openings: []plan.Opening{{Kind: plan.Door, At: 1500 * mm, Width: 885 * mm, Height: 2130 * mm, LeafMass: 25}},
		}},
	}
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID("metric")
	total := takeoff.Of(p, layout.Of(p, cat, pr), cat, pr).Total
	want := map[string]float64{
		"plain length": 4, "plain gross": 11, "plain net": 11 - 0.885*2.13, "door 885 x 2130": 1,
		"GKB-12.5": 2 * (4*2.735 - 0.885*(2.13-0.01)), // both faces, 15 mm short, 10 mm of it at the floor
	}
	for _, l := range total {
		if w, ok := want[l.Code]; ok {
			if math.Abs(l.Quantity-w) > 1e-9 {
				t.Errorf("%s: %v, want %v", l.Code, l.Quantity, w)
			}
			delete(want, l.Code)
		}
	}
	for code := range want {
		t.Errorf("%s is missing", code)
	}
}

// TestSmallParts: each stiff opening stud has an angle at foot and head (DIN
// 18340, from memory); the rim of a wall that has to resist fire is closed with
// fire-stopping sealant; Q4 has a skim over both faces.
func TestSmallParts(t *testing.T) {
	const mm = quantity.Millimetre
	p := &plan.Plan{
		Levels: []plan.Level{{ID: "L0", ClearHeight: 2750 * mm}},
		BuildUps: []plan.BuildUp{{
			ID: "plain", Frame: plan.FrameSpec{Kind: plan.Single, Stud: "CW75"}, FaceA: []string{"GKF-12.5"}, Finish: "Q4",
		}},
		Walls: []plan.Wall{{
			ID: "L0-01", Level: "L0", BuildUp: "plain", Start: plan.ToStructure, End: plan.ToStructure,
			Line:     []plan.Pt{{}, {X: 4000 * mm}},
			Require:  plan.Requirements{Fire: "EI 30"},
			Openings: []plan.Opening{{Kind: plan.Door, At: 1500 * mm, Width: 885 * mm, Height: 2130 * mm, LeafMass: 60}},
		}},
	}
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID("metric")
	total := takeoff.Of(p, layout.Of(p, cat, pr), cat, pr).Total
	area := 2 * (4*2.735 - 0.885*(2.13-0.01))
	rim := 2 * (4 + 2*2.735 + 4 - 0.885) // both faces: soffit, two ends, and floor beside the door
	sealant, _ := cat.Sundry("SEALANT-FIRE")
	skim, _ := cat.Sundry("COMPOUND-2A")
	want := map[string]float64{
		"ANGLE-OPENING": 4, "SEALANT-FIRE": rim * sealant.Uses["perimeter"], "COMPOUND-2A": area * skim.Uses["skim"],
	}
	for _, l := range total {
		if w, ok := want[l.Code]; ok && math.Abs(l.Quantity-w) > 1e-9 {
			t.Errorf("%s: %v, want %v", l.Code, l.Quantity, w)
		}
		delete(want, l.Code)
	}
	for code := range want {
		t.Errorf("%s is missing", code)
	}
}
