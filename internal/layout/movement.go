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
	least := (extent.Len() + limit - 1) / limit
	for parts := least; parts < least+moreJoints; parts++ {
		if us := w.spread(extent, parts); keeps(extent, us, limit) {
			return us
		}
	}
	us := w.spread(extent, least)
	w.find(finding.Warning, "movement-joint",
		fmt.Sprintf("is %s mm long and finds no places for movement joints that keep every part within the practice's %s mm", mm(extent.Len()), limit),
		"leave 600 mm between two openings near the middle, or let a full-height door frame serve as the joint")
	return us
}

// moreJoints is how many joints more than the least are tried.
const moreJoints = 4

// spread returns places for joints that divide a run into equal parts, as near
// as openings and junctions let them.
func (w *wallLayout) spread(extent geom.Interval, parts Length) []Length {
	var us []Length
	for i := Length(1); i < parts; i++ {
		if u, ok := w.nearestClear(extent.From+extent.Len()*i/parts, extent); ok {
			us = append(us, u)
		}
	}
	slices.Sort(us)
	return slices.Compact(us)
}

// keeps reports whether joints leave no part longer than the limit.
func keeps(extent geom.Interval, us []Length, limit Length) bool {
	from := extent.From
	for _, u := range append(slices.Clone(us), extent.To) {
		if u-from > limit {
			return false
		}
		from = u
	}
	return true
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
