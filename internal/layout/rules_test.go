package layout_test

import (
	"testing"

	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// TestLongestBoard: no piece is longer than the practice lets a board be, though the
// catalogue has longer ones.
func TestLongestBoard(t *testing.T) {
	w := lay(t, 3600*mm, 2750*mm, plan.Wall{}, single("W", "GKB-12.5"), plan.Overrides{"board_max_length": 2000})
	for _, p := range w.Faces[0].Layers[0].Pieces {
		if p.Height > 2000*mm {
			t.Errorf("a piece is %s mm long, 2000 are allowed", p.Height)
		}
	}
}

// TestNarrowPiecesAreCounted: a wall narrower than the least piece has one narrow piece
// a face.
func TestNarrowPiecesAreCounted(t *testing.T) {
	w := lay(t, 180*mm, 2750*mm, plan.Wall{}, single("W", "GKB-12.5"), plan.Overrides{"min_piece": 200})
	if got := w.Choices[0].Chosen.Slivers; got != 2 {
		t.Errorf("%d narrow pieces counted, want 2", got)
	}
}

// TestBackingIsScrewed: the ends of two boards hold to the nogging behind their cross
// joint. Studs stand 600 mm apart and screws 250 mm at most: two screws a bay between
// those in the studs (600 / 250 = 2.4, three parts).
func TestBackingIsScrewed(t *testing.T) {
	w := lay(t, 3600*mm, 4000*mm, plan.Wall{}, single("W", "GKB-12.5"), plan.Overrides{"screw_spacing": []any{[]any{250}}})
	level := 0
	for _, s := range w.Screws {
		if s.From.X == s.To.X {
			continue
		}
		if level++; s.To.X-s.From.X > 400*mm || s.Count > 2 {
			t.Errorf("a level row of %d screws from %s to %s", s.Count, s.From.X, s.To.X)
		}
	}
	cross := 0
	for _, j := range w.Joints {
		if j.Kind == layout.CrossJoint {
			cross += int((j.To.X - j.From.X + 300*mm) / (600 * mm))
		}
	}
	if level != 2*cross || cross == 0 {
		t.Errorf("%d level rows of screws behind %d bays of cross joints, want two a bay", level, cross)
	}
}

// TestCornerJoints: of a wall that butts in a corner, the joint on the side of the room
// is an inner corner, the other an outer one with a bead. Screws hold the boards of
// both walls within 50 mm of the corner.
func TestCornerJoints(t *testing.T) {
	cat, pr := metric(t, nil)
	p := &plan.Plan{
		Levels: []plan.Level{{ID: "L0", ClearHeight: 2750 * mm}}, BuildUps: []plan.BuildUp{single("W", "GKB-12.5")},
		Walls: []plan.Wall{
			{ID: "L0-01", Level: "L0", BuildUp: "W", Line: []plan.Pt{{X: 0, Y: 0}, {X: 4000 * mm, Y: 0}}},
			{ID: "L0-02", Level: "L0", BuildUp: "W", Line: []plan.Pt{{X: 0, Y: 0}, {X: 0, Y: 3000 * mm}}}, // its face B is towards the room
		},
	}
	l := layout.Of(p, cat, pr)
	got := map[plan.Face]layout.JointKind{}
	butts := l.Walls[1]
	for _, j := range butts.Joints {
		if (j.Kind == layout.InnerCorner || j.Kind == layout.OuterCorner) && j.From.X == j.To.X && j.From.X < 200*mm {
			got[j.Face] = j.Kind
		}
	}
	if got[plan.FaceB] != layout.InnerCorner || got[plan.FaceA] != layout.OuterCorner {
		t.Errorf("joints %v, want an inner corner on face B and an outer one on face A", got)
	}
	for _, w := range l.Walls {
		for _, f := range w.Faces {
			near := quantity.Length(1 << 60)
			for _, s := range w.Screws {
				if s.Face == f.Face && s.Layer == 0 {
					near = min(near, s.From.X-f.Layers[0].Extent.From)
				}
			}
			if near > 50*mm {
				t.Errorf("%s: the first screws of face %s stand %s mm from the corner", w.ID, f.Face, near)
			}
		}
	}
}

// TestEndStudsAreFixed: an end stud 1.2 m high takes three anchors, the practice's
// least, into structure and into the wall that it stands against.
func TestEndStudsAreFixed(t *testing.T) {
	cat, pr := metric(t, plan.Overrides{"edge_stud_minimum": 3, "edge_stud_fixing": 1000})
	p := room(4000*mm, 1200*mm, plan.Wall{}, single("W", "GKB-12.5"))
	p.Walls = append(p.Walls, plan.Wall{ID: "L0-02", Level: "L0", BuildUp: "W", Line: []plan.Pt{{X: 2000 * mm, Y: 0}, {X: 2000 * mm, Y: 3000 * mm}}})
	got := map[string]int{}
	for _, w := range layout.Of(p, cat, pr).Walls {
		for _, a := range w.Anchors {
			if a.Into == "structure" || a.Into == "partition" {
				got[a.Into]++
				if a.Count != 3 {
					t.Errorf("%s: %d anchors into %s, want 3", w.ID, a.Count, a.Into)
				}
			}
		}
	}
	if got["structure"] != 2 || got["partition"] != 1 {
		t.Errorf("rows of anchors: %v, want two into structure and one into the partition", got)
	}
}

// TestUsualGaps: twin frames of which no gap is given stand the practice's gap apart:
// one for the isolating strip, another for services.
func TestUsualGaps(t *testing.T) {
	for kind, want := range map[plan.FrameKind]quantity.Length{plan.TwinIndependent: 15 * mm, plan.TwinBraced: 120 * mm} {
		b := single("W", "GKB-12.5")
		b.Frame.Kind = kind
		w := lay(t, 3600*mm, 2750*mm, plan.Wall{}, b, plan.Overrides{"twin_gap": 15, "service_gap": 120})
		a, z := w.FrameLines[0], w.FrameLines[1]
		if got := a.Offset - z.Offset - a.Depth/2 - z.Depth/2; got != want {
			t.Errorf("%s: frames stand %s mm apart, want %s", kind, got, want)
		}
	}
}

// TestCripplesKeepTheModule: over a door from 1500 to 2400, in the run of studs at
// 600 mm, the cripple stands at 1800 and not in the door's middle.
func TestCripplesKeepTheModule(t *testing.T) {
	w := lay(t, 4800*mm, 2750*mm, plan.Wall{Openings: []plan.Opening{{Kind: plan.Door, At: 1500 * mm, Width: 900 * mm, Height: 2100 * mm, LeafMass: 25}}}, single("W", "GKB-12.5"), nil)
	for _, m := range members(w, layout.Cripple) {
		if m.From.X == 1800*mm {
			return
		}
	}
	t.Error("no cripple stands at 1800 mm")
}
