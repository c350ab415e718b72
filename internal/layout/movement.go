package layout

import (
	"fmt"
	"slices"

	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/quantity"
)

// Movement joints divide runs longer than the practice allows, from floor to
// soffit through frame and boards.
const (
	// movementGap is the width of a movement joint (common practice).
	movementGap = 10 * quantity.Millimetre
	// movementClear is how far a movement joint keeps from openings and from
	// walls that stand against this one, so that both sides can be framed.
	movementClear = 300 * quantity.Millimetre
)

// divide splits runs at movement joints.
func (w *wallLayout) divide(runs []run) []run {
	var list []run
	for _, r := range runs {
		for _, u := range w.movementJoints(r) {
			list = append(list, run{r.from, movementCut(u, 1)})
			r.from = movementCut(u, 0)
		}
		list = append(list, r)
	}
	return list
}

// movementJoints returns where a run needs movement joints: as few as keep
// every part within the practice's length, at equal distances as far as openings
// and junctions let them.
func (w *wallLayout) movementJoints(r run) []Length {
	limit := w.pr.ControlJoint.Value
	extent := r.frameExtent(0, 0)
	if limit <= 0 || extent.Len() <= limit {
		return nil
	}
	parts := (extent.Len() + limit - 1) / limit
	var us []Length
	for i := Length(1); i < parts; i++ {
		u, ok := w.nearestClear(extent.From+extent.Len()*i/parts, extent)
		if !ok {
			w.find(finding.Warning, "movement-joint",
				fmt.Sprintf("is %s mm long and finds no place for a movement joint; the practice allows %s mm without one", mm(extent.Len()), limit),
				"leave 600 mm between two openings near the middle, or let a full-height door frame serve as the joint")
			continue
		}
		us = append(us, u)
	}
	return slices.Compact(us)
}

// nearestClear returns the place nearest to u that keeps clear of openings and
// junctions.
func (w *wallLayout) nearestClear(u Length, extent geom.Interval) (Length, bool) {
	taken := []geom.Interval{{From: extent.From - movementClear, To: extent.From + movementClear}, {From: extent.To - movementClear, To: extent.To + movementClear}}
	for _, o := range w.out.Openings {
		taken = append(taken, geom.Interval{From: o.U.From - movementClear, To: o.U.To + movementClear})
	}
	for _, t := range w.body.tees {
		taken = append(taken, geom.Interval{From: t.u - t.other.half - movementClear, To: t.u + t.other.half + movementClear})
	}
	spots := []Length{u}
	for _, i := range taken {
		spots = append(spots, i.From, i.To)
	}
	slices.SortStableFunc(spots, func(a, b Length) int { return compare((a - u).Abs(), (b - u).Abs()) })
	for _, s := range spots {
		if extent.Contains(s) && !slices.ContainsFunc(taken, func(i geom.Interval) bool { return i.From < s && s < i.To }) {
			return s, true
		}
	}
	return 0, false
}

// movementCut is one side of a movement joint: end 1 closes the run before it,
// end 0 opens the run after.
func movementCut(u Length, end int) cut {
	side := out(end, u, -movementGap/2)
	return cut{
		end: end, kind: Movement,
		frame: func(Length) Length { return side },
		layer: func(bool, int) Length { return side },
	}
}
