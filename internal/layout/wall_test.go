package layout_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// lay lays out one wall between two structural walls.
func lay(t *testing.T, length, height quantity.Length, w plan.Wall, b plan.BuildUp, overrides plan.Overrides) *layout.Wall {
	t.Helper()
	cat, pr := metric(t, overrides)
	l := layout.Of(room(length, height, w, b), cat, pr)
	if len(l.Walls) != 1 {
		t.Fatalf("walls: %d, findings %v", len(l.Walls), l.Findings)
	}
	return l.Walls[0]
}

func members(w *layout.Wall, role layout.Role) []layout.Member {
	var list []layout.Member
	for _, m := range w.Members {
		if m.Role == role {
			list = append(list, m)
		}
	}
	return list
}

// widths lists the widths of a layer's pieces in millimetres, left to right.
func widths(w *layout.Wall, face, layer int) []float64 {
	var list []float64
	for _, p := range w.Faces[face].Layers[layer].Pieces {
		list = append(list, p.Width.MM())
	}
	return list
}

// TestStarter: one face starts with a full board, the facing one with a 600 mm
// piece and then full boards; the second layer of a face the other way round
// (common practice).
func TestStarter(t *testing.T) {
	w := lay(t, 4800*mm, 2750*mm, plan.Wall{}, single("W", "GKB-12.5", "GKB-12.5"), nil)
	full, starter := []float64{1200, 1200, 1200, 1200}, []float64{600, 1200, 1200, 1200, 600}
	for i, want := range [][]float64{full, starter, starter, full} {
		if diff := cmp.Diff(want, widths(w, i/2, i%2)); diff != "" {
			t.Errorf("face %d layer %d:\n%s", i/2, i%2+1, diff)
		}
	}
}

// TestBoardsStandShort: boards are 15 mm shorter than the wall, studs as the
// practice says (common practice).
func TestBoardsStandShort(t *testing.T) {
	w := lay(t, 2400*mm, 2750*mm, plan.Wall{}, single("W", "GKB-12.5"), nil)
	_, pr := metric(t, nil)
	for _, p := range w.Faces[0].Layers[0].Pieces {
		if p.Height != 2735*mm {
			t.Errorf("piece %d is %s high, want 2735", p.Number, p.Height)
		}
	}
	for _, m := range members(w, layout.Stud) {
		if want := 2750*mm - pr.StudShortfall.Value; m.Cut != want {
			t.Errorf("%s is %s long, want %s", m.Mark(), m.Cut, want)
		}
	}
}

// TestDoor: the frame of a door opening of 885 mm with a leaf of 28 kg has two
// studs boxed into each other on each side, a header, and no floor track; no
// joint runs on from its corners and one piece goes round each (common
// practice).
func TestDoor(t *testing.T) {
	door := plan.Opening{Kind: plan.Door, At: 1500 * mm, Width: 885 * mm, Height: 2130 * mm, LeafMass: 28}
	w := lay(t, 4800*mm, 2750*mm, plan.Wall{Openings: []plan.Opening{door}}, single("W", "GKB-12.5"), nil)
	jambs := members(w, layout.OpeningStud)
	if len(jambs) != 4 || !jambs[0].Boxed || jambs[0].Product != "CW75" {
		t.Errorf("jambs: %+v", jambs)
	}
	if h := members(w, layout.Header); len(h) != 1 || h[0].From.Y != 2130*mm || h[0].Cut != 885*mm+300*mm {
		t.Errorf("header: %+v", h)
	}
	for _, m := range members(w, layout.FloorTrack) {
		if m.From.X < 2385*mm && m.To.X > 1500*mm {
			t.Errorf("floor track %s runs through the door", m.Mark())
		}
	}
	_, pr := metric(t, nil)
	clear := pr.JointJamb.Value
	for _, f := range w.Faces {
		for i := range f.Layers[0].Pieces {
			box := f.Layers[0].Pieces[i].Outline.Bounds()
			for _, side := range []quantity.Length{1500 * mm, 2385 * mm} {
				if (box.Min.X-side).Abs() < clear || (box.Max.X-side).Abs() < clear {
					t.Errorf("face %s: a joint stands within %s mm of the door's side at %s", f.Face, clear, side)
				}
			}
		}
	}
}

// TestHeavyDoor: a leaf of more than 35 kg stands on stiff opening studs from
// floor to soffit (trade press summary of the door-jamb rule).
func TestHeavyDoor(t *testing.T) {
	door := plan.Opening{Kind: plan.Door, At: 1500 * mm, Width: 885 * mm, Height: 2130 * mm, LeafMass: 36}
	w := lay(t, 4800*mm, 2550*mm, plan.Wall{Openings: []plan.Opening{door}}, single("W", "GKB-12.5"), nil)
	jambs := members(w, layout.OpeningStud)
	if len(jambs) != 2 || jambs[0].Product != "UA75" || jambs[0].Boxed {
		t.Errorf("jambs: %+v", jambs)
	}
}

