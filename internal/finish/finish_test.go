package finish_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"nogging/internal/catalogue"
	_ "nogging/internal/draws"
	"nogging/internal/finish"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/plantest"
	"nogging/internal/quantity"
)

const mm = quantity.Millimetre

// walls lays out walls of one layer on one level, 2.50 m high, and finishes them.
func walls(t *testing.T, practice, level string, list ...plan.Wall) []*finish.Wall {
	t.Helper()
	_, out := finished(t, practice, 2500*mm, plan.BuildUp{FaceA: []string{"GKB-12.5"}, Finish: level}, list...)
	return out
}

// finished lays out walls with studs CW75 and finishes them; the practice us lends
// its surface levels to the metric one.
func finished(t *testing.T, practice string, height quantity.Length, b plan.BuildUp, list ...plan.Wall) ([]*layout.Wall, []*finish.Wall) {
	t.Helper()
	b.ID, b.Frame = "W", plan.FrameSpec{Kind: plan.Single, Stud: "CW75"}
	p := &plan.Plan{Levels: []plan.Level{{ID: "L0", ClearHeight: height}}, BuildUps: []plan.BuildUp{b}}
	for i := range list {
		list[i].ID, list[i].Level, list[i].BuildUp = []string{"L0-01", "L0-02"}[i], "L0", "W"
	}
	p.Walls = list
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID("metric")
	changed := *pr
	if practice == "us" {
		us, _ := cat.PracticeByID("us")
		changed.UsualFinish, changed.FinishLevels = us.UsualFinish, us.FinishLevels
	}
	var out []*finish.Wall
	l := layout.Of(p, cat, &changed).Walls
	for _, w := range l {
		out = append(out, finish.Of(w, cat, &changed))
	}
	return l, out
}

// plain is a wall of 3.60 m between structure: face A has two joints of 2.485 m,
// face B, which begins with a starter, three; all are of factory edges.
func plain() plan.Wall {
	return plan.Wall{Start: plan.ToStructure, End: plan.ToStructure, Line: []plan.Pt{{}, {X: 3600 * mm}}}
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-6 {
		t.Errorf("%s: %.6f, want %.6f", what, got, want)
	}
}

// TestCoatsByHand: coats are 100, 200 and 300 mm wide (common practice), so that
// two joints of 2.485 m take 0.497, 0.994 and 1.491 m².
func TestCoatsByHand(t *testing.T) {
	w := walls(t, "metric", "Q2", plain())[0]
	for i, joints := range []float64{2, 3} {
		f := w.Faces[i]
		near(t, "face", f.Area, 3.6*2.485)
		if len(f.Coats) != 3 {
			t.Fatalf("%d coats", len(f.Coats))
		}
		for n, c := range f.Coats {
			near(t, "coat", c.Area, joints*2.485*0.1*float64(n+1))
			near(t, "beyond", c.Beyond, 0)
			near(t, "mass", c.Mass, c.Area*0.0003*1430)
		}
	}
	near(t, "paint", w.Paint.Area, 2*3.6*2.485)
	if w.Assumed || w.Level != "Q2" {
		t.Errorf("%+v", w)
	}
}

// TestCompoundPerMetre: a published take-off table for a wall of 4.00 x 2.75 m has
// 0.5 kg/m² of compound on 1.50 m/m² of taped joint, 0.33 kg/m (from memory). Three
// coats and the recess of two tapered edges come within a tenth of it.
func TestCompoundPerMetre(t *testing.T) {
	w := walls(t, "metric", "Q2", plain())[0]
	mass, length := 0.0, 0.0
	for _, j := range w.Joints {
		if j.Kind == layout.TaperedJoint {
			mass, length = mass+j.Fill, length+j.Length
		}
	}
	for _, f := range w.Faces {
		for _, c := range f.Coats {
			mass += c.Mass
		}
	}
	if got := mass / length; got < 0.30 || got > 0.363 {
		t.Errorf("%.3f kg/m", got)
	}
}

