package layout_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// floor returns a plan of one level with walls of build-up W, 100 mm thick
// (CW75, one board of 12.5 mm a face), given by their lines in millimetres.
func floor(lines ...[4]quantity.Length) *plan.Plan {
	p := &plan.Plan{
		Levels:   []plan.Level{{ID: "L0", ClearHeight: 2750 * mm}},
		BuildUps: []plan.BuildUp{single("W", "GKB-12.5"), single("W2", "GKB-12.5", "GKB-12.5")},
	}
	for i, l := range lines {
		p.Walls = append(p.Walls, plan.Wall{
			ID: fmt.Sprintf("L0-%02d", i+1), Level: "L0", BuildUp: "W",
			Line: []plan.Pt{{X: l[0] * mm, Y: l[1] * mm}, {X: l[2] * mm, Y: l[3] * mm}},
		})
	}
	return p
}

// extents returns where a wall's frame and its faces' outer layers end, in
// millimetres along the wall.
func extents(w *layout.Wall) map[string][2]float64 {
	m := map[string][2]float64{"frame": span(w.FrameLines[0].Extent)}
	for _, f := range w.Faces {
		for k, l := range f.Layers {
			m[fmt.Sprintf("%s%d", f.Face, k+1)] = span(l.Extent)
		}
	}
	return m
}

func span(i geom.Interval) [2]float64 {
	return [2]float64{i.From.Round(quantity.Millimetre / 1000).MM(), i.To.Round(quantity.Millimetre / 1000).MM()}
}

// The figures are worked out by hand from the rule of the trade that at a
// corner the better wall's frame runs through to the outer line of the other
// frame, boards lap layer by layer on the outside, and the butting wall's boards
// run against the through wall's on the inside (common practice).
func TestCorner(t *testing.T) {
	p := floor([4]quantity.Length{0, 0, 4000, 0}, [4]quantity.Length{4000, 0, 4000, 3000})
	cat, pr := metric(t, nil)
	l := layout.Of(p, cat, pr)
	// Free ends stop at the drawn end; their frame one board short of it.
	want := map[string][2]float64{"frame": {12.5, 4037.5}, "a1": {0, 3962.5}, "b1": {0, 4050}}
	if diff := cmp.Diff(want, extents(l.Walls[0])); diff != "" {
		t.Errorf("through wall:\n%s", diff)
	}
	want = map[string][2]float64{"frame": {37.5, 2987.5}, "a1": {50, 3000}, "b1": {-37.5, 3000}}
	if diff := cmp.Diff(want, extents(l.Walls[1])); diff != "" {
		t.Errorf("butting wall:\n%s", diff)
	}
	if got := l.Junctions; len(got) != 1 || got[0].Kind != layout.L || got[0].Walls[0] != "L0-01" {
		t.Errorf("junctions: %+v", got)
	}
	corners := map[layout.JointKind]int{}
	for _, w := range l.Walls {
		for _, j := range w.Joints {
			if j.From.X == j.To.X {
				corners[j.Kind]++
			}
		}
	}
	// One inner and one outer corner where the walls meet, two outer corners at each free end.
	if corners[layout.InnerCorner] != 1 || corners[layout.OuterCorner] != 1+2*2 {
		t.Errorf("upright corners: %v", corners)
	}
}

func TestCornerOfTwoLayers(t *testing.T) {
	p := floor([4]quantity.Length{0, 0, 4000, 0}, [4]quantity.Length{4000, 0, 4000, 3000})
	p.Walls[0].BuildUp, p.Walls[1].BuildUp = "W2", "W2"
	cat, pr := metric(t, nil)
	l := layout.Of(p, cat, pr)
	want := map[string][2]float64{"frame": {25, 4037.5}, "a1": {12.5, 3962.5}, "a2": {0, 3950}, "b1": {12.5, 4050}, "b2": {0, 4062.5}}
	if diff := cmp.Diff(want, extents(l.Walls[0])); diff != "" {
		t.Errorf("through wall:\n%s", diff)
	}
	want = map[string][2]float64{"frame": {37.5, 2975}, "a1": {50, 2987.5}, "a2": {62.5, 3000}, "b1": {-37.5, 2987.5}, "b2": {-50, 3000}}
	if diff := cmp.Diff(want, extents(l.Walls[1])); diff != "" {
		t.Errorf("butting wall:\n%s", diff)
	}
}

