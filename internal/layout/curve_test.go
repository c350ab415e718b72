package layout_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// arcWall is a wall on a circle round the origin, from one direction to another
// in degrees, counter-clockwise if the second is larger.
func arcWall(radius quantity.Length, from, to float64) plan.Wall {
	at := func(degrees float64) plan.Pt {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return plan.Pt{X: quantity.Length(math.Round(float64(radius) * cos)), Y: quantity.Length(math.Round(float64(radius) * sin))}
	}
	via := at((from + to) / 2)
	return plan.Wall{ID: "L1-01", Level: "L1", Line: []plan.Pt{at(from), at(to)}, Via: &via, BuildUp: "W"}
}

// curved lays out walls and structure on one level of 2750 mm.
func curved(t testing.TB, b plan.BuildUp, structure []plan.Structure, walls ...plan.Wall) *layout.Project {
	t.Helper()
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID("metric")
	p := &plan.Plan{
		Levels: []plan.Level{{ID: "L1", ClearHeight: 2750 * mm}}, BuildUps: []plan.BuildUp{b},
		Structure: structure, Walls: walls,
	}
	return layout.Of(p, cat, pr)
}

func bent(boards ...string) plan.BuildUp {
	return plan.BuildUp{ID: "W", Frame: plan.FrameSpec{Kind: plan.Single, Stud: "CW75"}, FaceA: boards}
}

// closeTo compares a length with a closed form in millimetres, to a few
// roundings of a nanometre.
func closeTo(t *testing.T, what string, got quantity.Length, want float64) {
	t.Helper()
	if d := math.Abs(got.MM() - want); d > 2e-5 {
		t.Errorf("%s is %s mm, want %.6f: %.6f off", what, got, want, d)
	}
}

// TestHalfCircle holds the parts of a half circle of 4.5 m radius against closed
// forms: every length is pi times the radius of its own plane.
func TestHalfCircle(t *testing.T) {
	for _, c := range []struct {
		name     string
		from, to float64
		inner    plan.Face
	}{{"turning left", 0, 180, plan.FaceA}, {"turning right", 180, 0, plan.FaceB}} {
		t.Run(c.name, func(t *testing.T) {
			wall := arcWall(4500*mm, c.from, c.to)
			wall.Start, wall.End = plan.ToStructure, plan.ToStructure
			w := curved(t, bent("GKB-9.5", "GKB-9.5"), nil, wall).Walls[0]
			closeTo(t, "frame", w.FrameLines[0].Extent.Len(), math.Pi*4500)
			for _, f := range w.Faces {
				sign := 1.0
				if f.Face == c.inner {
					sign = -1
				}
				for k, l := range f.Layers {
					r := 4500 + sign*(37.5+9.5*float64(k)+4.75)
					closeTo(t, fmt.Sprintf("radius of %s%d", f.Face, k+1), l.Bend.Radius, r)
					closeTo(t, fmt.Sprintf("layer %s%d", f.Face, k+1), l.Extent.Len(), math.Pi*r)
					if !l.Bend.Lying || l.Bend.Wet {
						t.Errorf("%s%d: %+v; 9.5 mm lie and bend dry to 2000 mm (handbook tables, from memory)", f.Face, k+1, l.Bend)
					}
				}
			}
			var tracks quantity.Length
			for _, m := range members(w, layout.FloorTrack) {
				tracks += m.Cut
				if n := int(math.Ceil(m.Cut.MM()/75)) - 1; m.Slits != n {
					t.Errorf("%s of %s mm has %d slits, want %d", m.Mark(), m.Cut, m.Slits, n)
				}
			}
			closeTo(t, "floor track, round its inner flange", tracks, math.Pi*(4500-37.5))
			outer := w.Curve.Outer
			closeTo(t, "outside", outer, 4500+37.5+19)
			var last quantity.Length
			for i, m := range uprights(w) {
				gap := float64(m.From.X-last) * float64(outer) / float64(w.Curve.Axis.Radius) / 1e6
				if i > 0 && gap > 300 { // common practice: 300 mm up to a radius of 5 m
					t.Errorf("%s stands %.2f mm from its neighbour on the outside", m.Mark(), gap)
				}
				last = m.From.X
			}
		})
	}
}