// TestScrews: 12.5 mm of board takes a 25 mm screw and two layers a 35 mm one
// (10 mm beyond the boards, next stock length: worked by hand). No layer of two is
// screwed wider than the practice says; its distances are from memory, so they
// are taken from it and not asserted here.
func TestScrews(t *testing.T) {
	w := lay(t, 1200*mm, 2750*mm, plan.Wall{}, single("W", "GKB-12.5", "GKB-12.5"), nil)
	_, pr := metric(t, nil)
	most := pr.ScrewSpacing.Value[1]
	screw := map[int]string{0: "SP-3.5x25", 1: "SP-3.5x35"}
	for _, s := range w.Screws {
		if s.Screw != screw[s.Layer] {
			t.Errorf("layer %d: %s", s.Layer+1, s.Screw)
		}
		if gap := s.From.Dist(s.To) / quantity.Length(s.Count-1); gap > most[s.Layer] {
			t.Errorf("layer %d: screws %s mm apart", s.Layer+1, gap)
		}
	}
}

// TestCrossJoints: where no board reaches the soffit, cross joints of
// neighbouring pieces are as far apart as the practice asks (its value is from
// memory, so it is not asserted here).
func TestCrossJoints(t *testing.T) {
	w := lay(t, 4800*mm, 5000*mm, plan.Wall{}, single("W", "GKB-12.5"), nil)
	_, pr := metric(t, nil)
	var levels []quantity.Length
	for _, j := range w.Joints {
		if j.Kind == layout.CrossJoint && j.Face == plan.FaceA {
			levels = append(levels, j.From.Y)
		}
	}
	if len(levels) != 4 {
		t.Fatalf("cross joints at %v, want one in each of four columns", levels)
	}
	for i := 1; i < len(levels); i++ {
		if (levels[i] - levels[i-1]).Abs() < pr.CrossJointOffset.Value {
			t.Errorf("cross joints at %s and %s side by side", levels[i-1], levels[i])
		}
	}
}

// TestNoSliversAtCrossJoints: no piece at the floor or the soffit is lower than
// the least that is cut, here with boards of 3000 mm in a wall 3200 mm high and
// under a slope that just passes the longest board (common practice).
func TestNoSliversAtCrossJoints(t *testing.T) {
	for _, c := range []struct {
		board   string
		heights []plan.HeightAt
	}{
		{"CB-12.5", []plan.HeightAt{{At: 0, Height: 3200 * mm}, {At: 4800 * mm, Height: 3200 * mm}}},
		{"GKB-12.5", []plan.HeightAt{{At: 0, Height: 2700 * mm}, {At: 4800 * mm, Height: 4000 * mm}}},
	} {
		w := lay(t, 4800*mm, 3200*mm, plan.Wall{Heights: c.heights}, single("W", c.board, c.board), nil)
		for _, f := range w.Faces {
			for k, l := range f.Layers {
				for _, p := range l.Pieces {
					if p.Height < 200*mm {
						t.Errorf("%s: %s is %s mm high", c.board, layout.PieceMark(f.Face, k, &p), p.Height)
					}
				}
			}
		}
	}
}

// TestStepHasPerimeterJoint: under a soffit that steps down by 350 mm for a
// beam and up again, boards meet structure along both sides of the beam too.
func TestStepHasPerimeterJoint(t *testing.T) {
	w := lay(t, 4800*mm, 2700*mm, plan.Wall{Heights: []plan.HeightAt{
		{At: 0, Height: 2700 * mm}, {At: 1900 * mm, Height: 2700 * mm}, {At: 1900 * mm, Height: 2350 * mm},
		{At: 2200 * mm, Height: 2350 * mm}, {At: 2200 * mm, Height: 2700 * mm}, {At: 4800 * mm, Height: 2700 * mm},
	}}, single("W", "GKB-12.5"), nil)
	var sides quantity.Length
	for _, j := range w.Joints {
		if j.Kind == layout.Perimeter && j.From.X == j.To.X && j.From.X > 0 && j.From.X < 4800*mm {
			sides += (j.To.Y - j.From.Y).Abs()
		}
	}
	if sides != 2*2*350*mm {
		t.Errorf("%s mm of joint along the beam's sides, want 350 mm on two sides of both faces", sides)
	}
}