func TestTee(t *testing.T) {
	p := floor([4]quantity.Length{0, 0, 4000, 0}, [4]quantity.Length{1700, 0, 1700, 3000})
	cat, pr := metric(t, nil)
	l := layout.Of(p, cat, pr)
	if diff := cmp.Diff([2]float64{50, 2987.5}, extents(l.Walls[1])["frame"]); diff != "" {
		t.Error(diff)
	}
	if l.Walls[1].Ends[0] != (layout.Abutment{Kind: layout.Tee, With: "L0-01"}) {
		t.Errorf("end: %+v", l.Walls[1].Ends[0])
	}
	found := slices.ContainsFunc(l.Walls[0].Members, func(m layout.Member) bool {
		return m.Role == layout.JunctionStud && m.From.X == 1700*mm
	})
	if !found {
		t.Error("the through wall has no stud where the other stands against it")
	}
}

// TestTeeOfTwinFrames: a wall that another with two frames stands against holds
// each of them by a stud of its own. CW50 twice, 150 mm apart: the frames'
// middles are 200 mm apart.
func TestTeeOfTwinFrames(t *testing.T) {
	p := floor([4]quantity.Length{0, 0, 4000, 0}, [4]quantity.Length{1700, 0, 1700, 3000})
	twin := single("T", "GKB-12.5")
	twin.Frame = plan.FrameSpec{Kind: plan.TwinBraced, Stud: "CW50", Gap: 150 * mm}
	p.BuildUps = append(p.BuildUps, twin)
	p.Walls[0].Require.Fire, p.Walls[1].BuildUp = "EI 30", "T"
	cat, pr := metric(t, nil)
	var at []float64
	for _, m := range layout.Of(p, cat, pr).Walls[0].Members {
		if m.Role == layout.JunctionStud {
			at = append(at, m.From.X.MM())
		}
	}
	if diff := cmp.Diff([]float64{1600, 1800}, at); diff != "" {
		t.Error(diff)
	}
}

// TestSkewTee: at 45 degrees the end of the butting wall's frame stands back by
// half its depth further than at a right angle, worked out by hand: the plane
// of the through wall's face is at y = 50; along a wall at 45 degrees it is met
// by the axis at 50·√2 = 70.711 mm and by the frame's near edge 37.5 mm later.
func TestSkewTee(t *testing.T) {
	p := floor([4]quantity.Length{0, 0, 6000, 0}, [4]quantity.Length{1000, 0, 4000, 3000})
	cat, pr := metric(t, nil)
	l := layout.Of(p, cat, pr)
	if got := extents(l.Walls[1])["frame"][0]; got != 108.211 {
		t.Errorf("frame starts at %v, want 108.211", got)
	}
}

