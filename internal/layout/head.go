package layout

import (
	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// headSlack is how much lower than the level's clear height a wall may be
// measured and still be taken to reach the soffit.
const headSlack = 30 * quantity.Millimetre

// headOf decides how a wall's upper edge is made: the head slides where the
// slab above moves by more than the practice lets a rigid head bear.
func headOf(b *body, pr *catalogue.Practice, found *finding.List) Head {
	w, level := b.wall, b.level
	moving := Head{Kind: plan.HeadDeflection, Gap: level.Deflection + pr.HeadTolerance.Value}
	switch w.Head {
	case plan.HeadRigid, plan.HeadFree:
		return Head{Kind: w.Head}
	case plan.HeadDeflection:
		return moving
	}
	if w.Height > 0 && w.Height < level.ClearHeight-headSlack {
		found.Add(finding.Finding{
			Code: "head-free", Severity: finding.Assumed, Object: w.ID,
			What: words.F("is %s mm high where the level is clear to %s mm: its top is taken to stand free", w.Height, level.ClearHeight),
			Fix:  "write `head: free` to confirm it, or `head: rigid` if there is a soffit at that height",
		})
		return Head{Kind: plan.HeadFree}
	}
	if level.Deflection > pr.RigidHeadLimit.Value {
		return moving
	}
	return Head{Kind: plan.HeadRigid}
}

// studDrop returns how much shorter than the clear height studs are cut.
func studDrop(h Head, pr *catalogue.Practice) Length {
	return max(pr.StudShortfall.Value, h.Gap)
}

// boardDrop returns how far below the soffit boards stop.
func boardDrop(h Head, pr *catalogue.Practice) Length {
	if h.Kind == plan.HeadFree {
		return 0
	}
	return max(pr.BoardShortfall.Value-pr.BoardFloorGap.Value, h.Gap)
}

// boardFoot returns the height at which boards begin.
func (w *wallLayout) boardFoot() Length { return w.out.Base + w.pr.BoardFloorGap.Value }

// capDepth returns the thickness of the strips that close a free top: one of each
// layer of face A (common practice: a free top is boarded like the faces).
func (w *wallLayout) capDepth() Length {
	if w.out.Head.Kind != plan.HeadFree {
		return 0
	}
	return w.spec.BoardsThickness(plan.FaceA)
}

// layerTop returns the upper edge of board layer k: short of the soffit, or at a
// free top beside the strips that close it, so that each strip lies on the edges
// of the layers beneath it.
func (w *wallLayout) layerTop(k int) Profile {
	drop := boardDrop(w.out.Head, w.pr)
	if w.out.Head.Cap > 0 {
		drop += w.out.Head.Cap - thicknessUnder(w.spec.A, k+1)
	}
	return w.out.Top.Lowered(drop)
}
