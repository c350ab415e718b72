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
	stiff bool // the stiff opening profile
	boxed bool // two studs boxed into each other
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
	full := f.fullHeight()
	f.setTracks()
	studs := f.standing(full)
	for _, s := range studs {
		f.addStud(s)
	}
	for i := range f.out.Openings {
		if o := &f.out.Openings[i]; f.frames(*o) {
			f.frameOpening(*o)
		}
	}
}

// frames reports whether the line frames the opening: it lies on this run, and
// it is more than a small hole between two studs.
func (f *framer) frames(o Opening) bool { return o.framed && f.out.FrameLines[f.line].holds(o) }

// holds reports whether the frame line can frame the opening: it lies within
// the line's length, or overshoots it by no more than a drawing does that takes
// a door to the axis of the next wall.
func (l FrameLine) holds(o Opening) bool {
	over := min(overshoot, o.U.Len()/4)
	return o.U.From >= l.Extent.From-over && o.U.To <= l.Extent.To+over
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
	for _, j := range f.jambs() {
		list = slices.DeleteFunc(list, func(x upright) bool { return x.from() < j.to() && j.from() < x.to() })
		list = append(list, j)
	}
	for _, u := range f.backing() {
		list = f.addBacking(list, u)
	}
	sortUprights(list)
	return list
}

func sortUprights(list []upright) {
	slices.SortStableFunc(list, func(a, b upright) int { return cmp.Compare(a.at, b.at) })
}

// jambs lists the uprights beside openings. Two openings with less than two
// jambs' width between them share one.
func (f *framer) jambs() []upright {
	var list []upright
	var last *Opening
	for i := range f.out.Openings {
		o := &f.out.Openings[i]
		if !f.frames(*o) {
			continue
		}
		left, right := f.jamb(o), f.jamb(o)
		left.at, right.at = o.U.From-left.width/2, o.U.To+right.width/2
		if n := len(list) - 1; n >= 0 && left.from() < list[n].to() {
			left.at = (last.U.To + o.U.From) / 2
			left.stiff = left.stiff || list[n].stiff
			left.width = max(left.width, list[n].width)
			list = list[:n]
		}
		list = append(list, left, right)
		last = o
	}
	for i := range list {
		half := list[i].width / 2
		list[i].at = min(max(list[i].at, f.extent.From+half), f.extent.To-half)
	}
	return list
}

func (f *framer) jamb(o *Opening) upright {
	j := upright{width: f.spec.Stud.Flange, role: OpeningStud, rule: o.Rule, boxed: o.jamb == catalogue.JambBoxed}
	if o.jamb == catalogue.JambOpeningStud {
		j.stiff, j.width = true, f.spec.OpeningStud.Flange
	}
	return j
}

// backing lists where this run needs an upright to hold another wall's end or
// a corner's boards.
func (f *framer) backing() []Length {
	half := f.spec.Stud.Flange / 2
	var us []Length
	for _, t := range f.body.tees {
		for _, u := range f.body.contacts(t) {
			if f.extent.Contains(u) {
				us = append(us, u)
			}
		}
	}
	for _, c := range []cut{f.run.from, f.run.to} {
		if c.kind == Corner && c.through {
			us = append(us, out(c.end, c.support, -half))
		}
	}
	return us
}

// addBacking puts a junction stud at u unless something fixed stands there
// already; it moves aside by up to its own width to stand clear.
func (f *framer) addBacking(list []upright, u Length) []upright {
	s := upright{at: u, width: f.spec.Stud.Flange, role: JunctionStud, rule: ruleJunction}
	for _, x := range list {
		if x.from() < s.to() && s.from() < x.to() {
			return list // the stud that stands there serves
		}
	}
	if s.from() < f.extent.From || s.to() > f.extent.To || f.inOpening(s) {
		return list
	}
	return append(list, s)
}

// inOpening reports whether an upright would stand in a framed opening.
func (f *framer) inOpening(s upright) bool {
	for _, o := range f.out.Openings {
		if f.frames(o) && s.from() < o.U.To && o.U.From < s.to() {
			return true
		}
	}
	return false
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
		if f.frames(o) && o.U.From < b.at && a.at < o.U.To {
			return true
		}
	}
	return false
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

// addStud cuts an upright to length and adds it.
func (f *framer) addStud(s upright) {
	top := f.out.Top.Min(s.from(), s.to()) - f.studDrop
	product := f.spec.Stud.ID
	if s.stiff {
		product = f.spec.OpeningStud.ID
	}
	m := Member{
		Role: s.role, Line: f.line, Product: product, From: geom.Pt(s.at, 0), To: geom.Pt(s.at, top),
		Cut: top, Width: s.width, Boxed: s.boxed, Rule: s.rule,
	}
	f.add(m)
	if s.boxed {
		f.add(m)
	}
}

// setTracks lays the floor track between the openings that reach the floor,
// and the soffit track between those that reach the soffit.
func (f *framer) setTracks() {
	track := f.spec.Track
	for _, span := range f.clear(Opening.AtFloor) {
		for _, part := range stockLengths(span, track) {
			f.add(Member{
				Role: FloorTrack, Line: f.line, Product: track.ID, Rule: ruleTrack,
				From: geom.Pt(part.From, 0), To: geom.Pt(part.To, 0), Cut: part.Len(), Width: track.Flange,
			})
		}
	}
	head := f.headTrack
	for _, span := range f.clear(f.reachesTop) {
		corners := f.out.Top.Within(span.From, span.To)
		for i := 1; i < len(corners); i++ {
			f.addSoffitTrack(head, corners[i-1], corners[i])
		}
	}
}

