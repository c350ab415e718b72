package sheets

import (
	"fmt"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/layout"
	"nogging/internal/plan"
)

// drawThings shows on a frame what is let into or hung on the faces that it
// carries, and returns what has to be marked.
func (f *framing) drawThings(s *drawing.Scene, placer *drawing.Placer) []thing {
	var marked []thing
	for _, x := range f.set.things(f.wall) {
		if x.face == "" || !f.carries(x.face) {
			continue
		}
		if x.gangs > 0 && f.drawBox(s, x, placer) || x.gangs == 0 && f.drawFixing(s, x, placer) {
			marked = append(marked, x)
		}
	}
	return marked
}

// carries reports whether the boards of a face stand on the plane.
func (f *framing) carries(face plan.Face) bool {
	return near(f.wall, face).offset == f.plane.offset && boardedOn(f.wall, face)
}

func boardedOn(w *layout.Wall, face plan.Face) bool {
	for i := range w.Faces {
		if w.Faces[i].Face == face {
			return true
		}
	}
	return false
}

// placeOf writes a thing's mark with its face, its distance from the start of the
// track and its height.
func (f *framing) placeOf(x thing) string {
	u := f.set.units
	return fmt.Sprintf("%s %s  %s, h %s", x.mark, strings.ToUpper(string(x.face)), u.span(x.from-f.datum, x.to-f.datum), u.span(x.lo, x.hi))
}
