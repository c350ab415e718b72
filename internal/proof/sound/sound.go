// Package sound proves the airborne sound insulation of walls. It takes a wall of
// the plan with its build-up and layout, and what is asked of it, and gives
// checks with the whole derivation: the wall alone, with its doors and glazing,
// and between the rooms that it separates.
//
// A test report that covers the wall (Match) decides. Without one the wall is
// estimated (package prediction), and passes only if the lower end of the range
// in which it is expected does. Ratings are those of ISO 717-1 and ASTM E413;
// between rooms by the simplified model of EN 12354-1. The methods stand in the
// packages below, one for each standard.
package sound

import (
	"cmp"
	"fmt"
	"slices"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/proof"
	"nogging/internal/proof/sound/en12354_1"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// Input is a wall with what its proof needs. Wall, Build and Laid must be there.
type Input struct {
	Plan     *plan.Plan // for rooms; nil where none are known
	Wall     *plan.Wall
	Build    *buildup.BuildUp
	Laid     *layout.Wall                       // for areas, openings and ends
	BuildOf  func(wall string) *buildup.BuildUp // of other walls, which flank this one; nil for unknown ones
	Evidence []catalogue.SoundEvidence
	Flanks   []en12354_1.Flank // given elements beside the wall; assumed from the plan if nil
	Behind   *Behind           // for a lining
}

// Prove holds a wall against the sound insulation that its plan asks for.
// Without any there is one figure that nothing was asked of.
func Prove(in Input) []proof.Check {
	text := in.Wall.Require.Sound
	if text == "" {
		return []proof.Check{in.shown(quantity.SoundRating{Descriptor: quantity.LabRw})}
	}
	asked, err := quantity.ParseSound(text)
	if err != nil {
		return []proof.Check{{Need: proof.Sound, Name: "sound insulation", Asked: text, Verdict: proof.NotProven, Missing: []string{err.Error()}}}
	}
	switch asked.Descriptor {
	case quantity.LabRw, quantity.LabSTC:
		checks := []proof.Check{in.laboratory(asked)}
		if c, ok := in.withOpenings(asked); ok {
			checks = append(checks, c)
		}
		return append(checks, in.leak(asked)...)
	case quantity.FieldRw, quantity.FieldD:
		return in.betweenRooms(asked)
	}
	return []proof.Check{{Need: proof.Sound, Name: "between rooms", Asked: asked.String(), Verdict: proof.NotProven,
		Missing: []string{"a method for " + asked.Name() + ": it is measured in the building (ASTM E336)"}}}
}

// laboratory is the check of the wall alone.
func (in *Input) laboratory(asked quantity.SoundRating) proof.Check {
	f := in.alone(asked, in.Build)
	c := f.check("the wall alone", asked)
	if c.Verdict == proof.Fails || c.Verdict == proof.NotProven {
		c.Advice = in.better(asked)
	}
	return c
}

// shown is the figure of the wall alone where nothing is asked.
func (in *Input) shown(of quantity.SoundRating) proof.Check {
	f := in.alone(of, in.Build)
	c := f.check("the wall alone", of)
	c.Asked, c.Advice = "", ""
	if c.Verdict != proof.NotProven || f.spectrum != nil {
		c.Verdict = proof.Shown
	}
	return c
}

// check holds a figure against what is asked: it passes by the lower end of its
// range, and fails by the upper one. Between them nothing is proven.
func (f *figure) check(name string, asked quantity.SoundRating) proof.Check {
	c := proof.Check{Need: proof.Sound, Name: name, Asked: asked.String(), Verdict: proof.NotProven, Missing: slices.Clone(f.missing)}
	if f.derivation.Name != "" {
		d := f.derivation
		c.Got = &d
	}
	switch least := quantity.Decibel(asked.Value); {
	case len(f.missing) > 0:
	case f.low >= least:
		c.Verdict = proof.Passes
	case f.high < least:
		c.Verdict = proof.Fails
	default:
		c.Missing = []string{fmt.Sprintf("certainty: %s lies between %.0f and %.0f dB, and %g is asked; a test report of this wall would settle it", asked.Name(), f.low, f.high, asked.Value)}
	}
	return c
}

// better says what would do: a fill, or one more layer a face.
func (in *Input) better(asked quantity.SoundRating) words.Text {
	b := in.Build
	var ways []words.Text
	try := func(change *buildup.BuildUp, how words.Text) {
		if f := in.alone(asked, change); len(f.missing) == 0 && float64(f.low) >= asked.Value {
			ways = append(ways, words.F("%s (about %s %g)", how, asked.Name(), f.value))
		}
	}
	if len(b.Insulation) == 0 && !b.Kind.OneSided() {
		filled := *b
		filled.Insulation = []buildup.Fill{{Product: &catalogue.Insulation{Material: "mineral wool"}, Thickness: b.FrameDepth()}}
		try(&filled, "mineral wool in the cavity")
	}
	if len(b.A) < mostLayers && len(b.A) > 0 {
		more := *b
		more.A = append(slices.Clone(b.A), b.A[len(b.A)-1])
		if len(b.B) > 0 {
			more.B = append(slices.Clone(b.B), b.B[len(b.B)-1])
		}
		try(&more, "one more layer a face")
	}
	return cmp.Or(words.Join(ways, ", or "), "record a test report of this wall under sound_evidence in a catalogue of your own, or take a quieter build-up")
}
