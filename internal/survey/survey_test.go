package survey_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	_ "nogging/internal/draws"
	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/plantest"
	"nogging/internal/quantity"
	"nogging/internal/survey"
	"nogging/internal/table"
)

const mm = quantity.Millimetre

// plane is a surface of a building that is not quite level, in mm per metre.
type plane struct{ z, x, y float64 }

func (s plane) at(x, y quantity.Length) quantity.Length {
	return quantity.MM(s.z + s.x*x.Metres() + s.y*y.Metres())
}

// TestPlanes holds walls against a building whose floor and soffit are known planes:
// the oracle is plane geometry.
func TestPlanes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := plantest.Offices(rapid.IntRange(5, 30).Draw(t, "walls"))
		slope := rapid.Float64Range(-1.5, 1.5)
		level := p.Levels[0]
		floor := plane{rapid.Float64Range(-15, 15).Draw(t, "floor"), slope.Draw(t, "fx"), slope.Draw(t, "fy")}
		soffit := plane{level.ClearHeight.MM() + rapid.Float64Range(-40, 40).Draw(t, "soffit"), slope.Draw(t, "sx"), slope.Draw(t, "sy")}
		var points []survey.Point
		for _, w := range p.Walls {
			f := geom.FrameOf(geom.Segment{A: geom.Point(w.Line[0]), B: geom.Point(w.Line[1])})
			for u := quantity.Length(0); u < w.Length()+2000*mm; u += 2000 * mm {
				at := f.Global(min(u, w.Length()), 50*mm)
				points = append(points, survey.Point{X: at.X, Y: at.Y, Z: floor.at(at.X, at.Y)}, survey.Point{X: at.X, Y: at.Y, Z: soffit.at(at.X, at.Y)})
			}
		}
		got := survey.Bend(p, points, 10*mm)
		if got.Findings.Count(finding.Error) > 0 || got.Unused > 0 {
			t.Fatalf("%d unused, findings %v", got.Unused, got.Findings)
		}
		for i := range got.Plan.Walls {
			w := &got.Plan.Walls[i]
			f := geom.FrameOf(geom.Segment{A: geom.Point(w.Line[0]), B: geom.Point(w.Line[1])})
			for _, u := range []quantity.Length{0, w.Length() / 3, w.Length()} {
				at := f.Global(u, 0)
				want := soffit.at(at.X, at.Y) - floor.at(at.X, at.Y)
				// What the profile may leave out, the slope over 50 mm, and the tolerance
				// within which the planned height stands.
				allowed := 4 * mm
				if w.Height == p.Walls[i].Height && w.Heights == nil {
					allowed = 14 * mm
				}
				if d := (heightAt(w, &level, u) - want).Abs(); d > allowed {
					t.Fatalf("%s at %s: %s high, the planes are %s apart", w.ID, u, heightAt(w, &level, u), want)
				}
			}
		}
	})
}

// heightAt reads a height from a plan as its format describes it.
func heightAt(w *plan.Wall, l *plan.Level, u quantity.Length) quantity.Length {
	if len(w.Heights) == 0 {
		if w.Height > 0 {
			return w.Height
		}
		return l.ClearHeight
	}
	for i := 1; i < len(w.Heights); i++ {
		a, b := w.Heights[i-1], w.Heights[i]
		if u <= b.At && b.At > a.At {
			t := float64(u-a.At) / float64(b.At-a.At)
			return a.Height + quantity.Length(math.Round(t*float64(b.Height-a.Height)))
		}
	}
	return w.Heights[len(w.Heights)-1].Height
}

// simple is one wall of 4 m between two walls of concrete 200 thick.
func simple() *plan.Plan {
	return &plan.Plan{
		Version: 1, Levels: []plan.Level{{ID: "L1", Elevation: 3500 * mm, ClearHeight: 2700 * mm}},
		Structure: []plan.Structure{
			{ID: "S1", Level: "L1", Line: pts(-100, -2000, -100, 2000), Thickness: 200 * mm},
			{ID: "S2", Level: "L1", Outline: pts(4000, -300, 4300, -300, 4300, 300, 4000, 300)},
		},
		Walls: []plan.Wall{{ID: "L1-01", Level: "L1", Thickness: 100 * mm, Line: pts(0, 0, 4000, 0),
			Openings: []plan.Opening{{Kind: plan.Door, At: 1000 * mm, Width: 900 * mm, Height: 2100 * mm}},
			Boxes:    []plan.Box{{Face: plan.FaceA, At: 400 * mm, Height: 300 * mm}}}},
	}
}

func pts(xy ...float64) []plan.Pt {
	var list []plan.Pt
	for i := 0; i < len(xy); i += 2 {
		list = append(list, plan.Pt{X: quantity.MM(xy[i]), Y: quantity.MM(xy[i+1])})
	}
	return list
}

func point(x, y, z float64) survey.Point {
	return survey.Point{X: quantity.MM(x), Y: quantity.MM(y), Z: quantity.MM(z)}
}

