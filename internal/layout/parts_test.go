package layout_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// TestStudsUnderSlope: under a soffit that rises by 1 in 2 a stud is cut by the
// height at its lower side, so that it does not go through the soffit (common
// practice). By hand for the stud at 600: its flange of 50 mm begins at 575,
// where the soffit is at 2500 + 575/2 = 2787.5; 15 mm less are 2772.5.
func TestStudsUnderSlope(t *testing.T) {
	rising := []plan.HeightAt{{At: 0, Height: 2500 * mm}, {At: 2400 * mm, Height: 3700 * mm}}
	falling := []plan.HeightAt{{At: 0, Height: 3700 * mm}, {At: 2400 * mm, Height: 2500 * mm}}
	for _, c := range []struct {
		heights []plan.HeightAt
		want    map[float64]float64
	}{
		{rising, map[float64]float64{25: 2485, 600: 2772.5, 1200: 3072.5, 1800: 3372.5, 2375: 3660}},
		{falling, map[float64]float64{25: 3660, 600: 3372.5, 1200: 3072.5, 1800: 2772.5, 2375: 2485}},
	} {
		w := lay(t, 2400*mm, 3700*mm, plan.Wall{Heights: c.heights}, single("W", "GKB-12.5"), nil)
		got := map[float64]float64{}
		for _, m := range w.Members {
			if m.Upright() {
				got[m.From.X.MM()] = m.Cut.MM()
			}
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%v:\n%s", c.heights, diff)
		}
	}
}

// TestJointMovesAwayFromJamb: the first full board would end at 1200, 100 mm
// beside the door: the joint goes elsewhere ("no continuation" of a jamb: trade
// press; the clearance is the practice's).
func TestJointMovesAwayFromJamb(t *testing.T) {
	door := plan.Opening{Kind: plan.Door, At: 1300 * mm, Width: 885 * mm, Height: 2130 * mm, LeafMass: 28}
	w := lay(t, 4800*mm, 2750*mm, plan.Wall{Openings: []plan.Opening{door}}, single("W", "GKB-12.5"), nil)
	_, pr := metric(t, nil)
	for _, f := range w.Faces {
		for i := range f.Layers[0].Pieces {
			box := f.Layers[0].Pieces[i].Outline.Bounds()
			for _, u := range []quantity.Length{box.Min.X, box.Max.X} {
				if d := min((u - 1300*mm).Abs(), (u - 2185*mm).Abs()); d < pr.JointJamb.Value {
					t.Errorf("face %s: a joint at %s stands %s mm from the door's side", f.Face, u, d)
				}
			}
		}
	}
}

// TestDeepHeadTrack: the legs of the head track hold the movement, its tolerance
// of 5 mm and 20 mm of stud. 15 mm of deflection need 40 mm, which an ordinary
// track has; 20 mm need 45 mm and so the deep one (sums by hand; engagement from
// DIN 18183-1, from memory).
func TestDeepHeadTrack(t *testing.T) {
	p := room(2400*mm, 3000*mm, plan.Wall{}, single("W", "GKB-12.5"))
	cat, pr := metric(t, plan.Overrides{"head_tolerance": 5, "head_engagement": 20})
	for deflection, want := range map[quantity.Length]string{15 * mm: "UW75", 20 * mm: "UW75-D"} {
		p.Levels[0].Deflection = deflection
		w := layout.Of(p, cat, pr).Walls[0]
		if got := members(w, layout.SoffitTrack)[0].Product; got != want {
			t.Errorf("deflection %s: head track %s, want %s", deflection, got, want)
		}
		if got := members(w, layout.FloorTrack)[0].Product; got != "UW75" {
			t.Errorf("deflection %s: floor track %s", deflection, got)
		}
	}
}

