package layout_test

import (
	"cmp"
	"math"
	"slices"
	"strings"

	sf "github.com/peterstace/simplefeatures/geom"

	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// heightsAt lists the stretches of height in which a piece lies at u; at its
// sides, just inside them.
func heightsAt(p *layout.Piece, u quantity.Length) []geom.Interval {
	box := p.Outline.Bounds()
	x := min(max(u, box.Min.X+1000), box.Max.X-1000) // nm
	var zs []quantity.Length
	for _, ring := range append([]geom.Polygon{p.Outline}, p.Holes...) {
		ring.Edges(func(s geom.Segment) {
			if (s.A.X > x) != (s.B.X > x) {
				t := float64(x-s.A.X) / float64(s.B.X-s.A.X)
				zs = append(zs, s.A.Y+quantity.Length(t*float64(s.B.Y-s.A.Y)))
			}
		})
	}
	slices.Sort(zs)
	var list []geom.Interval
	for i := 0; i+1 < len(zs); i += 2 {
		list = append(list, geom.Interval{From: zs[i], To: zs[i+1]})
	}
	return list
}

// standingAt lists the stretches of height in which an upright that carries a face
// stands at u, the pieces of spliced ones joined.
func standingAt(w *layout.Wall, f plan.Face, u quantity.Length) []geom.Interval {
	var list []geom.Interval
	for _, m := range w.Members {
		if m.Upright() && m.From.X == u && carries(w, m.Line, f) {
			list = append(list, geom.Interval{From: m.From.Y, To: m.To.Y})
		}
	}
	slices.SortFunc(list, func(a, b geom.Interval) int { return cmp.Compare(a.From, b.From) })
	var joined []geom.Interval
	for _, i := range list {
		if n := len(joined); n > 0 && i.From < joined[n-1].To { // they lap
			joined[n-1].To = max(joined[n-1].To, i.To)
			continue
		}
		joined = append(joined, i)
	}
	return joined
}

// unbacked returns how much of an upright joint finds no upright of the line that
// carries its face, less what a sloping or stepped soffit takes from a stud.
func unbacked(w *layout.Wall, f plan.Face, u quantity.Length, z geom.Interval) quantity.Length {
	left := z.Len()
	for _, i := range standingAt(w, f, u) {
		left -= max(0, min(i.To, z.To)-max(i.From, z.From))
	}
	for _, o := range w.Openings {
		if o.U.Contains(u) {
			left -= o.Top() - o.Head // running gear of a sliding leaf
		}
	}
	const half = 50 * mm // of any upright
	return left - (w.Top.Max(u-half, u+half) - w.Top.Min(u-half, u+half)) - w.Head.Gap - w.Head.Pack - w.Head.Cap
}

// checkScrews: every row of a layer's screws lies on what carries the face and in a
// piece; every piece is screwed to every upright behind it, from its lower edge to
// its upper, no further apart than the practice says.
func checkScrews(t reporter, w *layout.Wall, f *layout.FaceLayout, k int, pr *catalogue.Practice) {
	table := pr.ScrewSpacing.Value
	row := table[min(len(f.Layers), len(table))-1]
	spacing := row[min(k, len(row)-1)]
	l := &f.Layers[k]
	var open []layout.ScrewRow
	for _, s := range w.Screws {
		if s.Face != f.Face || s.Layer != k {
			continue
		}
		if s.Count < 1 || s.From.Y > s.To.Y || s.From.Dist(s.To) > spacing*quantity.Length(s.Count-1)+near {
			t.Fatalf("%s %s%d: %d screws at %s from %s to %s, %s mm apart at most", w.ID, f.Face, k+1, s.Count, s.From.X, s.From.Y, s.To.Y, spacing)
		}
		if s.From.Y == s.To.Y && s.From.X != s.To.X {
			checkLevelRow(t, w, f.Face, s, pr)
			continue
		}
		open = append(open, s)
		in := func(p layout.Piece) bool {
			box := p.Outline.Bounds()
			return box.Min.X <= s.From.X && s.From.X <= box.Max.X && slices.ContainsFunc(heightsAt(&p, s.From.X), func(z geom.Interval) bool {
				return z.From <= s.From.Y+near && s.To.Y <= z.To+near
			})
		}
		if s.Count > 1 && !slices.ContainsFunc(l.Pieces, in) { // one holds a strip along an opening
			t.Fatalf("%s %s%d: screws at %s from %s to %s are in no piece%s", w.ID, f.Face, k+1, s.From.X, s.From.Y, s.To.Y, describe(w))
		}
	}
	if w.Curve != nil {
		return // pieces that lie are screwed course by course
	}
	for i := range l.Pieces {
		checkPieceScrewed(t, w, f.Face, k, &l.Pieces[i], &open, spacing+pr.ScrewEdge.Value)
	}
	for _, s := range open {
		if crowded(w) {
			break
		}
		if d := min((s.From.X - l.Extent.From).Abs(), (s.From.X - l.Extent.To).Abs()); d > 50*mm && !nearBreak(l, s.From.X) && s.To.Y > s.From.Y+leastBacked {
			t.Fatalf("%s %s%d: a row of screws at %s from %s to %s is in no stud%s", w.ID, f.Face, k+1, s.From.X, s.From.Y, s.To.Y, describe(w))
		}
	}
}

// nearBreak reports whether u lies beside what interrupts a layer, where boards lap
// over another wall's frame.
func nearBreak(l *layout.Layer, u quantity.Length) bool {
	return slices.ContainsFunc(l.Breaks, func(b geom.Interval) bool { return b.From-50*mm <= u && u <= b.To+50*mm })
}

// checkLevelRow: a level row of screws holds a board's end to a nogging.
func checkLevelRow(t reporter, w *layout.Wall, f plan.Face, s layout.ScrewRow, pr *catalogue.Practice) {
	if w.Curve == nil && !slices.ContainsFunc(w.Members, func(m layout.Member) bool {
		return m.Role == layout.Nogging && carries(w, m.Line, f) && (m.From.Y-s.From.Y).Abs() <= pr.ScrewEdge.Value && m.From.X < s.From.X && s.To.X < m.To.X
	}) {
		t.Fatalf("%s %s: a level row of screws %s mm up from %s to %s is in no nogging%s", w.ID, f, s.From.Y, s.From.X, s.To.X, describe(w))
	}
}

// leastHeld is the area of the least piece that has to be held by a stud: smaller ones
// are slivers round openings.
const leastHeld = 0.1 * quantity.SquareMetre

// checkPieceScrewed takes a piece's rows out of those that are open.
func checkPieceScrewed(t reporter, w *layout.Wall, f plan.Face, k int, p *layout.Piece, open *[]layout.ScrewRow, reach quantity.Length) {
	box := p.Outline.Bounds()
	var us []quantity.Length
	for _, m := range w.Members {
		if m.Upright() && carries(w, m.Line, f) && m.From.X >= box.Min.X && m.From.X <= box.Max.X && !slices.Contains(us, m.From.X) {
			us = append(us, m.From.X)
		}
	}
	for _, u := range us {
		for _, z := range heightsAt(p, u) {
			for _, m := range standingAt(w, f, u) {
				low, high := max(z.From, m.From), min(z.To, m.To)
				if high-low < leastBacked {
					continue
				}
				i := slices.IndexFunc(*open, func(s layout.ScrewRow) bool {
					return s.From.X == u && s.From.Y >= low-near && s.To.Y <= high+leastBacked && s.From.Y <= low+reach && s.To.Y >= high-reach
				})
				if i < 0 {
					t.Fatalf("%s %s: no row of screws at %s from %s to %s, rows left %v%s", w.ID, layout.PieceMark(f, k, p), u, low, high, *open, describe(w))
				}
				*open = slices.Delete(*open, i, i+1)
			}
		}
	}
	inside := func(s layout.ScrewRow) bool {
		return box.Min.X <= s.From.X && s.From.X <= box.Max.X && s.From.Y >= box.Min.Y && s.To.Y <= box.Max.Y
	}
	if !crowded(w) && len(us) == 0 && !slices.ContainsFunc(*open, inside) && p.Area() > leastHeld && p.Height > 2*leastBacked && overFrame(w, f, geom.Interval{From: box.Min.X, To: box.Max.X}) > 2*leastBacked {
		t.Fatalf("%s %s from %s to %s, %s to %s mm up, holds to no stud%s", w.ID, layout.PieceMark(f, k, p), box.Min.X, box.Max.X, box.Min.Y, box.Max.Y, describe(w))
	}
}

// overFrame returns how much of a stretch lies over the frame that carries a face; what
// laps beyond it at a leaning corner is held by the other wall.
func overFrame(w *layout.Wall, f plan.Face, u geom.Interval) (over quantity.Length) {
	for i, l := range w.FrameLines {
		if carries(w, i, f) {
			over += max(0, min(u.To, l.Extent.To)-max(u.From, l.Extent.From))
		}
	}
	return over
}

// checkAnchors: rows of anchors go through tracks, or through uprights, no further
// apart than the practice says, and begin and end near the ends of what they hold.
func checkAnchors(t reporter, w *layout.Wall, pr *catalogue.Practice) {
	for _, a := range w.Anchors {
		if a.From == a.To || a.Into == "closing piece" {
			continue // of a bracket, or a rib of a deck, or beside the frame
		}
		spacing := pr.TrackFixing.Value
		found := slices.ContainsFunc(w.Members, func(m layout.Member) bool {
			held := m.Role == layout.SoffitTrack && onLine(m, a.From) && onLine(m, a.To) && a.Into != "floor" ||
				m.Role == layout.FloorTrack && m.From.Y == a.From.Y && a.Into == "floor"
			if a.Into != "ribs" { // there, ribs say where anchors go
				held = held && a.From.X-m.From.X <= pr.TrackFixingEnd.Value+near && m.To.X-a.To.X <= pr.TrackFixingEnd.Value+near
			}
			return held && m.From.X <= a.From.X && a.To.X <= m.To.X
		})
		if a.From.X == a.To.X {
			spacing = pr.EdgeStudFixing.Value
			found = slices.ContainsFunc(w.Members, func(m layout.Member) bool { return m.Upright() && m.From.X == a.From.X && m.From.Y <= a.From.Y })
		}
		if !found || a.From.Dist(a.To) > spacing*quantity.Length(a.Count-1)+near && a.Into != "ribs" {
			t.Fatalf("%s: %d anchors into %s from %v to %v go through no track or upright, or stand too far apart%s", w.ID, a.Count, a.Into, a.From, a.To, describe(w))
		}
	}
}

// onLine reports whether a point lies on the straight line of a track.
func onLine(m layout.Member, q geom.Point) bool {
	if m.To.X == m.From.X {
		return true
	}
	t := float64(q.X-m.From.X) / float64(m.To.X-m.From.X)
	return (q.Y - m.From.Y - quantity.Length(t*float64(m.To.Y-m.From.Y))).Abs() <= near
}

// checkRim: every track on floor and soffit is anchored and sealed.
func checkRim(t reporter, w *layout.Wall) {
	count := map[string]int{}
	for _, s := range w.Seals {
		count[s.Use]++
	}
	for _, a := range w.Anchors {
		if a.From != a.To && a.Into == "floor" {
			count["anchored"]++
		}
	}
	var floor, soffit int
	for _, m := range w.Members {
		switch m.Role {
		case layout.FloorTrack:
			floor++
		case layout.SoffitTrack:
			soffit++
		}
	}
	if w.Head.Kind == plan.HeadFree {
		soffit = 0
	}
	if count["floor"] != floor || count["anchored"] != floor || count["soffit"] != soffit {
		t.Fatalf("%s: %d floor and %d soffit tracks, sealed %d and %d, %d anchored to the floor", w.ID, floor, soffit, count["floor"], count["soffit"], count["anchored"])
	}
}

// checkBatts: the fill of a frame line makes up its area without the openings, and no
// batt overlaps another. The oracle is simplefeatures' overlay.
func checkBatts(t reporter, w *layout.Wall) {
	if crowded(w) {
		return
	}
	for i := range 2 * len(w.FrameLines) {
		line, layer := i/2, i%2
		l := w.FrameLines[line]
		var polys []sf.Geometry
		var sum float64
		for _, b := range w.Batts {
			if b.Line == line && b.Layer == layer && !b.Gap && b.Outline.Bounds().Min.Y < w.Top.Min(b.Outline.Bounds().Min.X, b.Outline.Bounds().Max.X) { // over it are flutes
				g := toSF(b.Outline, b.Holes)
				sum += g.Area()
				polys = append(polys, g)
			}
		}
		if len(polys) == 0 {
			continue
		}
		union, err := sf.UnionMany(polys)
		if err != nil {
			t.Fatalf("%s: fill of line %d: %v", w.ID, line, err)
		}
		bays := lessBays(t, w, faceOf(&layout.Layer{Extent: l.Extent, Bottom: w.Base, Top: w.Top.Lowered(w.Head.Cap + w.Head.Pack)}))
		stray, err := sf.SymmetricDifference(union, bays)
		if err != nil {
			t.Fatalf("%v", err)
		}
		if math.Abs(sum-union.Area()) > strayFill || stray.Area() > strayFill {
			t.Fatalf("%s line %d: batts overlap by %.1f mm² and miss the bays by %.1f mm²%s", w.ID, line, sum-union.Area(), stray.Area(), describe(w))
		}
	}
}

// strayFill is the area in mm² by which fill may miss the bays: roundings along
// slopes.
const strayFill = 20

// lessBays cuts a wall's openings and pockets out of an area.
func lessBays(t reporter, w *layout.Wall, area sf.Geometry) sf.Geometry {
	for _, o := range w.Openings {
		b := o.Bay()
		cut, err := sf.Difference(area, toSF(geom.Polygon{geom.Pt(b.From, o.Sill), geom.Pt(b.To, o.Sill), geom.Pt(b.To, o.Top()), geom.Pt(b.From, o.Top())}, nil))
		if err != nil {
			t.Fatalf("%v", err)
		}
		area = cut
	}
	return area
}

// checkCrossJoints: cross joints keep the practice's offset from those of the columns
// beside them and of the layer beneath, or the wall says so.
func checkCrossJoints(t reporter, w *layout.Wall, pr *catalogue.Practice) {
	if w.Curve != nil || hasFinding(w, "cross-joints-not-staggered") {
		return
	}
	for i, a := range w.Joints {
		for _, b := range w.Joints[:i] {
			if a.Kind != layout.CrossJoint || b.Kind != layout.CrossJoint || a.Face != b.Face {
				continue
			}
			beside := a.Layer == b.Layer && (a.From.X == b.To.X || b.From.X == a.To.X)
			over := (a.Layer-b.Layer == 1 || b.Layer-a.Layer == 1) && a.From.X < b.To.X && b.From.X < a.To.X
			if d := (a.From.Y - b.From.Y).Abs(); (beside || over) && d < pr.CrossJointOffset.Value-near {
				t.Fatalf("%s %s: cross joints of layers %d and %d at %s and %s lie %s mm apart, untold%s", w.ID, a.Face, a.Layer+1, b.Layer+1, a.From.X, b.From.X, d, describe(w))
			}
		}
	}
}

// checkGussets: every pair of studs of a braced twin frame is tied at the practice's
// distance at most, foot and head apart.
func checkGussets(t reporter, w *layout.Wall, kind plan.FrameKind, pr *catalogue.Practice) {
	if kind != plan.TwinBraced || len(w.FrameLines) < 2 || len(w.Pipes) > 0 { // which gussets keep clear of
		return
	}
	for i := range w.Members {
		m := &w.Members[i]
		pair := slices.ContainsFunc(w.Members, func(o layout.Member) bool {
			return o.Line == m.Line+1 && o.Upright() && o.Role == m.Role && o.From == m.From && o.To == m.To
		})
		beside := strings.HasPrefix(m.Rule, "step") // two pairs share gussets there
		if m.Line%2 == 1 || m.Role != layout.Stud || m.Spliced || !pair || beside {
			continue
		}
		at := m.From.Y
		for _, z := range append(tiesAt(w, m), m.To.Y) {
			if z-at > pr.GussetSpacing.Value+near {
				t.Fatalf("%s: stud %s at %s is not tied between %s and %s%s", w.ID, m.Mark(), m.From.X, at, z, describe(w))
			}
			at = z
		}
	}
	for _, g := range w.Gussets {
		if g.Height != pr.GussetHeight.Value {
			t.Fatalf("%s: a gusset is %s mm high", w.ID, g.Height)
		}
	}
}

// tiesAt lists the heights of the gussets on an upright.
func tiesAt(w *layout.Wall, m *layout.Member) []quantity.Length {
	var list []quantity.Length
	for _, g := range w.Gussets {
		if g.At.X == m.From.X && g.At.Y > m.From.Y && g.At.Y < m.To.Y {
			list = append(list, g.At.Y)
		}
	}
	slices.Sort(list)
	return list
}

// checkHeadTrack: where the head slides, the legs of its track are as long as the gap
// and the engagement that the practice asks for, or the wall says so.
func checkHeadTrack(t reporter, w *layout.Wall, cat *catalogue.Catalogue, pr *catalogue.Practice) {
	if w.Head.Gap == 0 || hasFinding(w, "head-track-short") {
		return
	}
	for i := range w.Members {
		if m := &w.Members[i]; m.Role == layout.SoffitTrack {
			if p, _ := cat.Profile(m.Product); p.Flange < w.Head.Gap+pr.HeadEngagement.Value {
				t.Fatalf("%s: soffit track %s has legs of %s mm for a gap of %s mm", w.ID, p.ID, p.Flange, w.Head.Gap)
			}
		}
	}
}
