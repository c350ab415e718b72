package plan

import (
	"math"

	"nogging/internal/geom"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// shortest is the length below which a wall is taken for a slip of units.
const shortest = 50 * quantity.Millimetre

// buildUp checks a build-up by itself; whether its products exist is for
// CheckProducts.
func (c *checker) buildUp(b *BuildUp, s *spot) {
	frame := s.part("frame")
	frame.chosen("FrameSpec", "kind", string(b.Frame.Kind))
	if b.Frame.Stud == "" {
		frame.wrong("no-stud", "stud", "no stud is named", "name one by its catalogue id, such as stud: CW75")
	}
	frame.notNegative("spacing", b.Frame.Spacing)
	c.spacing(frame, b.Frame.Spacing)
	frame.notNegative("gap", b.Frame.Gap)
	c.usual(frame, "gap", b.Frame.Gap, usualGap)
	c.gussets(&b.Frame, frame)
	switch {
	case len(b.FaceA) == 0:
		s.wrong("no-boards", "face_a", "face A has no boards", "list them from the frame outwards, such as face_a: [GKB-12.5]")
	case b.Frame.Kind.OneSided() && len(b.FaceB) > 0:
		s.wrong("boards-not-possible", "face_b", words.F("a %s frame is boarded on face A only", b.Frame.Kind), "take face_b out, or take another kind of frame")
	}
	if b.Liner != "" && b.Frame.Kind != Shaft {
		s.doubt("liner-not-used", "liner", words.F("a %s wall has no liner; it is ignored", b.Frame.Kind), "take it out, or write kind: shaft")
	}
	for i, layer := range b.Insulation {
		entry := s.entry("insulation", i, "")
		if layer.Product == "" {
			entry.wrong("no-product", "product", "no insulation product is named", "name one by its catalogue id, such as product: MW-60")
		}
		entry.notNegative("thickness", layer.Thickness)
		c.fillPlace(b, layer.Place, entry)
	}
	s.choice("BuildUp", "seal", b.Seal)
	if what, fix := chooses("BuildUp", "finish", b.Finish); what != "" {
		s.doubt("unknown-word", "finish", words.F("%s; it is ignored", what), fix)
	}
}

// gussets checks the gussets of a braced twin frame.
func (c *checker) gussets(f *FrameSpec, s *spot) {
	for _, one := range []struct {
		key    string
		length Length
	}{{"gusset_height", f.GussetHeight}, {"gusset_spacing", f.GussetSpacing}} {
		s.notNegative(one.key, one.length)
		if one.length > 0 && f.Kind != TwinBraced {
			s.doubt("gussets-not-used", one.key, words.F("a %s frame has no gussets; it is ignored", f.Kind), "take it out, or write kind: twin_braced")
		}
	}
	if h, d := f.GussetHeight, f.GussetSpacing; h > 0 && d > 0 && d < h {
		s.wrong("gussets-overlap", "gusset_spacing", words.F("gussets %s high overlap by %s when they stand %s apart", mm(h), mm(h-d), mm(d)), words.F("write gusset_spacing: %s or more", h))
	}
}

// fillPlace checks that the cavity has the part in which a layer of fill lies.
func (c *checker) fillPlace(b *BuildUp, place FillPlace, s *spot) {
	s.choice("Insulation", "place", string(place))
	switch {
	case place == InFrameB && !b.Frame.Kind.Twin():
		s.wrong("fill-place", "place", words.F("a %s frame has no second frame", b.Frame.Kind), "write place: frame_a, or leave it out")
	case place == InGap && !b.Frame.Kind.Twin() && !b.Frame.Kind.OneSided():
		s.wrong("fill-place", "place", words.F("a %s frame has no gap", b.Frame.Kind), "leave it out")
	}
}

// wall checks what decides whether a wall can be laid out at all.
func (c *checker) wall(w *Wall, s *spot) {
	c.standsOn(w.Level, s)
	switch {
	case w.BuildUp != "":
		s.reference("unknown-buildup", "buildup", w.BuildUp, "build-ups", c.buildups)
	case w.Require == Requirements{} && w.Thickness == 0:
		s.wrong("no-buildup", "buildup", "neither a build-up nor anything to choose one by is given", "name a build-up, or give the thickness for the nearest one to be taken")
	}
	c.line(w, s)
	s.choice("Wall", "justify", string(w.Justify))
	s.choice("Wall", "head", w.Head)
	s.choice("Wall", "start", string(w.Start))
	s.choice("Wall", "end", string(w.End))
	require := s.part("require")
	require.choice("Requirements", "wet", w.Require.Wet)
	if _, err := ParseFire(w.Require.Fire); w.Require.Fire != "" && err != nil {
		require.doubt("unknown-demand", "fire", words.F("%q is no fire class, so nothing can be held against it", w.Require.Fire), "write one such as EI 60, F90-A or 1 h")
	}
	require.actions(w.Require)
	require.rating("sound", w.Require.Sound)
	s.notNegative("thickness", w.Thickness)
	c.usual(s, "thickness", w.Thickness, usualThickness)
	s.notNegative("height", w.Height)
	c.height(s, "height", w.Height)
	c.heights(w, s)
	c.base(w, s)
}

func (c *checker) line(w *Wall, s *spot) {
	if len(w.Line) != 2 {
		s.wrong("wall-line", "line", words.F("the line has %s; a wall runs from one point to another", words.Count(len(w.Line), "1 point", "%d points")), "give start and end, such as line: [[0, 0], [4000, 0]], a wall for each straight stretch, and for a curved one a point between as via: [2000, 600]")
		return
	}
	c.via(w, s)
	switch l := w.Length(); {
	case l < geom.Same:
		s.wrong("wall-zero-length", "line", words.F("the wall has no length: it starts and ends at [%s, %s]", w.Line[0].X, w.Line[0].Y), "give two different ends, or take the wall out")
	case l < shortest:
		s.doubt("wall-short", "line", words.F("the wall is only %s long", mm(l)), "numbers without a unit are millimetres; for metres write 4.2 m")
	case l > longestWall:
		s.wrong("implausible", "line", words.F("it is %s long; nothing above %s is laid out", mm(l), mm(longestWall)), c.meant(l, usualLength))
	}
}

// heights checks a height profile.
func (c *checker) heights(w *Wall, s *spot) {
	if len(w.Heights) > 0 && w.Height != 0 {
		s.doubt("height-twice", "height", "both height and heights are given; the profile is taken", "keep one of the two")
	}
	for i, h := range w.Heights {
		at := s.entry("heights", i, "")
		switch {
		case h.At < 0:
			at.wrong("profile-outside-wall", "at", words.F("the point lies %s before the wall's start", mm(-h.At)), "write distances from the wall's start")
		case len(w.Line) == 2 && h.At > w.Length()+geom.Same:
			at.wrong("profile-outside-wall", "at", words.F("the point lies %s beyond the wall's end at %s", mm(h.At-w.Length()), mm(w.Length())), words.F("write at most %s", w.Length()))
		case i > 0 && h.At < w.Heights[i-1].At:
			at.wrong("profile-order", "at", words.F("the point at %s comes after the one at %s", mm(h.At), mm(w.Heights[i-1].At)), "put the points in order from the wall's start")
		case i > 1 && h.At == w.Heights[i-2].At:
			at.wrong("profile-order", "at", words.F("three points stand at %s", mm(h.At)), "keep two, the heights before and after the step")
		}
		at.positive("height", h.Height)
	}
	if i := highest(w.Heights); i >= 0 {
		c.height(s.entry("heights", i, ""), "height", w.Heights[i].Height)
	}
	if n := len(w.Heights); n == 1 {
		s.assumed("profile-short", "heights", "the profile has one point; its height is taken all along the wall", "write height: instead, or give a point at each end")
	} else if n > 1 && len(w.Line) == 2 && (w.Heights[0].At > geom.Same || w.Heights[n-1].At < w.Length()-geom.Same) {
		s.assumed("profile-short", "heights", words.F("the profile runs from %s to %s, the wall from 0 to %s; its slopes are carried on", mm(w.Heights[0].At), mm(w.Heights[n-1].At), mm(w.Length())), "give a point at each end of the wall")
	}
}

// base checks the height of a wall's foot.
func (c *checker) base(w *Wall, s *spot) {
	s.notNegative("base", w.Base)
	c.stands(w, s)
	w.StartPiece.check(s.part("start_piece"))
	w.EndPiece.check(s.part("end_piece"))
	profile := c.profile(w)
	if w.Base <= 0 || profile == nil {
		return
	}
	if top := lowest(profile, 0, w.Length()); w.Base > top-smallest {
		s.wrong("base-above-top", "base", words.F("the wall's foot at %s leaves %s up to its top at %s; nothing under %s can be built", mm(w.Base), mm(top-w.Base), mm(top), mm(smallest)),
			"base and heights are both measured from the floor: write a lower base or greater heights")
		return
	}
	for i := range w.Openings {
		if o := &w.Openings[i]; o.Sill < w.Base {
			s.entry("openings", i, w.OpeningID(i)).doubt("opening-below-base", "sill",
				words.F("its lower edge lies %s below the wall's foot at %s; what is cut out of the base is not part of the wall", mm(w.Base-o.Sill), mm(w.Base)),
				"write sill: from the floor, or leave the base out for a stretch of its own")
		}
	}
}

// highest returns the first highest point of a profile, or -1.
func highest(profile []HeightAt) int {
	at := -1
	for i, h := range profile {
		if at < 0 || h.Height > profile[at].Height {
			at = i
		}
	}
	return at
}

// Length returns the length of the wall's line, along the arc of a curved wall;
// 0 where it has no two ends.
func (w *Wall) Length() Length {
	if len(w.Line) != 2 {
		return 0
	}
	if arc, ok := w.Arc(); ok {
		return arc.Length()
	}
	return geom.Point(w.Line[0]).Dist(geom.Point(w.Line[1]))
}

// profile returns the wall's heights along its line: two points or more, in
// order; nil where they are not known.
func (c *checker) profile(w *Wall) []HeightAt {
	height := w.Height
	switch level := c.plan.LevelByID(w.Level); {
	case len(w.Heights) > 1:
		return w.Heights
	case len(w.Heights) == 1:
		height = w.Heights[0].Height
	case height == 0 && level != nil:
		height = level.ClearHeight
	}
	if height < smallest || height > highestWall {
		return nil
	}
	return []HeightAt{{0, height}, {w.Length(), height}}
}

// lowest returns the least height of a profile between two places that lie
// apart. The first and last stretch carry on beyond their ends.
func lowest(profile []HeightAt, from, to Length) Length {
	low := Length(math.MaxInt64)
	for i := 1; i < len(profile); i++ {
		a, b := profile[i-1], profile[i]
		left, right := max(from, a.At), min(to, b.At)
		if i == 1 {
			left = from
		}
		if i == len(profile)-1 {
			right = to
		}
		if left < right && a.At < b.At {
			low = min(low, between(a, b, left), between(a, b, right))
		}
	}
	return low
}

// between returns the height at a place on the straight through two points of
// a profile.
func between(a, b HeightAt, at Length) Length {
	t := float64(at-a.At) / float64(b.At-a.At)
	return a.Height + Length(math.Round(t*float64(b.Height-a.Height)))
}
