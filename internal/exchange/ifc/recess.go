package ifc

import (
	"slices"

	"nogging/internal/exchange/ifc/shape"
	"nogging/internal/finding"
	"nogging/internal/words"
)

// cutFaces cuts a wall's body just inside its two faces. It finds where the
// wall's ends reach farthest, which at a mitred corner is at one of its faces,
// and takes the holes that do not go through out of its elevation.
func (r *reader) cutFaces(w *wall, body []*shape.Solid) {
	inside := w.thickness/2 - justInside
	var faces []shape.Section
	for _, v := range []float64{-inside, inside} {
		section, err := r.cut(w, body, v)
		if err != nil || len(section) == 0 {
			continue
		}
		w.ends[0], w.ends[1] = min(w.ends[0], section[0].From), max(w.ends[1], section[len(section)-1].To)
		faces = append(faces, section)
	}
	w.dropRecesses(faces)
}

// dropRecesses tells of holes that are open on one side of the wall only.
func (w *wall) dropRecesses(faces []shape.Section) {
	var recesses []rect
	e := w.elevation
	e.holes = slices.DeleteFunc(e.holes, func(h rect) bool {
		closed := slices.ContainsFunc(faces, func(face shape.Section) bool { return filled(face, h) > h.area()/2 })
		if closed {
			recesses = append(recesses, h)
		}
		return closed
	})
	for _, face := range faces {
		cut := elevationOf(face)
		for _, h := range cut.holes {
			overlaps := func(o rect) bool { return o.overlap(h) > h.area()/2 }
			if !slices.ContainsFunc(e.holes, overlaps) && !slices.ContainsFunc(recesses, overlaps) {
				recesses = append(recesses, h)
			}
		}
	}
	for _, h := range recesses {
		if h.atLeast(smallest) {
			w.doubt(finding.Note, "wall-recess", words.F("its body has a recess %.0f mm wide and %.0f mm high, %.0f mm from its start and %.0f mm above its foot: the plan has no recesses",
				h.width(), h.height(), h.u0-e.from, h.z0-e.foot), "frame the recess by hand, or make the wall thicker there")
		}
	}
}

// filled returns the area of a rectangle that a section fills.
func filled(section shape.Section, h rect) float64 {
	area := 0.0
	for _, s := range section {
		for _, span := range s.Spans {
			area += h.overlap(rect{s.From, s.To, (span.Lo[0] + span.Lo[1]) / 2, (span.Hi[0] + span.Hi[1]) / 2})
		}
	}
	return area
}