func uprights(w *layout.Wall) []layout.Member {
	var list []layout.Member
	for _, m := range w.Members {
		if m.Upright() {
			list = append(list, m)
		}
	}
	return list
}

// TestJustifiedCurve: a wall drawn by the face on the outside of its curve has
// its axis half its thickness inside of that, and what is placed by distances
// along the drawn arc keeps its direction from the centre.
func TestJustifiedCurve(t *testing.T) {
	wall := arcWall(4000*mm, 0, 90)
	wall.Justify, wall.Start, wall.End = plan.OnFaceB, plan.ToStructure, plan.ToStructure
	quarter := quantity.Length(math.Round(math.Pi / 4 * 4e9)) // half of the arc
	wall.Openings = []plan.Opening{{Kind: plan.Bare, At: quarter, Width: 600 * mm, Height: 2000 * mm}}
	wall.Heights = []plan.HeightAt{{At: 0, Height: 2750 * mm}, {At: quarter, Height: 2750 * mm}, {At: quarter, Height: 2500 * mm}, {At: 2 * quarter, Height: 2500 * mm}}
	w := curved(t, bent("GKB-9.5"), nil, wall).Walls[0]
	const axis = 4000 - 47
	closeTo(t, "axis", w.Curve.Axis.Radius, axis)
	closeTo(t, "outside", w.Curve.Outer, 4000)
	closeTo(t, "opening's side", w.Openings[0].U.From, math.Pi/4*axis)
	closeTo(t, "step", w.Top[1].X, math.Pi/4*axis)
	closeTo(t, "place along the drawn line", w.Placed(quarter), math.Pi/4*axis)
}

// TestCurvedDoor: an opening is a chord. On the inside of the curve, where the
// jambs come nearest to each other, it keeps its clear width; the header spans
// the chord of the frame (closed forms of the circle).
func TestCurvedDoor(t *testing.T) {
	wall := arcWall(4000*mm, 0, 180)
	wall.Openings = []plan.Opening{{Kind: plan.Door, At: 5000 * mm, Width: 1010 * mm, Height: 2130 * mm, LeafMass: 30}}
	w := curved(t, bent("GKB-9.5"), nil, wall).Walls[0]
	half := math.Asin(505.0 / (4000 - 47))
	o := w.Openings[0]
	closeTo(t, "width along the axis", o.U.Len(), 2*half*4000)
	if o.Width() != 1010*mm {
		t.Errorf("the clear width is %s", o.Width())
	}
	inside := geom.Segment{A: w.Point(o.U.From, 47*mm), B: w.Point(o.U.To, 47*mm)}
	closeTo(t, "chord inside", inside.Length(), 1010)
	header := members(w, layout.Header)[0]
	closeTo(t, "header", header.Cut, 2*4000*math.Sin(half)+300)
	if !strings.Contains(o.Rule, "1010 mm wide") {
		t.Errorf("the jambs are chosen by: %s", o.Rule)
	}
}

// TestBending: how boards are put up on a curve, by the radii of the practice.
func TestBending(t *testing.T) {
	for _, c := range []struct {
		board    string
		radius   quantity.Length
		lying    bool
		wet      bool
		code     string
		said     string // within what is found
		advice   string
		severity finding.Severity
	}{
		{board: "GKB-12.5", radius: 30_000 * mm},
		{board: "GKB-12.5", radius: 5000 * mm, lying: true},
		{board: "GKB-9.5", radius: 2200 * mm, lying: true},
		{"GKB-12.5", 2000 * mm, true, true, "board-bent-wet", "dry it bends to 2750 mm", "GKB-6.5", finding.Assumed},
		{"GKB-12.5", 900 * mm, true, true, "board-cannot-bend", "radius of 856 mm; even wetted it bends to 1000 mm", "use 2 layers of GKB-9.5 instead, which follow it wetted, or make the radius of the axis 1044 mm", finding.Error},
		{"GKF-25", 6000 * mm, true, false, "board-cannot-bend", "are not bent", "use 2 layers of GKB-15", finding.Error},
		{"CB-12.5", 6000 * mm, true, false, "board-cannot-bend", "are not bent", "use thinner boards", finding.Error},
	} {
		t.Run(fmt.Sprintf("%s on %s", c.board, c.radius), func(t *testing.T) {
			w := curved(t, bent(c.board), nil, arcWall(c.radius, 0, 120)).Walls[0]
			inner := w.Faces[0].Layers[0]
			if inner.Bend.Lying != c.lying || inner.Bend.Wet != c.wet {
				t.Errorf("bent %+v", inner.Bend)
			}
			for _, p := range inner.Pieces {
				if p.Lying != c.lying {
					t.Errorf("piece %d lies: %v", p.Number, p.Lying)
				}
			}
			var told *finding.Finding
			for i, f := range w.Findings {
				if strings.HasPrefix(f.Code, "board-") && told == nil {
					told = &w.Findings[i]
				}
			}
			switch {
			case c.code == "":
				if told != nil || len(inner.Pieces) == 0 {
					t.Errorf("%d pieces, found %v", len(inner.Pieces), told)
				}
			case told == nil || told.Code != c.code || told.Severity != c.severity || !strings.Contains(told.What.String(), c.said) || !strings.Contains(told.Fix.String(), c.advice):
				t.Errorf("found %+v", told)
			case (len(inner.Pieces) == 0) != (c.severity == finding.Error):
				t.Errorf("%s, and %d pieces", told.Code, len(inner.Pieces))
			}
		})
	}
}