// TestFaces moves structure, and walls with it; what hangs on the wall stays where it
// was in the building.
func TestFaces(t *testing.T) {
	p := simple()
	got := survey.Bend(p, []survey.Point{
		point(30, -1000, 4700), point(30, 1000, 4700), // face of S1 30 mm into the room
		point(3980, -200, 4700), point(3980, 200, 4700), // S2 20 mm nearer
		point(4305, 0, 4700),
	}, 10*mm)
	w := got.Plan.Walls[0]
	if diff := cmp.Diff(pts(30, 0, 3980, 0), w.Line); diff != "" {
		t.Errorf("the wall's line (-want +got):\n%s", diff)
	}
	if w.Openings[0].At != 970*mm || w.Boxes[0].At != 370*mm {
		t.Errorf("door at %s, box at %s: they moved with the wall's start", w.Openings[0].At, w.Boxes[0].At)
	}
	if diff := cmp.Diff(pts(-70, -2000, -70, 2000), got.Plan.Structure[0].Line); diff != "" {
		t.Errorf("the concrete wall (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(pts(3980, -300, 4305, -300, 4305, 300, 3980, 300), got.Plan.Structure[1].Outline); diff != "" {
		t.Errorf("the column (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(simple(), p); diff != "" {
		t.Errorf("the plan itself changed:\n%s", diff)
	}
	var ends int
	for _, d := range got.Deviations {
		if d.What == "end" {
			ends++
		}
	}
	if ends != 2 {
		t.Errorf("%d ends told, want 2: %+v", ends, got.Deviations)
	}
}

// TestTurnedFace follows a face that is out of line: 40 mm in 4 m.
func TestTurnedFace(t *testing.T) {
	got := survey.Bend(simple(), []survey.Point{point(-19, -1900, 4700), point(0, 0, 4700), point(19, 1900, 4700)}, 10*mm)
	if diff := cmp.Diff(pts(-120, -2000, -80, 2000), got.Plan.Structure[0].Line); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
	if x := got.Plan.Walls[0].Line[0].X; x != 0 {
		t.Errorf("the wall starts at %s; the face there is where it was planned", x)
	}
}

// TestWithin: within the tolerance the planned figures stand.
func TestWithin(t *testing.T) {
	got := survey.Bend(simple(), []survey.Point{point(9, 0, 4700), point(1000, 0, 3506), point(1000, 0, 6196), point(3000, 0, 3498), point(3000, 0, 6207)}, 10*mm)
	if diff := cmp.Diff(simple(), got.Plan); diff != "" || len(got.Deviations) > 0 {
		t.Errorf("deviations %v, -want +got:\n%s", got.Deviations, diff)
	}
}

// TestBeam: a beam under the slab makes a step in the wall's top.
func TestBeam(t *testing.T) {
	got := survey.Bend(simple(), []survey.Point{
		point(0, 0, 6200), point(1990, 0, 6200), point(2005, 0, 5950), point(4000, 0, 5950),
		point(0, 0, 3500), point(2000, 0, 3500), point(4000, 0, 3500),
	}, 10*mm)
	want := []plan.HeightAt{{At: 0, Height: 2700 * mm}, {At: 1998 * mm, Height: 2700 * mm}, {At: 1998 * mm, Height: 2450 * mm}, {At: 4000 * mm, Height: 2450 * mm}}
	if diff := cmp.Diff(want, got.Plan.Walls[0].Heights); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
	if found := got.Plan.Validate(); found.Count(finding.Error) > 0 {
		t.Errorf("the plan as built is wrong: %v", found)
	}
}

func TestBadPoints(t *testing.T) {
	for _, c := range []struct{ name, csv, unit, code string }{
		{"wrong unit", "x;y;z\n1,2;0,1;3,5\n2,2;0,1;6,2\n", "", "survey-unit"},
		{"elsewhere", "x,y,z\n91000,0,3500\n92000,0,6200\n", "", "survey-elsewhere"},
		{"no column", "x,z\n1,2\n", "", "list-column"},
		{"empty", "", "", "list-empty"},
		{"no number", "x,y,z\n1,two,3\n", "", "cell-no-length"},
		{"no coordinate", "x,y,z\n1,,3\n", "", "survey-coordinate"},
		{"unknown surface", "x,y,z,on\n1,2,3,roof\n", "", "survey-surface"},
		{"unknown level", "x,y,z,level\n1,2,3500,L9\n", "", "survey-level"},
		{"right", "Point;X [m];Y [m];Z [m]\n1;1,2;0,1;3,5\n2;2,2;0,1;6,2\n", "", ""},
		{"right in metres", "x,y,z\n1.2,0.1,3.5\n2.2,0.1,6.2\n", "m", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			rows, err := table.CSV([]byte(c.csv), "")
			if err != nil {
				t.Fatal(err)
			}
			list := (&survey.Columns{Unit: c.unit}).Read("points.csv", rows)
			points, found := list.Points, list.Findings
			found = append(found, survey.Bend(simple(), points, 10*mm).Findings...)
			has := ""
			for _, f := range found {
				if f.Severity == finding.Error && has == "" {
					has = f.Code
					if f.Place.File == "" || f.Fix == "" {
						t.Errorf("%s has no place or fix: %+v", f.Code, f)
					}
				}
			}
			if has != c.code {
				t.Errorf("found %q, want %q: %v", has, c.code, found)
			}
		})
	}
}