// TestGussets: pairs of studs 2400 mm long are tied at the thirds of their
// length, 800 mm being the greatest equal distance under 900 (common practice:
// about every third of the height).
func TestGussets(t *testing.T) {
	b := single("W", "GKB-12.5")
	b.Frame = plan.FrameSpec{Kind: plan.TwinBraced, Stud: "CW50", Gap: 100 * mm}
	w := lay(t, 1200*mm, 2415*mm, plan.Wall{}, b, plan.Overrides{"gusset_spacing": 900})
	at := map[float64][]float64{}
	for _, g := range w.Gussets {
		at[g.At.X.MM()] = append(at[g.At.X.MM()], g.At.Y.MM())
		if g.Width != 200*mm {
			t.Errorf("gusset %s mm wide, want two frames of 50 mm and 100 mm between", g.Width)
		}
	}
	thirds := []float64{800, 1600}
	if diff := cmp.Diff(map[float64][]float64{25: thirds, 600: thirds, 1175: thirds}, at); diff != "" {
		t.Error(diff)
	}
}

// TestCornerHasBackingStud: the through wall's inner boards stop at the other
// wall's frame, 75 mm short of its own end stud's outer edge, and find a stud of
// their own there (common practice: a third stud at the corner). CW75: the other
// frame begins at 4000 - 37.5 = 3962.5.
func TestCornerHasBackingStud(t *testing.T) {
	p := floor([4]quantity.Length{0, 0, 4000, 0}, [4]quantity.Length{4000, 0, 4000, 3000})
	cat, pr := metric(t, nil)
	w := layout.Of(p, cat, pr).Walls[0]
	edge := quantity.MM(3962.5)
	behind := func(m layout.Member) bool { return m.Upright() && m.From.X < edge && edge <= m.From.X+m.Width/2 }
	if !slices.ContainsFunc(w.Members, behind) {
		t.Error("no stud behind the edge of the inner boards at 3962.5")
	}
}

// TestHighBoardsAlternate: in a wall higher than a board, full boards stand at
// the floor and hang at the soffit by turns, so that one size of rest serves
// every column (common practice). By hand: 5000 less 15 less a board of 3600.
func TestHighBoardsAlternate(t *testing.T) {
	w := lay(t, 4800*mm, 5000*mm, plan.Wall{}, single("W", "GKB-12.5"), plan.Overrides{"board_max_length": 3600})
	var heights []float64
	for _, p := range w.Faces[0].Layers[0].Pieces {
		heights = append(heights, p.Height.MM())
	}
	if diff := cmp.Diff([]float64{3600, 1385, 1385, 3600, 3600, 1385, 1385, 3600}, heights); diff != "" {
		t.Errorf("from below upwards, column by column:\n%s", diff)
	}
}

// jointLength adds up the joints of one kind, in millimetres.
func jointLength(l *layout.Project, kind layout.JointKind) (sum float64) {
	for _, w := range l.Walls {
		for _, j := range w.Joints {
			if j.Kind == kind {
				sum += j.From.Dist(j.To).MM()
			}
		}
	}
	return sum
}

// TestStraightJointIsCountedOnce: where one wall carries on into another, each
// face has one joint as high as the boards: 2750 - 15, twice.
func TestStraightJointIsCountedOnce(t *testing.T) {
	p := floor([4]quantity.Length{0, 0, 2400, 0}, [4]quantity.Length{2400, 0, 4800, 0})
	p.Walls[0].Start, p.Walls[1].End = plan.ToStructure, plan.ToStructure
	cat, pr := metric(t, nil)
	if got := jointLength(layout.Of(p, cat, pr), layout.CutJoint); got != 2*2735 {
		t.Errorf("cut joints %v mm, want 2 x 2735", got)
	}
}

// TestTopCap: a wall that stops short of the soffit is closed by a strip as
// long as the wall and as wide as the frame, with a bead on both edges (common
// practice).
func TestTopCap(t *testing.T) {
	w := lay(t, 2400*mm, 2750*mm, plan.Wall{Height: 1200 * mm, Head: plan.HeadFree}, single("W", "GKB-12.5"), nil)
	var long, beads quantity.Length
	for _, c := range w.Caps {
		long += c.Height
		if c.Width != 75*mm {
			t.Errorf("strip %s mm wide, want 75", c.Width)
		}
	}
	for _, b := range w.Beads {
		beads += b.From.Dist(b.To)
	}
	if long != 2400*mm || beads != 2*2400*mm {
		t.Errorf("%s mm of strip and %s mm of bead, want 2400 and 4800", long, beads)
	}
}

