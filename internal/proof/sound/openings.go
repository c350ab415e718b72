package sound

import (
	"fmt"

	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/proof"
	"nogging/internal/proof/sound/composite"
	"nogging/internal/quantity"
)

// withOpenings is the wall with its doors and glazing; false where it has none.
// Whoever asks for Rw or STC asks it of the wall, so that this is only shown.
func (in *Input) withOpenings(asked quantity.SoundRating) (proof.Check, bool) {
	whole := geom.Interval{From: 0, To: in.Wall.Length()}
	if len(in.openings(whole)) == 0 {
		return proof.Check{}, false
	}
	f := in.direct(asked, whole)
	c := f.check("with its openings", asked)
	c.Asked = ""
	if c.Got != nil && len(c.Got.From) > 0 {
		c.Got.From[0] = shallow(c.Got.From[0])
	}
	if len(f.missing) == 0 {
		c.Verdict, c.Missing = proof.Shown, nil
	}
	return c, true
}

// shallow leaves out what a figure was found from, where it stands in another
// check of the same wall.
func shallow(d quantity.Derivation) quantity.Derivation {
	d.From = nil
	return d
}

// openings lists what is in a stretch of the wall and lets sound through in its
// own way. Sealed penetrations count as wall.
func (in *Input) openings(along geom.Interval) []*layout.Opening {
	var list []*layout.Opening
	for i := range in.Laid.Openings {
		if o := &in.Laid.Openings[i]; o.Kind != plan.Penetration && o.U.Overlaps(along) {
			list = append(list, o)
		}
	}
	return list
}

// direct returns the figure of a stretch of the wall with its openings.
func (in *Input) direct(asked quantity.SoundRating, along geom.Interval) figure {
	f := in.alone(asked, in.Build)
	openings := in.openings(along)
	if len(openings) == 0 {
		return f
	}
	parts := []composite.Part{{Area: in.area(along), Reduction: f.value}}
	d := quantity.Derivation{
		Name: "sound insulation with openings", Symbol: asked.Name(), Unit: "dB", Source: composite.Source, Status: quantity.Derived,
		Method: "-10 lg (Σ S 10^(-R/10) / Σ S)", From: []quantity.Derivation{f.derivation},
	}
	for _, o := range openings {
		area := quantity.Area((min(o.U.To, along.To) - max(o.U.From, along.From)).MM() * (o.Head - o.Sill).MM())
		r, missing := opening(o, asked)
		if missing != "" {
			f.missing = append(f.missing, missing)
			continue
		}
		parts[0].Area -= area
		parts = append(parts, composite.Part{Area: area, Reduction: r})
		d.From = append(d.From, quantity.Derivation{Name: string(o.Kind) + " " + o.ID, Symbol: asked.Name(), Value: float64(r), Unit: "dB", Status: quantity.Entered, Note: fmt.Sprintf("%.2f m²", area.SquareMetres())})
	}
	if len(f.missing) > 0 || parts[0].Area <= 0 {
		return f
	}
	for i := 1; i < len(parts); i++ {
		d.From[i].Note += fmt.Sprintf("; it costs %.1f dB", composite.Cost(i, parts...))
	}
	with := func(wall quantity.Decibel) quantity.Decibel {
		parts[0].Reduction = wall
		return composite.Reduction(parts...)
	}
	f.low, f.high, f.value = with(f.low), with(f.high), with(f.value)
	d.Value, d.Range = float64(f.value), &quantity.Range{Low: float64(f.low), High: float64(f.high)}
	f.derivation = d
	return f
}

// opening returns the reduction of an opening in the terms of what is asked, or
// says what is missing.
func opening(o *layout.Opening, asked quantity.SoundRating) (quantity.Decibel, string) {
	if o.Kind == plan.Bare {
		return 0, ""
	}
	if r, err := quantity.ParseSound(o.Sound); err == nil && r.Name() == asked.Name() {
		return quantity.Decibel(r.Value), ""
	}
	return 0, fmt.Sprintf("%s of %s %s: write it as sound: %s …", asked.Name(), o.Kind, o.ID, asked.Name())
}

// area returns the area of a stretch of the wall.
func (in *Input) area(along geom.Interval) quantity.Area {
	var sum float64
	const steps = 16 // soffits slope or step
	for i := range steps {
		u := along.From + (along.Len()*quantity.Length(2*i+1))/(2*steps)
		sum += in.Laid.Top.After(u).MM()
	}
	return quantity.Area(along.Len().MM() * sum / steps)
}

// leakWidth is the gap of the leak that is shown.
const leakWidth = quantity.Millimetre

// leak shows what a gap of 1 mm along floor and soffit would cost, where the
// wall's spectrum was predicted.
func (in *Input) leak(asked quantity.SoundRating) []proof.Check {
	f := predicted(asked, in.Build)
	if f.spectrum == nil || in.Build.Kind.OneSided() {
		return nil
	}
	whole := geom.Interval{From: 0, To: in.Wall.Length()}
	s := composite.Leaking(f.spectrum, in.area(whole), 2*whole.Len(), leakWidth, in.Build.Thickness, composite.AlongEdge)
	leaking, ok := rate(&s, asked)
	if !ok {
		return nil
	}
	return []proof.Check{{Need: proof.Sound, Name: "with a gap of 1 mm along floor and soffit", Verdict: proof.Shown, Got: &quantity.Derivation{
		Name: "sound insulation of the wall where it is not sealed", Symbol: asked.Name(), Value: float64(leaking), Unit: "dB",
		Method: "slit along an edge", Source: "Sound Insulation (2007), equation 4.99", Status: quantity.Estimate,
		Note: fmt.Sprintf("%g dB below the tight wall; narrower gaps cost less", f.value-leaking), From: []quantity.Derivation{shallow(f.derivation)},
	}}}
}
