package layout

import (
	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// rulePost names the practice value that puts stiff uprights in walls whose top
// stands free.
const rulePost = "post_spacing"

// posts adds stiff posts to the uprights of a wall whose top stands free, so that
// no part of it is further from one than the practice's spacing: at free ends, and
// between on the module. What the wall's ends stand against holds them as a post
// does. Linings are tied back instead.
func (f *framer) posts(list []upright) []upright {
	limit := f.pr.PostSpacing.Value
	if f.out.Head.Kind != plan.HeadFree || limit == 0 || f.spec.Kind.OneSided() || f.spec.OpeningStud == f.spec.Stud {
		return list
	}
	for i := range list {
		atStart, atEnd := list[i].from() == f.extent.From, list[i].to() == f.extent.To
		if list[i].role == EndStud && (atStart && f.run.from.kind == Free || atEnd && f.run.to.kind == Free) {
			list[i] = f.stiffEnd(atStart)
		}
	}
	last := f.extent.From
	for u := f.firstModule(); u < f.extent.To; u += f.spec.Spacing {
		held := nextStiff(list, last, f.extent.To)
		if held-last <= limit {
			last = held
			continue
		}
		next := u + f.spec.Spacing
		p := upright{at: u, width: f.spec.OpeningStud.Flange, role: Post, rule: rulePost, made: f.spec.OpeningStud}
		if u <= last || next-last <= limit && f.room(list, next) || !f.room(list, u) {
			continue
		}
		list = append(list, p)
		last = u
	}
	sortUprights(list)
	f.checkPosts(list, limit)
	return list
}

// stiffEnd is a stiff post at one end of the frame.
func (f *framer) stiffEnd(start bool) upright {
	half := f.spec.OpeningStud.Flange / 2
	at := f.extent.To - half
	if start {
		at = f.extent.From + half
	}
	return upright{at: at, width: 2 * half, role: EndStud, rule: rulePost, made: f.spec.OpeningStud}
}

// room reports whether a post can stand at u.
func (f *framer) room(list []upright, u Length) bool {
	p := upright{at: u, width: f.spec.OpeningStud.Flange}
	return p.to() <= f.extent.To && !f.inOpening(p) && !collides(list, p)
}

// nextStiff returns the place of the first upright after u that holds the top, or
// the end: a stiff one, or one that another wall stands against.
func nextStiff(list []upright, u, end Length) Length {
	next := end
	for _, s := range list {
		if (s.made != nil && s.made.Kind == catalogue.OpeningStud || s.role == JunctionStud) && s.at > u {
			next = min(next, s.at)
		}
	}
	return next
}

// checkPosts tells where openings leave no place for a post.
func (f *framer) checkPosts(list []upright, limit Length) {
	for last := f.extent.From; last < f.extent.To; {
		next := nextStiff(list, last, f.extent.To)
		if next-last > limit && !f.told("free-top-unheld") {
			f.find(finding.Warning, "free-top-unheld",
				words.F("its free top is not held over %s mm from %s mm on, %s mm more than the practice's %s mm: there is no place for a stiff post", mm(next-last), mm(last), mm(next-last-limit), limit),
				"move the opening, or give its jambs opening studs")
			return
		}
		last = next
	}
}

// tieInset is how far under the free top of a lining its brackets sit (common
// practice).
const tieInset = 100 * quantity.Millimetre

// tieBack sets the brackets that hold the free top of a lining to the wall behind
// it, at studs no further apart than the practice says.
func (w *wallLayout) tieBack() {
	if w.out.Head.Kind != plan.HeadFree || !w.spec.Kind.OneSided() || w.spec.Kind == plan.Furring {
		return
	}
	for line := range w.out.FrameLines {
		var studs []*Member
		for _, m := range w.uprights(line) {
			if m.Role != Cripple {
				studs = append(studs, m)
			}
		}
		last := w.out.FrameLines[line].Extent.From - w.pr.TieBackSpacing.Value
		for i, m := range studs {
			if i+1 < len(studs) && studs[i+1].From.X-last <= w.pr.TieBackSpacing.Value && i > 0 {
				continue
			}
			last = m.From.X
			w.holdBehind(BracketTie, line, geom.Pt(m.From.X, max(m.To.Y-tieInset, (m.From.Y+m.To.Y)/2)))
		}
	}
}

// holdBehind adds a bracket from an upright to the wall behind, with its anchor.
func (w *wallLayout) holdBehind(use string, line int, at geom.Point) {
	w.bracket(use, line, at)
	w.anchorBracket(at, "wall behind", "masonry")
}
