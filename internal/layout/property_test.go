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

func TestLayoutProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := plantest.Random(t)
		cat, pr := randomPractice(t)
		l := layout.Of(p, cat, pr)
		for _, w := range l.Walls {
			if w.Findings.Count("error") > 0 {
				continue
			}
			checkTracks(t, w)
			checkBays(t, w)
			checkWithin(t, w)
			checkSplices(t, w, 6000*mm)
			checkFrames(t, p, w)
			checkFill(t, w)
			checkOpenings(t, w, pr)
			for _, f := range w.Faces {
				for k := range f.Layers {
					own := w.Unrolled(&f.Layers[k])
					checkTiling(t, own, f.Face, k, &f.Layers[k], pr)
					checkJoints(t, own, f.Face, k, &f.Layers[k], cat, pr)
				}
			}
			if w.Curve != nil {
				checkCourses(t, w)
			} else if !hasFinding(w, "joints-not-staggered") && !hasFinding(w, "joint-without-stud") {
				checkStagger(t, w)
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

// checkTracks: floor tracks make up the frame's length less the gaps of the
// openings that reach the floor.
func checkTracks(t *rapid.T, w *layout.Wall) {
	if hasFinding(w, "opening-at-end") || hasFinding(w, "opening-beyond-frame") {
		return
	}
	var tracks, want quantity.Length
	for i, l := range w.FrameLines {
		want += l.Extent.Len()
		for _, o := range w.Openings {
			if o.AtFloor() && w.Framed(o) && l.Extent.Contains(o.U.From) && l.Extent.Contains(o.U.To) {
				want -= o.Bay().Len()
			}
		}
		for _, m := range w.Members {
			if m.Role == layout.FloorTrack && m.Line == i {
				along := m.Cut
				if w.Curve != nil { // cut to the length of the inner flange
					along = m.To.X - m.From.X
				}
				tracks += along
			}
		}
	}
	if tracks != want {
		t.Fatalf("%s: floor tracks %s mm, frame less door gaps %s mm%s", w.ID, tracks, want, describe(w))
	}
}

// checkBays: no bay between neighbouring uprights is wider than the spacing.
func checkBays(t *rapid.T, w *layout.Wall) {
	for i, l := range w.FrameLines {
		var us []quantity.Length
		for _, m := range w.Members {
			if m.Line == i && m.Upright() {
				us = append(us, m.From.X)
			}
		}
		slices.Sort(us)
		for j := 1; j < len(us); j++ {
			if us[j]-us[j-1] > l.Spacing && !bridged(w, us[j-1], us[j]) {
				t.Fatalf("%s line %d: bay from %s to %s is wider than %s%s", w.ID, i, us[j-1], us[j], l.Spacing, describe(w))
			}
		}
	}
}

// bridged reports whether an opening that leaves no room for cripples lies
// between two uprights.
func bridged(w *layout.Wall, from, to quantity.Length) bool {
	for _, o := range w.Openings {
		over := w.Top.Min(o.U.From, o.U.To)-o.Head < 400*mm
		under := o.Sill-w.Base < 100*mm
		if over && under && o.U.From < to && from < o.U.To {
			return true
		}
	}
	return false
}

// checkWithin: every part lies within the wall's length, its thickness at the
// ends apart, and below its top.
func checkWithin(t *rapid.T, w *layout.Wall) {
	room := w.Thickness*12 + 10*mm // a leaning corner reaches out by several thicknesses
	from, to := -room, w.Line.Length()+room
	if c := w.Curve; c != nil {
		to = quantity.Length(float64(c.Axis.Length())*(float64(c.Outer)/float64(c.Axis.Radius))) + room
	}
	inside := func(what string, p geom.Point) {
		if p.X < from || p.X > to || p.Y < min(0, w.Base) || p.Y > w.Top.Max(from, to)+mm {
			t.Fatalf("%s: %s at %s, %s lies outside the wall", w.ID, what, p.X, p.Y)
		}
	}
	for i := range w.Members {
		inside(w.Members[i].Mark(), w.Members[i].From)
		inside(w.Members[i].Mark(), w.Members[i].To)
		if w.Members[i].Cut <= 0 {
			t.Fatalf("%s: %s has no length", w.ID, w.Members[i].Mark())
		}
	}
	for _, s := range w.Screws {
		inside("screw", s.From)
		inside("screw", s.To)
		if s.Count < 1 || s.From.Y > s.To.Y {
			t.Fatalf("%s: bad screw row %+v", w.ID, s)
		}
	}
	for _, f := range w.Faces {
		for k := range f.Layers {
			for i := range f.Layers[k].Pieces {
				for _, p := range f.Layers[k].Pieces[i].Outline {
					inside("piece "+layout.PieceMark(f.Face, k, &f.Layers[k].Pieces[i]), p)
				}
			}
		}
	}
}

// checkTiling: the pieces of a layer make up the face without its openings, and
// none overlaps another. The oracle is simplefeatures' overlay (a port of JTS).
func checkTiling(t *rapid.T, w *layout.Wall, f plan.Face, k int, l *layout.Layer, pr *catalogue.Practice) {
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
			t.Fatal(err)
		}
	}
	const tolerance = 2 // mm² of rounding on slopes
	if math.Abs(sum-union.Area()) > tolerance {
		t.Fatalf("%s %s%d: pieces overlap by %.1f mm²", w.ID, f, k+1, sum-union.Area())
	}
	if math.Abs(sum-face.Area()) > tolerance {
		t.Fatalf("%s %s%d: pieces make %.1f mm², the face has %.1f mm²; breaks %v, bottom %s%s", w.ID, f, k+1, sum, face.Area(), l.Breaks, l.Bottom, describe(w))
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
		gap := toSF(geom.Polygon{geom.Pt(b.From, l.Bottom-mm), geom.Pt(b.To, l.Bottom-mm), geom.Pt(b.To, high), geom.Pt(b.From, high)}, nil)
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
func checkJoints(t *rapid.T, w *layout.Wall, f plan.Face, k int, l *layout.Layer, cat *catalogue.Catalogue, pr *catalogue.Practice) {
	board, _ := cat.Board(l.Board)
	loose := hasFinding(w, "joint-without-stud")
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
		if !onStud(w, j.From.X) && j.From.Dist(j.To) > 100*mm {
			t.Fatalf("%s %s%d: joint at %s mm from %s to %s is on no stud%s", w.ID, f, k+1, j.From.X, j.From.Y, j.To.Y, describe(w))
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

func onStud(w *layout.Wall, u quantity.Length) bool {
	return slices.ContainsFunc(w.Members, func(m layout.Member) bool { return m.Upright() && m.From.X == u })
}

// checkStagger: joints of facing layers, and of neighbouring layers of one
// face, never fall on the same stud.
func checkStagger(t *rapid.T, w *layout.Wall) {
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
