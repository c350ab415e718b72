package layout_test

import (
	"math"
	"slices"
	"strings"

	sf "github.com/peterstace/simplefeatures/geom"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// skewest is the sine of the angle from which two walls stand square.
const skewest = 1 - 1e-9

// mostShared is the area in mm² that the bodies of two walls may share on plan:
// slivers of board where several walls meet at a column.
const mostShared = 1000.0

// mostSkew is the same at skew corners, whose frames may share slivers; more is told.
const mostSkew = 3000.0

// saidOfBoth reports whether it is told that frames of two walls overlap.
func saidOfBoth(told finding.List, a, b string) bool {
	return slices.ContainsFunc(told, func(f finding.Finding) bool {
		return f.Code == "frames-overlap" && (f.Object == a && strings.Contains(f.What.String(), b) || f.Object == b && strings.Contains(f.What.String(), a))
	})
}

// checkApart: no two straight walls are built in one place. Frames are compared at
// any angle; boards only where all walls stand square, since the layers of a leaning
// corner are mitred and their extents are not.
func checkApart(t reporter, walls []*layout.Wall, told finding.List, cat *catalogue.Catalogue) {
	frames, bodies := make([]sf.Geometry, len(walls)), make([]sf.Geometry, len(walls))
	for i, w := range walls {
		frames[i] = inPlan(t, w, framesOf(w))
		bodies[i] = inPlan(t, w, append(framesOf(w), boardsOf(w, cat)...))
	}
	square := !slices.ContainsFunc(walls, func(w *layout.Wall) bool {
		turn := math.Abs(w.Frame.Dir.Cross(walls[0].Frame.Dir))
		return skewest > turn && turn > 1-skewest || w.Curve != nil
	})
	for i, a := range walls {
		for j, b := range walls[:i] {
			if loose(a) || loose(b) || saidOfBoth(told, a.ID, b.ID) {
				continue
			}
			shapes, most := frames, mostSkew
			if turn := math.Abs(a.Frame.Dir.Cross(b.Frame.Dir)); square && turn > skewest {
				shapes, most = bodies, mostShared
			}
			both, err := sf.Intersection(shapes[i], shapes[j])
			if err != nil {
				t.Fatalf("%v", err)
			}
			if both.Area() > most {
				t.Fatalf("%s and %s share %.0f mm² on plan: %s%s%s", b.ID, a.ID, both.Area(), both.AsText(), describe(b), describe(a))
			}
		}
	}
}

// loose reports whether a wall is curved, or has an end that meets no wall: what it runs
// into there, or beside a column, is told as far as its frame goes.
func loose(w *layout.Wall) bool {
	return w.Curve != nil || slices.ContainsFunc(w.Ends[:], func(e layout.Abutment) bool { return e.Kind == layout.Free || e.Kind == layout.Structure })
}

// framesOf lists the frame lines as rectangles of u and v.
func framesOf(w *layout.Wall) []geom.Rect {
	var list []geom.Rect
	for _, l := range w.FrameLines {
		list = append(list, geom.Rect{Min: geom.Pt(l.Extent.From, l.Offset-l.Depth/2), Max: geom.Pt(l.Extent.To, l.Offset+l.Depth/2)})
	}
	return list
}

// boardsOf lists the board layers, broken where something runs through.
func boardsOf(w *layout.Wall, cat *catalogue.Catalogue) []geom.Rect {
	var list []geom.Rect
	for _, f := range w.Faces {
		sign, v := quantity.Length(1), quantity.Length(0)
		if f.Face == plan.FaceB {
			sign = -1
		}
		for i, l := range w.FrameLines {
			if carries(w, i, f.Face) {
				v = l.Offset + sign*l.Depth/2
			}
		}
		for _, l := range f.Layers {
			board, _ := cat.Board(l.Board)
			outer := v + sign*board.Thickness
			from := l.Extent.From
			for _, gap := range append(slices.Clone(l.Breaks), geom.Interval{From: l.Extent.To}) {
				list = append(list, geom.Rect{Min: geom.Pt(from, min(v, outer)), Max: geom.Pt(gap.From, max(v, outer))})
				from = gap.To
			}
			v = outer
		}
	}
	return list
}

// inPlan joins rectangles of a wall's own coordinates to one body in plan, in
// millimetres.
func inPlan(t reporter, w *layout.Wall, rects []geom.Rect) sf.Geometry {
	var polys []sf.Geometry
	for _, r := range rects {
		if r.Min.X >= r.Max.X || r.Min.Y >= r.Max.Y {
			continue
		}
		polys = append(polys, toSF(geom.Polygon{
			w.Frame.Global(r.Min.X, r.Min.Y), w.Frame.Global(r.Max.X, r.Min.Y), w.Frame.Global(r.Max.X, r.Max.Y), w.Frame.Global(r.Min.X, r.Max.Y),
		}, nil))
	}
	g, err := sf.UnionMany(polys)
	if err != nil {
		t.Fatalf("%s: %v", w.ID, err)
	}
	return g
}
