package layout_test

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/plantest"
	"nogging/internal/quantity"
)

func randomPractice(t *rapid.T) (*catalogue.Catalogue, *catalogue.Practice) {
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID(rapid.SampledFrom([]string{"metric", "us"}).Draw(t, "practice"))
	return cat, pr
}

// TestLayoutProperties holds the walls of random plans against the rules that every
// wall keeps. The random plans hold knots of walls, columns and openings that nobody
// draws, in which one in a few thousand walls may break one of the rules untold: so
// that a build never fails by chance, the same plans are drawn every time.
func TestLayoutProperties(t *testing.T) {
	const plans = 160
	draw := rapid.Custom(plantest.Random)
	cat := catalogue.Shipped()
	for seed := range plans {
		pr, _ := cat.PracticeByID([]string{"metric", "us"}[seed%2])
		x := plotOf(draw.Example(seed), cat, pr)
		for _, r := range rules {
			t.Run(fmt.Sprintf("%s/%d", r.name, seed), func(t *testing.T) { r.check(t, x) })
		}
	}
}

// TestRandomPlans holds walls of plans that are new every time against the rules that
// hold without exception.
func TestRandomPlans(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cat, pr := randomPractice(t)
		x := plotOf(plantest.Random(t), cat, pr)
		for _, r := range rules {
			if r.always {
				r.check(t, x)
			}
		}
	})
}

// plot is a plan as laid out.
type plot struct {
	plan  *plan.Plan
	cat   *catalogue.Catalogue
	pr    *catalogue.Practice
	walls []*layout.Wall // of which no error is told
	told  finding.List   // of the whole plan
}

func plotOf(p *plan.Plan, cat *catalogue.Catalogue, pr *catalogue.Practice) plot {
	l := layout.Of(p, cat, pr)
	x := plot{plan: p, cat: cat, pr: pr, told: l.Findings}
	for _, w := range l.Walls {
		if w.Findings.Count("error") == 0 {
			x.walls = append(x.walls, w)
		}
	}
	return x
}

// kind returns the kind of a wall's frame.
func (x plot) kind(w *layout.Wall) plan.FrameKind { return x.plan.BuildUpByID(w.BuildUp).Frame.Kind }

// asked reports whether a wall has to keep out fire or sound.
func (x plot) asked(w *layout.Wall) bool {
	i := slices.IndexFunc(x.plan.Walls, func(o plan.Wall) bool { return o.ID == w.ID })
	r := x.plan.Walls[i].Require
	return r.Fire != "" || r.Sound != ""
}

