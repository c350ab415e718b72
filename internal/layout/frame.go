package layout

import (
	"cmp"
	"slices"

	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// upright is a place where something stands in a frame line, before it is cut
// to length.
type upright struct {
	at    Length // u of its centre
	width Length
	role  Role
	rule  string
	made  *catalogue.Profile // of another profile than the wall's studs
	boxed bool               // two studs boxed into each other
	side  Length             // of a jamb: -1 at the start of its opening, 1 at the end, 0 where two share it
}

func (s upright) from() Length { return s.at - s.width/2 }
func (s upright) to() Length   { return s.at + s.width/2 }

// framer lays out one frame line of one run.
type framer struct {
	*wallLayout
	run    run
	line   int
	extent geom.Interval
	module Length // u from which the stud module counts
}

// frame sets all members of the line.
func (f *framer) frame() {
	f.setTracks()
	for _, s := range f.standing(f.fullHeight()) {
		f.addStud(s)
	}
	for i := range f.out.Openings {
		if o := &f.out.Openings[i]; f.frames(*o) {
			f.frameOpening(*o)
		}
	}
	f.overFrames()
}

// meets reports whether an upright of the line would stand in an opening that
// was to be no more than a hole between two studs.
func (f *framer) meets(o Opening) bool {
	return slices.ContainsFunc(f.standing(f.fullHeight()), func(s upright) bool { return s.from() < o.U.To && o.U.From < s.to() })
}

// frames reports whether the line frames the opening: it lies on this run, and
// it is more than a small hole between two studs.
func (f *framer) frames(o Opening) bool { return o.framed && f.out.FrameLines[f.line].holds(o) }

// holds reports whether the frame line can frame the opening: it lies within
// the line's length, or overshoots it by no more than a drawing does that takes
// a door to the axis of the next wall.
func (l FrameLine) holds(o Opening) bool {
	over, bay := min(overshoot, o.U.Len()/4), o.Bay()
	return bay.From >= l.Extent.From-over && bay.To <= l.Extent.To+over
}

// overshoot is how far an opening may be drawn beyond the end of the frame.
const overshoot = 150 * quantity.Millimetre

// fullHeight lists the uprights that have to stand where they stand: ends,
// jambs and junctions, from left to right without two in one place.
func (f *framer) fullHeight() []upright {
	flange := f.spec.Stud.Flange
	list := []upright{
		{at: f.extent.From + flange/2, width: flange, role: EndStud, rule: ruleEnd},
		{at: f.extent.To - flange/2, width: flange, role: EndStud, rule: ruleEnd},
	}
	if f.extent.Len() < 2*flange {
		list = list[:1]
	}
	for _, s := range f.steps() {
		if !collides(list, s) { // an end stud beside the step holds the boards there
			list = append(list, s)
		}
	}
	for _, j := range append(f.jambs(), f.carriers()...) {
		list = slices.DeleteFunc(list, func(x upright) bool { return x.from() < j.to() && j.from() < x.to() })
		list = append(list, j)
	}
	for _, s := range f.backing() {
		list = f.addBacking(list, s)
	}
	sortUprights(list)
	return f.posts(list)
}

func sortUprights(list []upright) {
	slices.SortStableFunc(list, func(a, b upright) int { return cmp.Compare(a.at, b.at) })
}

// steps lists the studs on both sides of each step in the soffit, which hold the
// edges of the boards there.
func (f *framer) steps() []upright {
	var list []upright
	half := f.spec.Stud.Flange / 2
	for i := 1; i < len(f.out.Top); i++ {
		a, b := f.out.Top[i-1], f.out.Top[i]
		if a.X != b.X || a.Y == b.Y || a.X-2*half < f.extent.From || a.X+2*half > f.extent.To {
			continue
		}
		for _, at := range []Length{a.X - half, a.X + half} {
			list = append(list, upright{at: at, width: 2 * half, role: Stud, rule: ruleStep})
		}
	}
	return list
}

// jambs lists the uprights beside openings. Two openings beside each other with
// less than two jambs' width between them share one; of openings above one
// another the outermost jambs stand.
func (f *framer) jambs() []upright {
	var list []upright
	var last *Opening
	for i := range f.out.Openings {
		o := &f.out.Openings[i]
		if !f.frames(*o) {
			continue
		}
		left, right, bay := f.jamb(o), f.jamb(o), o.Bay()
		left.at, right.at = bay.From-left.width/2, bay.To+right.width/2
		left.side, right.side = -1, 1
		switch n := len(list) - 1; {
		case last == nil || left.from() >= list[n].to():
			list = append(list, left, right)
		case last.Bay().To <= bay.From:
			left.at, left.side = (last.Bay().To+bay.From)/2, 0
			if p := list[n]; stiffer(p, left) {
				left.made, left.boxed, left.width = p.made, p.boxed, p.width
			}
			left.rule = list[n].rule + "; shared with " + o.ID
			list = append(list[:n], left, right)
		default:
			list = above(list, left, right)
		}
		if last == nil || bay.To > last.Bay().To {
			last = o
		}
	}
	for i := range list {
		half := list[i].width / 2
		list[i].at = min(max(list[i].at, f.extent.From+half), f.extent.To-half)
	}
	return list
}

// above adds the jambs of an opening over or under others. Of two jambs on the same
// side that would stand in one place, the outer serves both openings; one that would
// stand in the way of another is left out.
func above(list []upright, jambs ...upright) []upright {
	for _, j := range jambs {
		i := slices.IndexFunc(list, func(x upright) bool { return x.from() < j.to() && j.from() < x.to() })
		switch {
		case i < 0:
			list = append(list, j)
		case list[i].side == j.side && j.side != 0:
			if both := serving(list[i], j); !collides(slices.Delete(slices.Clone(list), i, i+1), both) {
				list[i] = both
			}
		}
	}
	sortUprights(list)
	return list
}

// serving returns the jamb that serves two openings above one another on one side: as
// stiff as the stiffer, beside the wider.
func serving(a, b upright) upright {
	face := func(s upright) Length { return s.at - s.side*s.width/2 } // towards the opening
	j, edge := a, a.side*max(a.side*face(a), b.side*face(b))
	if stiffer(b, a) {
		j = b
	}
	j.at = edge + j.side*j.width/2
	return j
}

func (f *framer) jamb(o *Opening) upright {
	return upright{width: o.stud.Flange, role: OpeningStud, rule: o.Rule, boxed: o.jamb == catalogue.JambBoxed, made: o.stud}
}

// backing lists where this run needs an upright to hold another wall's end, a
// corner's boards, or boards that are cut for another wall.
func (f *framer) backing() []upright {
	half := f.spec.Stud.Flange / 2
	var list []upright
	hold := func(u Length, rule string) {
		if f.extent.Contains(u) {
			list = append(list, upright{at: u, width: 2 * half, role: JunctionStud, rule: rule})
		}
	}
	for _, t := range f.body.tees {
		for _, u := range f.body.contacts(t) {
			hold(u, ruleJunction)
		}
	}
	for _, c := range []cut{f.run.from, f.run.to} {
		if c.kind == Corner && c.through {
			hold(out(c.end, c.support, -half), ruleJunction)
		}
	}
	for _, gap := range f.slits(f.carries(), 0) {
		hold(gap.From-half, ruleSlit)
		hold(gap.To+half, ruleSlit)
	}
	return list
}

// carries lists the faces whose boards the frame line carries.
func (f *framer) carries() []plan.Face {
	switch {
	case !f.spec.Kind.Twin():
		return []plan.Face{plan.FaceA, plan.FaceB}
	case f.out.FrameLines[f.line].Offset == f.body.lineOffsets()[0]:
		return []plan.Face{plan.FaceA}
	}
	return []plan.Face{plan.FaceB}
}

// addBacking puts a junction stud up unless something fixed stands there
// already, which then serves.
func (f *framer) addBacking(list []upright, s upright) []upright {
	u := s.at
	for _, x := range list {
		if x.from() < s.to() && s.from() < x.to() {
			if x.from() <= u && u <= x.to() {
				return list
			}
			s = besideOf(x, s)
		}
	}
	if collides(list, s) {
		return list
	}
	if s.from() < f.extent.From || s.to() > f.extent.To || f.inOpening(s) {
		return list
	}
	return append(list, s)
}

// besideOf moves an upright clear of another that stands partly in its place.
func besideOf(x, s upright) upright {
	if s.at < x.at {
		s.at = x.from() - s.width/2
	} else {
		s.at = x.to() + s.width/2
	}
	return s
}

// inOpening reports whether an upright would stand in a framed opening.
func (f *framer) inOpening(s upright) bool {
	for _, o := range f.out.Openings {
		if bay := o.Bay(); f.frames(o) && s.from() < bay.To && bay.From < s.to() {
			return true
		}
	}
	return f.frameAt(s.from(), s.to()) != nil
}

// standing adds the module's studs to the fixed ones, and further studs where
// a bay would still be wider than the spacing.
func (f *framer) standing(fixed []upright) []upright {
	list := slices.Clone(fixed)
	width := f.spec.Stud.Flange
	for u := f.firstModule(); u < f.extent.To; u += f.spec.Spacing {
		s := upright{at: u, width: width, role: Stud, rule: ruleModule}
		if s.from() < f.extent.From || s.to() > f.extent.To || f.inOpening(s) || collides(fixed, s) {
			continue
		}
		list = append(list, s)
	}
	sortUprights(list)
	return f.fillBays(f.thin(list))
}

// thin leaves out module studs that stand close beside a jamb and are not
// needed to keep the spacing: no joint may fall on them.
func (f *framer) thin(list []upright) []upright {
	kept := list[:0:0]
	for i, s := range list {
		needed := s.role != Stud || i == 0 || i == len(list)-1 || !f.atJamb(s.at) ||
			list[i+1].at-kept[len(kept)-1].at > f.spec.Spacing || f.opensBetween(kept[len(kept)-1], list[i+1])
		if needed {
			kept = append(kept, s)
		}
	}
	return kept
}

// firstModule returns the first module position after the line's start.
func (f *framer) firstModule() Length {
	s := f.spec.Spacing
	n := (f.extent.From - f.module + s - 1) / s
	return f.module + max(n, 0)*s
}

func collides(list []upright, s upright) bool {
	return slices.ContainsFunc(list, func(x upright) bool { return x.from() < s.to() && s.from() < x.to() })
}

// fillBays divides bays wider than the spacing into equal parts.
func (f *framer) fillBays(list []upright) []upright {
	var filled []upright
	for i, s := range list {
		if i > 0 && !f.opensBetween(list[i-1], s) {
			filled = append(filled, divide(list[i-1].at, s.at, f.spec.Spacing, f.spec.Stud.Flange, Stud)...)
		}
		filled = append(filled, s)
	}
	return filled
}

// opensBetween reports whether a framed opening lies between two uprights.
func (f *framer) opensBetween(a, b upright) bool {
	for _, o := range f.out.Openings {
		if bay := o.Bay(); f.frames(o) && bay.From < b.at && a.at < bay.To {
			return true
		}
	}
	return f.frameAt(a.at, b.at) != nil
}

// divide returns the uprights that cut the bay from a to b into the fewest
// equal parts no wider than the spacing.
func divide(a, b, spacing, width Length, role Role) []upright {
	parts := (b - a + spacing - 1) / spacing
	var list []upright
	for i := Length(1); i < parts; i++ {
		list = append(list, upright{at: a + (b-a)*i/parts, width: width, role: role, rule: ruleBay})
	}
	return list
}

// addStud cuts an upright to length and adds it. Where an opening above or below
// is in its way, a jamb still stands from the floor, and the rest are cripples.
func (f *framer) addStud(s upright) {
	top := f.out.Top.Min(s.from(), s.to()) - f.studDrop
	for _, part := range f.beside(s, f.out.Base, top) {
		if part.From > f.out.Base || part.To < top && s.role != OpeningStud {
			f.stand(s, part.From, part.To)
			continue
		}
		m := Member{
			Role: s.role, Line: f.line, Product: f.spec.Stud.ID, From: geom.Pt(s.at, part.From), To: geom.Pt(s.at, part.To),
			Cut: part.Len(), Width: s.width, Boxed: s.boxed, Rule: s.rule,
		}
		if s.made != nil {
			m.Product = s.made.ID
		}
		f.add(m)
		if s.boxed {
			f.add(m)
		}
	}
}
