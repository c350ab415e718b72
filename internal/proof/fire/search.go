package fire

import (
	"slices"
	"strings"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
)

// FaceInside reports whether the boards of one face, 0 for A and 1 for B, with
// the screws of each layer, are inside what a document covers.
func FaceInside(e *catalogue.FireEvidence, side int, boards []*catalogue.Board, screws []Length) bool {
	covered := e.Face(side)
	if len(boards) < len(covered) {
		return false
	}
	outer := boards[len(boards)-len(covered):]
	for k, want := range covered {
		if !suits(want, outer[k]) {
			return false
		}
	}
	for k, most := range e.Screws {
		if len(screws) >= len(e.Screws) && most > 0 && screws[len(screws)-len(e.Screws)+k] > most {
			return false
		}
	}
	return true
}

// FillInside reports whether one of the fills of a cavity is inside what a
// document covers.
func FillInside(e *catalogue.FireEvidence, fills []buildup.Fill) bool {
	if len(e.Fill) == 0 {
		return true
	}
	return slices.ContainsFunc(e.Fill, func(want catalogue.FireFill) bool {
		return slices.ContainsFunc(fills, func(has buildup.Fill) bool { return filled(want, has) })
	})
}

// FrameStanding says how a wall stands to a document in all that is neither face
// nor fill: Outside where any point is, else Unstated where any is open.
func FrameStanding(e *catalogue.FireEvidence, f Facts) Standing {
	standing := Inside
	for _, p := range Match(e, f) {
		switch {
		case p.About == "fill" || strings.HasPrefix(p.About, "face ") || strings.HasPrefix(p.About, "screws of face"):
		case p.Standing == Outside:
			return Outside
		case p.Standing == Unstated:
			standing = Unstated
		}
	}
	return standing
}