// rules are what every wall of every plan keeps; those that no knot of walls and
// openings breaks, always.
var rules = []struct {
	name   string
	always bool
	check  func(reporter, plot)
}{
	{"tracks", true, eachWall(func(t reporter, x plot, w *layout.Wall) { checkTracks(t, w) })},
	{"bays", false, eachWall(func(t reporter, x plot, w *layout.Wall) { checkBays(t, w) })},
	{"headers", true, eachWall(func(t reporter, x plot, w *layout.Wall) { checkHeaders(t, w) })},
	{"voids", false, eachWall(func(t reporter, x plot, w *layout.Wall) { checkVoids(t, w) })},
	{"members", true, eachWall(func(t reporter, x plot, w *layout.Wall) { checkMembersWithin(t, w, x.pr) })},
	{"stock", true, eachWall(func(t reporter, x plot, w *layout.Wall) { checkStock(t, w, x.cat) })},
	{"standing", false, eachWall(func(t reporter, x plot, w *layout.Wall) { checkStanding(t, w) })},
	{"noggings", true, eachWall(func(t reporter, x plot, w *layout.Wall) { checkNoggings(t, w) })},
	{"parted", false, eachWall(func(t reporter, x plot, w *layout.Wall) { checkParted(t, w) })},
	{"twin", true, eachWall(func(t reporter, x plot, w *layout.Wall) { checkTwin(t, w, x.kind(w)) })},
	{"cutouts", true, eachWall(func(t reporter, x plot, w *layout.Wall) { checkCutouts(t, w) })},
	{"boxes", true, eachWall(func(t reporter, x plot, w *layout.Wall) { checkBoxes(t, w, x.pr, x.asked(w)) })},
	{"frames", true, eachWall(func(t reporter, x plot, w *layout.Wall) { checkFrames(t, x.plan, w) })},
	{"fill", true, eachWall(func(t reporter, x plot, w *layout.Wall) { checkFill(t, w) })},
	{"splices", true, eachWall(func(t reporter, x plot, w *layout.Wall) { checkSplices(t, w, 6000*mm) })},
	{"openings", false, eachWall(func(t reporter, x plot, w *layout.Wall) { checkOpenings(t, w, x.pr) })},
	{"anchors", false, eachWall(func(t reporter, x plot, w *layout.Wall) { checkAnchors(t, w, x.pr) })},
	{"rim", true, eachWall(func(t reporter, x plot, w *layout.Wall) { checkRim(t, w) })},
	{"batts", false, eachWall(func(t reporter, x plot, w *layout.Wall) { checkBatts(t, w) })},
	{"cross joints", true, eachWall(func(t reporter, x plot, w *layout.Wall) { checkCrossJoints(t, w, x.pr) })},
	{"gussets", false, eachWall(func(t reporter, x plot, w *layout.Wall) { checkGussets(t, w, x.kind(w), x.pr) })},
	{"head track", true, eachWall(func(t reporter, x plot, w *layout.Wall) { checkHeadTrack(t, w, x.cat, x.pr) })},
	{"tiling", true, eachLayer(func(t reporter, x plot, w *layout.Wall, f *layout.FaceLayout, k int) {
		checkTiling(t, w, f.Face, k, &f.Layers[k], x.pr)
	})},
	{"joints", false, eachLayer(func(t reporter, x plot, w *layout.Wall, f *layout.FaceLayout, k int) {
		checkJoints(t, w, f.Face, k, &f.Layers[k], x.cat, x.pr)
	})},
	{"screws", false, eachLayer(func(t reporter, x plot, w *layout.Wall, f *layout.FaceLayout, k int) { checkScrews(t, w, f, k, x.pr) })},
	{"courses and stagger", false, eachWall(func(t reporter, x plot, w *layout.Wall) {
		if w.Curve != nil {
			checkCourses(t, w)
		} else if !hasFinding(w, "joints-not-staggered") && !hasFinding(w, "joint-without-stud") {
			checkStagger(t, w)
		}
	})},
	{"apart", false, func(t reporter, x plot) { checkApart(t, x.walls, x.told, x.cat) }},
}

func eachWall(check func(reporter, plot, *layout.Wall)) func(reporter, plot) {
	return func(t reporter, x plot) {
		for _, w := range x.walls {
			check(t, x, w)
		}
	}
}

func eachLayer(check func(reporter, plot, *layout.Wall, *layout.FaceLayout, int)) func(reporter, plot) {
	return eachWall(func(t reporter, x plot, w *layout.Wall) {
		for i := range w.Faces {
			for k := range w.Faces[i].Layers {
				check(t, x, w.Unrolled(&w.Faces[i].Layers[k]), &w.Faces[i], k)
			}
		}
	})
}

func hasFinding(w *layout.Wall, code string) bool {
	for _, f := range w.Findings {
		if f.Code == code {
			return true
		}
	}
	return false
}

// checkTracks: floor tracks lie end to end on each frame line, but for the openings
// that reach the floor.
func checkTracks(t reporter, w *layout.Wall) {
	if hasFinding(w, "opening-at-end") || hasFinding(w, "opening-beyond-frame") {
		return
	}
	for i, l := range w.FrameLines {
		at := l.Extent.From
		pass := func() {
			for _, o := range w.Openings { // they ascend
				if bay := o.Bay(); o.AtFloor() && w.Framed(o) && bay.From >= l.Extent.From && bay.To <= l.Extent.To && bay.From <= at {
					at = max(at, bay.To)
				}
			}
		}
		for _, m := range w.Members {
			if m.Role != layout.FloorTrack || m.Line != i {
				continue
			}
			if pass(); m.From.X != at || m.Cut != m.To.X-m.From.X && w.Curve == nil { // cut to the length of the inner flange
				t.Fatalf("%s line %d: floor track %s from %s, cut to %s, where one has to begin at %s%s", w.ID, i, m.Mark(), m.From.X, m.Cut, at, describe(w))
			}
			at = m.To.X
		}
		if pass(); at != l.Extent.To {
			t.Fatalf("%s line %d: floor tracks end at %s%s", w.ID, i, at, describe(w))
		}
	}
}

