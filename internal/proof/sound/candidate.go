package sound

import (
	"fmt"
	"math"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/proof/sound/band"
	"nogging/internal/proof/sound/prediction"
	"nogging/internal/quantity"
)

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
	bestSTC quantity.Decibel = 63 // Handbook of Acoustical Measurements and Noise Control, 3rd ed., table 31.2
)

// Candidate is a build-up in the terms of the prediction. Its parts are reckoned
// once and shared by any number of candidates of a search.
type Candidate struct {
	A, B   *prediction.Leaf // B is nil where one face is boarded
	Cavity *prediction.Cavity
	Studs  *prediction.Studs // nil where none touches both faces
}

// Estimate is an estimated single number, with the range in which it is expected.
type Estimate struct {
	Value, Low, High quantity.Decibel
	Model            quantity.Decibel // what the model gives, before any cap
}

// CandidateOf returns a build-up as a candidate. Its boards must be of gypsum.
func CandidateOf(b *buildup.BuildUp) Candidate {
	c := Candidate{A: Leaf(b.A)}
	if len(b.B) == 0 {
		return c
	}
	c.B = Leaf(b.B)
	c.Cavity, c.Studs = Between(b)
	return c
}

// Leaf returns the boards of one face, of which there must be one.
func Leaf(boards []*catalogue.Board) *prediction.Leaf {
	list := make([]prediction.Board, len(boards))
	for i, b := range boards {
		list[i] = prediction.Board{Mass: quantity.MassPerArea(b.Mass), Thickness: b.Thickness}
	}
	return prediction.Fitted().NewLeaf(list...)
}

// Spectrum predicts the candidate's spectrum.
func (c *Candidate) Spectrum() band.Spectrum {
	if c.B == nil {
		return prediction.Alone(c.A)
	}
	return prediction.Double(c.A, c.B, c.Cavity, c.Studs)
}

// Estimate returns what is to be expected of the candidate in the terms of what
// is asked, Rw or STC, also with a term. It allocates nothing.
func (c *Candidate) Estimate(asked quantity.SoundRating) Estimate {
	s := c.Spectrum()
	return c.estimate(&s, asked)
}

func (c *Candidate) estimate(s *band.Spectrum, asked quantity.SoundRating) Estimate {
	v, _ := rate(s, asked)
	e := Estimate{Model: v, Value: min(v, c.best(asked))}
	e.Low, e.High = e.Value-within, e.Value+within
	if c.apart() {
		e.High = e.Value + aboveIfTwin
	}
	return e
}

func (c *Candidate) apart() bool { return c.B != nil && c.Studs == nil }

// best is the highest figure that is believed.
func (c *Candidate) best(asked quantity.SoundRating) quantity.Decibel {
	switch {
	case !c.apart():
		return quantity.Decibel(math.Inf(1))
	case asked.Descriptor == quantity.LabSTC:
		return bestSTC
	}
	return bestRw
}

// Most returns a figure that the lower end of no estimate exceeds, of this
// candidate or of one that is worse: with faces, a cavity and a fill no better
// than these (see prediction.Bound and prediction.Envelope), on the same studs.
// Where it is below what is asked, a search need not look at any of them.
func (c *Candidate) Most(asked quantity.SoundRating) quantity.Decibel {
	return c.MostValue(asked) - within
}

// MostValue is as Most, for the value of an estimate in place of its lower end.
func (c *Candidate) MostValue(asked quantity.SoundRating) quantity.Decibel {
	if c.B == nil {
		return c.Estimate(asked).Value
	}
	s := prediction.Bound(c.A, c.B, c.Cavity, c.Studs)
	v, _ := rate(&s, asked)
	return min(v, c.best(asked))
}

// cavity returns the distance between the boards of both faces.
func cavity(b *buildup.BuildUp) quantity.Length {
	d := quantity.Length(b.FrameLines()) * b.FrameDepth()
	if b.Kind.Twin() {
		d += b.Gap
	}
	return d
}

// filled returns how much of the cavity is filled.
func filled(b *buildup.BuildUp) quantity.Length {
	var t quantity.Length
	for _, f := range b.Insulation {
		t += f.Thickness
	}
	return min(t, cavity(b))
}

// derivation shows what a predicted spectrum was found from.
func (c *Candidate) derivation(b *buildup.BuildUp, s *band.Spectrum) quantity.Derivation {
	d := quantity.Derivation{
		Name: "predicted sound reduction in one-third octaves", Symbol: "R", Unit: "dB", Text: spectrumText(s), Status: quantity.Estimate,
		Method: "faces by forced and free plate waves, cavity and studs as bridges, with fitted parameters (package prediction)",
		Source: "Building Acoustics (2008), equations 8.7 and 8.27", Note: "Single bands are off by 6 dB (standard deviation).",
		From: []quantity.Derivation{faceDerivation("A", b.A, c.A)},
	}
	if c.B == nil {
		return d
	}
	d.From = append(d.From, faceDerivation("B", b.B, c.B),
		quantity.Derivation{Name: "cavity", Value: cavity(b).MM(), Unit: "mm", Status: quantity.Derived, Note: "fill: " + fillText(b.Insulation)},
		quantity.Derivation{Name: "mass-air-mass resonance", Symbol: "f0", Value: float64(c.Cavity.Resonance(c.A, c.B)), Unit: "Hz", Status: quantity.Derived, Method: "60 √((m1+m2)/(m1 m2 d)), d 1.4 times as deep where filled"})
	if c.Studs != nil {
		d.From = append(d.From, quantity.Derivation{Name: "studs", Text: fmt.Sprintf("%s at %s mm, %s mm steel", b.Stud.ID, b.Spacing, b.Stud.Thickness), Status: b.Stud.Status, Source: b.Stud.Source})
	}
	return d
}

func faceDerivation(face string, boards []*catalogue.Board, l *prediction.Leaf) quantity.Derivation {
	d := quantity.Derivation{Name: "face " + face, Symbol: "m'", Value: float64(l.Mass()), Unit: "kg/m²", Status: quantity.Derived, Note: fmt.Sprintf("critical frequency %.0f Hz", l.Critical())}
	for _, b := range boards {
		d.From = append(d.From, quantity.Derivation{Name: b.ID, Value: b.Mass, Unit: "kg/m²", Source: b.Source, Status: b.Status})
	}
	return d
}
