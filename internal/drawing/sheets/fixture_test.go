package sheets_test

import (
	"fmt"
	"testing"

	"nogging/internal/catalogue"
	"nogging/internal/drawing/sheets"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

const mm = quantity.Millimetre

// fixture is one wall between two structural walls.
type fixture struct {
	name   string
	us     bool
	length quantity.Length
	height quantity.Length
	build  plan.BuildUp
	wall   plan.Wall
	slab   quantity.Length // deflection of the slab above
}

func door(at quantity.Length, leaf float64) plan.Opening {
	return plan.Opening{Kind: plan.Door, At: at, Width: 885 * mm, Height: 2010 * mm, LeafMass: leaf}
}

func build(kind plan.FrameKind, stud string, faceA, faceB []string, wool ...plan.Insulation) plan.BuildUp {
	return plan.BuildUp{ID: "P1", Frame: plan.FrameSpec{Kind: kind, Stud: stud}, FaceA: faceA, FaceB: faceB, Insulation: wool}
}

var (
	one   = []string{"GKB-12.5"}
	two   = []string{"GKB-12.5", "GKB-12.5"}
	three = []string{"GKF-12.5", "GKF-12.5", "GKF-12.5"}
	wool  = plan.Insulation{Product: "MW-60"}
)

// fixtures are walls of every sort; the lengths and openings are invented.
var fixtures = []fixture{
	{name: "plain", length: 4000 * mm, height: 2750 * mm, build: build(plan.Single, "CW75", one, nil, wool)},
	{name: "door", length: 4200 * mm, height: 2750 * mm, build: build(plan.Single, "CW75", two, nil, wool),
		wall: plan.Wall{Openings: []plan.Opening{door(1350*mm, 28)}, Require: plan.Requirements{Fire: "EI 60", Sound: "Rw 53"},
			Boxes: []plan.Box{{Kind: "socket", Face: plan.FaceA, At: 600 * mm, Height: 300 * mm, Gangs: 2}}}},
	{name: "openings", length: 6400 * mm, height: 3000 * mm, build: build(plan.Single, "CW100", two, one, wool), slab: 15 * mm,
		wall: plan.Wall{Openings: []plan.Opening{
			door(400*mm, 60),
			{Kind: plan.Window, At: 2000 * mm, Width: 1200 * mm, Height: 1100 * mm, Sill: 900 * mm},
			{Kind: plan.Bare, At: 3900 * mm, Width: 1000 * mm, Height: 2200 * mm},
			{Kind: plan.Penetration, At: 5400 * mm, Width: 150 * mm, Height: 150 * mm, Sill: 2500 * mm, Service: "pipe"},
		}, Fixings: []plan.Fixing{{Kind: "console", Face: plan.FaceA, At: 5000 * mm, Width: 1200 * mm, Height: 1600 * mm, Mass: 40}}}},
	{name: "short", length: 300 * mm, height: 2600 * mm, build: build(plan.Single, "CW50", one, nil)},
	{name: "metre", length: 1150 * mm, height: 2600 * mm, build: build(plan.Single, "CW50", two, nil)},
	{name: "long", length: 30000 * mm, height: 2750 * mm, build: build(plan.Single, "CW75", two, nil, wool),
		wall: plan.Wall{Openings: []plan.Opening{door(3000*mm, 20), door(14600*mm, 20), door(25000*mm, 20)}}},
	{name: "five-doors", length: 12400 * mm, height: 2750 * mm, build: build(plan.Single, "CW75", two, nil, wool),
		wall: plan.Wall{Openings: []plan.Opening{door(500*mm, 20), door(2900*mm, 20), door(4000*mm, 20), door(7300*mm, 20), door(10400*mm, 20)}}},
	{name: "sloping", length: 5200 * mm, height: 3400 * mm, build: build(plan.Single, "CW75", one, nil, wool),
		wall: plan.Wall{Heights: []plan.HeightAt{{At: 0, Height: 2300 * mm}, {At: 3000 * mm, Height: 3400 * mm}, {At: 5200 * mm, Height: 3000 * mm}},
			Openings: []plan.Opening{door(2600*mm, 20)}}},
	{name: "stepped", length: 5000 * mm, height: 3000 * mm, build: build(plan.Single, "CW75", one, nil, wool),
		wall: plan.Wall{Heights: []plan.HeightAt{{At: 0, Height: 3000 * mm}, {At: 2500 * mm, Height: 3000 * mm}, {At: 2500 * mm, Height: 2400 * mm}, {At: 5000 * mm, Height: 2400 * mm}}}},
	{name: "dwelling", length: 5400 * mm, height: 2700 * mm,
		build: plan.BuildUp{ID: "P5", Frame: plan.FrameSpec{Kind: plan.TwinIndependent, Stud: "CW75", Gap: 5 * mm}, FaceA: two, Insulation: []plan.Insulation{wool, wool}}},
	{name: "service", length: 3300 * mm, height: 2700 * mm,
		build: plan.BuildUp{ID: "P6", Frame: plan.FrameSpec{Kind: plan.TwinBraced, Stud: "CW50", Gap: 150 * mm}, FaceA: []string{"GKBI-12.5", "GKBI-12.5"}, Insulation: []plan.Insulation{{Product: "MW-40"}}}},
	{name: "lining", length: 3600 * mm, height: 2750 * mm, build: build(plan.Lining, "CW50", one, nil, plan.Insulation{Product: "MW-40"})},
	{name: "fire", length: 7000 * mm, height: 3400 * mm, build: build(plan.Single, "CW100", three, nil, wool),
		wall: plan.Wall{Openings: []plan.Opening{door(3000*mm, 80)}}},
	{name: "tall", length: 6000 * mm, height: 6500 * mm, build: build(plan.Single, "CW125", two, nil, wool)},
	{name: "us", us: true, length: 14 * quantity.Foot, height: 9 * quantity.Foot,
		build: plan.BuildUp{ID: "P1", Frame: plan.FrameSpec{Kind: plan.Single, Stud: "362S125-18"}, FaceA: []string{"GWB-0.625X"}, Insulation: []plan.Insulation{{Product: "R-11"}}},
		wall:  plan.Wall{Openings: []plan.Opening{{Kind: plan.Door, At: 5 * quantity.Foot, Width: 38 * quantity.Inch, Height: 82 * quantity.Inch, LeafMass: 25}}}},
}

// plan returns a plan of one level that holds the fixture's wall.
func (f fixture) plan() *plan.Plan {
	w := f.wall
	w.ID, w.Level, w.BuildUp = "L1-07", "L1", f.build.ID
	w.Line = []plan.Pt{{X: 0, Y: 0}, {X: f.length, Y: 0}}
	p := &plan.Plan{
		Practice: "metric",
		Project:  plan.Project{Name: "Harbour clinic", Number: "2704", Revision: "B", Date: "2027-01-11"},
		Levels:   []plan.Level{{ID: "L1", Name: "Level 1", ClearHeight: f.height, Deflection: f.slab}},
		BuildUps: []plan.BuildUp{f.build},
		Structure: []plan.Structure{
			{ID: "S-01", Level: "L1", Line: []plan.Pt{{X: -100 * mm, Y: -2000 * mm}, {X: -100 * mm, Y: 2000 * mm}}, Thickness: 200 * mm, Material: "concrete"},
			{ID: "S-02", Level: "L1", Line: []plan.Pt{{X: f.length + 100*mm, Y: -2000 * mm}, {X: f.length + 100*mm, Y: 2000 * mm}}, Thickness: 200 * mm, Material: "concrete"},
		},
		Walls: []plan.Wall{w},
	}
	if f.us {
		p.Practice = "us"
	}
	return p
}

// input lays the plan out with the shipped catalogue.
func input(t testing.TB, p *plan.Plan) sheets.Input {
	t.Helper()
	cat := catalogue.Shipped()
	pr, ok := cat.PracticeByID(p.Practice)
	if !ok {
		t.Fatalf("the shipped catalogue has no practice %q", p.Practice)
	}
	return sheets.Input{Plan: p, Catalogue: cat, Practice: pr, Layout: layout.Of(p, cat, pr)}
}

// laid returns the fixture's set and its wall.
func (f fixture) laid(t testing.TB) (*sheets.Set, *layout.Wall) {
	t.Helper()
	in := input(t, f.plan())
	if len(in.Layout.Walls) != 1 {
		t.Fatalf("%s: %d walls laid out: %v", f.name, len(in.Layout.Walls), in.Layout.Findings)
	}
	return sheets.New(in), in.Layout.Walls[0]
}

// storey is a level of invented rooms along a corridor, with a slanting wall.
func storey(wide, high int) *plan.Plan {
	p := &plan.Plan{
		Practice: "metric",
		Project:  plan.Project{Name: "Harbour clinic", Number: "2704", Revision: "B", Date: "2027-01-11"},
		Levels:   []plan.Level{{ID: "L1", Name: "Level 1", ClearHeight: 2750 * mm}},
		BuildUps: []plan.BuildUp{build(plan.Single, "CW75", two, nil, wool), build(plan.Single, "CW50", one, nil)},
	}
	p.BuildUps[1].ID = "P2"
	w, h := quantity.Length(wide)*3000*mm, quantity.Length(high)*5000*mm
	out := func(id string, x0, y0, x1, y1 quantity.Length) {
		p.Structure = append(p.Structure, plan.Structure{ID: id, Level: "L1", Kind: "facade", Material: "concrete", Thickness: 300 * mm,
			Line: []plan.Pt{{X: x0, Y: y0}, {X: x1, Y: y1}}})
	}
	out("S-01", -300*mm, -150*mm, w+300*mm, -150*mm)
	out("S-02", -300*mm, h+150*mm, w+300*mm, h+150*mm)
	out("S-03", -150*mm, -300*mm, -150*mm, h+300*mm)
	out("S-04", w+150*mm, -300*mm, w+150*mm, h+300*mm)
	add := func(buildup string, x0, y0, x1, y1 quantity.Length, o ...plan.Opening) {
		p.Walls = append(p.Walls, plan.Wall{ID: wallID(len(p.Walls) + 1), Level: "L1", BuildUp: buildup, Line: []plan.Pt{{X: x0, Y: y0}, {X: x1, Y: y1}}, Openings: o})
	}
	for j := range quantity.Length(high) {
		y := (j + 1) * 5000 * mm
		if j+1 < quantity.Length(high) {
			add("P1", 0, y, w, y, door(1000*mm, 25), door(7000*mm, 25))
		}
		for i := range quantity.Length(wide - 1) {
			x := (i+1)*3000*mm + j*125*mm
			if i == 1 && j == 0 {
				add("P2", x, 0, x+1200*mm, y)
				continue
			}
			add("P2", x, y-5000*mm, x, y)
		}
		p.Rooms = append(p.Rooms, plan.Room{ID: "R-" + wallID(int(j)), Level: "L1", Name: "Treatment room",
			Outline: []plan.Pt{{X: 0, Y: y - 5000*mm}, {X: 3000 * mm, Y: y - 5000*mm}, {X: 3000 * mm, Y: y}, {X: 0, Y: y}}})
	}
	return p
}

func wallID(n int) string { return fmt.Sprintf("L1-%02d", n) }