// TestTooTight: a wall whose inside would have next to no radius is told, and
// the nearest radius that works.
func TestTooTight(t *testing.T) {
	wall := arcWall(250*mm, 0, 180)
	wall.Justify = plan.OnFaceB
	l := curved(t, plan.BuildUp{ID: "W", Frame: plan.FrameSpec{Kind: plan.TwinIndependent, Stud: "CW100", Gap: 10 * mm}, FaceA: []string{"GKB-6.5"}}, nil, wall)
	if len(l.Walls) != 0 || len(l.Findings) == 0 || l.Findings[0].Code != "curve-too-tight" || !strings.Contains(l.Findings[0].Fix.String(), "323 mm") {
		t.Errorf("walls %d, found %v", len(l.Walls), l.Findings)
	}
}

// TestCourses: lying boards make courses of whole boards; those of the second
// layer lie off those of the first by the practice's offset of cross joints, and
// joints of neighbouring courses and of facing ones never meet on a stud.
func TestCourses(t *testing.T) {
	w := curved(t, bent("GKB-9.5", "GKB-9.5"), nil, arcWall(4000*mm, 0, 170)).Walls[0]
	_, pr := metric(t, nil)
	heights := make([]map[quantity.Length]bool, 2)
	for k, l := range w.Faces[0].Layers {
		heights[k] = map[quantity.Length]bool{}
		for _, p := range l.Pieces {
			if p.At.Y > l.Bottom {
				heights[k][p.At.Y] = true
			}
			if p.Width > 1200*mm || p.Height > 3600*mm || p.Height != p.Outline.Bounds().Max.X-p.Outline.Bounds().Min.X {
				t.Errorf("%s is %s by %s", layout.PieceMark(plan.FaceA, k, &p), p.Width, p.Height)
			}
		}
	}
	for a := range heights[0] {
		for b := range heights[1] {
			if (a - b).Abs() < pr.CrossJointOffset.Value {
				t.Errorf("courses meet at %s in the first layer and at %s in the second", a, b)
			}
		}
	}
	if len(heights[0]) < 2 {
		t.Errorf("the first layer has %d courses", len(heights[0])+1)
	}
	checkCourses(t, w)
}

// checkCourses: no end joint of a lying layer stands over one of the course
// below, nor on one of a facing course at the same height.
func checkCourses(t reporter, w *layout.Wall) {
	if hasFinding(w, "joints-not-staggered") || hasFinding(w, "joint-without-stud") {
		return
	}
	type end struct {
		u        quantity.Length // along the axis, to the millimetre
		low, top quantity.Length
	}
	ends := map[string][]end{}
	for _, j := range w.Joints {
		if j.Kind != layout.CutJoint || j.From.X != j.To.X || j.Layer > 0 {
			continue
		}
		l := layerOf(w, j.Face)
		if j.From.X == l.Extent.From || j.From.X == l.Extent.To {
			continue
		}
		u := quantity.Length(float64(j.From.X) * float64(w.Curve.Axis.Radius) / float64(l.Bend.Radius)).Round(mm)
		ends[string(j.Face)] = append(ends[string(j.Face)], end{u, j.From.Y, j.To.Y})
	}
	for face, list := range ends {
		for i, a := range list {
			for _, b := range list[i+1:] {
				if a.u == b.u && (a.top == b.low || b.top == a.low) {
					t.Fatalf("%s: face %s has end joints over each other at %s", w.ID, face, a.u)
				}
			}
			for _, b := range ends["b"] {
				if face == "a" && a.u == b.u && a.low < b.top && b.low < a.top {
					t.Fatalf("%s: facing end joints at %s", w.ID, a.u)
				}
			}
		}
	}
}

