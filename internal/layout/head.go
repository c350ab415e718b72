package layout

import (
	"fmt"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/quantity"
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
			What: fmt.Sprintf("is %s mm high where the level is clear to %s mm: its top is taken to stand free", w.Height, level.ClearHeight),
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
