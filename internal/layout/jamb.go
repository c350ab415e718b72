package layout

import (
	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/words"
)

// jambStud returns the profile of which a row of the jamb rule makes jambs, and
// how in words.
func (w *wallLayout) jambStud(row catalogue.JambRule) (*catalogue.Profile, string) {
	if row.Jamb == catalogue.JambOpeningStud {
		return w.spec.OpeningStud, row.Jamb.Words()
	}
	stud := w.cat.StudAtLeast(w.spec.Stud, row.Sheet)
	if stud == w.spec.Stud {
		return stud, row.Jamb.Words()
	}
	return stud, row.Jamb.Words() + ", " + stud.ID
}

// checkLeaf tells of a leaf heavier than the opening studs of the wall's frame
// carry, and of the frame that carries it.
func (w *wallLayout) checkLeaf(o *plan.Opening, id string, jamb catalogue.Jamb) {
	most := w.pr.HeaviestLeaf(w.spec.FrameDepth())
	if jamb != catalogue.JambOpeningStud || o.LeafMass <= most {
		return
	}
	fix := words.Text("have the jambs proofed by an engineer")
	if depth, ok := w.pr.DepthForLeaf(o.LeafMass); ok {
		fix = words.F("take a frame %s mm deep or more, or %s", mm(depth), fix)
	}
	w.out.Findings.Add(finding.Finding{
		Code: "leaf-too-heavy", Severity: finding.Warning, Object: id,
		What: words.F("the leaf of %g kg is %g kg heavier than opening studs of a frame %s mm deep carry", o.LeafMass, o.LeafMass-most, mm(w.spec.FrameDepth())),
		Fix:  fix,
	})
}

// stiffer reports whether the jamb a is stiffer than b: of thicker sheet, or
// boxed of the same.
func stiffer(a, b upright) bool {
	if a.made.Thickness != b.made.Thickness {
		return a.made.Thickness > b.made.Thickness
	}
	return a.boxed && !b.boxed
}

// checkNeighbours tells of openings with too little between them for the jamb
// that they share, and of doors too near to a wall that stands beside them.
func (w *wallLayout) checkNeighbours() {
	var last *Opening
	for i := range w.out.Openings {
		o := &w.out.Openings[i]
		if !o.framed {
			continue
		}
		if last != nil {
			w.checkBetween(last, o)
		}
		if last == nil || o.Bay().To > last.Bay().To {
			last = o
		}
		for j := range w.out.Openings[:i] {
			w.checkAbove(&w.out.Openings[j], o)
		}
		w.checkBeside(o)
	}
}

// checkBetween tells of two openings side by side with less between them than
// one jamb.
func (w *wallLayout) checkBetween(a, b *Opening) {
	jamb := max(a.stud.Flange, b.stud.Flange)
	gap := b.Bay().From - a.Bay().To
	if gap >= jamb || gap < 0 { // openings that overlap are told of by the check of the plan
		return
	}
	w.findOpening(*b, finding.Warning, "openings-too-close",
		words.F("is only %s mm from %s; the jamb that they share needs %s mm", mm(gap), a.ID, mm(jamb)), words.F("move it by %s mm", mm(jamb-gap)))
}

// checkAbove tells of two openings above one another with less between them than the
// sill of the one and the header of the other.
func (w *wallLayout) checkAbove(a, b *Opening) {
	if a.Sill > b.Sill {
		a, b = b, a
	}
	need, gap := 2*w.spec.Track.Flange, b.Sill-a.Top()
	if !a.framed || gap >= need || !a.Bay().Overlaps(b.Bay()) || b.Sill < a.Head {
		return
	}
	w.findOpening(*b, finding.Warning, "openings-too-close",
		words.F("is only %s mm above the header of %s; header and sill need %s mm", mm(max(gap, 0)), a.ID, mm(need)), words.F("raise it by %s mm", mm(need-gap)))
}

// checkBeside tells of a door that opens against a wall beside it.
func (w *wallLayout) checkBeside(o *Opening) {
	if o.Kind != plan.Door {
		return
	}
	clear := w.pr.DoorClear.Value
	for _, t := range w.body.tees {
		us := w.body.contacts(t)
		low, high := us[0]-t.other.half, us[len(us)-1]+t.other.half
		if len(us) > 1 {
			low, high = min(us[0], us[1]), max(us[0], us[1])
			low, high = (low+high)/2-t.other.half, (low+high)/2+t.other.half
		}
		room := max(low-o.U.To, o.U.From-high)
		if room < 0 || room >= clear {
			continue // in the opening is told of elsewhere
		}
		w.findOpening(*o, finding.Warning, "door-at-junction",
			words.F("is %s mm from the face of wall %s; frame and architrave need %s mm", mm(room), t.other.wall.ID, mm(clear)),
			words.F("move it by %s mm", mm(clear-room)))
	}
}