func layerOf(w *layout.Wall, f plan.Face) *layout.Layer {
	for i := range w.Faces {
		if w.Faces[i].Face == f {
			return &w.Faces[i].Layers[0]
		}
	}
	return nil
}

// TestCurvedJunctions: where curved walls meet others, held against Pythagoras
// and the sines of the angles.
func TestCurvedJunctions(t *testing.T) {
	straight := func(id string, x0, y0, x1, y1 float64) plan.Wall {
		return plan.Wall{ID: id, Level: "L1", BuildUp: "W", Line: []plan.Pt{{X: quantity.MM(x0), Y: quantity.MM(y0)}, {X: quantity.MM(x1), Y: quantity.MM(y1)}}}
	}
	const r, half = 4000.0, 47.0 // CW75 with 9.5 mm boards
	wallOf := func(t *testing.T, l *layout.Project, id string) *layout.Wall {
		for _, w := range l.Walls {
			if w.ID == id {
				return w
			}
		}
		t.Fatalf("no wall %s: %v", id, l.Findings)
		return nil
	}
	t.Run("a wall against the outside, off the centre", func(t *testing.T) {
		// The wall runs along y = 1500 towards the arc; its frame clears the
		// finished outside at the side of the frame that meets it first.
		l := curved(t, bent("GKB-9.5"), nil, arcWall(4000*mm, -60, 60), straight("L1-02", 9000, 1500, 3750, 1500))
		w := wallOf(t, l, "L1-02")
		if w.Ends[1].Kind != layout.Tee || w.Ends[1].With != "L1-01" {
			t.Fatalf("it meets %+v", w.Ends[1])
		}
		closeTo(t, "frame's end", w.FrameLines[0].Extent.To, 9000-math.Sqrt((r+half)*(r+half)-(1500-37.5)*(1500-37.5)))
		for i, side := range []float64{-1, 1} { // face A is at the south of a wall that runs west
			y := 1500 + side*(37.5+4.75)
			closeTo(t, "boards' end", w.Faces[i].Layers[0].Extent.To, 9000-math.Sqrt((r+half)*(r+half)-y*y))
		}
		host := wallOf(t, l, "L1-01")
		studs := members(host, layout.JunctionStud)
		if len(studs) != 1 {
			t.Fatalf("%d junction studs", len(studs))
		}
		// The stud stands where the other wall's axis reaches the frame, on its radius.
		angle := math.Asin(1500/(r+37.5)) + math.Pi/3
		closeTo(t, "junction stud", studs[0].From.X, angle*r)
	})
	t.Run("a wall against the inside", func(t *testing.T) {
		l := curved(t, bent("GKB-9.5"), nil, arcWall(4000*mm, -60, 60), straight("L1-02", -6000, 0, 3990, 0))
		w := wallOf(t, l, "L1-02")
		closeTo(t, "frame's end", w.FrameLines[0].Extent.To, 6000+math.Sqrt((r-half)*(r-half)-37.5*37.5))
	})
	t.Run("carrying on along the tangent", func(t *testing.T) {
		l := curved(t, bent("GKB-9.5"), nil, arcWall(4000*mm, 0, 90), straight("L1-02", 4000, -3000, 4000, 0))
		for _, id := range []string{"L1-01", "L1-02"} {
			w := wallOf(t, l, id)
			if e := w.Ends[map[string]int{"L1-01": 0, "L1-02": 1}[id]]; e.Kind != layout.Straight {
				t.Errorf("%s: %+v", id, e)
			}
		}
		closeTo(t, "the arc's frame", wallOf(t, l, "L1-01").FrameLines[0].Extent.From, 0)
	})
	t.Run("a corner", func(t *testing.T) {
		l := curved(t, bent("GKB-9.5"), nil, arcWall(4000*mm, 0, 90), straight("L1-02", 4000, 0, 8000, 0))
		a, b := wallOf(t, l, "L1-01"), wallOf(t, l, "L1-02")
		if a.Ends[0].Kind != layout.Corner || b.Ends[0].Kind != layout.Corner || a.Ends[0].Through == b.Ends[0].Through {
			t.Fatalf("%+v and %+v", a.Ends[0], b.Ends[0])
		}
		// The arc is longer, so it runs through, to the far side of the other frame,
		// over its whole depth: the line y = -37.5 on the radius of its inner edge.
		closeTo(t, "the arc's frame", a.FrameLines[0].Extent.From, -math.Asin(37.5/(r+37.5))*r)
		// The straight frame stops at the arc's outer edge, where it bulges most.
		closeTo(t, "the other frame", b.FrameLines[0].Extent.From, 37.5)
	})
	t.Run("against structure", func(t *testing.T) {
		stone := []plan.Structure{{ID: "S-01", Level: "L1", Line: []plan.Pt{{X: 0, Y: -100 * mm}, {X: 9000 * mm, Y: -100 * mm}}, Thickness: 400 * mm}}
		l := curved(t, bent("GKB-9.5"), stone, arcWall(4000*mm, 0, 90))
		w := wallOf(t, l, "L1-01")
		if w.Ends[0].Kind != layout.Structure {
			t.Fatalf("%+v", w.Ends[0])
		}
		closeTo(t, "boards inside", w.Faces[0].Layers[0].Extent.From, math.Asin(100/(r-42.25))*(r-42.25))
		closeTo(t, "frame", w.FrameLines[0].Extent.From, math.Asin(100/(r-37.5))*r)
	})
	t.Run("two arcs", func(t *testing.T) {
		other := arcWall(3000*mm, 180, 60)
		other.ID = "L1-02"
		for i := range other.Line {
			other.Line[i].X += 7000 * mm
			other.Line[i].Y += 3000 * mm
		}
		other.Via.X += 7000 * mm
		other.Via.Y += 3000 * mm
		first := arcWall(5000*mm, -60, 60)
		other.Line[0] = plan.Pt{X: 4000 * mm, Y: 3000 * mm} // on the circle of 5 m (3, 4, 5), and north from there, out of it
		l := curved(t, bent("GKB-9.5"), nil, first, other)
		w := wallOf(t, l, "L1-02")
		if w.Ends[0].Kind != layout.Tee {
			t.Fatalf("%+v", w.Ends[0])
		}
		for _, f := range w.Faces {
			layer := f.Layers[0]
			axis := quantity.Length(float64(layer.Extent.From) * float64(w.Curve.Axis.Radius) / float64(layer.Bend.Radius))
			sign := quantity.Length(1)
			if f.Face == plan.FaceB {
				sign = -1
			}
			p := w.Point(axis, sign*(42_250_000))
			closeTo(t, "distance of the boards' end from the first arc's centre", p.Dist(geom.Pt(0, 0)), 5047)
		}
	})
}

