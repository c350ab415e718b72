package choice

import (
	"cmp"
	"slices"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/proof"
	"nogging/internal/proof/fire"
	"nogging/internal/proof/sound"
	"nogging/internal/proof/structure"
	"nogging/internal/proof/thermal"
	"nogging/internal/quantity"
)

// search tries frames with pairs of faces. It leaves out, without losing a point
// of the front:
//
//   - parts that are the same as another in all that is asked and no better in
//     any measure (fills, pairs of faces);
//   - frames, blocks of pairs and pairs whose measures together are no better
//     than those of a build-up already found, since measures add up;
//   - pairs too light for the sound that is asked: a bound over all lighter
//     ones fails already (prediction.Bound falls with no mass).
type search struct {
	judge
	meter  meter
	size   int // of blocks of pairs
	tests  []sound.Test
	frames []frame
	tried  int                 // build-ups that the search stands for
	heard  map[[2]int]Standing // of faces on the frame at hand
}

// hit is a build-up on the front.
type hit struct {
	frame    *frame
	a, b     *face // b is nil where one face is boarded
	measures Measures
}

// front returns the build-ups with a standing up to limit that no other betters
// or equals in every measure; of equal ones the first.
func (s *search) front(limit Standing) []hit {
	var found []hit
	dominated := func(m *Measures) bool {
		for i := range found {
			if noWorse(&found[i].measures, m) {
				if i > 0 { // what dominates one is likely to dominate the next
					found[0], found[i] = found[i], found[0]
				}
				return true
			}
		}
		return false
	}
	for i := range s.frames {
		f := &s.frames[i]
		if f.standing > limit {
			continue
		}
		if least := sum(&f.measures, &f.sheet.least); dominated(&least) {
			continue
		}
		clear(s.heard)
		for n := s.tooLight(f, limit); n < len(f.sheet.blocks); n++ {
			b := &f.sheet.blocks[n]
			if least := sum(&f.measures, &b.least); dominated(&least) || s.tooQuiet(f, &b.here, limit) {
				continue
			}
			for k := n * s.size; k < min((n+1)*s.size, len(f.sheet.pairs)); k++ {
				p := &f.sheet.pairs[k]
				m := sum(&f.measures, &p.measures)
				if dominated(&m) || s.standing(f, p.a, p.b, m[Thickness], limit) > limit {
					continue
				}
				found = slices.DeleteFunc(found, func(h hit) bool { return noWorse(&m, &h.measures) })
				found = append(found, hit{f, p.a, p.b, m})
			}
		}
	}
	return found
}

// tooLight returns how many of the leading blocks of pairs are too light for the
// sound that is asked.
func (s *search) tooLight(f *frame, limit Standing) int {
	blocks := f.sheet.blocks
	n, _ := slices.BinarySearchFunc(blocks, true, func(b block, _ bool) int {
		if s.tooQuiet(f, &b.upTo, limit) {
			return -1
		}
		return 0
	})
	return n
}

// tooQuiet reports whether no pair within some bounds keeps back the sound that is
// asked.
func (s *search) tooQuiet(f *frame, b *bound, limit Standing) bool {
	if s.Require.Sound == "" || len(f.tests) > 0 || f.unknown || b.unknown && limit >= Unknown {
		return false
	}
	if b.a == nil {
		return limit < Unknown // no pair that the prediction knows
	}
	c := sound.Candidate{A: b.a, B: b.b, Cavity: f.cavity, Studs: f.studs}
	if limit == Proven {
		return float64(c.Most(s.sound)) < s.judge.sound.Value
	}
	return float64(c.MostValue(s.sound)) < s.judge.sound.Value
}

// standing returns the worst standing of a frame with two faces; once it is worse
// than limit it looks no further.
func (s *search) standing(f *frame, a, b *face, thickness int64, limit Standing) Standing {
	if s.Thickness > 0 && thickness > thousandths(s.Thickness.MM()) {
		return Fails
	}
	worst := f.standing
	for _, look := range [...]func(*frame, *face, *face) Standing{s.fireStanding, s.strengthStanding, s.soundStanding, s.heatStanding} {
		if worst = max(worst, look(f, a, b)); worst > limit {
			break
		}
	}
	return worst
}

func (s *search) fireStanding(f *frame, a, b *face) Standing {
	if !s.withFire {
		return Proven
	}
	best := Fails
	if s.guides { // which may be none at all
		best = Unknown
	}
	for i := range s.records {
		if f.fire[i] == fire.Outside || !a.fire[0][i] || b != nil && !b.fire[1][i] {
			continue
		}
		if s.guides || f.fire[i] == fire.Unstated || s.records[i].Status == quantity.Memory {
			best = min(best, Expected)
		} else {
			return Proven
		}
	}
	return best
}

