package plan

import (
	"cmp"
	"slices"

	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// contents checks what is in and on a wall.
func (c *checker) contents(w *Wall, s *spot) {
	if n := len(w.Openings) + len(w.Boxes) + len(w.Fixings) + len(w.Pipes); n > mostThings {
		s.wrong("too-many-things", "", words.F("the wall has %d openings, boxes, fixings and pipes; they were not checked", n), words.F("keep to %d", mostThings))
		return
	}
	profile := c.profile(w)
	for i := range w.Openings {
		c.opening(w, &w.Openings[i], profile, s.entry("openings", i, w.OpeningID(i)))
	}
	c.overlaps(w, s)
	for i := range w.Boxes {
		c.box(w, &w.Boxes[i], profile, s.entry("boxes", i, ""))
	}
	for i := range w.Fixings {
		c.fixing(w, &w.Fixings[i], profile, s.entry("fixings", i, ""))
	}
	for i := range w.Pipes {
		c.pipe(w, &w.Pipes[i], profile, s.entry("pipes", i, ""))
	}
}

// opening checks one opening by itself and against its wall.
func (c *checker) opening(w *Wall, o *Opening, profile []HeightAt, s *spot) {
	s.chosen("Opening", "kind", string(o.Kind))
	s.choice("Opening", "service", o.Service)
	s.positive("width", o.Width)
	s.positive("height", o.Height)
	width := usualOpening
	if o.Kind == Door {
		width = usualDoor
	}
	c.usual(s, "width", o.Width, width)
	c.usual(s, "height", o.Height, usualOpening)
	s.leaf(o.LeafMass)
	s.notNegative("sill", o.Sill)
	s.notNegativeNumber("leaf_mass", o.LeafMass)
	s.notNegativeNumber("hung_mass", o.HungMass)
	s.rating("sound", o.Sound)
	c.service(o, s)
	c.pocket(w, o, s)
	c.hung(o, s)
	length := w.Length()
	if length < geom.Same || o.Width <= 0 || o.Height <= 0 {
		return
	}
	s.within("opening-outside-wall", o.At, o.Width, length)
	if over := o.Sill + o.Height - lowest(profile, o.At, o.At+o.Width); profile != nil && over > 0 {
		s.wrong("opening-too-high", "height", words.F("the opening's head at %s is %s above the wall's top there", mm(o.Sill+o.Height), mm(over)),
			words.F("make the height at most %s", mm(max(o.Height-over, 0))))
	}
}

// within checks that a stretch of a wall lies between the wall's ends.
func (s *spot) within(code string, at, width, length Length) {
	if length%1000 != 0 { // along an arc or aslant: nobody writes it to the nanometre
		length -= length % quantity.Millimetre
	}
	switch beyond := at + width - length; {
	case at < 0:
		s.wrong(code, "at", words.F("it starts %s before the wall's start", mm(-at)), "write the distance from the wall's start to the nearer side")
	case beyond > geom.Same && width == 0:
		s.wrong(code, "at", words.F("it lies %s beyond the wall's end at %s", mm(beyond), mm(length)), words.F("write at: %s or less", length))
	case beyond > geom.Same && width > length:
		s.wrong(code, "width", words.F("it is %s wide, %s more than the wall, which is %s long", mm(width), mm(width-length), mm(length)),
			words.F("write less than %s, so that what stands beside it has room, or check the wall's line", mm(length)))
	case beyond > geom.Same:
		s.wrong(code, "at", words.F("it ends %s beyond the wall's end at %s", mm(beyond), mm(length)), words.F("write at: %s or less", length-width))
	}
}

// mostOverlaps is how many overlapping openings are listed for one wall.
const mostOverlaps = 20

// overlaps checks the openings of a wall against each other. Openings above
// one another do not overlap.
func (c *checker) overlaps(w *Wall, s *spot) {
	order := make([]int, len(w.Openings))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(w.Openings[i].At, w.Openings[j].At) })
	listed := 0
	for n, j := range order {
		o := &w.Openings[j]
		for _, i := range order[n+1:] {
			p := &w.Openings[i]
			along := min(o.At+o.Width, p.At+p.Width) - p.At
			up := min(o.Sill+o.Height, p.Sill+p.Height) - max(o.Sill, p.Sill)
			if p.At >= o.At+o.Width || listed == mostOverlaps {
				break
			}
			if along <= 0 || up <= 0 {
				continue
			}
			listed++
			first, second := min(i, j), max(i, j)
			s.entry("openings", second, w.OpeningID(second)).wrong("openings-overlap", "at",
				words.F("it overlaps %s by %s along the wall and %s in height", w.OpeningID(first), mm(along), mm(up)),
				"move one of the two; openings side by side need studs between them")
		}
	}
}

// box checks a socket or other box.
func (c *checker) box(w *Wall, b *Box, profile []HeightAt, s *spot) {
	s.choice("Box", "kind", b.Kind)
	s.chosen("Box", "face", string(b.Face))
	c.boarded(w, b.Face, s)
	if b.Gangs < 0 {
		s.wrong("negative", "gangs", words.F("gangs is negative: %d", b.Gangs), "write how many boxes sit side by side")
	}
	if w.Length() < geom.Same {
		return
	}
	s.within("box-outside-wall", b.At, 0, w.Length())
	s.reachable("box-outside-wall", b.At, b.At, b.Height, profile)
	s.clear("box-in-opening", w, b.At, b.At, b.Height)
}

// fixing checks something that is hung on the wall.
func (c *checker) fixing(w *Wall, f *Fixing, profile []HeightAt, s *spot) {
	s.chosen("Fixing", "kind", f.Kind)
	s.chosen("Fixing", "face", string(f.Face))
	c.boarded(w, f.Face, s)
	s.notNegative("width", f.Width)
	s.notNegative("lever", f.Lever)
	s.notNegativeNumber("mass", f.Mass)
	if w.Length() < geom.Same || f.Width < 0 {
		return
	}
	s.within("fixing-outside-wall", f.At, f.Width, w.Length())
	s.reachable("fixing-outside-wall", f.At, f.At+f.Width, f.Height, profile)
	s.clear("fixing-in-opening", w, f.At, f.At+f.Width, f.Height)
}

// boarded checks that the face has boards to fix things in.
func (c *checker) boarded(w *Wall, face Face, s *spot) {
	if b := c.plan.BuildUpByID(w.BuildUp); face == FaceB && b != nil && b.Frame.Kind.OneSided() {
		s.wrong("face-not-boarded", "face", words.F("face B of build-up %s has no boards", b.ID), "write face: a")
	}
}

// reachable checks that a height lies between floor and soffit.
func (s *spot) reachable(code string, from, to, height Length, profile []HeightAt) {
	if height < 0 {
		s.wrong(code, "height", words.F("it lies %s below the floor", mm(-height)), "write the height above the floor")
		return
	}
	if profile == nil {
		return
	}
	if top := lowest(profile, from, max(to, from+quantity.Nanometre)); height > top {
		s.wrong(code, "height", words.F("it lies %s above the wall's top", mm(height-top)), words.F("write at most %s", mm(top)))
	}
}

// clear checks that a thing on the wall does not hang in an opening.
func (s *spot) clear(code string, w *Wall, from, to, height Length) {
	for i := range w.Openings {
		o := &w.Openings[i]
		if from < o.At+o.Width && o.At < to && o.Sill < height && height < o.Sill+o.Height {
			s.add(finding.Error, code, "at", words.F("it lies in the opening %s, which runs from %s to %s", w.OpeningID(i), mm(o.At), mm(o.At+o.Width)), "move it beside the opening")
			return
		}
	}
}
