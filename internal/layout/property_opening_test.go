package layout_test

import (
	"slices"

	sf "github.com/peterstace/simplefeatures/geom"

	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// checkOpenings: what has to hold of every opening that the frame makes way for.
func checkOpenings(t reporter, w *layout.Wall, pr *catalogue.Practice) {
	tight := crowded(w)
	for i := range w.Openings {
		o := &w.Openings[i]
		if !w.Framed(*o) || tight {
			continue
		}
		for line := range w.FrameLines {
			if e := w.FrameLines[line].Extent; o.Bay().From >= e.From && o.Bay().To <= e.To {
				checkClear(t, w, o, line)
				checkJambs(t, w, o, line)
			}
		}
		checkNoFill(t, w, o)
	}
	for i := range w.Openings {
		if o := &w.Openings[i]; o.Kind == plan.Bare && o.Head > w.Base+pr.BoardFloorGap.Value && !tight {
			checkReveal(t, w, o)
		}
	}
	if !hasFinding(w, "joint-at-jamb") && !hasFinding(w, "joint-without-stud") {
		checkJointsClear(t, w, pr)
	}
}

// checkClear: no upright stands in the opening or its pocket, but for the ribs of
// the pocket.
func checkClear(t reporter, w *layout.Wall, o *layout.Opening, line int) {
	for _, m := range w.Members {
		if m.Line != line || !m.Upright() || m.Role == layout.PocketRib {
			continue
		}
		across := m.From.X-m.Width/2 < o.Bay().To && o.Bay().From < m.From.X+m.Width/2
		if across && m.From.Y < o.Top() && o.Sill < m.To.Y {
			t.Fatalf("%s: %s %s stands in opening %s%s", w.ID, m.Role, m.Mark(), o.ID, describe(w))
		}
	}
}

// checkJambs: on both sides of the opening something stands over its whole height:
// right beside it, or no further off than a jamb that two openings share.
func checkJambs(t reporter, w *layout.Wall, o *layout.Opening, line int) {
	for side, u := range []quantity.Length{o.Bay().From, o.Bay().To} {
		var parts []geom.Interval // of height: a spliced stud comes in several
		low := quantity.Length(0)
		for _, m := range w.Members {
			off := u - (m.From.X + m.Width/2)
			if side == 1 {
				off = m.From.X - m.Width/2 - u
			}
			if m.Line == line && m.Upright() && off >= -quantity.Nanometre && off <= 60*mm {
				parts = append(parts, geom.Interval{From: m.From.Y, To: m.To.Y})
				low = max(low, w.Top.Min(m.From.X-m.Width/2, m.From.X+m.Width/2)-w.Head.Pack-60*mm)
			}
		}
		slices.SortFunc(parts, func(a, b geom.Interval) int { return int(a.From - b.From) })
		at := o.Sill
		for _, p := range parts {
			if p.From <= at {
				at = max(at, p.To)
			}
		}
		if at < min(o.Top(), low) {
			t.Fatalf("%s: nothing stands beside opening %s at %s above %s%s", w.ID, o.ID, u, at, describe(w))
		}
	}
}

// checkNoFill: no fill lies in the opening or its pocket. The oracle is
// simplefeatures' overlay.
func checkNoFill(t reporter, w *layout.Wall, o *layout.Opening) {
	bay := o.Bay()
	top := min(o.Top(), w.Top.Min(bay.From, bay.To)) // above are the flutes of a deck
	hole := toSF(geom.Polygon{geom.Pt(bay.From, o.Sill), geom.Pt(bay.To, o.Sill), geom.Pt(bay.To, top), geom.Pt(bay.From, top)}, nil)
	for _, b := range w.Batts {
		if x := b.Outline.Bounds(); x.Max.X <= bay.From || bay.To <= x.Min.X {
			continue
		}
		common, err := sf.Intersection(toSF(b.Outline, b.Holes), hole)
		if err != nil {
			t.Fatalf("%v", err)
		}
		if common.Area() > 2 { // mm² of rounding on slopes
			t.Fatalf("%s: %.0f mm² of fill in opening %s", w.ID, common.Area(), o.ID)
		}
	}
}

// checkReveal: strips line a bare opening all round, but not along the floor.
func checkReveal(t reporter, w *layout.Wall, o *layout.Opening) {
	strips := 0
	for _, c := range w.Caps {
		if c.Use == "reveal" && c.At.X >= o.U.From && c.At.X <= o.U.To {
			strips++
		}
	}
	if strips < 3 {
		t.Fatalf("%s: %d strips line the reveals of %s", w.ID, strips, o.ID)
	}
}

// checkJointsClear: no upright joint comes nearer to the side of a framed opening
// than the practice allows.
func checkJointsClear(t reporter, w *layout.Wall, pr *catalogue.Practice) {
	for _, j := range w.Joints {
		if j.From.X != j.To.X || j.Kind != layout.TaperedJoint && j.Kind != layout.MixedJoint && j.Kind != layout.CutJoint || atEnd(w, j) {
			continue
		}
		for _, o := range w.Openings {
			u := alongAxis(w, j)
			if d := min((u - o.U.From).Abs(), (u - o.U.To).Abs()); w.Framed(o) && d < pr.JointJamb.Value-10 {
				t.Fatalf("%s: joint at %s, %s mm from the side of %s, untold%s", w.ID, j.From.X, d, o.ID, describe(w))
			}
		}
	}
}

// atEnd reports whether a joint is that with the next wall in the same line.
func atEnd(w *layout.Wall, j layout.Joint) bool {
	for _, f := range w.Faces {
		for _, l := range f.Layers {
			if j.From.X == l.Extent.From || j.From.X == l.Extent.To {
				return true
			}
		}
	}
	return false
}
