package layout_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/takeoff"
)

// TestBase: a wall on an upstand of 300 mm begins there: floor track, studs,
// boards, fill and jambs (sums by hand: studs of 2750 - 300 - 15, boards of
// 2735 - 300).
func TestBase(t *testing.T) {
	b := single("W", "GKB-12.5")
	b.Insulation = []plan.Insulation{{Product: "MW-60"}}
	window := plan.Opening{Kind: plan.Window, At: 1500 * mm, Width: 885 * mm, Height: 1000 * mm, Sill: 900 * mm}
	w := lay(t, 4800*mm, 2750*mm, plan.Wall{Base: 300 * mm, Openings: []plan.Opening{window}}, b, nil)
	for _, m := range w.Members {
		switch {
		case m.Role == layout.FloorTrack && (m.From.Y != 300*mm || m.To.Y != 300*mm):
			t.Errorf("floor track at %s", m.From.Y)
		case m.Role == layout.Cripple && m.From.Y < 900*mm && (m.From.Y != 300*mm || m.Cut != 600*mm):
			t.Errorf("%s under the window from %s, %s long", m.Mark(), m.From.Y, m.Cut)
		case m.Role == layout.Stud && (m.From.Y != 300*mm || m.Cut != 2435*mm):
			t.Errorf("%s from %s, %s long", m.Mark(), m.From.Y, m.Cut)
		}
	}
	l := w.Faces[0].Layers[0]
	if l.Bottom != 310*mm || l.Pieces[0].Height != 2435*mm {
		t.Errorf("boards from %s, %s high", l.Bottom, l.Pieces[0].Height)
	}
	for _, f := range w.Batts {
		if low := f.Outline.Bounds().Min.Y; low < 300*mm {
			t.Errorf("fill from %s", low)
		}
	}
	cat, pr := metric(t, nil)
	for _, line := range takeoff.OfWall(w, cat, pr) {
		if line.Code == "W gross" && line.Quantity != 4.8*2.45 {
			t.Errorf("area %v m², want 4.8 x 2.45", line.Quantity)
		}
	}
}

// TestDoorThroughBase: a door that is drawn down to the floor interrupts the
// floor track of a wall on a kerb, too.
func TestDoorThroughBase(t *testing.T) {
	door := plan.Opening{Kind: plan.Door, At: 1500 * mm, Width: 885 * mm, Height: 2130 * mm, LeafMass: 20}
	w := lay(t, 4800*mm, 2750*mm, plan.Wall{Base: 100 * mm, Openings: []plan.Opening{door}}, single("W", "GKB-12.5"), nil)
	for _, m := range w.Members {
		if m.Role == layout.FloorTrack && m.From.X < 2385*mm && m.To.X > 1500*mm || m.Role == layout.SillTrack {
			t.Errorf("%s runs through the door", m.Mark())
		}
	}
	if !w.Openings[0].AtFloor() || w.Openings[0].Sill != 100*mm {
		t.Errorf("%+v", w.Openings[0])
	}
}

// halfHeight is a wall of a level of 2750 mm that stops at 1100 mm between its
// two free ends.
func halfHeight(t *testing.T, length quantity.Length, w plan.Wall, b plan.BuildUp, overrides plan.Overrides) *layout.Wall {
	t.Helper()
	cat, pr := metric(t, overrides)
	w.Height, w.Head, w.Start, w.End = 1100*mm, plan.HeadFree, plan.FreeEnd, plan.FreeEnd
	p := room(length, 2750*mm, w, b)
	p.Structure = nil
	return layout.Of(p, cat, pr).Walls[0]
}

// TestFreeTop: a free top is closed with one strip of each layer, each wider by
// the layers beneath it, and the wall ends at its height. By hand for two layers
// of 12.5 mm on 75 mm: strips of 75 and 100 mm; the track at 1100 - 25 = 1075,
// inner boards up to 1087.5, outer ones to 1100; studs 15 mm short of the track.
func TestFreeTop(t *testing.T) {
	w := halfHeight(t, 3000*mm, plan.Wall{}, single("W", "GKB-12.5", "GKB-12.5"), nil)
	length := map[float64]quantity.Length{}
	for _, p := range w.Caps {
		if p.Use == "top cap" {
			length[p.Width.MM()] += p.Height
		}
	}
	// The frame is shorter than the wall by the strips of its two ends.
	if diff := cmp.Diff(map[float64]quantity.Length{75: 2950 * mm, 100: 2950 * mm}, length); diff != "" {
		t.Errorf("strips by width: %s", diff)
	}
	for _, m := range members(w, layout.SoffitTrack) {
		if m.From.Y != 1075*mm {
			t.Errorf("track at %s", m.From.Y)
		}
	}
	for _, m := range members(w, layout.Stud) {
		if m.To.Y != 1060*mm {
			t.Errorf("stud up to %s", m.To.Y)
		}
	}
	for _, f := range w.Faces {
		for k, want := range []quantity.Length{quantity.MM(1087.5), 1100 * mm} {
			for _, p := range f.Layers[k].Pieces {
				if top := p.Outline.Bounds().Max.Y; top != want {
					t.Errorf("layer %d up to %s", k+1, top)
				}
			}
		}
	}
}