// TestSlidingHead: a slab that deflects by more than the practice lets a rigid
// head bear gets a sliding one: studs and boards stop short by the deflection and
// the practice's tolerance, boards leave their gap at the floor too. The limit is
// from memory, so the slab deflects by it, and by 5 mm more.
func TestSlidingHead(t *testing.T) {
	p := room(2400*mm, 3000*mm, plan.Wall{}, single("W", "GKB-12.5"))
	cat, pr := metric(t, nil)
	limit := pr.RigidHeadLimit.Value
	moved := 3000*mm - (limit + 5*mm) - pr.HeadTolerance.Value
	for _, c := range []struct {
		deflection, stud, board quantity.Length
		head                    string
	}{
		{limit, 3000*mm - pr.StudShortfall.Value, 3000*mm - pr.BoardShortfall.Value, plan.HeadRigid},
		{limit + 5*mm, moved, moved - pr.BoardFloorGap.Value, plan.HeadDeflection},
	} {
		p.Levels[0].Deflection = c.deflection
		w := layout.Of(p, cat, pr).Walls[0]
		if w.Head.Kind != c.head {
			t.Errorf("deflection %s: head %s", c.deflection, w.Head.Kind)
		}
		if got := members(w, layout.Stud)[0].Cut; got != c.stud {
			t.Errorf("deflection %s: stud %s, want %s", c.deflection, got, c.stud)
		}
		if got := w.Faces[0].Layers[0].Pieces[0].Height; got != c.board {
			t.Errorf("deflection %s: board %s, want %s", c.deflection, got, c.board)
		}
	}
}

// TestTwinFrames: the studs of the two frames stand opposite each other with
// the gap between them, and the strip that isolates them is as long as one line
// of studs.
func TestTwinFrames(t *testing.T) {
	b := single("W", "GKF-12.5", "GKF-12.5")
	b.Frame.Kind, b.Frame.Gap = plan.TwinIndependent, 10*mm
	b.Insulation = []plan.Insulation{{Product: "MW-60"}, {Product: "MW-60"}}
	w := lay(t, 4800*mm, 2750*mm, plan.Wall{}, b, nil)
	if len(w.FrameLines) != 2 || w.FrameLines[0].Offset != 42500*quantity.Millimetre/1000 || w.FrameLines[1].Offset != -w.FrameLines[0].Offset {
		t.Fatalf("frame lines: %+v", w.FrameLines)
	}
	if w.Thickness != 210*mm {
		t.Errorf("thickness %s, want 4 x 12.5 + 2 x 75 + 10", w.Thickness)
	}
	var strip quantity.Length
	for _, s := range w.Seals {
		if s.Use == "between frames" {
			strip += s.To.Y - s.From.Y
		}
	}
	var studs quantity.Length
	for _, m := range w.Members {
		if m.Line == 0 && m.Upright() {
			studs += m.Cut
		}
	}
	if strip != studs {
		t.Errorf("isolating strip %s, studs of one frame %s", strip, studs)
	}
}

// TestFreeEnd: a free end is closed by a strip as wide as the frame, with a
// bead on both edges (common practice).
func TestFreeEnd(t *testing.T) {
	p := floor([4]quantity.Length{0, 0, 2400, 0})
	p.Walls[0].Start, p.Walls[0].End = plan.FreeEnd, plan.FreeEnd
	cat, pr := metric(t, nil)
	l := layout.Of(p, cat, pr)
	w := l.Walls[0]
	if len(w.Caps) != 2 || w.Caps[0].Width != 75*mm || len(w.Beads) != 4 {
		t.Errorf("caps %+v, beads %d", w.Caps, len(w.Beads))
	}
	if len(l.Findings) != 0 {
		t.Errorf("findings: %v", l.Findings)
	}
}

// TestNotchedPieces: a window wholly inside a piece is a hole in it; one across
// a joint notches both neighbours.
func TestNotchedPieces(t *testing.T) {
	hole := plan.Opening{Kind: plan.Penetration, At: 800 * mm, Width: 150 * mm, Height: 150 * mm, Sill: 2000 * mm}
	w := lay(t, 2400*mm, 2750*mm, plan.Wall{Openings: []plan.Opening{hole}}, single("W", "GKB-12.5"), nil)
	p := w.Faces[0].Layers[0].Pieces[0]
	if len(p.Holes) != 1 || p.Area() != p.Outline.Area()-150*150 {
		t.Errorf("piece: %+v", p)
	}
	if len(members(w, layout.Header)) != 0 {
		t.Error("a small hole between two studs needs no frame")
	}
	if !slices.ContainsFunc(w.Faces[0].Layers[0].Pieces, func(p layout.Piece) bool { return p.Notched() }) {
		t.Error("no piece counts as notched")
	}
}