func TestCrossAndStraight(t *testing.T) {
	cat, pr := metric(t, nil)
	for name, c := range map[string]struct {
		lines [][4]quantity.Length
		want  map[layout.JunctionKind]int
	}{
		"two walls against one, opposite": {
			[][4]quantity.Length{{0, 0, 4000, 0}, {2000, 0, 2000, 3000}, {2000, 0, 2000, -3000}},
			map[layout.JunctionKind]int{layout.X: 1},
		},
		"four ends": {
			[][4]quantity.Length{{0, 0, 2000, 0}, {2000, 0, 4000, 0}, {2000, 0, 2000, 3000}, {2000, 0, 2000, -3000}},
			map[layout.JunctionKind]int{layout.X: 1},
		},
		"three ends": {
			[][4]quantity.Length{{0, 0, 2000, 0}, {2000, 0, 4000, 0}, {2000, 0, 2000, 3000}},
			map[layout.JunctionKind]int{layout.T: 1},
		},
		"one line": {
			[][4]quantity.Length{{0, 0, 2000, 0}, {2000, 0, 4000, 0}},
			map[layout.JunctionKind]int{layout.I: 1},
		},
		"lines that cross": {
			[][4]quantity.Length{{0, 0, 4000, 0}, {2000, -1500, 2000, 1500}},
			map[layout.JunctionKind]int{layout.X: 1},
		},
	} {
		t.Run(name, func(t *testing.T) {
			l := layout.Of(floor(c.lines...), cat, pr)
			got := map[layout.JunctionKind]int{}
			for _, j := range l.Junctions {
				got[j.Kind]++
			}
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// TestHigherDemandRunsThrough: the wall of which more is asked runs through,
// however the two are drawn (common practice).
func TestHigherDemandRunsThrough(t *testing.T) {
	p := floor([4]quantity.Length{0, 0, 4000, 0}, [4]quantity.Length{4000, 0, 4000, 3000})
	p.Walls[1].Require.Fire = "EI 90"
	cat, pr := metric(t, nil)
	l := layout.Of(p, cat, pr)
	if !l.Walls[1].Ends[0].Through || l.Walls[0].Ends[1].Through {
		t.Errorf("ends: %+v %+v", l.Walls[0].Ends[1], l.Walls[1].Ends[0])
	}
}

func TestEndAtStructure(t *testing.T) {
	p := room(4000*mm, 2750*mm, plan.Wall{}, single("W", "GKB-12.5"))
	cat, pr := metric(t, nil)
	w := layout.Of(p, cat, pr).Walls[0]
	if diff := cmp.Diff(map[string][2]float64{"frame": {0, 4000}, "a1": {0, 4000}, "b1": {0, 4000}}, extents(w)); diff != "" {
		t.Error(diff)
	}
	ends := 0
	for _, a := range w.Anchors {
		if a.Into != "structure" {
			continue
		}
		if ends++; a.Count < pr.EdgeStudMinimum.Value { // from memory, so not asserted as a number
			t.Errorf("%d anchors in an end stud; the practice asks for %d", a.Count, pr.EdgeStudMinimum.Value)
		}
	}
	if ends != 2 {
		t.Errorf("%d end studs are fixed to structure, want 2", ends)
	}
}

func TestShortEndIsToldOf(t *testing.T) {
	p := floor([4]quantity.Length{0, 0, 4000, 0}, [4]quantity.Length{2000, 130, 2000, 3000})
	cat, pr := metric(t, nil)
	l := layout.Of(p, cat, pr)
	i := slices.IndexFunc(l.Findings, func(f finding.Finding) bool { return f.Code == "end-short" })
	if i < 0 || l.Findings[i].Object != "L0-02" {
		t.Fatalf("findings: %v", l.Findings)
	}
	if want := "its start at 2000, 130 stops 80 mm short of L0-01 and is laid out as a free end"; l.Findings[i].What.String() != want {
		t.Errorf("got %q, want %q", l.Findings[i].What, want)
	}
}

// TestSolidInTheWay: a column in the line of a wall interrupts it; the parts on
// both sides are laid out.
func TestSolidInTheWay(t *testing.T) {
	p := floor([4]quantity.Length{0, 0, 6000, 0})
	p.Structure = []plan.Structure{{ID: "C-01", Level: "L0", Material: "concrete", Outline: []plan.Pt{
		{X: 2800 * mm, Y: -200 * mm}, {X: 3200 * mm, Y: -200 * mm}, {X: 3200 * mm, Y: 200 * mm}, {X: 2800 * mm, Y: 200 * mm},
	}}}
	cat, pr := metric(t, nil)
	w := layout.Of(p, cat, pr).Walls[0]
	if len(w.FrameLines) != 2 || span(w.FrameLines[0].Extent)[1] != 2800 || span(w.FrameLines[1].Extent)[0] != 3200 {
		t.Errorf("frame lines: %+v", w.FrameLines)
	}
	if b := w.Faces[0].Layers[0].Breaks; len(b) != 1 || span(b[0]) != [2]float64{2800, 3200} {
		t.Errorf("breaks of face A: %v", b)
	}
}

// TestSolidAlongTheFace: a body that runs along a wall's face, and only just
// touches its axis, leaves a wall that can be built.
func TestSolidAlongTheFace(t *testing.T) {
	p := floor([4]quantity.Length{0, 2000, 6000, 2000})
	p.Structure = []plan.Structure{
		{ID: "S-01", Level: "L0", Outline: []plan.Pt{{X: 0, Y: 0}, {X: 6000 * mm, Y: 0}, {X: 6000 * mm, Y: 2000 * mm}, {X: 0, Y: 2000 * mm}}},
		{ID: "S-02", Level: "L0", Outline: []plan.Pt{{X: 2400 * mm, Y: 2000 * mm}, {X: 4500 * mm, Y: 2000 * mm}, {X: 4500 * mm, Y: 5000 * mm}, {X: 2400 * mm, Y: 5000 * mm}}},
	}
	cat, pr := metric(t, nil)
	for _, w := range layout.Of(p, cat, pr).Walls {
		for _, l := range w.FrameLines {
			if l.Extent.Len() <= 0 {
				t.Errorf("frame line %+v", l)
			}
		}
	}
}

// TestWallsOnEachOther: walls that lie on each other are the plan's mistake;
// layout still gives a result for each.
func TestWallsOnEachOther(t *testing.T) {
	cat, pr := metric(t, nil)
	rapid.Check(t, func(t *rapid.T) {
		var lines [][4]quantity.Length
		at := rapid.SampledFrom([]quantity.Length{0, 600, 1200, 3000})
		for range rapid.IntRange(2, 8).Draw(t, "walls") {
			l := [4]quantity.Length{at.Draw(t, "x"), at.Draw(t, "y"), at.Draw(t, "x"), at.Draw(t, "y")}
			if l[0] != l[2] || l[1] != l[3] {
				lines = append(lines, l)
			}
		}
		if l := layout.Of(floor(lines...), cat, pr); len(l.Walls) != len(lines) {
			t.Fatalf("%d of %d walls", len(l.Walls), len(lines))
		}
	})
}

// TestFramesInOnePlace: walls drawn closer than their thickness, and a wall drawn
// into structure, are told of; corners and tees at any angle are not.
func TestFramesInOnePlace(t *testing.T) {
	cat, pr := metric(t, nil)
	told := func(p *plan.Plan) int {
		n := 0
		for _, f := range layout.Of(p, cat, pr).Findings {
			if f.Code == "frames-overlap" {
				n++
			}
		}
		return n
	}
	if n := told(floor([4]quantity.Length{0, 0, 4000, 0}, [4]quantity.Length{0, 40, 4000, 40})); n != 1 {
		t.Errorf("two walls 40 mm apart: %d findings", n)
	}
	p := floor([4]quantity.Length{0, 0, 4000, 0})
	p.Structure = []plan.Structure{{ID: "S-01", Level: "L0", Line: []plan.Pt{{X: -500 * mm, Y: 120 * mm}, {X: 5000 * mm, Y: 120 * mm}}, Thickness: 200 * mm}}
	if n := told(p); n != 1 {
		t.Errorf("a wall 17.5 mm inside a concrete wall: %d findings", n)
	}
	for _, end := range [][2]quantity.Length{{0, 3000}, {2000, 3000}, {-2500, 2500}, {3000, 1200}, {3000, -3000}} {
		if n := told(floor([4]quantity.Length{0, 0, 4000, 0}, [4]quantity.Length{0, 0, end[0], end[1]})); n != 0 {
			t.Errorf("corner towards %v: %d findings", end, n)
		}
		if n := told(floor([4]quantity.Length{-4000, 0, 4000, 0}, [4]quantity.Length{0, 0, end[0], end[1]})); n != 0 {
			t.Errorf("tee towards %v: %d findings", end, n)
		}
	}
}