// TestPosts: a wall whose top stands free has stiff posts at its free ends and no
// further apart than the practice says (common practice); none where the practice
// asks for none, or where the top is held.
func TestPosts(t *testing.T) {
	stiff := func(w *layout.Wall) []float64 {
		var us []float64
		for _, m := range w.Members {
			if m.Product == "UA75" {
				us = append(us, m.From.X.MM())
			}
		}
		return us
	}
	w := halfHeight(t, 4000*mm, plan.Wall{}, single("W", "GKB-12.5"), nil)
	if diff := cmp.Diff([]float64{32.5, 1200, 2400, 3600, 3967.5}, stiff(w)); diff != "" {
		t.Error(diff)
	}
	if w := halfHeight(t, 4000*mm, plan.Wall{}, single("W", "GKB-12.5"), plan.Overrides{"post_spacing": 0}); stiff(w) != nil {
		t.Errorf("posts at %v where the practice asks for none", stiff(w))
	}
	if w := lay(t, 4000*mm, 2750*mm, plan.Wall{}, single("W", "GKB-12.5"), nil); stiff(w) != nil {
		t.Errorf("posts at %v under a soffit", stiff(w))
	}
	wide := plan.Opening{Kind: plan.Bare, At: 1300 * mm, Width: 1500 * mm, Height: 900 * mm}
	held := halfHeight(t, 4000*mm, plan.Wall{Openings: []plan.Opening{wide}}, single("W", "GKB-12.5"), plan.Overrides{"jambs": []any{map[string]any{"jamb": "boxed"}}})
	if !hasFinding(held, "free-top-unheld") {
		t.Errorf("posts at %v, findings %v", stiff(held), held.Findings)
	}
}

// TestLowLiningIsTied: the free top of a lining is tied to the wall behind at
// every second stud (common practice), and each bracket is counted with its
// screws and its anchor.
func TestLowLiningIsTied(t *testing.T) {
	b := single("W", "GKB-12.5")
	b.Frame.Kind, b.Frame.Gap = plan.Lining, 20*mm
	w := halfHeight(t, 4000*mm, plan.Wall{}, b, nil)
	var us []float64
	for _, x := range w.Brackets {
		us = append(us, x.At.X.MM())
		if x.Use != layout.BracketTie || x.At.Y < 900*mm {
			t.Errorf("%+v", x)
		}
	}
	if diff := cmp.Diff([]float64{25, 1200, 2400, 3600, 3975}, us); diff != "" {
		t.Error(diff)
	}
	cat, pr := metric(t, nil)
	counted := map[string]float64{}
	for _, l := range takeoff.OfWall(w, cat, pr) {
		counted[l.Code] = l.Quantity
	}
	if counted["BRACKET-TIE"] != 5 || counted["SCREW-STEEL"] != 10 || counted["ANCHOR-MASONRY"] != 5 {
		t.Errorf("counted %v", counted)
	}
}

// TestThirdBoardForStagger: where two boards reach but leave no room to stagger
// their cross joints by what the practice asks, a third is taken. By hand: 7000
// less 15 out of boards of 3600 leaves 215 mm of slack, less than 400.
func TestThirdBoardForStagger(t *testing.T) {
	w := lay(t, 4800*mm, 7000*mm, plan.Wall{}, single("W", "GKB-12.5"), plan.Overrides{"board_max_length": 3600, "cross_joint_offset": 400})
	if hasFinding(w, "cross-joints-not-staggered") {
		t.Errorf("findings %v", w.Findings)
	}
	at := map[float64][]quantity.Length{}
	for _, j := range w.Joints {
		if j.Kind == layout.CrossJoint && j.Face == plan.FaceA {
			at[j.From.X.MM()] = append(at[j.From.X.MM()], j.From.Y)
		}
	}
	var starts []float64
	for u := range at {
		starts = append(starts, u)
	}
	slices.Sort(starts)
	for i := 1; i < len(starts); i++ {
		for _, a := range at[starts[i-1]] {
			for _, b := range at[starts[i]] {
				if (a - b).Abs() < 400*mm {
					t.Errorf("cross joints at %s and %s in neighbouring columns", a, b)
				}
			}
		}
	}
}
