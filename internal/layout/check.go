package layout

import (
	"fmt"

	"nogging/internal/finding"
	"nogging/internal/words"
)

// checkOpenings tells of openings that leave no room for a jamb at the end of
// the frame, and of openings that no stretch of frame holds.
func (w *wallLayout) checkOpenings() {
	for _, o := range w.out.Openings {
		if !o.framed {
			continue
		}
		jamb := o.stud.Flange
		room, held := w.roomBeside(o)
		switch {
		case !held:
			w.findOpening(o, finding.Error, "opening-beyond-frame", "reaches beyond the frame, where another wall or structure stands; its frame is left out",
				"move it, or check what the wall meets there")
		case room < jamb:
			where := fmt.Sprintf("is only %s mm from the end of the frame", mm(room))
			if room < 0 {
				where = fmt.Sprintf("reaches %s mm beyond the end of the frame", mm(-room))
			}
			w.findOpening(o, finding.Warning, "opening-at-end",
				words.F("%s; its jamb needs %s mm and narrows the opening", where, jamb),
				words.F("move it by %s mm", mm(jamb-room)))
		}
	}
}

func (w *wallLayout) findOpening(o Opening, s finding.Severity, code string, what, fix words.Text) {
	w.out.Findings.Add(finding.Finding{Code: code, Severity: s, Object: o.ID, What: what, Fix: fix})
}

// roomBeside returns the least distance from an opening's sides to the end of
// a frame line that holds it.
func (w *wallLayout) roomBeside(o Opening) (room Length, held bool) {
	for _, l := range w.out.FrameLines {
		if !l.holds(o) {
			continue
		}
		beside := min(o.Bay().From-l.Extent.From, l.Extent.To-o.Bay().To)
		if !held || beside < room {
			room = beside
		}
		held = true
	}
	return room, held
}

// checkTees tells of walls that stand against this one where it has an opening
// and so nothing to hold them.
func (w *wallLayout) checkTees() {
	for _, t := range w.body.tees {
		for _, o := range w.out.Openings {
			bay := o.Bay()
			left, right := t.u+t.other.half-bay.From, bay.To-t.u+t.other.half // how far the wall reaches in from either side
			if !o.framed || left <= 0 || right <= 0 {
				continue
			}
			what := "opening " + o.ID
			if o.Pocket != nil && (o.U.From >= t.u+t.other.half || o.U.To <= t.u-t.other.half) {
				what = "the pocket of " + o.ID
			}
			by, to := right, "end"
			if left < right {
				by, to = left, "start"
			}
			w.out.Findings.Add(finding.Finding{
				Code: "tee-at-opening", Severity: finding.Warning, Object: t.other.wall.ID,
				What: words.F("stands against %s where that has %s, and %s mm into it: no stud can hold it there", w.body.wall.ID, what, mm(min(by, 2*t.other.half))),
				Fix:  words.F("move the wall by %s mm or more towards the %s of %s, or the opening the other way", mm(by+o.stud.Flange), to, w.body.wall.ID),
			})
		}
	}
}
