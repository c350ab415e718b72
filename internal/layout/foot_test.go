package layout_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// TestOnTheSlab: a wall on the slab, 120 mm under the floor, goes down to it with
// tracks, studs and boards; heights still count from the floor. By hand: studs
// 2750 + 120 - 15 long, boards from -120 + 10, a door's gap down to the slab.
func TestOnTheSlab(t *testing.T) {
	door := plan.Opening{Kind: plan.Door, At: 1300 * mm, Width: 885 * mm, Height: 2130 * mm, LeafMass: 28}
	p := room(4000*mm, 2750*mm, plan.Wall{Stands: plan.OnSlab, Openings: []plan.Opening{door}}, single("W", "GKB-12.5"))
	p.Levels[0].Floor, p.Levels[0].FloorDepth = plan.Screed, 120*mm
	cat, pr := metric(t, plan.Overrides{"board_floor_gap": 10, "stud_shortfall": 15})
	w := layout.Of(p, cat, pr).Walls[0]
	var tracks [][3]float64
	for _, m := range members(w, layout.FloorTrack) {
		tracks = append(tracks, [3]float64{m.From.X.MM(), m.To.X.MM(), m.From.Y.MM()})
	}
	if diff := cmp.Diff([][3]float64{{0, 1300, -120}, {2185, 4000, -120}}, tracks); diff != "" {
		t.Error(diff)
	}
	if s := members(w, layout.EndStud)[0]; s.From.Y != -120*mm || s.Cut != 2855*mm {
		t.Errorf("stud from %s, %s long", s.From.Y, s.Cut)
	}
	if h := members(w, layout.Header)[0]; h.From.Y != 2130*mm {
		t.Errorf("header at %s, want 2130 over the floor", h.From.Y)
	}
	l := w.Faces[0].Layers[0]
	if l.Bottom != -110*mm {
		t.Errorf("boards begin at %s", l.Bottom)
	}
	for i := range l.Pieces {
		box := l.Pieces[i].Outline.Bounds()
		if box.Min.Y != -110*mm {
			t.Errorf("piece %d begins at %s", i+1, box.Min.Y)
		}
	}
	for _, a := range w.Anchors {
		if a.Into == "floor" && a.Anchor != "ANCHOR-CONCRETE" {
			t.Errorf("%s into the slab", a.Anchor)
		}
	}
	if w.Foot.On != "the slab" || len(w.Foot.Order) == 0 {
		t.Errorf("foot: %+v", w.Foot)
	}
}

// TestFloorParted: from the practice's sound demand on, a screed or raised floor
// is parted under a wall that stands on it (common practice).
func TestFloorParted(t *testing.T) {
	for _, c := range []struct {
		sound, floor, stands string
		base                 quantity.Length
		want                 bool
	}{
		{"Rw 53", plan.Screed, "", 0, true},
		{"Rw 50", plan.RaisedFloor, "", 0, true},
		{"Rw 49", plan.Screed, "", 0, false},
		{"Rw 53", plan.Concrete, "", 0, false},
		{"Rw 53", plan.Screed, plan.OnSlab, 0, false},
		{"Rw 53", plan.Screed, "", 80 * mm, false}, // on an upstand, which the screed ends at
	} {
		p := room(4000*mm, 2750*mm, plan.Wall{Stands: c.stands, Base: c.base, Require: plan.Requirements{Sound: c.sound}}, single("W", "GKB-12.5"))
		p.Levels[0].Floor, p.Levels[0].FloorDepth = c.floor, 100*mm
		cat, pr := metric(t, plan.Overrides{"floor_cut_sound": 50})
		w := layout.Of(p, cat, pr).Walls[0]
		if w.Foot.Cut != c.want || hasCode(w.Findings, "floor-parted") != c.want {
			t.Errorf("%+v: parted %v, findings %v", c, w.Foot.Cut, w.Findings)
		}
		p.Levels[0].FloorParted = true
		if w := layout.Of(p, cat, pr).Walls[0]; w.Foot.Cut != c.want || hasCode(w.Findings, "floor-parted") {
			t.Errorf("%+v, and the plan says so: parted %v, findings %v", c, w.Foot.Cut, w.Findings)
		}
	}
}

// TestWetEdges: a face in a wet room has its boards higher and the edge of its
// floor sealed, by water action class; the other face has not. The classes are
// those of DIN 18534-1; the heights are given here.
func TestWetEdges(t *testing.T) {
	for _, c := range []struct {
		wet  string
		gap  float64
		edge quantity.Length
		tape float64 // along the floor, less the door
	}{
		{"W0-I", 10, 0, 0}, {"W1-I", 14, 50 * mm, 3115}, {"W3-I", 16, 150 * mm, 3115}, {"", 10, 0, 0},
	} {
		door := plan.Opening{Kind: plan.Door, At: 1300 * mm, Width: 885 * mm, Height: 2130 * mm, LeafMass: 28}
		p := room(4000*mm, 2750*mm, plan.Wall{Openings: []plan.Opening{door}}, single("W", "GKB-12.5"))
		p.Rooms = []plan.Room{{ID: "R1", Level: "L0", Wet: c.wet, Outline: []plan.Pt{{}, {X: 4000 * mm}, {X: 4000 * mm, Y: 3000 * mm}, {Y: 3000 * mm}}}}
		cat, pr := metric(t, plan.Overrides{"board_floor_gap": 10, "wet_floor_gap": []int{10, 14, 15, 16}, "board_shortfall": 20, "wet_edge": []int{0, 50, 100, 150}})
		w := layout.Of(p, cat, pr).Walls[0]
		if got := w.Faces[0].Layers[0].Bottom.MM(); got != c.gap {
			t.Errorf("%q: boards of the wet face begin at %v, want %v", c.wet, got, c.gap)
		}
		if got := w.Faces[1].Layers[0].Bottom.MM(); got != 10 {
			t.Errorf("%q: boards of the dry face begin at %v", c.wet, got)
		}
		tape := 0.0
		for _, s := range w.Seals {
			if s.Use == layout.UseWetEdge {
				tape += s.From.Dist(s.To).MM()
			}
		}
		if tape != c.tape {
			t.Errorf("%q: %v mm of tape, want %v", c.wet, tape, c.tape)
		}
		edge := quantity.Length(0)
		for _, e := range w.Foot.Wet {
			edge = e.Height
			if e.Face != plan.FaceA || e.Class != c.wet {
				t.Errorf("%+v", e)
			}
		}
		if edge != c.edge {
			t.Errorf("%q: sealed to %s, want %s", c.wet, edge, c.edge)
		}
	}
}
