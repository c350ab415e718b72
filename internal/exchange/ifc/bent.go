package ifc

import (
	"math"

	"nogging/internal/exchange/ifc/shape"
	"nogging/internal/exchange/ifc/step"
	"nogging/internal/finding"
	"nogging/internal/words"
)

// Limits of walls along bent axes.
const (
	mostPieces = 100
	nearBody   = 600 // mm beside a piece's line within which its faces lie
	sharpMitre = 3   // thicknesses by which a piece reaches past its axis at a corner
)

// readBent reads a wall whose axis has corners, or goes over from a line to an
// arc, as several walls: one for each straight or round stretch. It gives none
// where one of them cannot be read. Where the wall has no axis, the middle of its
// footprint does for it.
func (r *reader) readBent(whole *wall) []*wall {
	axis, _ := r.shape.Curve(whole.id, "Axis")
	body, _ := r.shape.Body(whole.id)
	if len(axis.Points) < 2 {
		ring, _ := shape.Footprint(body)
		middle, ok := shape.MiddleOf(ring, thickestNamed)
		if !ok {
			return nil
		}
		axis.Points = middle
		whole.makeup.usage = false // its layers count from an axis
	}
	runs := shape.RunsOf(axis, offAxis)
	if n := len(runs); n < 2 || n > mostPieces {
		return nil
	}
	pieces := make([]*wall, len(runs))
	for i, run := range runs {
		p := *whole
		p.frame, p.axis, p.doubts, p.limits = run.Frame, run.Length, nil, &[2]float64{0, run.Length}
		if r.across(&p, shape.Near(body, run.Frame, run.Length, nearBody)) != nil {
			return nil
		}
		if p.frame.Curved() {
			p.limits[1] = 2 * p.frame.Middle
		}
		pieces[i] = &p
	}
	for i := 1; i < len(pieces); i++ {
		pieces[i-1].meet(pieces[i])
	}
	if last := len(axis.Points) - 1; axis.Points[0].Sub(axis.Points[last]).Len() < offAxis {
		pieces[len(pieces)-1].meet(pieces[0])
	}
	for i, p := range pieces {
		p.further = i > 0
		if r.along(p, body, false) != nil || !p.sane() {
			return nil
		}
	}
	pieces[0].pieces = pieces
	pieces[0].doubts = append(pieces[0].doubts, whole.doubts...)
	pieces[0].doubt(finding.Note, "wall-bent", words.F("its line is bent: it is read as %d walls", len(pieces)), "")
	return pieces
}

// kinked is how far, in mm, an axis strays from the line between its ends where
// it has corners that are meant.
const kinked = 50

// bends reports whether a wall's axis has corners that are meant, or is closed.
func (w *wall) bends(axis []shape.Vec) bool {
	first, last := axis[0], axis[len(axis)-1]
	run := last.Sub(first)
	run.Z = 0
	if run.Len() < kinked {
		return true
	}
	f := shape.Frame{Origin: first, Dir: run.Times(1 / run.Len())}
	for _, p := range axis {
		if math.Abs(f.Local(p).Y) > kinked {
			return true
		}
	}
	return false
}

// meet lets two straight pieces end where their lines meet.
func (w *wall) meet(next *wall) {
	a, b := w.frame, next.frame
	sine := a.Dir.Cross(b.Dir).Z
	if a.Curved() || b.Curved() || math.Abs(sine) < 0.05 {
		return
	}
	d := b.Origin.Sub(a.Origin)
	u, v := d.Cross(b.Dir).Z/sine, d.Cross(a.Dir).Z/sine
	if reach := sharpMitre * w.thickness; math.Abs(u-w.limits[1]) < reach && math.Abs(v-next.limits[0]) < reach {
		w.limits[1], next.limits[0] = u, v
	}
}

// best returns the wall in which most of an opening lies, nil where it lies in
// none.
func (r *reader) best(opening step.ID, walls []*wall) *wall {
	var best *wall
	most := 0.0
	body, _ := r.shape.Body(opening)
	for _, w := range walls {
		if w == nil || len(body) == 0 {
			continue
		}
		v := r.void(w, body)
		if covers := v.rect.overlap(rect{0, w.length, 0, w.height()}); w.cuts(v.box) > 0 && covers > most {
			best, most = w, covers
		}
	}
	return best
}