// TestJustify: the wall runs east, so face A is its north side. Drawn on face A
// the axis lies half the thickness of 100 mm to the south of the line, on face B
// to the north.
func TestJustify(t *testing.T) {
	for justify, want := range map[plan.Justify]quantity.Length{plan.Centre: 0, "": 0, plan.OnFaceA: -50 * mm, plan.OnFaceB: 50 * mm} {
		w := lay(t, 2400*mm, 2750*mm, plan.Wall{Justify: justify}, single("W", "GKB-12.5"), nil)
		if w.Line.A.Y != want || w.Frame.Global(0, 0).Y != want {
			t.Errorf("%q: axis at %s, want %s", justify, w.Line.A.Y, want)
		}
	}
}

// TestReveals: the sides and the head of a bare opening are boarded over the
// wall's finished thickness, from the floor gap of 10 mm up; a hole with a sill
// on all four sides (common practice). Each edge has a bead on both faces.
func TestReveals(t *testing.T) {
	for _, c := range []struct {
		sill quantity.Length
		want []float64
	}{
		{0, []float64{2090, 1000, 2090}},
		{900 * mm, []float64{1200, 1000, 1200, 1000}},
	} {
		bare := plan.Opening{Kind: plan.Bare, At: 1300 * mm, Width: 1000 * mm, Height: 2100*mm - c.sill, Sill: c.sill}
		w := lay(t, 3600*mm, 2750*mm, plan.Wall{Openings: []plan.Opening{bare}}, single("W", "GKB-12.5"), plan.Overrides{"board_floor_gap": 10})
		var strips []float64
		var beads, edges float64
		for _, p := range w.Caps {
			strips = append(strips, p.Height.MM())
			edges += 2 * p.Height.MM()
			if p.Width != 100*mm {
				t.Errorf("reveal %s mm wide, want 100", p.Width)
			}
		}
		for _, b := range w.Beads {
			beads += b.From.Dist(b.To).MM()
		}
		if diff := cmp.Diff(c.want, strips); diff != "" || beads != edges {
			t.Errorf("sill %s: beads %v of %v mm\n%s", c.sill, beads, edges, diff)
		}
	}
}

// TestBattsLeaveOpenings: the fill is as large as the wall without its
// openings: 3.6 x 2.75 - 1.0 x 1.2 m.
func TestBattsLeaveOpenings(t *testing.T) {
	window := plan.Opening{Kind: plan.Window, At: 1300 * mm, Width: 1000 * mm, Height: 1200 * mm, Sill: 900 * mm}
	b := single("W", "GKB-12.5")
	b.Insulation = []plan.Insulation{{Product: "MW-60"}}
	w := lay(t, 3600*mm, 2750*mm, plan.Wall{Openings: []plan.Opening{window}}, b, nil)
	var area quantity.Area
	for i := range w.Batts {
		area += w.Batts[i].Area()
	}
	if area != 3600*2750-1000*1200 {
		t.Errorf("%v mm² of fill, want %v", area, 3600*2750-1000*1200)
	}
}

// TestEdgesOfPieces: a full board has both its long edges; a starter keeps the
// one towards the next piece, and the last piece the one towards the piece
// before, so every joint of a straight wall is between two tapered edges (common
// practice: cut edges go to the ends of the wall). Four joints on the face that
// begins with a starter, three on the other.
func TestEdgesOfPieces(t *testing.T) {
	w := lay(t, 4800*mm, 2750*mm, plan.Wall{}, single("W", "GKB-12.5"), nil)
	full := [2]layout.EdgeKind{layout.Factory, layout.Factory}
	first, last := [2]layout.EdgeKind{layout.CutEdge, layout.Factory}, [2]layout.EdgeKind{layout.Factory, layout.CutEdge}
	for face, want := range [][][2]layout.EdgeKind{{full, full, full, full}, {first, full, full, full, last}} {
		var got [][2]layout.EdgeKind
		for _, p := range w.Faces[face].Layers[0].Pieces {
			got = append(got, [2]layout.EdgeKind{p.Left, p.Right})
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("face %d:\n%s", face, diff)
		}
	}
	kinds := map[layout.JointKind]int{}
	for _, j := range w.Joints {
		if j.Kind != layout.Perimeter {
			kinds[j.Kind]++
		}
	}
	if diff := cmp.Diff(map[layout.JointKind]int{layout.TaperedJoint: 7}, kinds); diff != "" {
		t.Error(diff)
	}
}
