package sound

import (
	"slices"
	"strings"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/plan"
	"nogging/internal/proof/sound/prediction"
	"nogging/internal/quantity"
)

// MostLayers is the greatest number of layers on a face against which the
// prediction was held.
const MostLayers = mostLayers

// Between reckons what lies between the faces of a build-up that has two: the
// cavity, and the studs where any touches both. They may be shared by all
// candidates with this frame.
func Between(b *buildup.BuildUp) (*prediction.Cavity, *prediction.Studs) {
	p := prediction.Fitted()
	c := p.NewCavity(cavity(b), filled(b))
	if b.Kind == plan.TwinIndependent {
		return c, nil
	}
	return c, p.NewStuds(b.Spacing, p.Steel(b.Stud.Thickness))
}

// Unknown lists what the prediction needs of a build-up and the catalogue does
// not know; nothing is predicted then.
func Unknown(b *buildup.BuildUp) []string { return unknown(b) }

// Beyond lists in what a build-up lies outside of all published figures that the
// prediction was held against; a prediction proves nothing then.
func Beyond(b *buildup.BuildUp) []string { return beyond(b) }

// Test is a test report with its figure in the terms of what is asked.
type Test struct {
	Evidence *catalogue.SoundEvidence
	Value    quantity.Decibel
}

// Tests lists the reports that tell of what is asked, in their order.
func Tests(asked quantity.SoundRating, records []catalogue.SoundEvidence) []Test {
	var list []Test
	for i := range records {
		if v, ok := resultOf(&records[i], asked); ok {
			list = append(list, Test{&records[i], v})
		}
	}
	return list
}

// Frame reports whether a build-up is inside the report in all that is not a face.
func (t Test) Frame(b *buildup.BuildUp) bool {
	return !slices.ContainsFunc(match(t.Evidence, b, 0), func(p Point) bool {
		return !p.Inside && !strings.HasPrefix(p.About, "boards of face")
	})
}

// Face reports whether boards are no worse than those of one face of the report:
// 0 for A, 1 for B. A wall is inside with its faces as they are, or turned.
func (t Test) Face(side int, boards []*catalogue.Board) bool {
	return covers(t.Evidence.Face(side), boards)
}
