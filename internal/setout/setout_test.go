package setout_test

import (
	"bytes"
	"encoding/csv"
	"math"
	"strconv"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"nogging/internal/catalogue"
	_ "nogging/internal/draws"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/plantest"
	"nogging/internal/quantity"
	"nogging/internal/setout"
)

const mm = quantity.Millimetre

func pt(x, y quantity.Length) plan.Pt { return plan.Pt{X: x * mm, Y: y * mm} }

// field is a field of 4.00 x 3.00 m between two partitions along x, with studs
// CW75 and one layer of 12.5 mm: the track faces are 37.5 mm from the walls' lines.
// A concrete wall closes it at the left, with its faces at x = -200 and 0; the
// floor is 3.50 m above zero.
func field() *plan.Plan {
	return &plan.Plan{
		Levels:    []plan.Level{{ID: "L1", Elevation: 3500 * mm, ClearHeight: 2750 * mm}},
		BuildUps:  []plan.BuildUp{{ID: "W", Frame: plan.FrameSpec{Kind: plan.Single, Stud: "CW75"}, FaceA: []string{"GKB-12.5"}}},
		Structure: []plan.Structure{{ID: "S-01", Level: "L1", Thickness: 200 * mm, Line: []plan.Pt{pt(-100, -500), pt(-100, 4000)}}},
		Rooms:     []plan.Room{{ID: "R-1", Level: "L1", Outline: []plan.Pt{pt(0, 0), pt(4000, 0), pt(4000, 3000), pt(0, 3000)}}},
		Walls: []plan.Wall{
			{ID: "L1-01", Level: "L1", BuildUp: "W", End: plan.ToStructure, Line: []plan.Pt{pt(0, 0), pt(4000, 0)},
				Openings: []plan.Opening{{Kind: plan.Door, At: 1000 * mm, Width: 900 * mm, Height: 2100 * mm, LeafMass: 25}}},
			{ID: "L1-02", Level: "L1", BuildUp: "W", End: plan.ToStructure, Line: []plan.Pt{pt(0, 3000), pt(4000, 3000)}},
		},
	}
}

func of(p *plan.Plan) *setout.Level {
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID("metric")
	return setout.Of(p, layout.Of(p, cat, pr), &p.Levels[0])
}

func named(t *testing.T, l *setout.Level, name string) setout.Point {
	t.Helper()
	for _, p := range append(l.Structure, l.Points...) {
		if p.Name == name {
			return p
		}
	}
	t.Fatalf("no point %s", name)
	return setout.Point{}
}

// TestPoints: coordinates by hand; the second wall's soffit rises from 2.75 m to
// 3.00 m.
func TestPoints(t *testing.T) {
	p := field()
	p.Walls[1].Heights = []plan.HeightAt{{At: 0, Height: 2750 * mm}, {At: 4000 * mm, Height: 3000 * mm}}
	l := of(p)
	type place struct{ x, y, z float64 }
	for name, want := range map[string]place{
		"L1-01.AS": {0, 37.5, 3500}, "L1-01.AE": {4000, 37.5, 3500}, "L1-01.BS": {0, -37.5, 3500}, "L1-01.BE": {4000, -37.5, 3500},
		"L1-01.AST": {0, 37.5, 6250}, "L1-01.BET": {4000, -37.5, 6250},
		"L1-01/1.C": {1450, 0, 3500},
		"L1-02.BS":  {0, 2962.5, 3500}, "L1-02.BST": {0, 2962.5, 6250}, "L1-02.BET": {4000, 2962.5, 6500},
		"S-01.1": {0, -500, 3500}, "S-01.2": {0, 4000, 3500}, "S-01.3": {-200, 4000, 3500}, "S-01.4": {-200, -500, 3500},
	} {
		p := named(t, l, name)
		if got := (place{p.At.X.MM(), p.At.Y.MM(), p.Z.MM()}); got != want {
			t.Errorf("%s at %v, want %v", name, got, want)
		}
	}
	if n := len(l.Points); n != 2*8+1 {
		t.Errorf("%d points", n)
	}
}

