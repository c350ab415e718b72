package layout

import (
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/words"
)

// Uses of strips at the soffit.
const (
	useHeadStrip = "head strip"
	// UseFluteCloser is the use of the pieces that close flutes of a metal deck.
	UseFluteCloser = "flute closer"
)

// packHead gives a sliding head of a wall that is asked to resist fire its board
// strips: packed under the soffit over the head track, so thick that the boards,
// which stop short of the soffit by the movement gap, still lap them when the
// slab is up (common practice; a tested detail decides).
func (w *wallLayout) packHead() {
	h := &w.out.Head
	if h.Kind != plan.HeadDeflection || w.body.rank.fire == 0 || len(w.spec.A) == 0 {
		return
	}
	t := w.spec.A[len(w.spec.A)-1].Thickness
	n := (h.Gap + w.pr.HeadStripLap.Value + t - 1) / t
	h.Strips, h.Pack = int(n), n*t
}

// anchorHead fixes a soffit track, and the strips over it, if any.
func (w *wallLayout) anchorHead(m *Member) {
	if w.out.Head.Strips > 0 {
		w.packOver(m)
	}
	if d := w.body.level.Deck; w.onDeck() {
		w.anchorToDeck(m, d)
		return
	}
	w.anchor(m, "soffit", orElse(w.body.level.Soffit, plan.Concrete))
}

// packOver adds the strips over one soffit track. They are held by its anchors.
func (w *wallLayout) packOver(m *Member) {
	before := len(w.out.Screws)
	for range w.out.Head.Strips {
		w.strip(w.spec.A[len(w.spec.A)-1].ID, useHeadStrip, m.From, w.out.FrameLines[m.Line].Depth, m.Cut, 0)
	}
	w.out.Screws = w.out.Screws[:before]
}

// fastenSteps fixes the studs beside steps in the soffit to the steps' sides, and
// seals them there.
func (w *wallLayout) fastenSteps() {
	if w.out.Head.Kind == plan.HeadFree {
		return
	}
	half := w.spec.Stud.Flange / 2
	for i := 1; i < len(w.out.Top); i++ {
		a, b := w.out.Top[i-1], w.out.Top[i]
		if a.X != b.X || a.Y == b.Y {
			continue
		}
		at := a.X + half // the higher side
		if a.Y > b.Y {
			at = a.X - half
		}
		for line := range w.out.FrameLines {
			for _, m := range w.uprights(line) {
				low, high := max(min(a.Y, b.Y), m.From.Y), min(max(a.Y, b.Y), m.To.Y)
				if m.From.X != at || high <= low {
					continue
				}
				side := *m
				side.From.Y, side.To.Y = low, high
				w.anchorRow(side.From, side.To, w.pr.TrackFixingEnd.Value, w.pr.EdgeStudFixing.Value, 1, "side of the step", orElse(w.body.level.Soffit, plan.Concrete))
				w.seal(&side, "side of the step")
			}
		}
	}
}

// tellHead says what a metal deck makes of the wall's head that cannot be built.
func (w *wallLayout) tellHead(code string, what, fix words.Text) {
	if !w.toldHead[code] {
		if w.toldHead == nil {
			w.toldHead = map[string]bool{}
		}
		w.toldHead[code] = true
		w.find(finding.Warning, code, what, fix)
	}
}