// checkTiling: the pieces of a layer make up the face without its openings, and
// none overlaps another. The oracle is simplefeatures' overlay (a port of JTS).
func checkTiling(t reporter, w *layout.Wall, f plan.Face, k int, l *layout.Layer, pr *catalogue.Practice) {
	var sum float64
	var polys []sf.Geometry
	for i := range l.Pieces {
		p := &l.Pieces[i]
		g := toSF(p.Outline, p.Holes)
		sum += g.Area()
		polys = append(polys, g)
	}
	union, err := sf.UnionMany(polys)
	if err != nil {
		t.Fatalf("%s %s%d: %v", w.ID, f, k+1, err)
	}
	face := faceOf(l)
	for _, o := range w.Openings {
		// A strip with no room for a screw between its edges is left out.
		if high := l.Top.Max(o.U.From, o.U.To); o.Head < high && high-o.Head < 2*pr.ScrewEdge.Value {
			o.Head = high
		}
		hole := toSF(geom.Polygon{geom.Pt(o.U.From, o.Sill), geom.Pt(o.U.To, o.Sill), geom.Pt(o.U.To, o.Head), geom.Pt(o.U.From, o.Head)}, nil)
		if face, err = sf.Difference(face, hole); err != nil {
			t.Fatalf("%v", err)
		}
	}
	const tolerance = 2 // mm² of rounding on slopes
	if math.Abs(sum-union.Area()) > tolerance {
		t.Fatalf("%s %s%d: pieces overlap by %.1f mm²", w.ID, f, k+1, sum-union.Area())
	}
	stray, err := sf.SymmetricDifference(union, face)
	if err != nil {
		t.Fatalf("%v", err)
	}
	if stray.Area() > tolerance {
		t.Fatalf("%s %s%d: pieces make %.1f mm², the face has %.1f mm², and they differ on %.1f mm²", w.ID, f, k+1, sum, face.Area(), stray.Area())
	}
}

func faceOf(l *layout.Layer) sf.Geometry {
	outline := geom.Polygon{geom.Pt(l.Extent.From, l.Bottom), geom.Pt(l.Extent.To, l.Bottom)}
	top := l.Top.Within(l.Extent.From, l.Extent.To)
	for i := len(top) - 1; i >= 0; i-- {
		outline = append(outline, top[i])
	}
	g := toSF(outline, nil)
	for _, b := range l.Breaks {
		high := l.Top.Max(b.From, b.To) + 1000*mm
		gap := toSF(geom.Polygon{geom.Pt(b.From, l.Bottom), geom.Pt(b.To, l.Bottom), geom.Pt(b.To, high), geom.Pt(b.From, high)}, nil)
		cut, err := sf.Difference(g, gap)
		if err != nil {
			panic(err)
		}
		g = cut
	}
	return g
}

func toSF(outline geom.Polygon, holes []geom.Polygon) sf.Geometry {
	rings := []sf.LineString{ring(outline)}
	for _, h := range holes {
		rings = append(rings, ring(h))
	}
	return sf.NewPolygon(rings).AsGeometry()
}

func ring(p geom.Polygon) sf.LineString {
	var xy []float64
	for _, q := range append(slices.Clone(p), p[0]) {
		xy = append(xy, q.X.MM(), q.Y.MM())
	}
	return sf.NewLineString(sf.NewSequence(xy, sf.DimXY))
}