// TestTies: the far end of the first wall sees the two corners of the concrete
// wall that face it: 4000 and 537.5 mm away along x and y, 4000 and 3962.5.
func TestTies(t *testing.T) {
	got := named(t, of(field()), "L1-01.AE").Ties
	if got == nil {
		t.Fatal("no ties")
	}
	want := &setout.Ties{
		From: [2]string{"S-01.1", "S-01.2"}, Side: "right", Angle: 52, // atan(537.5/4000) + atan(3962.5/4000) = 7.65 + 44.73 degrees
		Length: [2]quantity.Length{geom.Pt(0, -500*mm).Dist(geom.Pt(4000*mm, 37_500_000)), geom.Pt(0, 4000*mm).Dist(geom.Pt(4000*mm, 37_500_000))},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if d := got.Length[0].MM(); math.Abs(d-math.Hypot(4000, 537.5)) > 1e-3 {
		t.Errorf("first distance %v", d)
	}
}

// TestSight: no tape goes through a column: no place along it lies 5 mm or more
// inside one.
func TestSight(t *testing.T) {
	ties := 0
	rapid.Check(t, func(t *rapid.T) {
		p := field()
		for i := range rapid.IntRange(2, 6).Draw(t, "columns") {
			x := quantity.Length(rapid.IntRange(0, 3600).Draw(t, "x"))
			y := quantity.Length(rapid.IntRange(100, 2500).Draw(t, "y"))
			p.Structure = append(p.Structure, plan.Structure{
				ID: "C-" + strconv.Itoa(i+1), Level: "L1", Outline: []plan.Pt{pt(x, y), pt(x+400, y), pt(x+400, y+400), pt(x, y+400)},
			})
		}
		l := of(p)
		corners := map[string]geom.Point{}
		for _, c := range l.Structure {
			corners[c.Name] = c.At
		}
		for _, x := range l.Points {
			if x.Ties == nil {
				continue
			}
			ties++
			for _, from := range x.Ties.From {
				line := geom.FrameOf(geom.Segment{A: x.At, B: corners[from]})
				for i := range quantity.Length(100) {
					q := line.Global(x.At.Dist(corners[from])*i/100, 0)
					for _, s := range p.Structure[1:] {
						if r := geom.Bounds(setout.Outlines(&s)[0]...); r.Grow(-5 * mm).Overlaps(geom.Rect{Min: q, Max: q}) {
							t.Fatalf("%s is measured from %s through %s", x.Name, from, s.ID)
						}
					}
				}
			}
		}
	})
	if ties == 0 {
		t.Error("no ties")
	}
}

// TestBehindFace: a point on the face of a wall does not see the corner behind it,
// though no side of the wall lies between: a partition 0.20 m from the corner of
// the room stands against a front wall 200 mm thick, flush with the side wall's end.
func TestBehindFace(t *testing.T) {
	p := field()
	p.Structure[0].Line[0] = pt(-100, -200)
	p.Structure = append(p.Structure, plan.Structure{ID: "S-02", Level: "L1", Thickness: 200 * mm, Line: []plan.Pt{pt(0, -100), pt(5000, -100)}})
	p.Walls = []plan.Wall{{ID: "L1-01", Level: "L1", BuildUp: "W", End: plan.ToStructure, Line: []plan.Pt{pt(200, 0), pt(200, 3000)}}}
	for _, x := range of(p).Points {
		if x.Ties != nil && (x.Ties.From[0] == "S-01.1" || x.Ties.From[1] == "S-01.1" || x.Ties.From[0] == "S-02.1" || x.Ties.From[1] == "S-02.1") {
			t.Errorf("%s is measured from the corner behind the front wall: %v", x.Name, x.Ties.From)
		}
	}
}

// No diagonal is measured through a body: a column on either leaves the field
// without them.
func TestDiagonalsAroundStructure(t *testing.T) {
	for _, y := range []quantity.Length{700, 2150} { // at x = 1000 the diagonals pass y = 769 and y = 2231
		p := field()
		p.Structure = append(p.Structure, plan.Structure{ID: "C-1", Level: "L1", Outline: []plan.Pt{pt(900, y), pt(1100, y), pt(1100, y+150), pt(900, y+150)}})
		if l := of(p); len(l.Diagonals) != 0 {
			t.Errorf("%+v", l.Diagonals)
		}
	}
}

// TestDiagonals: between track faces 2925 mm apart and 4000 mm long, both diagonals
// are the hypotenuse of 4000 and 2925 (Pythagoras): 4955.4 mm.
func TestDiagonals(t *testing.T) {
	l := of(field())
	if len(l.Diagonals) != 1 {
		t.Fatalf("%d fields", len(l.Diagonals))
	}
	d := l.Diagonals[0]
	for _, got := range d.Length {
		if math.Abs(got.MM()-math.Hypot(4000, 2925)) > 1e-3 {
			t.Errorf("diagonal %v", got)
		}
	}
	if d.Walls != [2]string{"L1-01", "L1-02"} || d.Room != "R-1" || d.From != [2]string{"L1-01.AS", "L1-01.AE"} || d.To != [2]string{"L1-02.BE", "L1-02.BS"} {
		t.Errorf("%+v", d)
	}
}

// Diagonals join the points that they name, whichever way the walls run.
func TestDiagonalsNamePoints(t *testing.T) {
	p := field()
	w := &p.Walls[1]
	w.Line[0], w.Line[1], w.Start, w.End = w.Line[1], w.Line[0], plan.ToStructure, ""
	l := of(p)
	d := l.Diagonals[0]
	for i := range d.Length {
		a, b := named(t, l, d.From[i]), named(t, l, d.To[i])
		if a.At.Dist(b.At) != d.Length[i] || math.Abs(d.Length[i].MM()-math.Hypot(4000, 2925)) > 1e-3 {
			t.Errorf("%s to %s: %s, the points are %s apart", d.From[i], d.To[i], d.Length[i], a.At.Dist(b.At))
		}
	}
}

// meet returns where two tapes of given lengths meet on one side of the line from
// a to b: the crossing of two circles (elementary geometry).
func meet(a, b geom.Point, ra, rb float64, left bool) (x, y float64) {
	dx, dy := (b.X - a.X).MM(), (b.Y - a.Y).MM()
	d := math.Hypot(dx, dy)
	along := (ra*ra - rb*rb + d*d) / (2 * d)
	off := math.Sqrt(max(ra*ra-along*along, 0))
	if !left {
		off = -off
	}
	return a.X.MM() + (along*dx-off*dy)/d, a.Y.MM() + (along*dy+off*dx)/d
}

// The ties of every point give its place back within 1 mm, and with tapes read to
// the millimetre within 2 mm, as the angle promises: half a millimetre on either
// over the sine of half the angle at which they meet, at worst 15 degrees.
func TestTrilateration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := plantest.Random(t)
		p.Structure = append(p.Structure, plan.Structure{ID: "S-X", Level: p.Levels[0].ID, Thickness: 200 * mm, Line: []plan.Pt{pt(-3000, -4000), pt(9000, -4000)}},
			plan.Structure{ID: "S-Y", Level: p.Levels[0].ID, Thickness: 200 * mm, Line: []plan.Pt{pt(-3000, -4000), pt(-3000, 9000)}})
		l := of(p)
		corners := map[string]geom.Point{}
		for _, c := range l.Structure {
			corners[c.Name] = c.At
		}
		for _, x := range l.Points {
			if x.Ties == nil {
				continue
			}
			a, b := corners[x.Ties.From[0]], corners[x.Ties.From[1]]
			for step, most := range map[quantity.Length]float64{1: 1, mm: 2} {
				gx, gy := meet(a, b, x.Ties.Length[0].Round(step).MM(), x.Ties.Length[1].Round(step).MM(), x.Ties.Side == "left")
				if off := math.Hypot(gx-x.At.X.MM(), gy-x.At.Y.MM()); off > most {
					t.Fatalf("%s: %.2f mm off with tapes to %s mm, at %v degrees", x.Name, off, step, x.Ties.Angle)
				}
			}
		}
	})
}

