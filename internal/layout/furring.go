package layout

import (
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// holdFurring sets the brackets that carry furring on the wall behind: up each
// channel at equal distances no greater than the practice's, counted from its ends,
// which the perimeter channels hold. Every channel but a short piece over or under
// an opening has one at least; under a free top the head counts as unheld and has a
// bracket just below it (common practice).
func (w *wallLayout) holdFurring() {
	if w.spec.Kind != plan.Furring {
		return
	}
	for line := range w.out.FrameLines {
		for _, m := range w.uprights(line) {
			foot, head := m.From.Y, m.To.Y
			if w.out.Head.Kind == plan.HeadFree && m.Role != Cripple {
				head = max(head-tieInset, (foot+head)/2)
				w.holdBehind(BracketFurring, line, geom.Pt(m.From.X, head))
			}
			n := max((head-foot+w.pr.FurringBrackets.Value-1)/w.pr.FurringBrackets.Value, 2)
			if m.Cut < shortChannel {
				continue
			}
			for i := Length(1); i < n; i++ {
				w.holdBehind(BracketFurring, line, geom.Pt(m.From.X, foot+(head-foot)*i/n))
			}
		}
	}
}

// shortChannel is the length below which a piece of channel is held by its ends
// alone (common practice).
const shortChannel = 400 * quantity.Millimetre
