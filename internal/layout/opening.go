package layout

import (
	"slices"

	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// frameOpening sets header, sill and the cripples over and under an opening.
func (f *framer) frameOpening(o Opening) {
	track, bay := f.spec.Track, o.Bay()
	from, to := max(bay.From, f.extent.From), min(bay.To, f.extent.To)
	if !f.reachesTop(o) {
		f.setHeader(&o, from, to)
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
// stands in no framed opening of the line.
func (f *framer) beside(s upright, from, to Length) []geom.Interval {
	parts := []geom.Interval{{From: from, To: to}}
	for _, o := range f.out.Openings {
		if bay := o.Bay(); !f.frames(o) || bay.To <= s.from() || s.to() <= bay.From {
			continue
		}
		var left []geom.Interval
		for _, p := range parts {
			if low := min(p.To, o.Sill); low > p.From {
				left = append(left, geom.Interval{From: p.From, To: low})
			}
			if high := max(p.From, o.Top()); high < p.To {
				left = append(left, geom.Interval{From: high, To: p.To})
			}
		}
		parts = left
	}
	return parts
}

// occupied reports whether an upright of the line stands where m would.
func (f *framer) occupied(m Member) bool {
	return slices.ContainsFunc(f.out.Members, func(x Member) bool {
		return x.Line == m.Line && x.Upright() && (x.From.X-m.From.X).Abs() < (x.Width+m.Width)/2 &&
			x.From.Y < m.To.Y && m.From.Y < x.To.Y
	})
}

// cripples lists the uprights over and under an opening: on the module where
// it leaves room, and so that no bay is wider than the spacing.
func (f *framer) cripples(o Opening) []upright {
	width := f.spec.Stud.Flange
	bay := o.Bay()
	list := []upright{{at: bay.From - width/2}, {at: bay.To + width/2}}
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
