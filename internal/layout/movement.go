package layout

import (
	"fmt"
	"slices"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// Movement joints divide runs where the structure's joints cross them, and those
// longer than the practice allows, from floor to soffit through frame and boards.

// movementClear is how far a movement joint keeps from openings and from walls
// that stand against this one, so that both sides can be framed.
const movementClear = 300 * quantity.Millimetre

// divide splits runs at movement joints.
func (w *wallLayout) divide(runs []run) []run {
	runs = w.divideAt(runs, w.structureJoints)
	return w.divideAt(runs, w.practiceJoints)
}

func (w *wallLayout) divideAt(runs []run, joints func(run) []ControlJoint) []run {
	var list []run
	for _, r := range runs {
		for _, j := range joints(r) {
			w.out.Controls = append(w.out.Controls, j)
			if j.Over == "" {
				list = append(list, run{r.from, w.movementCut(j.U.From, 1)})
				r.from = w.movementCut(j.U.To, 0)
			}
		}
		list = append(list, r)
	}
	return list
}

// practiceJoints returns where a run needs movement joints: as few as keep every
// part within the practice's length, at equal distances as far as openings and
// junctions let them. Openings up to the soffit part a run by themselves, where
// the practice lets them.
func (w *wallLayout) practiceJoints(r run) []ControlJoint {
	limit := w.pr.ControlJoint.Value
	extent := r.frameExtent(0, 0)
	if limit <= 0 || extent.Len() <= limit {
		return nil
	}
	var list []ControlJoint
	for _, part := range outside(extent, w.openToSoffit()) {
		for _, s := range w.movementJoints(part, limit) {
			list = append(list, w.jointsAt(s, fmt.Sprintf("control_joint: no more than %s mm without one", limit))...)
		}
	}
	return list
}

// jointsAt returns the joints at a place that was chosen: one, or two over a door.
func (w *wallLayout) jointsAt(s jointSpot, rule string) []ControlJoint {
	gap := w.pr.JointGap.Value
	if s.door == nil {
		return []ControlJoint{{U: geom.Interval{From: s.u - gap/2, To: s.u + gap/2}, Rule: rule}}
	}
	s.door.Joint = true
	o := s.door.U
	return []ControlJoint{
		{U: geom.Interval{From: o.From, To: o.From + gap}, Over: s.door.ID, Rule: rule},
		{U: geom.Interval{From: o.To - gap, To: o.To}, Over: s.door.ID, Rule: rule},
	}
}

// openToSoffit lists the openings from floor to soffit that serve as joints.
func (w *wallLayout) openToSoffit() []geom.Interval {
	var list []geom.Interval
	for _, o := range w.out.Openings {
		if w.pr.DoorJoint.Value != catalogue.DoorJointNone && o.framed && o.AtFloor() && w.cutsTop(o) {
			list = append(list, o.U)
		}
	}
	return list
}

// jointSpot is a place for a movement joint: a u, or a door.
type jointSpot struct {
	u    Length
	door *Opening
}

// movementJoints returns the places of the joints of a part of a run.
func (w *wallLayout) movementJoints(extent geom.Interval, limit Length) []jointSpot {
	if extent.Len() <= limit {
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
		words.F("is %s mm long and finds no places for movement joints that keep every part within the practice's %s mm", mm(extent.Len()), limit),
		"leave 600 mm between two openings near the middle, or let a full-height door frame serve as the joint")
	return us
}

// moreJoints is how many joints more than the least are tried.
const moreJoints = 4

// spread returns places for joints that divide a run into equal parts, as near
// as openings and junctions let them.
func (w *wallLayout) spread(extent geom.Interval, parts Length) []jointSpot {
	var us []jointSpot
	for i := Length(1); i < parts; i++ {
		if s, ok := w.nearestClear(extent.From+extent.Len()*i/parts, extent); ok {
			us = append(us, s)
		}
	}
	slices.SortFunc(us, func(a, b jointSpot) int { return compare(a.u, b.u) })
	return slices.Compact(us)
}

// keeps reports whether joints leave no part longer than the limit.
func keeps(extent geom.Interval, us []jointSpot, limit Length) bool {
	from := extent.From
	for _, s := range append(slices.Clone(us), jointSpot{u: extent.To}) {
		if s.u-from > limit {
			return false
		}
		from = s.u
	}
	return true
}

// nearestClear returns the place nearest to u that keeps clear of openings and
// junctions; the door in the way where the practice lets doors serve.
func (w *wallLayout) nearestClear(u Length, extent geom.Interval) (jointSpot, bool) {
	taken := []geom.Interval{widened(geom.Interval{From: extent.From, To: extent.From}, movementClear), widened(geom.Interval{From: extent.To, To: extent.To}, movementClear)}
	for i := range w.out.Openings {
		o := &w.out.Openings[i]
		span := widened(o.U, movementClear)
		if span.Contains(u) && w.servesAsJoint(o) && extent.Contains(o.U.From) && extent.Contains(o.U.To) {
			return jointSpot{(o.U.From + o.U.To) / 2, o}, true
		}
		taken = append(taken, span)
	}
	for _, t := range w.body.tees {
		taken = append(taken, widened(geom.Interval{From: t.u, To: t.u}, t.other.half+movementClear))
	}
	spots := []Length{u}
	for _, i := range taken {
		spots = append(spots, i.From, i.To)
	}
	slices.SortStableFunc(spots, func(a, b Length) int { return compare((a - u).Abs(), (b - u).Abs()) })
	for _, s := range spots {
		if extent.Contains(s) && !slices.ContainsFunc(taken, func(i geom.Interval) bool { return i.From < s && s < i.To }) {
			return jointSpot{u: s}, true
		}
	}
	return jointSpot{}, false
}

// servesAsJoint reports whether the practice lets a door serve as a joint, with
// the wall over its head parted at both its sides.
func (w *wallLayout) servesAsJoint(o *Opening) bool {
	room := 4*w.spec.Stud.Flange + 2*w.pr.JointGap.Value
	above := slices.ContainsFunc(w.out.Openings, func(p Opening) bool { return p.Sill >= o.Head && p.Bay().Overlaps(o.U) })
	return !above && w.pr.DoorJoint.Value == catalogue.DoorJointCorners && o.Kind != plan.Penetration && o.framed && o.AtFloor() &&
		!w.reachesTop(*o) && o.U.Len() >= room && o.Bay() == o.U
}

// jointBack returns by how much the frame stands back from a movement joint: where
// strips close the joint, by their lap, which leaves them room behind the boards.
func (w *wallLayout) jointBack() Length {
	if w.body.rank.fire > 0 || w.body.rank.sound > 0 {
		return backingLap + backingClear
	}
	return 0
}

// movementCut is one side of a movement joint: end 1 closes the run before it,
// end 0 opens the run after.
func (w *wallLayout) movementCut(u Length, end int) cut {
	frame := out(end, u, -w.jointBack())
	return cut{
		end: end, kind: Movement,
		frame: func(Length) Length { return frame },
		layer: func(bool, int) Length { return u },
	}
}