// TestCurvedCrossing: of two walls that cross twice the lesser is interrupted at
// both places, and its middle lies inside the curve.
func TestCurvedCrossing(t *testing.T) {
	first := arcWall(4000*mm, -80, 80)
	first.Require.Fire = "EI 60"
	second := plan.Wall{ID: "L1-02", Level: "L1", BuildUp: "W", Line: []plan.Pt{{X: 2000 * mm, Y: -6000 * mm}, {X: 2000 * mm, Y: 6000 * mm}}}
	l := curved(t, bent("GKB-9.5"), nil, first, second)
	w := l.Walls[1]
	if len(w.FrameLines) != 3 {
		t.Fatalf("%d stretches: %v", len(w.FrameLines), l.Findings)
	}
	reach := func(x, r float64) float64 { return math.Sqrt(r*r - x*x) }
	closeTo(t, "middle", w.FrameLines[1].Extent.Len(), 2*reach(2037.5, 3953))
	closeTo(t, "outer", w.FrameLines[0].Extent.To, 6000-reach(1962.5, 4047))
}

// TestCurvedOverlap: a frame laid on a curved one is told.
func TestCurvedOverlap(t *testing.T) {
	first := arcWall(4000*mm, 0, 90)
	second := arcWall(4030*mm, 20, 70)
	second.ID = "L1-02"
	l := curved(t, bent("GKB-9.5"), nil, first, second)
	for _, f := range l.Findings {
		if f.Code == "frames-overlap" {
			return
		}
	}
	t.Errorf("found %v", l.Findings)
}