// addSoffitTrack lays track along one straight stretch of the soffit.
func (f *framer) addSoffitTrack(track *catalogue.Profile, a, b geom.Point) {
	if a.X == b.X {
		return // a step: the track starts anew
	}
	slope := Profile{a, b}
	total := a.Dist(b)
	for _, part := range stockLengths(geom.Interval{From: 0, To: total}, track) {
		from, to := along(a, b, part.From, total), along(a, b, part.To, total)
		f.add(Member{
			Role: SoffitTrack, Line: f.line, Product: track.ID, Rule: ruleTrack,
			From: geom.Pt(from, slope.After(from)), To: geom.Pt(to, slope.Before(to)), Cut: part.Len(), Width: track.Flange,
		})
	}
}

// along returns the u that lies d along the way from a to b.
func along(a, b geom.Point, d, total Length) Length {
	return a.X + Length(float64(b.X-a.X)*float64(d)/float64(total))
}

// clear lists the stretches of the line that no opening of the given sort
// interrupts.
func (f *framer) clear(interrupts func(Opening) bool) []geom.Interval {
	var list []geom.Interval
	from := f.extent.From
	for _, o := range f.out.Openings {
		if !f.frames(o) || !interrupts(o) {
			continue
		}
		if o.U.From > from {
			list = append(list, geom.Interval{From: from, To: o.U.From})
		}
		from = max(from, o.U.To)
	}
	if f.extent.To > from {
		list = append(list, geom.Interval{From: from, To: f.extent.To})
	}
	return list
}

// reachesTop reports whether the opening leaves no room for a header.
func (w *wallLayout) reachesTop(o Opening) bool {
	return o.Head >= w.out.Top.Min(o.U.From, o.U.To)-w.studDrop-leastCripple
}

// leastCripple is the least height over an opening in which a header and
// cripples are framed.
const leastCripple = 60 * quantity.Millimetre

// shortTrack is the shortest piece of track that a longer run is left with; the
// piece before it is cut shorter instead (common practice).
const shortTrack = 500 * quantity.Millimetre

// stockLengths cuts a stretch into whole stock lengths and a rest.
func stockLengths(span geom.Interval, p *catalogue.Profile) []geom.Interval {
	stock := p.Lengths[len(p.Lengths)-1]
	var list []geom.Interval
	for from := span.From; from < span.To; {
		to := min(from+stock, span.To)
		if rest := span.To - to; rest > 0 && rest < shortTrack && stock > 2*shortTrack {
			to -= shortTrack - rest
		}
		list = append(list, geom.Interval{From: from, To: to})
		from = to
	}
	return list
}

// frameOpening sets header, sill and the cripples over and under an opening.
func (f *framer) frameOpening(o Opening) {
	track := f.spec.Track
	cut := o.U.Len() + 2*f.pr.HeaderUpstand.Value
	over := !f.reachesTop(o)
	from, to := max(o.U.From, f.extent.From), min(o.U.To, f.extent.To)
	if over {
		f.add(Member{
			Role: Header, Line: f.line, Product: track.ID, Rule: ruleHeader, Width: track.Flange, Cut: cut,
			From: geom.Pt(from, o.Head), To: geom.Pt(to, o.Head),
		})
	}
	under := o.Sill > 0
	if under {
		f.add(Member{
			Role: SillTrack, Line: f.line, Product: track.ID, Rule: ruleHeader, Width: track.Flange, Cut: cut,
			From: geom.Pt(from, o.Sill), To: geom.Pt(to, o.Sill),
		})
	}
	for _, s := range f.cripples(o) {
		if top := f.out.Top.Min(s.from(), s.to()) - f.studDrop; over && top-o.Head >= leastCripple {
			f.add(cripple(f, s, o.Head, top))
		}
		if under && o.Sill >= leastCripple {
			f.add(cripple(f, s, 0, o.Sill))
		}
	}
}

func cripple(f *framer, s upright, from, to Length) Member {
	return Member{
		Role: Cripple, Line: f.line, Product: f.spec.Stud.ID, Rule: s.rule, Width: s.width,
		From: geom.Pt(s.at, from), To: geom.Pt(s.at, to), Cut: to - from,
	}
}

// cripples lists the uprights over and under an opening: on the module where
// it leaves room, and so that no bay is wider than the spacing.
func (f *framer) cripples(o Opening) []upright {
	width := f.spec.Stud.Flange
	list := []upright{{at: o.U.From - width/2}}
	off := max(f.pr.JointJamb.Value, 3*width/2)
	for u := f.firstModule(); u < o.U.To && o.Kind != plan.Penetration; u += f.spec.Spacing {
		if u >= o.U.From+off && u <= o.U.To-off {
			list = append(list, upright{at: u, width: width, role: Cripple, rule: ruleModule})
		}
	}
	list = append(list, upright{at: o.U.To + width/2})
	var filled []upright
	for i, s := range list[1:] {
		filled = append(filled, divide(list[i].at, s.at, f.spec.Spacing, width, Cripple)...)
		if s.width > 0 {
			filled = append(filled, s)
		}
	}
	return filled
}
