package layout

import (
	"slices"

	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// frameOpening sets header, sill and the cripples over and under an opening.
func (f *framer) frameOpening(o Opening) {
	track, bay := f.spec.Track, o.Bay()
	from, to := max(bay.From, f.extent.From), min(bay.To, f.extent.To)
	if !f.reachesTop(o) {
		f.setHeader(&o, from, to)
	} else {
		f.checkUnderSlope(&o)
	}
	if !o.AtFloor() {
		f.add(Member{
			Role: SillTrack, Line: f.line, Product: track.ID, Rule: ruleHeader, Width: track.Flange, Cut: bay.Len() + 2*f.pr.HeaderUpstand.Value,
			From: geom.Pt(from, o.Sill), To: geom.Pt(to, o.Sill),
		})
	}
	list := f.cripples(o)
	for _, s := range list {
		f.setCripples(s, o)
	}
	f.setRibs(&o, list)
}

// leastCripple is the least height over an opening in which a header and
// cripples are framed.
const leastCripple = 60 * quantity.Millimetre

// reachesTop reports whether the opening leaves no room for a header.
func (w *wallLayout) reachesTop(o Opening) bool {
	bay := o.Bay()
	return o.Top() >= w.out.Top.Min(bay.From, bay.To)-w.studDrop-leastCripple
}

// mostBare is the height of wall over an opening that may hang on the soffit track
// alone.
const mostBare = 100 * quantity.Millimetre

// checkUnderSlope tells of an opening that leaves no room for a header under the lower
// end of a slope or step, and too much wall over it at the higher.
func (f *framer) checkUnderSlope(o *Opening) {
	bay := o.Bay()
	low, high := f.out.Top.Min(bay.From, bay.To)-f.studDrop-o.Top(), f.out.Top.Max(bay.From, bay.To)-f.studDrop-o.Top()
	if high <= mostBare || f.toldOf("no-room-for-header", o.ID) {
		return
	}
	f.findOpening(*o, finding.Warning, "no-room-for-header",
		words.F("leaves %s mm for a header under the lower end of the soffit and %s mm under the higher: the wall over it stands on nothing", mm(max(low, 0)), mm(high)),
		words.F("make it %s mm lower, or as high as the wall all along", mm(leastCripple-low+quantity.Millimetre)))
}

// setCripples sets an upright over and under an opening.
func (f *framer) setCripples(s upright, o Opening) {
	if top := f.out.Top.Min(s.from(), s.to()) - f.studDrop; !f.reachesTop(o) {
		f.stand(s, o.Top(), top)
	}
	f.stand(s, f.out.Base, o.Sill)
}

// stand adds an upright between two heights: what is left of it beside the
// framed openings of the line, each part a cripple. It stands aside where
// another upright stands already.
func (f *framer) stand(s upright, from, to Length) {
	for _, part := range f.beside(s, from, to) {
		m := Member{
			Role: Cripple, Line: f.line, Product: f.spec.Stud.ID, Rule: s.rule, Width: s.width,
			From: geom.Pt(s.at, part.From), To: geom.Pt(s.at, part.To), Cut: part.Len(),
		}
		if part.Len() >= leastCripple && !f.occupied(m) {
			f.add(m)
		}
	}
}

// beside returns the stretches of height in which an upright between two heights
// stands in no framed opening of the line, and in no frame that stands on the floor.
func (f *framer) beside(s upright, from, to Length) []geom.Interval {
	parts := []geom.Interval{{From: from, To: to}}
	for _, o := range f.out.Openings {
		if bay := o.Bay(); f.frames(o) && bay.To > s.from() && s.to() > bay.From {
			parts = around(parts, o.Sill, o.Top())
		}
	}
	if x := f.frameAt(s.from(), s.to()); x != nil {
		parts = around(parts, f.out.Base, x.Height)
	}
	return parts
}

// around takes what lies between two heights out of stretches of height.
func around(parts []geom.Interval, low, high Length) []geom.Interval {
	var left []geom.Interval
	for _, p := range parts {
		if to := min(p.To, low); to > p.From {
			left = append(left, geom.Interval{From: p.From, To: to})
		}
		if from := max(p.From, high); from < p.To {
			left = append(left, geom.Interval{From: from, To: p.To})
		}
	}
	return left
}

// occupied reports whether an upright of the line stands where m would.
func (f *framer) occupied(m Member) bool {
	return slices.ContainsFunc(f.out.Members, func(x Member) bool {
		return x.Line == m.Line && x.Upright() && (x.From.X-m.From.X).Abs() < (x.Width+m.Width)/2 &&
			x.From.Y < m.To.Y && m.From.Y < x.To.Y
	})
}

// jambsBeside returns where the uprights stand that bound the bay of an opening:
// jambs may be shared with the next opening, or of another width than studs.
func (f *framer) jambsBeside(o Opening) (left, right Length) {
	bay, half := o.Bay(), f.spec.Stud.Flange/2
	left, right = f.extent.From, f.extent.To
	for i := range f.out.Members {
		m := &f.out.Members[i]
		if m.Line != f.line || !m.Upright() || m.From.Y >= o.Top() && m.To.Y <= o.Sill {
			continue
		}
		if u := m.From.X; u <= bay.From {
			left = max(left, u)
		} else if u >= bay.To {
			right = min(right, u)
		}
	}
	return max(left, bay.From-2*half), min(right, bay.To+2*half)
}

// cripples lists the uprights over and under an opening: on the module where
// it leaves room, and so that no bay is wider than the spacing.
func (f *framer) cripples(o Opening) []upright {
	width := f.spec.Stud.Flange
	bay := o.Bay()
	left, right := f.jambsBeside(o)
	list := []upright{{at: left}, {at: right}}
	if gap := f.pr.JointGap.Value; o.Joint {
		for _, at := range []Length{o.U.From + gap + width/2, o.U.To - gap - width/2} {
			list = append(list, upright{at: at, width: width, role: Cripple, rule: ruleControl})
		}
	}
	for _, m := range f.uprights(f.line) { // of openings above or below, and at steps
		if m.From.X > bay.From && m.From.X < bay.To {
			list = append(list, upright{at: m.From.X, width: width, role: Cripple, rule: m.Rule})
		}
	}
	off := max(f.pr.JointJamb.Value, 3*width/2)
	for u := f.firstModule(); u < bay.To && o.Kind != plan.Penetration; u += f.spec.Spacing {
		taken := slices.ContainsFunc(list, func(x upright) bool { return (x.at - u).Abs() < width })
		if u >= bay.From+off && u <= bay.To-off && !taken {
			list = append(list, upright{at: u, width: width, role: Cripple, rule: ruleModule})
		}
	}
	sortUprights(list)
	var filled []upright
	for i, s := range list[1:] {
		filled = append(filled, divide(list[i].at, s.at, f.spec.Spacing, width, Cripple)...)
		if s.width > 0 {
			filled = append(filled, s)
		}
	}
	return filled
}