// TestCurvedProperties: for any curved wall the boards of each layer tile its own
// unrolled face, the pieces of a course make up the layer's own length, studs
// keep the spacing on the outside, and what is set out lies on the circle.
func TestCurvedProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		radius := quantity.Length(rapid.IntRange(1000, 30_000).Draw(t, "radius")) * mm
		sweep := rapid.Float64Range(15, 200).Draw(t, "sweep")
		if sweep*math.Pi/180*radius.Metres() > 30 {
			sweep = 30 / radius.Metres() * 180 / math.Pi
		}
		from := rapid.Float64Range(0, 360).Draw(t, "from")
		to := from + sweep
		if rapid.Bool().Draw(t, "right") {
			from, to = to, from
		}
		wall := arcWall(radius, from, to)
		wall.Justify = rapid.SampledFrom([]plan.Justify{plan.Centre, plan.OnFaceA, plan.OnFaceB}).Draw(t, "justify")
		if length := wall.Length(); length > 3000*mm && rapid.Bool().Draw(t, "opening") {
			wall.Openings = []plan.Opening{{Kind: plan.Door, At: length / 3, Width: 900 * mm, Height: 2100 * mm, LeafMass: 25}}
		}
		if rapid.Bool().Draw(t, "sloping") {
			wall.Heights = []plan.HeightAt{{At: 0, Height: 2400 * mm}, {At: wall.Length(), Height: 3600 * mm}}
		}
		b := bent(rapid.SampledFrom([][]string{{"GKB-6.5"}, {"GKB-6.5", "GKB-6.5"}, {"GKB-9.5"}, {"GKB-12.5", "GKB-9.5"}}).Draw(t, "boards")...)
		if rapid.Bool().Draw(t, "twin") {
			b.Frame.Kind, b.Frame.Gap = plan.TwinIndependent, 20*mm
		}
		cat := catalogue.Shipped()
		pr, _ := cat.PracticeByID("metric")
		l := layout.Of(&plan.Plan{Levels: []plan.Level{{ID: "L1", ClearHeight: 2750 * mm}}, BuildUps: []plan.BuildUp{b}, Walls: []plan.Wall{wall}}, cat, pr)
		if len(l.Walls) == 0 {
			t.Fatalf("no wall: %v", l.Findings)
		}
		checkCurved(t, l.Walls[0], cat, pr)
	})
}

func checkCurved(t reporter, w *layout.Wall, cat *catalogue.Catalogue, pr *catalogue.Practice) {
	c := w.Curve
	checkBays(t, w)
	for _, fl := range w.FrameLines {
		if gap := float64(fl.Spacing) * float64(c.Outer) / float64(c.Axis.Radius); gap > float64(c.Spacing) {
			t.Fatalf("studs stand up to %.1f mm apart on the outside, %s are allowed", gap/1e6, c.Spacing)
		}
		for _, v := range []quantity.Length{fl.Offset - fl.Depth/2, fl.Offset + fl.Depth/2} {
			for _, p := range w.Path(fl.Extent, v, mm) {
				if d := (p.Dist(c.Axis.Centre) - c.Axis.RadiusAt(v)).Abs(); d > 2 {
					t.Fatalf("a point of the track's edge lies %d nm off its circle", d)
				}
			}
		}
	}
	for _, f := range w.Faces {
		for k := range f.Layers {
			layer := &f.Layers[k]
			if layer.Bend == nil || layer.Bend.Radius < layer.Bend.Least || layer.Bend.Least == 0 {
				if len(layer.Pieces) > 0 {
					t.Fatalf("%s%d cannot be bent and has %d pieces", f.Face, k+1, len(layer.Pieces))
				}
				continue
			}
			own := w.Unrolled(layer)
			checkTiling(t, own, f.Face, k, layer, pr)
			checkJoints(t, own, f.Face, k, layer, cat, pr)
			checkSum(t, own, f.Face, k, layer)
		}
	}
	checkCourses(t, w)
}

