package layout_test

import (
	"math"
	"testing"

	"nogging/internal/catalogue"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/takeoff"
)

const mm = quantity.Millimetre

// metric returns the shipped catalogue and its metric practice with changes.
func metric(t testing.TB, overrides plan.Overrides) (*catalogue.Catalogue, *catalogue.Practice) {
	t.Helper()
	cat := catalogue.Shipped()
	pr, ok := cat.PracticeByID("metric")
	if !ok {
		t.Fatal("the shipped catalogue has no metric practice")
	}
	changed, found := pr.With(overrides)
	if len(found) > 0 {
		t.Fatalf("overrides: %v", found)
	}
	return cat, &changed
}

// room returns a plan of one level with one wall between two structural walls.
func room(length, height quantity.Length, w plan.Wall, b ...plan.BuildUp) *plan.Plan {
	w.ID, w.Level, w.BuildUp = "L0-01", "L0", b[0].ID
	w.Line = []plan.Pt{{X: 0, Y: 0}, {X: length, Y: 0}}
	return &plan.Plan{
		Levels:   []plan.Level{{ID: "L0", ClearHeight: height}},
		BuildUps: b,
		Structure: []plan.Structure{
			{ID: "S-01", Level: "L0", Line: []plan.Pt{{X: -100 * mm, Y: -2000 * mm}, {X: -100 * mm, Y: 2000 * mm}}, Thickness: 200 * mm, Material: "concrete"},
			{ID: "S-02", Level: "L0", Line: []plan.Pt{{X: length + 100*mm, Y: -2000 * mm}, {X: length + 100*mm, Y: 2000 * mm}}, Thickness: 200 * mm, Material: "concrete"},
		},
		Walls: []plan.Wall{w},
	}
}

func single(id string, boards ...string) plan.BuildUp {
	return plan.BuildUp{ID: id, Frame: plan.FrameSpec{Kind: plan.Single, Stud: "CW75"}, FaceA: boards}
}

// TestReferenceWall measures the wall of the published take-off table for a
// partition 4.00 m long and 2.75 m high with studs at 625 mm and one layer of
// boards 1.25 m wide on each face. Source: the classic material table of the
// dry-lining handbooks (per m²: track 0.7 m, studs 2.0 m, sealing tape 1.2 m,
// boards 2.0 m², joints 1.5 m, insulation 1.0 m²), reproduced there to one
// decimal from the same geometry. The table counts full heights, so nothing is
// cut short here. Its row of screws, 29 a m², is from memory and includes those
// along head and foot and waste; the 24 asserted here are derived from 250 mm
// spacing alone: eleven rows of twelve a face.
func TestReferenceWall(t *testing.T) {
	cat, pr := metric(t, plan.Overrides{
		"stud_spacing": 625, "stud_shortfall": 0, "board_shortfall": 0, "board_floor_gap": 0, "starter": 625,
	})
	b := single("W", "GKB-12.5x1250")
	b.Insulation = []plan.Insulation{{Product: "MW-60"}}
	p := room(4000*mm, 2750*mm, plan.Wall{}, b)
	l := layout.Of(p, cat, pr)
	total := takeoff.Of(p, l, cat, pr).Total
	const area = 11.0
	want := []struct {
		group   takeoff.Group
		code    string
		perArea float64
		table   float64
	}{
		{takeoff.Profiles, "UW75", 8.0 / area, 0.7},
		{takeoff.Profiles, "CW75", 22.0 / area, 2.0},
		{takeoff.Seals, "TAPE-70", 13.5 / area, 1.2},
		{takeoff.Boards, "GKB-12.5x1250", 22.0 / area, 2.0},
		{takeoff.Insulation, "MW-60", 1, 1.0},
		{takeoff.Fixings, "SP-3.5x25", 264 / area, 24.0},
	}
	for _, c := range want {
		got := quantityOf(total, c.group, c.code) / area
		if math.Abs(got-c.perArea) > 1e-9 {
			t.Errorf("%s: %.4f per m², want %.4f", c.code, got, c.perArea)
		}
		if math.Abs(math.Round(got*10)/10-c.table) > 1e-9 {
			t.Errorf("%s: %.4f per m², the table has %.1f", c.code, got, c.table)
		}
	}
	joints := quantityOf(total, takeoff.Joints, "joint tapered") + quantityOf(total, takeoff.Joints, "joint mixed")
	if math.Abs(joints-16.5) > 1e-9 {
		t.Errorf("board joints %.3f m, want 16.5", joints)
	}
}

func quantityOf(lines []takeoff.Line, g takeoff.Group, code string) float64 {
	for _, l := range lines {
		if l.Group == g && l.Code == code {
			return l.Quantity
		}
	}
	return 0
}
