package sheets

import (
	"fmt"
	"strings"

	"nogging/internal/layout"
)

// footNotes says what the wall stands on, in which order that is built, and how
// the edges of wet floors are sealed.
func (s *Set) footNotes(w *layout.Wall) []string {
	var out []string
	if w.Base < 0 {
		out = append(out, fmt.Sprintf("The wall stands on the slab, %s under the floor; heights are measured from the floor.", s.units.dim(-w.Base)))
	}
	out = append(out, w.Foot.Order...)
	for _, e := range w.Foot.Wet {
		out = append(out, fmt.Sprintf("Face %s, water action class %s: the edge of the floor is sealed to %s above it (common practice; DIN 18534-1 decides).",
			strings.ToUpper(string(e.Face)), e.Class, s.units.dim(e.Height)))
	}
	return out
}