// checkSum: along a level line just above the floor the pieces and the openings
// make up the layer's own length to the nanometre.
func checkSum(t reporter, w *layout.Wall, f plan.Face, k int, l *layout.Layer) {
	want := l.Extent.Len()
	for _, b := range l.Breaks {
		want -= b.Len()
	}
	for _, o := range w.Openings {
		want -= o.U.Len()
	}
	var got quantity.Length
	for i := range l.Pieces {
		l.Pieces[i].Outline.Edges(func(s geom.Segment) {
			if s.A.Y == l.Bottom && s.B.Y == l.Bottom {
				got += (s.B.X - s.A.X).Abs()
			}
		})
	}
	if got != want {
		t.Fatalf("%s%d: pieces make %s mm, the layer is %s mm long", f, k+1, got, want)
	}
}

// TestStrike: the ordinates of a quarter of a circle by the closed form
// y = sqrt(r² - (x - c/2)²) - sqrt(r² - c²/4); each point that they give lies on
// the circle.
func TestStrike(t *testing.T) {
	wall := arcWall(3000*mm, 0, 250)
	wall.Start, wall.End = plan.ToStructure, plan.ToStructure
	w := curved(t, bent("GKB-9.5"), nil, wall).Walls[0]
	datum := geom.Pt(1000*mm, -2000*mm)
	s := w.SetOut(datum)[0].Strike
	if d := s.Centre.Dist(geom.Pt(-1000*mm, 2000*mm)); d > 5 {
		t.Errorf("the centre is %v from the datum", s.Centre)
	}
	for _, e := range []layout.StruckEdge{s.EdgeA, s.EdgeB} {
		closeTo(t, "edge", e.Length, e.Radius.MM()*250*math.Pi/180)
		if len(e.Chords) != 3 { // a chord spans no more than a third of a turn
			t.Fatalf("%d chords", len(e.Chords))
		}
		for _, c := range e.Chords {
			r, half := e.Radius.MM(), c.Length.MM()/2
			closeTo(t, "chord", c.Length, 2*r*math.Sin(250.0/6*math.Pi/180))
			closeTo(t, "rise", c.Rise, r*(1-math.Cos(250.0/6*math.Pi/180)))
			closeTo(t, "chord between its ends", c.From.Dist(c.To), c.Length.MM())
			f := geom.FrameOf(geom.Segment{A: c.From, B: c.To})
			middle := false
			for i, o := range c.Ordinates {
				closeTo(t, "ordinate", o.Off, math.Sqrt(r*r-math.Pow(o.At.MM()-half, 2))-math.Sqrt(r*r-half*half))
				p := f.Global(o.At, -o.Off) // turning left, the arc bulges to the right of its chord
				closeTo(t, "distance from the centre", p.Dist(s.Centre), r)
				middle = middle || (o.Off-c.Rise).Abs() <= 2
				if i > 0 && o.At-c.Ordinates[i-1].At > 500*mm {
					t.Errorf("ordinates at %s and %s", c.Ordinates[i-1].At, o.At)
				}
			}
			if !middle {
				t.Error("the rise at the middle is not among the ordinates")
			}
		}
	}
	if lay(t, 4000*mm, 2750*mm, plan.Wall{}, single("W", "GKB-12.5"), nil).SetOut(datum)[0].Strike != nil {
		t.Error("a straight wall is struck as a curve")
	}
}

// alongAxis returns the u of a joint along the wall's axis, to a rounding.
func alongAxis(w *layout.Wall, j layout.Joint) quantity.Length {
	if w.Curve == nil {
		return j.From.X
	}
	for _, f := range w.Faces {
		if b := f.Layers[j.Layer%len(f.Layers)].Bend; f.Face == j.Face && b != nil {
			return quantity.Length(math.Round(float64(j.From.X) * float64(w.Curve.Axis.Radius) / float64(b.Radius)))
		}
	}
	return j.From.X
}