// The points of a track's faces give the wall's line back: half-way between them,
// less the offset of the frame in it.
func TestPointsGiveLines(t *testing.T) {
	p := plantest.Offices(30)
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID("metric")
	laid := layout.Of(p, cat, pr)
	at := map[string]geom.Point{}
	seen := map[string]bool{}
	for i := range p.Levels {
		l := setout.Of(p, laid, &p.Levels[i])
		for _, x := range append(l.Structure, l.Points...) {
			if seen[x.Name] {
				t.Errorf("two points are named %s", x.Name)
			}
			seen[x.Name], at[x.Name] = true, x.At
		}
	}
	for _, w := range laid.Walls {
		a, b := at[w.ID+".AS"], at[w.ID+".BS"]
		middle := w.Frame.Local(geom.Pt((a.X+b.X)/2, (a.Y+b.Y)/2))
		if (middle.Y-w.FrameLines[0].Offset).Abs() > mm || (middle.X-w.FrameLines[0].Extent.From).Abs() > mm {
			t.Errorf("%s: middle of the track at %v", w.ID, middle)
		}
	}
}

// TestWriteCSV: metres with three decimals, halves away from zero.
func TestWriteCSV(t *testing.T) {
	l := &setout.Level{Points: []setout.Point{{Name: "P", On: setout.Floor, What: "a point", At: geom.Pt(1234_500_000, -1234_500_000), Z: 3500 * mm}}}
	var out bytes.Buffer
	if err := setout.WriteCSV(&out, []*setout.Level{l}); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want := [][]string{{"name", "E", "N", "level", "on", "what"}, {"P", "1.235", "-1.235", "3.500", "floor", "a point"}}
	if diff := cmp.Diff(want, rows); diff != "" {
		t.Error(diff)
	}
	for _, cell := range rows[1][1:4] {
		if _, err := strconv.ParseFloat(cell, 64); err != nil {
			t.Error(err)
		}
	}
}