// TestScrewHeads: rows of 11 screws (2.455 m in steps of 250 mm or less) on 7
// studs, one more at each joint; those at joints lie under the first coat.
func TestScrewHeads(t *testing.T) {
	w := walls(t, "metric", "Q2", plain())[0]
	got := [][2]int{{w.Faces[0].Heads, w.Faces[0].Loose}, {w.Faces[1].Heads, w.Faces[1].Loose}}
	want := [][2]int{{(7 + 2) * 11, 5 * 11}, {(7 + 3) * 11, 4 * 11}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	// Q2 covers heads twice: 99 patches of 30 mm, 0.3 mm thick each time.
	near(t, "patches", w.Heads.Amount, 99*math.Pi/4*0.03*0.03*2*0.0003*1430)
}

// TestLevels: GA-214 levels 0 to 5, counting the coat in which the tape is bedded
// ("two separate coats over flat joints and one over interior angles" after it at
// level 4; screw heads none, one, two, three); Q1 to Q4 after the trade's code of
// practice 2, with the number of coats common practice.
func TestLevels(t *testing.T) {
	type asked struct {
		joints, corners, heads int
		tape, closed, skim     bool
	}
	inner := []plan.Wall{plain(), {End: plan.ToStructure, Line: []plan.Pt{{X: 1800 * mm}, {X: 1800 * mm, Y: 3000 * mm}}}}
	for _, tt := range []struct {
		practice, level string
		want            asked
	}{
		{"us", "L0", asked{}},
		{"us", "L1", asked{1, 1, 0, true, false, false}},
		{"us", "L2", asked{1, 1, 1, true, false, false}},
		{"us", "L3", asked{2, 2, 2, true, false, false}},
		{"us", "L4", asked{3, 2, 3, true, false, false}},
		{"us", "L5", asked{3, 2, 3, true, false, true}},
		{"us", "", asked{3, 2, 3, true, false, false}},
		{"metric", "Q1", asked{1, 1, 1, true, false, false}},
		{"metric", "Q2", asked{3, 3, 2, true, false, false}},
		{"metric", "Q3", asked{3, 3, 3, true, true, false}},
		{"metric", "Q4", asked{3, 3, 3, true, false, true}},
		{"metric", "", asked{3, 3, 2, true, false, false}},
	} {
		w := walls(t, tt.practice, tt.level, inner...)[1]
		got := asked{closed: w.Close.Area > 0, skim: w.Skim.Area > 0}
		for _, j := range w.Joints {
			switch j.Kind {
			case layout.TaperedJoint, layout.MixedJoint, layout.CutJoint:
				got.joints, got.tape = j.Coats, j.Tape != ""
			case layout.InnerCorner:
				got.corners = j.Coats
				if j.Coats > 0 && j.Tape != "CORNER-TAPE" {
					t.Errorf("%s: inner corner with %q", tt.level, j.Tape)
				}
			}
		}
		if w.Heads.Area > 0 {
			got.heads = int(math.Round(w.Heads.Amount / (w.Heads.Area * 0.0003 * 1430)))
		}
		if got != tt.want {
			t.Errorf("%s: %+v, want %+v", tt.level, got, tt.want)
		}
		if w.Assumed != (tt.level == "") {
			t.Errorf("%s: assumed %v", tt.level, w.Assumed)
		}
	}
}

// TestInnerCorner: at a T the stripe over each inner corner lies half on this wall
// and half on the one that it meets.
func TestInnerCorner(t *testing.T) {
	butting := plan.Wall{End: plan.ToStructure, Line: []plan.Pt{{X: 1800 * mm}, {X: 1800 * mm, Y: 1200 * mm}}}
	w := walls(t, "metric", "Q1", plain(), butting)[1]
	for _, f := range w.Faces { // of one board of about 1.15 m each
		near(t, "on the face", f.Coats[0].Area, 2.485*0.05)
		near(t, "beyond", f.Coats[0].Beyond, 2.485*0.05)
	}
}

// line is a wall between two points in mm.
func line(x0, y0, x1, y1 quantity.Length) plan.Wall {
	return plan.Wall{Line: []plan.Pt{{X: x0 * mm, Y: y0 * mm}, {X: x1 * mm, Y: y1 * mm}}}
}

// TestOuterCorners: at a corner each of the two walls takes half the stripe; at a
// free end of a wall 100 mm thick, whose strip has a bead on both edges, the halves
// of wide stripes would overlap, and half the strip is taken.
func TestOuterCorners(t *testing.T) {
	x, y := line(0, 0, 1150, 0), line(0, 0, 0, 1150)
	x.End, y.End = plan.ToStructure, plan.ToStructure
	l, list := finished(t, "metric", 2500*mm, plan.BuildUp{FaceA: []string{"GKB-12.5"}, Finish: "Q2"}, x, y)
	outer := 0
	for i, w := range list {
		for n, j := range w.Joints {
			if j.Kind != layout.OuterCorner {
				continue
			}
			outer++
			for _, f := range w.Faces {
				if f.Face == l[i].Joints[n].Face {
					near(t, "second coat round a corner", f.Coats[1].Beyond, 2.485*0.1)
				}
			}
		}
	}
	if outer != 1 {
		t.Errorf("%d outer corners", outer)
	}
	free := plan.Wall{Start: plan.FreeEnd, End: plan.ToStructure, Line: []plan.Pt{{}, {X: 1150 * mm}}}
	_, list = finished(t, "metric", 2500*mm, plan.BuildUp{FaceA: []string{"GKB-12.5", "GKB-12.5"}, Finish: "Q2"}, free)
	w := list[0]
	for _, f := range w.Faces {
		near(t, "first coat beyond a free end", f.Coats[0].Beyond, 2.485*0.05)
		near(t, "second coat beyond a free end", f.Coats[1].Beyond, 2.485*0.125/2) // 75 + 4 x 12.5 mm thick
		near(t, "second coat on the face", f.Coats[1].Area, 2.485*0.1)
	}
	near(t, "the outer of two end caps", w.Strips.Area, 0.1*2.485)
	near(t, "paint", w.Paint.Area, w.Faces[0].Area+w.Faces[1].Area+w.Strips.Area)
}

// TestStraight: where two walls carry on in one line, half of the stripe over the
// joint between them lies on either.
func TestStraight(t *testing.T) {
	list := walls(t, "metric", "Q1", line(0, 0, 1100, 0), line(1100, 0, 2200, 0))
	area, beyond := 0.0, 0.0
	for _, w := range list {
		for _, c := range w.Faces[0].Coats {
			area, beyond = area+c.Area, beyond+c.Beyond
		}
	}
	// The two far ends are free: half a stripe on the face and half on the strip.
	near(t, "on the faces", area, 2.485*(0.05+2*0.05))
	near(t, "beyond", beyond, 2.485*(0.05+2*0.05))
}

// TestMovementBead: the bead of a movement joint is coated on both sides of the
// gap of 10 mm.
func TestMovementBead(t *testing.T) {
	l, list := finished(t, "metric", 2500*mm, plan.BuildUp{FaceA: []string{"GKB-12.5"}, Finish: "Q1"}, plan.Wall{
		Start: plan.ToStructure, End: plan.ToStructure, Line: []plan.Pt{{}, {X: 18000 * mm}},
	})
	joints := 0.0
	for _, j := range l[0].Joints {
		if j.Face == plan.FaceA && j.Kind != layout.Perimeter {
			joints++
		}
	}
	near(t, "first coat", list[0].Faces[0].Coats[0].Area, 2.485*(joints*0.1+0.09))
}

// TestRecesses: two tapers of 50 x 1 mm, two bevels of 5 x 5 mm, or one of each; at
// rims the 5 mm by which boards are short of the soffit, through 12.5 mm.
func TestRecesses(t *testing.T) {
	section := map[layout.JointKind]float64{
		layout.TaperedJoint: 50e-6, layout.MixedJoint: 25e-6 + 12.5e-6, layout.CutJoint: 25e-6, layout.CrossJoint: 25e-6,
		layout.Perimeter: 62.5e-6, layout.InnerCorner: 0, layout.OuterCorner: 0,
	}
	edges := map[layout.JointKind]finish.Edges{
		layout.TaperedJoint: finish.Tapered, layout.MixedJoint: finish.Mixed, layout.CutJoint: finish.Bevelled, layout.CrossJoint: finish.Bevelled,
		layout.Perimeter: finish.Rim, layout.InnerCorner: finish.Corner, layout.OuterCorner: finish.Corner,
	}
	seen := map[layout.JointKind]bool{}
	door := plain()
	door.Openings = []plan.Opening{{Kind: plan.Door, At: 500 * mm, Width: 885 * mm, Height: 2130 * mm, LeafMass: 28}}
	for _, pair := range [][2]plan.Wall{
		{plain(), line(1800, 0, 1800, 3000)}, {door, line(3000, 1000, 5700, 1000)}, {line(0, 0, 2900, 0), line(0, 0, 0, 2300)},
		{line(0, 0, 2000, 0), line(2000, 0, 4700, 0)},
	} {
		_, list := finished(t, "metric", 4200*mm, plan.BuildUp{FaceA: []string{"GKB-12.5"}}, pair[0], pair[1])
		for _, w := range list {
			for _, j := range w.Joints {
				seen[j.Kind] = true
				near(t, string(j.Kind), j.Fill, section[j.Kind]*j.Length*1430)
				if j.Edges != edges[j.Kind] {
					t.Errorf("%s: %s", j.Kind, j.Edges)
				}
			}
		}
	}
	for _, k := range layout.JointKinds() {
		if !seen[k] {
			t.Errorf("no %s joint", k)
		}
	}
}

// TestSealedRim: a wall that has to resist fire has sealant at its rim, no compound.
func TestSealedRim(t *testing.T) {
	p := plain()
	p.Require.Fire = "EI 30"
	for _, j := range walls(t, "metric", "Q2", p)[0].Joints {
		if j.Kind == layout.Perimeter && (j.Seal != "SEALANT-FIRE" || j.Filler != "" || j.Fill != 0) {
			t.Errorf("%+v", j)
		}
	}
}

// TestInnerLayers: joints of inner layers are filled without tape (practice rule
// of the trade); those of the outer layer are taped.
func TestInnerLayers(t *testing.T) {
	p := plantest.Offices(1)
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID("metric")
	l := layout.Of(p, cat, pr).Walls[0]
	w := finish.Of(l, cat, pr)
	inner := 0
	for i, j := range w.Joints {
		if l.Joints[i].Outer {
			continue
		}
		inner++
		if j.Tape != "" || j.Coats != 0 || j.Filler != "COMPOUND-4B" || j.Fill <= 0 {
			t.Fatalf("inner layer: %+v", j)
		}
	}
	if inner == 0 {
		t.Error("no joints of inner layers")
	}
}

// TestSkimSavesPaint: a skim lowers the use of paint (common practice).
func TestSkimSavesPaint(t *testing.T) {
	bare, skimmed := walls(t, "metric", "Q3", plain())[0].Paint, walls(t, "metric", "Q4", plain())[0].Paint
	if bare.Area != skimmed.Area || skimmed.Amount >= bare.Amount {
		t.Errorf("%+v, with a skim %+v", bare, skimmed)
	}
}

// A coat is no larger than its stripes together and no larger than the face; a
// later coat is no smaller where it covers the same joints.
func TestAreaProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cat := catalogue.Shipped()
		pr, _ := cat.PracticeByID(rapid.SampledFrom([]string{"metric", "us"}).Draw(t, "practice"))
		for _, l := range layout.Of(plantest.Random(t), cat, pr).Walls {
			w := finish.Of(l, cat, pr)
			for _, f := range w.Faces {
				for n, c := range f.Coats {
					stripes := 0.0
					for i, j := range w.Joints {
						if l.Joints[i].Face == f.Face && j.Coats > n {
							stripes += j.Length * c.Width.Metres()
						}
					}
					for _, b := range l.Beads {
						if b.Face == f.Face && b.Use == "control joint" {
							stripes += b.From.Dist(b.To).Metres() * c.Width.Metres()
						}
					}
					if c.Area > stripes+1e-5 || c.Area > f.Area+1e-5 || c.Area < 0 {
						t.Fatalf("%s face %s coat %d: %v m², stripes %v, face %v", l.ID, f.Face, n+1, c.Area, stripes, f.Area)
					}
				}
				if f.Loose > f.Heads {
					t.Fatalf("%s: %d of %d heads are loose", l.ID, f.Loose, f.Heads)
				}
			}
		}
	})
}

func BenchmarkOf(b *testing.B) {
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID("metric")
	l := layout.Of(plantest.Offices(100), cat, pr).Walls
	for b.Loop() {
		for _, w := range l {
			finish.Of(w, cat, pr)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(l)), "ns/wall")
}
