package sound

import (
	"fmt"
	"slices"
	"strings"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/plan"
	"nogging/internal/proof/sound/astm_e413"
	"nogging/internal/proof/sound/band"
	"nogging/internal/proof/sound/iso717_1"
	"nogging/internal/proof/sound/prediction"
	"nogging/internal/quantity"
)

// figure is a single number with the range in which it is expected.
type figure struct {
	value, low, high quantity.Decibel
	spectrum         *band.Spectrum // where it was predicted
	derivation       quantity.Derivation
	missing          []string // why it proves nothing, where it does not
}

// The range in which a wall is expected about a prediction. Within 4 dB lie all
// published single numbers to which the model was fitted, and two of three where
// their source was held out of the fit; frames apart may be up to 9 dB better
// than predicted (tests of package prediction).
const (
	within      quantity.Decibel = 4
	aboveIfTwin quantity.Decibel = 9
)

// The best walls on two frames that were found published; the model runs beyond.
const (
	bestRw  quantity.Decibel = 61 // DIN 4109-33:2016-07, table 2
	bestSTC quantity.Decibel = 63 // Harris (ed.), 3rd ed., table 31.2
)

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
	r, ok := iso717_1.Rate(s)
	if !ok || asked.Term == "" {
		return quantity.Decibel(r.Weighted), ok
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
	s, from := spectrum(b)
	f.spectrum = &s
	f.value, _ = rate(&s, asked)
	f.missing = beyond(b)
	above, note := within, "An estimate by a model, not a test: all published single numbers to which it was fitted lie within 4 dB, two of three that were held out."
	if b.Kind == plan.TwinIndependent {
		above = aboveIfTwin
		most := bestRw
		if asked.Descriptor == quantity.LabSTC {
			most = bestSTC
		}
		if f.value > most {
			note = fmt.Sprintf("The model gives %g dB; no published wall on two frames was found above %g dB, where sound goes round the wall. %s", f.value, most, note)
			f.value = most
		}
	}
	f.low, f.high = f.value-within, f.value+above
	f.derivation = quantity.Derivation{
		Name: "sound insulation of the wall alone", Symbol: asked.Name(), Value: float64(f.value), Unit: "dB",
		Range:  &quantity.Range{Low: float64(f.low), High: float64(f.high)},
		Method: "rating of the predicted spectrum", Source: ratingSource(asked), Status: quantity.Estimate, Note: note,
		From: []quantity.Derivation{from},
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

// cavity returns the distance between the boards of both faces.
func cavity(b *buildup.BuildUp) quantity.Length {
	d := quantity.Length(b.FrameLines()) * b.FrameDepth()
	if b.Kind.Twin() {
		d += b.Gap
	}
	return d
}

// Leaf returns the boards of one face ready for prediction.Double, for a search
// over many build-ups.
func Leaf(boards []*catalogue.Board) *prediction.Leaf {
	list := make([]prediction.Board, len(boards))
	for i, b := range boards {
		list[i] = prediction.Board{Mass: quantity.MassPerArea(b.Mass), Thickness: b.Thickness}
	}
	return prediction.Fitted().NewLeaf(list...)
}

// Cavity returns the cavity of a build-up ready for prediction.Double.
func Cavity(b *buildup.BuildUp) *prediction.Cavity {
	return prediction.Fitted().NewCavity(cavity(b), filled(b))
}

// Studs returns the studs of a build-up ready for prediction.Double, nil where
// none touches both faces.
func Studs(b *buildup.BuildUp) *prediction.Studs {
	if b.Kind == plan.TwinIndependent {
		return nil
	}
	p := prediction.Fitted()
	return p.NewStuds(b.Spacing, p.Steel(b.Stud.Thickness))
}

func filled(b *buildup.BuildUp) quantity.Length {
	var t quantity.Length
	for _, f := range b.Insulation {
		t += f.Thickness
	}
	return min(t, cavity(b))
}

// spectrum predicts the wall's spectrum and shows what it was found from.
func spectrum(b *buildup.BuildUp) (band.Spectrum, quantity.Derivation) {
	a := Leaf(b.A)
	d := quantity.Derivation{
		Name: "predicted sound reduction in one-third octaves", Symbol: "R", Unit: "dB", Status: quantity.Estimate,
		Method: "faces by Sewell and Sharp, cavity by Sharp, studs by Davy, with fitted parameters (package prediction)",
		Source: "Vigran, Building Acoustics (2008), equations 8.7 and 8.27", Note: "Single bands are off by 6 dB (standard deviation).",
	}
	var s band.Spectrum
	if b.Kind.OneSided() {
		s = prediction.Alone(a)
		d.From = []quantity.Derivation{faceDerivation("A", b.A, a)}
	} else {
		other, space := Leaf(b.B), Cavity(b)
		s = prediction.Double(a, other, space, Studs(b))
		d.From = []quantity.Derivation{
			faceDerivation("A", b.A, a), faceDerivation("B", b.B, other),
			{Name: "cavity", Value: cavity(b).MM(), Unit: "mm", Status: quantity.Derived, Note: "fill: " + fillText(b.Insulation)},
			{Name: "mass-air-mass resonance", Symbol: "f0", Value: float64(space.Resonance(a, other)), Unit: "Hz", Status: quantity.Derived, Method: "60 √((m1+m2)/(m1 m2 d)), d 1.4 times as deep where filled"},
		}
		if b.Kind != plan.TwinIndependent {
			d.From = append(d.From, quantity.Derivation{Name: "studs", Text: fmt.Sprintf("%s at %s mm, %s mm steel", b.Stud.ID, b.Spacing, b.Stud.Thickness), Status: b.Stud.Status, Source: b.Stud.Source})
		}
	}
	d.Text = spectrumText(&s)
	return s, d
}

func faceDerivation(face string, boards []*catalogue.Board, l *prediction.Leaf) quantity.Derivation {
	d := quantity.Derivation{Name: "face " + face, Symbol: "m'", Value: float64(l.Mass()), Unit: "kg/m²", Status: quantity.Derived, Note: fmt.Sprintf("critical frequency %.0f Hz", l.Critical())}
	for _, b := range boards {
		d.From = append(d.From, quantity.Derivation{Name: b.ID, Value: b.Mass, Unit: "kg/m²", Source: b.Source, Status: b.Status})
	}
	return d
}

// spectrumText writes a spectrum on one line.
func spectrumText(s *band.Spectrum) string {
	var all []string
	for i, r := range s {
		all = append(all, fmt.Sprintf("%g Hz %.1f", band.Frequency(i), r))
	}
	return strings.Join(all, ", ")
}