// TestMovementJoints: gypsum partitions get a movement joint at least every
// 30 ft (GA-216 / ASTM C840): 30 ft none, 31 ft one, 61 ft two. The joint keeps
// clear of doors.
func TestMovementJoints(t *testing.T) {
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID("us")
	b := plan.BuildUp{ID: "W", Frame: plan.FrameSpec{Kind: plan.Single, Stud: "362S125-18"}, FaceA: []string{usBoard(t, cat)}}
	for feet, want := range map[quantity.Length]int{30: 0, 31: 1, 61: 2} {
		p := room(feet*quantity.Foot, 9*quantity.Foot, plan.Wall{}, b)
		w := layout.Of(p, cat, pr).Walls[0]
		if got := len(w.FrameLines) - 1; got != want {
			t.Errorf("%d ft: %d movement joints, want %d", feet, got, want)
		}
		beads := 0
		for _, s := range w.Beads {
			if s.Use == "control joint" {
				beads++
			}
		}
		if beads != 2*want {
			t.Errorf("%d ft: %d beads, want one a face and joint", feet, beads)
		}
	}
	door := plan.Opening{Kind: plan.Door, At: 15 * quantity.Foot, Width: 3 * quantity.Foot, Height: 7 * quantity.Foot, LeafMass: 30}
	w := layout.Of(room(31*quantity.Foot, 9*quantity.Foot, plan.Wall{Openings: []plan.Opening{door}}, b), cat, pr).Walls[0]
	if u := w.FrameLines[0].Extent.To; u > door.At-290*mm && u < door.At+door.Width+290*mm {
		t.Errorf("movement joint at %s is at the door", u)
	}
}

// usBoard returns the id of the first shipped board made to ASTM C1396.
func usBoard(t *testing.T, cat *catalogue.Catalogue) string {
	t.Helper()
	for _, b := range cat.Boards {
		if b.Standard == "ASTM C1396" {
			return b.ID
		}
	}
	t.Fatal("no board to ASTM C1396")
	return ""
}

// TestBackingOverMovementJoint: a rail on the far side of a movement joint has
// its backing there.
func TestBackingOverMovementJoint(t *testing.T) {
	rail := plan.Fixing{Kind: "rail", Face: plan.FaceA, At: 12000 * mm, Width: 2000 * mm, Height: 900 * mm}
	w := lay(t, 18000*mm, 2750*mm, plan.Wall{Fixings: []plan.Fixing{rail, rail}}, single("W", "GKB-12.5"), nil)
	var backed quantity.Length
	for _, m := range members(w, layout.Nogging) {
		backed += m.Cut
	}
	if len(w.FrameLines) != 2 || backed < 2000*mm || backed > 3200*mm {
		t.Errorf("%d frame lines, %s mm of noggings", len(w.FrameLines), backed)
	}
	if len(w.Findings) > 0 {
		t.Errorf("findings: %v", w.Findings)
	}
}

func TestToldOf(t *testing.T) {
	cat, pr := metric(t, nil)
	tee := floor([4]quantity.Length{0, 0, 4000, 0}, [4]quantity.Length{1200, 0, 1200, 3000})
	tee.Walls[0].Openings = []plan.Opening{{Kind: plan.Door, At: 900 * mm, Width: 885 * mm, Height: 2130 * mm, LeafMass: 25}}
	box := floor([4]quantity.Length{0, 0, 4000, 0})
	box.Walls[0].Boxes = []plan.Box{{Kind: "socket", Face: plan.FaceA, At: 1000 * mm, Height: 300 * mm, Gangs: 10}} // wider than any bay
	rail := floor([4]quantity.Length{0, 0, 4000, 0})
	rail.Walls[0].Fixings = []plan.Fixing{{Kind: "rail", Face: plan.FaceA, At: 800 * mm, Width: 1500 * mm, Height: 900 * mm}}
	rail.Walls[0].Openings = tee.Walls[0].Openings
	high := floor([4]quantity.Length{0, 0, 4000, 0})
	high.Levels[0].ClearHeight = 7000 * mm
	high.Walls[0].Openings = []plan.Opening{{Kind: plan.Door, At: 900 * mm, Width: 885 * mm, Height: 2130 * mm, LeafMass: 60}}
	for code, p := range map[string]*plan.Plan{"stud-longer-than-stock": high, "tee-at-opening": tee, "box-on-stud": box, "fixing-without-backing": rail} {
		found := layout.Of(p, cat, pr).Walls[0].Findings
		if !slices.ContainsFunc(found, func(f finding.Finding) bool { return f.Code == code && f.Severity == finding.Warning }) {
			t.Errorf("%s: findings %v", code, found)
		}
	}
}