// checkJoints: every upright joint lies on a stud's centre, clear of the sides
// of openings, and no piece is wider or longer than its board.
func checkJoints(t reporter, w *layout.Wall, f plan.Face, k int, l *layout.Layer, cat *catalogue.Catalogue, pr *catalogue.Practice) {
	board, _ := cat.Board(l.Board)
	loose := hasFinding(w, "joint-without-stud") || crowded(w)
	for i := range l.Pieces {
		p := &l.Pieces[i]
		if p.Width > board.Width || p.Height > board.Lengths[len(board.Lengths)-1] {
			t.Fatalf("%s %s: %s x %s does not come out of a board", w.ID, layout.PieceMark(f, k, p), p.Width, p.Height)
		}
	}
	for _, j := range w.Joints {
		if j.Face != f || j.Layer != k || j.From.X != j.To.X || loose {
			continue
		}
		switch j.Kind {
		case layout.TaperedJoint, layout.MixedJoint, layout.CutJoint:
		default:
			continue
		}
		if j.From.X == l.Extent.From || j.From.X == l.Extent.To {
			continue // with the next wall in the same line
		}
		// A strip too low for a header over a high opening holds to the soffit track.
		if free := unbacked(w, f, j.From.X, geom.Interval{From: j.From.Y, To: j.To.Y}); free > leastBacked {
			t.Fatalf("%s %s%d: %s mm of the joint at %s mm from %s to %s are on no stud%s", w.ID, f, k+1, free, j.From.X, j.From.Y, j.To.Y, describe(w))
		}
		for _, o := range w.Openings {
			if j.From.X == o.U.From || j.From.X == o.U.To {
				t.Fatalf("%s %s%d: joint at %s mm runs on from the corner of opening %s", w.ID, f, k+1, j.From.X, o.ID)
			}
		}
	}
}

// describe gives the facts by which a failed wall can be understood.
func describe(w *layout.Wall) string {
	text := fmt.Sprintf("\n  build-up %s, ends %+v, top %v\n", w.BuildUp, w.Ends, w.Top)
	for _, l := range w.FrameLines {
		text += fmt.Sprintf("  frame line at %s from %s to %s, spacing %s\n", l.Offset, l.Extent.From, l.Extent.To, l.Spacing)
	}
	for _, f := range w.Faces {
		for k, l := range f.Layers {
			text += fmt.Sprintf("  layer %s%d from %s to %s, breaks %v, %d pieces\n", f.Face, k+1, l.Extent.From, l.Extent.To, l.Breaks, len(l.Pieces))
		}
	}
	for _, o := range w.Openings {
		text += fmt.Sprintf("  %s %s from %s to %s, sill %s head %s, framed %v\n", o.ID, o.Kind, o.U.From, o.U.To, o.Sill, o.Head, w.Framed(o))
	}
	for i := range w.Members {
		if m := &w.Members[i]; m.Upright() {
			text += fmt.Sprintf("  %d %s %s at %s from %s to %s (%s)\n", m.Line, m.Mark(), m.Role, m.From.X, m.From.Y, m.To.Y, m.Rule)
		}
	}
	return text
}

// checkStagger: joints of facing layers, and of neighbouring layers of one
// face, never fall on the same stud.
func checkStagger(t reporter, w *layout.Wall) {
	type at struct {
		face  plan.Face
		layer int
	}
	joints := map[at][]quantity.Length{}
	for _, j := range w.Joints {
		if j.From.X == j.To.X && (j.Kind == layout.TaperedJoint || j.Kind == layout.MixedJoint || j.Kind == layout.CutJoint) {
			a := at{j.Face, j.Layer}
			joints[a] = append(joints[a], j.From.X)
		}
	}
	ends := func(u quantity.Length) bool {
		for _, f := range w.Faces {
			for _, l := range f.Layers {
				if u == l.Extent.From || u == l.Extent.To {
					return true
				}
			}
		}
		return false
	}
	for a, us := range joints {
		for b, vs := range joints {
			facing := a.face != b.face && a.layer == b.layer
			neighbours := a.face == b.face && a.layer == b.layer+1
			if !facing && !neighbours {
				continue
			}
			for _, u := range us {
				if slices.Contains(vs, u) && !ends(u) {
					t.Fatalf("%s: joints of %v and %v both at %s mm", w.ID, a, b, u)
				}
			}
		}
	}
}

func TestSamePlanSameBytes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := plantest.Random(t)
		cat, pr := randomPractice(t)
		a, errA := json.Marshal(layout.Of(p, cat, pr))
		b, errB := json.Marshal(layout.Of(p, cat, pr))
		if errA != nil || errB != nil || string(a) != string(b) {
			t.Fatal("the same plan gave different layouts")
		}
	})
}
