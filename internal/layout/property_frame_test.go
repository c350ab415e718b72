package layout_test

import (
	"cmp"
	"math"
	"slices"

	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// reporter is told of a rule that a wall breaks.
type reporter interface {
	Fatalf(format string, args ...any)
}

// near is how far parts may lie from where they belong.
const near = quantity.Millimetre

// leastBacked is the height of board that may hang on the soffit track alone:
// what is left over an opening too high for a header, and the shortfall of studs.
const leastBacked = 100 * mm

// stretchOf is what a member takes up along the wall.
func stretchOf(m *layout.Member) geom.Interval {
	if m.Upright() {
		return geom.Interval{From: m.From.X - m.Width/2, To: m.From.X + m.Width/2}
	}
	return geom.Interval{From: min(m.From.X, m.To.X), To: max(m.From.X, m.To.X)}
}

// carries reports whether a frame line is that on which a face's boards stand.
func carries(w *layout.Wall, line int, f plan.Face) bool {
	v := w.FrameLines[line].Offset
	for _, l := range w.FrameLines {
		if f == plan.FaceB && l.Offset < v || f == plan.FaceA && l.Offset > v {
			return false
		}
	}
	return true
}

// framedOn lists the openings that a frame line makes way for.
func framedOn(w *layout.Wall, line int) []layout.Opening {
	var list []layout.Opening
	for _, o := range w.Openings {
		if e := w.FrameLines[line].Extent; w.Framed(o) && o.Bay().From >= e.From-near && o.Bay().To <= e.To+near {
			list = append(list, o)
		}
	}
	return list
}

// crowded reports whether the wall tells of openings that leave no room for what frames
// them.
func crowded(w *layout.Wall) bool {
	return hasFinding(w, "opening-at-end") || hasFinding(w, "opening-beyond-frame") || hasFinding(w, "openings-too-close") || hasFinding(w, "tee-at-opening") || hasFinding(w, "no-room-for-header")
}

// overFixture reports whether an opening lies over the frame of a fixture, where the
// opening studs of the one stand in the other.
func overFixture(w *layout.Wall) bool {
	return slices.ContainsFunc(w.Fixtures, func(x layout.Fixture) bool {
		return x.Framed && slices.ContainsFunc(w.Openings, func(o layout.Opening) bool {
			b := o.Bay()
			return b.From-leastBacked < x.U.To && x.U.From < b.To+leastBacked
		})
	})
}

// checkBays: at no height is the bay between neighbouring uprights wider than
// the spacing, openings and frames for fixtures apart.
func checkBays(t reporter, w *layout.Wall) {
	if crowded(w) {
		return
	}
	for line, l := range w.FrameLines {
		if overFixture(w) {
			continue
		}
		var stand []layout.Member
		levels := []quantity.Length{w.Base}
		for _, m := range w.Members {
			if m.Line == line && m.Upright() {
				stand = append(stand, m)
				levels = append(levels, m.From.Y, m.To.Y)
			}
		}
		slices.SortFunc(stand, func(a, b layout.Member) int { return cmp.Compare(a.From.X, b.From.X) })
		slices.Sort(levels)
		levels = slices.Compact(levels)
		for i := 1; i < len(levels); i++ {
			checkBaysAt(t, w, line, l, stand, (levels[i-1]+levels[i])/2)
		}
	}
}

func checkBaysAt(t reporter, w *layout.Wall, line int, l layout.FrameLine, stand []layout.Member, z quantity.Length) {
	last := l.Extent.From
	for _, m := range append(slices.Clone(stand), layout.Member{From: geom.Pt(l.Extent.To, 0), To: geom.Pt(l.Extent.To, math.MaxInt64)}) {
		if z < m.From.Y || z > m.To.Y {
			continue
		}
		from, to := last, m.From.X
		last = to
		if to-from <= l.Spacing || w.Top.Min(from, to)-w.Head.Gap-w.Head.Pack-w.Head.Cap-leastBacked < z {
			continue
		}
		for _, gap := range voids(w, line, z) {
			if gap.From < to && from < gap.To && gap.From-from <= l.Spacing {
				from = max(from, gap.To)
			}
		}
		if to-from > l.Spacing {
			t.Fatalf("%s line %d: at %s mm up the bay from %s to %s is wider than %s%s", w.ID, line, z, from, to, l.Spacing, describe(w))
		}
	}
}

// voids lists, from left to right, what is open at a height: openings with the strips
// above and below them that are too low for a cripple, and frames of fixtures.
func voids(w *layout.Wall, line int, z quantity.Length) []geom.Interval {
	var list []geom.Interval
	for _, o := range framedOn(w, line) {
		bay := o.Bay()
		low, high := o.Sill, o.Top()
		if low-w.Base < leastBacked {
			low = math.MinInt64
		}
		if w.Top.Min(bay.From, bay.To)-w.Head.Gap-w.Head.Pack-w.Head.Cap-high < leastBacked {
			high = math.MaxInt64
		}
		for _, p := range framedOn(w, line) { // with less than a cripple between them
			if p.Sill > o.Head && p.Sill-high < leastBacked && p.U.Overlaps(bay) {
				high = p.Sill
			}
		}
		if low <= z && z <= high {
			list = append(list, bay)
		}
	}
	for _, x := range w.Fixtures {
		if x.Framed && carries(w, line, x.Face) && z <= x.Height+leastBacked {
			list = append(list, x.U)
		}
	}
	slices.SortFunc(list, func(a, b geom.Interval) int { return cmp.Compare(a.From, b.From) })
	return list
}

// checkHeaders: where boards go on over a framed opening there is a header on
// every line that frames it.
func checkHeaders(t reporter, w *layout.Wall) {
	for line := range w.FrameLines {
		for _, o := range framedOn(w, line) {
			over := w.Top.Min(o.Bay().From, o.Bay().To) - w.Head.Gap - w.Head.Pack - w.Head.Cap - o.Top()
			header := func(m layout.Member) bool {
				return m.Line == line && m.Role == layout.Header && m.From.Y == o.Top() && m.From.X < o.U.To && o.U.From < m.To.X
			}
			if over > leastBacked && !slices.ContainsFunc(w.Members, header) {
				t.Fatalf("%s: %s mm of wall over opening %s and no header on line %d%s", w.ID, over, o.ID, line, describe(w))
			}
		}
	}
}

// checkVoids: no level member passes through an opening that the frame makes way
// for, and no upright through a frame on the floor.
func checkVoids(t reporter, w *layout.Wall) {
	if crowded(w) {
		return
	}
	for i := range w.Members {
		m := &w.Members[i]
		s := stretchOf(m)
		for _, o := range framedOn(w, m.Line) {
			low, high := min(m.From.Y, m.To.Y), max(m.From.Y, m.To.Y)
			through := low+near < o.Top() && o.Sill+near < high
			switch m.Role {
			case layout.FloorTrack:
				through = o.AtFloor()
			case layout.SoffitTrack:
				through = layout.Profile{m.From, m.To}.Min(max(s.From, o.Bay().From), min(s.To, o.Bay().To))+near < o.Top()
			}
			if bay := o.Bay(); !m.Upright() && through && bay.From+near < s.To && s.From+near < bay.To {
				t.Fatalf("%s: %s %s from %s to %s at %s passes through opening %s%s", w.ID, m.Role, m.Mark(), s.From, s.To, low, o.ID, describe(w))
			}
		}
		for _, x := range w.Fixtures {
			if x.Framed && m.Upright() && carries(w, m.Line, x.Face) && s.From < x.U.To && x.U.From < s.To && m.From.Y < x.Height {
				t.Fatalf("%s: %s %s stands in the frame of %s%s", w.ID, m.Role, m.Mark(), x.Kind, describe(w))
			}
		}
	}
}

// checkMembersWithin: every member lies between the ends of its frame line, over its
// whole width under the soffit less the gap that it leaves for the slab, and stands on
// the wall's foot or above.
func checkMembersWithin(t reporter, w *layout.Wall, pr *catalogue.Practice) {
	if hasFinding(w, "opening-at-end") {
		return
	}
	for i := range w.Members {
		m := &w.Members[i]
		s := stretchOf(m)
		high := max(m.From.Y, m.To.Y)
		soffit := w.Top.Min(s.From, s.To)
		switch {
		case m.Role == layout.SoffitTrack:
			soffit = w.Top.Max(s.From, s.To)
		case m.Upright():
			soffit -= max(pr.StudShortfall.Value, w.Head.Gap)
		}
		e := w.FrameLines[m.Line].Extent
		if s.From < e.From-near || s.To > e.To+near || m.From.Y < w.Base || m.To.Y < w.Base || high > soffit-w.Head.Pack-w.Head.Cap+near || m.Cut <= 0 {
			t.Fatalf("%s: %s %s from %s to %s, up to %s, cut to %s, lies outside the frame or goes through the soffit at %s%s",
				w.ID, m.Role, m.Mark(), s.From, s.To, high, m.Cut, soffit, describe(w))
		}
	}
}

// checkStock: no member is longer than its profile is sold, or the wall says so.
func checkStock(t reporter, w *layout.Wall, cat *catalogue.Catalogue) {
	if hasFinding(w, "stud-longer-than-stock") {
		return
	}
	for i := range w.Members {
		m := &w.Members[i]
		p, ok := cat.Profile(m.Product)
		if !ok {
			t.Fatalf("%s: %s is of %q, which the catalogue does not have", w.ID, m.Mark(), m.Product)
		}
		if longest := p.Lengths[len(p.Lengths)-1]; m.Cut > longest {
			t.Fatalf("%s: %s %s is %s mm long, and %s is sold up to %s mm%s", w.ID, m.Role, m.Mark(), m.Cut, m.Product, longest, describe(w))
		}
	}
}

// checkStanding: no two uprights of one line stand in one place, pairs that belong
// together apart.
func checkStanding(t reporter, w *layout.Wall) {
	for i := range w.Members {
		m := &w.Members[i]
		for j := range w.Members[:i] {
			o := &w.Members[j]
			if m.Line != o.Line || !m.Upright() || !o.Upright() || m.PairedWith(o) || m.Spliced && o.Spliced && m.From.X == o.From.X {
				continue
			}
			if a, b := stretchOf(m), stretchOf(o); a.From+near < b.To && b.From+near < a.To && m.From.Y+near < o.To.Y && o.From.Y+near < m.To.Y {
				t.Fatalf("%s: %s %s and %s %s stand in one place%s", w.ID, m.Role, m.Mark(), o.Role, o.Mark(), describe(w))
			}
		}
	}
}

// checkNoggings: every nogging ends on an upright that stands at its height.
func checkNoggings(t reporter, w *layout.Wall) {
	for i := range w.Members {
		n := &w.Members[i]
		if n.Role != layout.Nogging {
			continue
		}
		for _, u := range []quantity.Length{n.From.X, n.To.X} {
			if !slices.ContainsFunc(w.Members, func(m layout.Member) bool {
				return m.Line == n.Line && m.Upright() && m.From.X == u && m.From.Y <= n.From.Y && n.From.Y <= m.To.Y
			}) {
				t.Fatalf("%s: nogging %s at %s mm up ends at %s on nothing%s", w.ID, n.Mark(), n.From.Y, u, describe(w))
			}
		}
	}
}

// checkParted: nothing of frame or boards bridges a movement joint, and in one that
// runs from floor to soffit nothing stands.
func checkParted(t reporter, w *layout.Wall) {
	for _, c := range w.Controls {
		over := quantity.Length(0)
		for _, o := range w.Openings {
			if o.ID == c.Over && c.Over != "" {
				over = o.Head
			}
		}
		for i := range w.Members {
			m := &w.Members[i]
			s, high := stretchOf(m), max(m.From.Y, m.To.Y)
			if high <= over+near || m.Role == layout.Header && c.Over != "" {
				continue
			}
			if s.From+near < c.U.To && c.U.From+near < s.To {
				t.Fatalf("%s: %s %s from %s to %s lies in the movement joint from %s to %s%s", w.ID, m.Role, m.Mark(), s.From, s.To, c.U.From, c.U.To, describe(w))
			}
		}
		for _, f := range w.Faces {
			for k := range f.Layers {
				l := &f.Layers[k]
				for i := range l.Pieces {
					box := w.OnAxis().Faces[slices.IndexFunc(w.Faces, func(x layout.FaceLayout) bool { return x.Face == f.Face })].Layers[k].Pieces[i].Outline.Bounds()
					if box.Max.Y > over+near && box.Min.Y >= over-near && box.Min.X+near < c.U.To && c.U.From+near < box.Max.X {
						t.Fatalf("%s: %s from %s to %s bridges the movement joint from %s to %s%s", w.ID, layout.PieceMark(f.Face, k, &l.Pieces[i]), box.Min.X, box.Max.X, c.U.From, c.U.To, describe(w))
					}
				}
			}
		}
	}
}

// checkTwin: the frames of an independent twin wall share nothing: no gusset ties
// them, there is a gap between them, and the isolating strip lies on one of them.
func checkTwin(t reporter, w *layout.Wall, kind plan.FrameKind) {
	if kind != plan.TwinIndependent || len(w.FrameLines) < 2 {
		return
	}
	if len(w.Gussets) > 0 {
		t.Fatalf("%s: %d gussets tie independent frames", w.ID, len(w.Gussets))
	}
	gap := w.FrameLines[0].Offset - w.FrameLines[0].Depth/2 - w.FrameLines[1].Offset - w.FrameLines[1].Depth/2
	if gap <= 0 {
		t.Fatalf("%s: the frames leave a gap of %s mm", w.ID, gap)
	}
	for _, s := range w.Seals {
		if s.Use == "between frames" && w.FrameLines[s.Line].Offset != w.FrameLines[0].Offset {
			t.Fatalf("%s: isolating strip on both frames", w.ID)
		}
	}
}

// checkCutouts: wherever a pipe that runs through the studs crosses an upright of its
// plane, that has a hole, or the wall says why not.
func checkCutouts(t reporter, w *layout.Wall) {
	if hasFinding(w, "pipe-through-jamb") || hasFinding(w, "pipe-in-stud") || hasFinding(w, "pipe-in-opening") || hasFinding(w, "pipe-through-header") {
		return
	}
	for _, p := range w.Pipes {
		if p.Line < 0 {
			continue
		}
		for i := range w.Members {
			m := &w.Members[i]
			if !m.Upright() || w.FrameLines[m.Line].Offset != p.Offset {
				continue
			}
			for k := 1; k < len(p.Path); k++ {
				a, b := p.Path[k-1], p.Path[k]
				if a.Y != b.Y || m.From.X <= min(a.X, b.X)+near || m.From.X >= max(a.X, b.X)-near || a.Y <= m.From.Y+near || a.Y >= m.To.Y-near {
					continue
				}
				if !slices.ContainsFunc(w.Cutouts, func(c layout.Cutout) bool {
					return c.Pipe == p.Number && c.At == geom.Pt(m.From.X, a.Y) && c.Diameter >= p.Diameter
				}) {
					t.Fatalf("%s: pipe %d crosses %s %s at %s mm up, which has no hole%s", w.ID, p.Number, m.Role, m.Mark(), a.Y, describe(w))
				}
			}
		}
	}
}

// checkBoxes: no box is cut into an upright that carries its face, or the wall says
// so; and where fire or sound is asked none stands back to back with another.
func checkBoxes(t reporter, w *layout.Wall, pr *catalogue.Practice, asked bool) {
	const half = 34 * mm // a hole of 68 mm (common practice)
	reach := func(b *layout.Box) quantity.Length { return half + 71*mm*quantity.Length(b.Gangs-1)/2 }
	for i := range w.Boxes {
		b := &w.Boxes[i]
		for j := range w.Members {
			m := &w.Members[j]
			s := stretchOf(m)
			if m.Upright() && m.Role != layout.PocketRib && carries(w, m.Line, b.Face) && m.From.Y < b.At.Y && b.At.Y < m.To.Y &&
				s.From < b.At.X+reach(b)-near && b.At.X-reach(b)+near < s.To && !hasFinding(w, "box-on-stud") {
				t.Fatalf("%s: box %d at %s is cut into %s %s, untold%s", w.ID, b.Number, b.At.X, m.Role, m.Mark(), describe(w))
			}
		}
		for j := range w.Boxes[:i] {
			o := &w.Boxes[j]
			if apart := (b.At.X - o.At.X).Abs() - reach(b) - reach(o); asked && b.Face != o.Face && apart < pr.BoxApart.Value-near && !hasFinding(w, "boxes-back-to-back") {
				t.Fatalf("%s: boxes %d and %d stand %s mm apart on two faces, untold", w.ID, o.Number, b.Number, apart)
			}
		}
	}
}