func (s *search) strengthStanding(f *frame, a, b *face) Standing {
	if f.strong == nil {
		return Unknown
	}
	w := figures{uses: f.uses, helped: 2, scoped: f.scoped, tied: f.tied}
	for _, e := range f.shown {
		if !a.heights[e.record] || b != nil && !b.heights[e.record] {
			continue
		}
		if e.Firm {
			w.firm = most(w.firm, e.Shown)
		} else {
			w.recalled = w.recalled || s.useful(e.Shown)
		}
	}
	standing := decide(&w, &s.demand)
	best := w
	best.helped = 0
	if s.pr.ScrewSlip.Value > 0 && decide(&best, &s.demand) != standing { // the help of the boards decides
		build := f.with(a, b)
		frame := structure.FrameOf(&build, s.pr, f.strong)
		w.helped = frame.HelpedUse(s.Height, &s.demand)
		standing = decide(&w, &s.demand)
	}
	if s.Require.Duty != "" && !w.firm.Impact {
		standing = max(standing, Expected)
	}
	return standing
}

func (s *search) soundStanding(f *frame, a, b *face) Standing {
	if s.Require.Sound == "" {
		return Proven
	}
	firm := Proven
	if s.inField {
		firm = Expected
	}
	if v, ok := s.testedAs(f, a, b); ok {
		if float64(v) < s.sound.Value {
			return Fails
		}
		return firm
	}
	if f.unknown || a.leaf == nil || b != nil && b.leaf == nil {
		return Unknown
	}
	key := [2]int{a.leafNo, 0} // it does not matter to sound which face is which
	if b != nil {
		key = [2]int{min(a.leafNo, b.leafNo), max(a.leafNo, b.leafNo)}
	}
	standing, known := s.heard[key]
	if !known {
		standing = max(firm, s.predicted(f, a, b))
		s.heard[key] = standing
	}
	return standing
}

// predicted holds the prediction of a frame with two faces against what is asked.
func (s *search) predicted(f *frame, a, b *face) Standing {
	c := sound.Candidate{A: a.leaf, Cavity: f.cavity, Studs: f.studs}
	beyond := f.beyond || a.beyond
	if b != nil {
		c.B, beyond = b.leaf, beyond || b.beyond
	}
	switch e := c.Estimate(s.sound); {
	case float64(e.Value) < s.sound.Value:
		return Fails
	case float64(e.Low) < s.sound.Value || beyond:
		return Expected
	}
	return Proven
}

// testedAs returns the figure of the best test that covers a frame with two faces.
func (s *search) testedAs(f *frame, a, b *face) (quantity.Decibel, bool) {
	var best quantity.Decibel
	found := false
	for _, i := range f.tests {
		straight, turned := a.tests[0][i], a.tests[1][i]
		if b != nil {
			straight, turned = straight && b.tests[1][i], turned && b.tests[0][i]
		}
		if (straight || turned) && (!found || s.tests[i].Value > best) {
			best, found = s.tests[i].Value, true
		}
	}
	return best, found
}

func (s *search) heatStanding(f *frame, a, b *face) Standing {
	if s.heat == 0 {
		return Proven
	}
	build := f.with(a, b)
	c := thermal.Prove(s.Require.UValue, &build, s.cat)
	switch c.Verdict {
	case proof.Passes:
		return Proven
	case proof.Fails:
		return Fails
	}
	return Unknown
}

// with returns the frame's build-up with boards.
func (f *frame) with(a, b *face) buildup.BuildUp {
	build := *f.build
	build.A, build.B = a.list, nil
	if b != nil {
		build.B = b.list
	}
	return build
}

// candidate looks up a build-up of the front and holds it against the demand.
func (s *search) candidate(h hit) Candidate {
	var b []*catalogue.Board
	if h.b != nil {
		b = h.b.list
	}
	build := h.frame.frameOf.build(h.a.list, b, s.cat, s.pr)
	return Candidate{Build: build, Measures: s.meter.of(build), Needs: s.needs(build)}
}

// byMeasure orders build-ups by a measure, then by the others.
func byMeasure(rank Measure) func(a, b *Measures) int {
	return func(a, b *Measures) int {
		order := cmp.Compare(a[rank], b[rank])
		for k := range a {
			order = cmp.Or(order, cmp.Compare(a[k], b[k]))
		}
		return order
	}
}
