package sound

import (
	"fmt"
	"slices"
	"strings"

	"nogging/internal/buildup"
	"nogging/internal/plan"
	"nogging/internal/proof/sound/astm_e413"
	"nogging/internal/proof/sound/band"
	"nogging/internal/proof/sound/iso717_1"
	"nogging/internal/quantity"
)

// figure is a single number with the range in which it is expected.
type figure struct {
	value, low, high quantity.Decibel
	spectrum         *band.Spectrum // where it was predicted
	derivation       quantity.Derivation
	missing          []string // why it proves nothing, where it does not
}

// Limits of what the prediction was held against.
const (
	mostLayers    = 2
	leastCavity   = 45 * quantity.Millimetre
	deepestSingle = 150 * quantity.Millimetre
	deepestTwin   = 250 * quantity.Millimetre
)

// gypsum are the standards of the boards that the prediction knows.
var gypsum = []string{"EN 520", "ASTM C1396"}

// rate rates a spectrum in the terms of what is asked.
func rate(s *band.Spectrum, asked quantity.SoundRating) (quantity.Decibel, bool) {
	if asked.Descriptor == quantity.LabSTC {
		r, ok := astm_e413.Rate(s)
		return quantity.Decibel(r.STC), ok
	}
	if asked.Term == "" {
		return quantity.Decibel(iso717_1.Weighted(s)), s.Known(band.Hz100, band.Hz3150)
	}
	r, ok := iso717_1.Rate(s)
	if !ok {
		return 0, false
	}
	for _, t := range iso717_1.Terms() {
		if t.String() == asked.Term {
			c, known := r.Term(t)
			return quantity.Decibel(r.Weighted + c), known
		}
	}
	return 0, false
}

// alone returns the figure of the wall itself, as a laboratory would find it: of
// a test report where one covers the wall, else by prediction.
func (in *Input) alone(asked quantity.SoundRating, b *buildup.BuildUp) figure {
	if f := tested(asked, b, in.Evidence); f != nil {
		return *f
	}
	if b.Kind == plan.Lining {
		return in.lined(asked, b)
	}
	return predicted(asked, b)
}

// predicted estimates the figure of a wall from what it is made of.
func predicted(asked quantity.SoundRating, b *buildup.BuildUp) figure {
	f := figure{missing: unknown(b)}
	if len(f.missing) > 0 {
		return f
	}
	c := CandidateOf(b)
	s := c.Spectrum()
	e := c.estimate(&s, asked)
	f.spectrum, f.value, f.low, f.high = &s, e.Value, e.Low, e.High
	f.missing = beyond(b)
	note := "An estimate by a model, not a test: all published single numbers to which it was fitted lie within 4 dB, two of three that were held out."
	if e.Model > e.Value {
		note = fmt.Sprintf("The model gives %g dB; no published wall on two frames was found above %g dB, where sound goes round the wall. %s", e.Model, e.Value, note)
	}
	f.derivation = quantity.Derivation{
		Name: "sound insulation of the wall alone", Symbol: asked.Name(), Value: float64(f.value), Unit: "dB",
		Range:  &quantity.Range{Low: float64(f.low), High: float64(f.high)},
		Method: "rating of the predicted spectrum", Source: ratingSource(asked), Status: quantity.Estimate, Note: note,
		From: []quantity.Derivation{c.derivation(b, &s)},
	}
	return f
}

func ratingSource(asked quantity.SoundRating) string {
	if asked.Descriptor == quantity.LabSTC {
		return astm_e413.Source
	}
	return iso717_1.Source
}

// unknown lists what the model needs and the catalogue does not know.
func unknown(b *buildup.BuildUp) []string {
	var list []string
	for _, board := range slices.Concat(b.A, b.B) {
		text := fmt.Sprintf("critical frequency of %s (%s): the model knows gypsum boards of EN 520 and ASTM C1396", board.ID, board.Standard)
		if !slices.Contains(gypsum, board.Standard) && !slices.Contains(list, text) {
			list = append(list, text)
		}
	}
	for _, f := range b.Insulation {
		if !strings.HasSuffix(f.Product.Material, "wool") {
			list = append(list, fmt.Sprintf("how %s (%s) absorbs sound: the model knows mineral wool", f.Product.ID, f.Product.Material))
		}
	}
	return list
}

// beyond lists in what a wall lies outside of all published figures that the
// model was held against.
func beyond(b *buildup.BuildUp) []string {
	var list []string
	most := deepestSingle
	if b.Kind.Twin() {
		most = deepestTwin
	}
	if n := max(len(b.A), len(b.B)); n > mostLayers {
		list = append(list, fmt.Sprintf("test evidence for %d layers a face: the estimate was held against walls of up to %d", n, mostLayers))
	}
	if d := cavity(b); !b.Kind.OneSided() && (d < leastCavity || d > most) {
		list = append(list, fmt.Sprintf("test evidence for a cavity of %s mm: the estimate was held against %s to %s mm", d, leastCavity, most))
	}
	switch b.Kind {
	case plan.TwinBraced:
		list = append(list, "test evidence for two frames tied by gussets: the estimate takes them for one frame")
	case plan.Shaft:
		list = append(list, "test evidence for a wall boarded on one face: the estimate is of its boards alone")
	}
	return list
}

// spectrumText writes a spectrum on one line.
func spectrumText(s *band.Spectrum) string {
	var all []string
	for i, r := range s {
		all = append(all, fmt.Sprintf("%g Hz %.1f", band.Frequency(i), r))
	}
	return strings.Join(all, ", ")
}
