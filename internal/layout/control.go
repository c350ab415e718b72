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

// structureJoints returns where joints of the structure cross a run, from its
// start on.
func (w *wallLayout) structureJoints(r run) []ControlJoint {
	var list []ControlJoint
	extent := r.inner()
	for i := range w.body.level.MovementJoints {
		m := &w.body.level.MovementJoints[i]
		if !m.Usable() {
			continue // the plan's own check has said so
		}
		for _, span := range w.crossedBy(m) {
			if u := (span.From + span.To) / 2; u > extent.From && u < extent.To && w.canPart(span, extent, i) {
				list = append(list, ControlJoint{U: span, Rule: fmt.Sprintf("movement joint %d of the structure", i+1)})
			}
		}
	}
	slices.SortFunc(list, func(a, b ControlJoint) int { return compare(a.U.From, b.U.From) })
	return slices.CompactFunc(list, func(a, b ControlJoint) bool { return b.U.From < a.U.To })
}

// widthOf returns the width of a joint of the structure.
func (w *wallLayout) widthOf(m *plan.MovementJoint) Length {
	if m.Width > 0 {
		return m.Width
	}
	return w.pr.JointGap.Value
}

// crossedBy lists the stretches of the wall's axis over a joint of the structure.
func (w *wallLayout) crossedBy(m *plan.MovementJoint) []geom.Interval {
	line := geom.Segment{A: geom.Point(m.Line[0]), B: geom.Point(m.Line[1])}
	f, l, h := geom.FrameOf(line), line.Length(), w.widthOf(m)/2
	x := solid{outline: geom.Polygon{f.Global(0, -h), f.Global(l, -h), f.Global(l, h), f.Global(0, h)}}
	return x.inside(w.body, 0)
}

// slantMost is how many times as long as the joint is wide the stretch over it
// may be: at 30 degrees to the joint and less, the wall runs along it.
const slantMost = 2

// canPart reports whether a wall can be parted over a joint of the structure, and
// says why not.
func (w *wallLayout) canPart(span, extent geom.Interval, i int) bool {
	name := fmt.Sprintf("movement joint %d of level %s", i+1, w.body.level.ID)
	if span.Len() > slantMost*w.widthOf(&w.body.level.MovementJoints[i]) {
		w.find(finding.Warning, "wall-on-joint",
			words.F("runs along %s for %s mm, from %s mm on: its tracks would be fixed on both sides of it", name, mm(span.Len()), mm(span.From)),
			"move the wall off the joint, or fix it on one side only by a detail of the structural designer")
		return false
	}
	flange := w.spec.Stud.Flange + w.jointBack()
	for _, o := range w.out.Openings {
		if !o.framed || !widened(o.Bay(), 2*flange).Overlaps(span) {
			continue
		}
		if o.AtFloor() && w.cutsTop(o) && o.U.From <= span.From && span.To <= o.U.To {
			return false // the opening parts the wall
		}
		by := min(span.To+2*flange-o.Bay().From, o.Bay().To+2*flange-span.From)
		w.findOpening(o, finding.Warning, "opening-on-joint",
			words.F("stands over %s, at %s mm from the wall's start: its frame would tie both sides together", name, mm((span.From+span.To)/2)),
			words.F("move it by %s mm, or make it as high as the wall so that it parts it", mm(by)))
		return false
	}
	if least := min(span.From-extent.From, extent.To-span.To); least < flange {
		w.find(finding.Warning, "joint-at-end",
			words.F("%s crosses it %s mm from an end of its frame, which leaves no room for a stud of %s mm", name, mm(max(least, 0)), w.spec.Stud.Flange),
			"end the wall at the joint, or let what it meets there stand on the same side")
		return false
	}
	return true
}

// widened returns a stretch with d more at both ends.
func widened(i geom.Interval, d Length) geom.Interval {
	return geom.Interval{From: i.From - d, To: i.To + d}
}

// overHeads lists the gaps of the joints over the heads of openings.
func (w *wallLayout) overHeads() []geom.Interval {
	var list []geom.Interval
	for _, c := range w.out.Controls {
		if c.Over != "" {
			list = append(list, c.U)
		}
	}
	return list
}

const (
	useBacking = "joint backing"
	// UseControlJoint is the use of beads and sealant in a movement joint.
	UseControlJoint = "control joint"
	// backingLap is how far a strip behind a movement joint laps the boards on
	// each side (common practice: a stud's flange).
	backingLap = 50 * quantity.Millimetre
	// backingClear is left between such a strip and the studs on both sides.
	backingClear = 5 * quantity.Millimetre
)

// closeControls finishes the movement joints: beads on both faces, and where the
// wall is asked to resist fire or sound, strips of the face's boards behind the
// gap, fixed on one side only, and sealant in it (common practice; a tested
// detail decides).
func (w *wallLayout) closeControls() {
	slices.SortStableFunc(w.out.Controls, func(a, b ControlJoint) int { return compare(a.U.From, b.U.From) })
	for i := range w.out.Controls {
		for j := range w.out.Faces {
			w.closeControl(&w.out.Controls[i], &w.out.Faces[j])
		}
	}
}

func (w *wallLayout) closeControl(c *ControlJoint, face *FaceLayout) {
	outer := &face.Layers[len(face.Layers)-1]
	bottom := outer.Bottom
	if i := slices.IndexFunc(w.out.Openings, func(o Opening) bool { return o.ID == c.Over }); i >= 0 && c.Over != "" {
		bottom = w.out.Openings[i].Head
	}
	from, to := geom.Pt(c.U.From, bottom), geom.Pt(c.U.From, outer.Top.Before(c.U.From))
	if from.Y >= to.Y {
		return
	}
	w.bead(UseControlJoint, face.Face, from, to)
	use := ""
	switch {
	case w.body.rank.fire > 0:
		use = "fire"
	case w.body.rank.sound > 0:
		use = "acoustic"
	default:
		return
	}
	if over := w.stripsDepth() - w.spec.FrameDepth(); over > 0 && face == &w.out.Faces[0] {
		w.find(finding.Warning, "joint-strips-too-thick",
			words.F("the strips behind its movement joint at %s mm are %s mm thicker together than its frame is deep", mm(c.U.From), mm(over)),
			"take a deeper frame, or close the joint as its test evidence shows")
	}
	for _, l := range face.Layers {
		w.backingStrip(l.Board, from, c.U.Len()+2*backingLap, to.Y-from.Y)
	}
	if p, ok := w.cat.SundryFor(catalogue.KindSealant, use, w.pr); ok {
		w.out.Seals = append(w.out.Seals, Strip{Product: p.ID, Use: UseControlJoint, Line: -1, From: from, To: to})
	}
}

// stripsDepth returns the thickness of the strips behind a movement joint that lie in
// one frame: of both faces, or of the thicker where each has a frame of its own.
func (w *wallLayout) stripsDepth() Length {
	a, b := w.spec.BoardsThickness(plan.FaceA), w.spec.BoardsThickness(plan.FaceB)
	if w.spec.Kind.Twin() {
		return max(a, b)
	}
	return a + b
}

// backingStrip adds a strip behind a joint; its screws hold it on one side.
func (w *wallLayout) backingStrip(board string, at geom.Point, width, height Length) {
	before := len(w.out.Screws)
	w.strip(board, useBacking, at, width, height, 0)
	for i := before; i < len(w.out.Screws); i++ {
		w.out.Screws[i].Count /= 2
	}
}
