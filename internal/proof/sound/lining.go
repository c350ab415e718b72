package sound

import (
	"nogging/internal/buildup"
	"nogging/internal/proof/sound/iso12354_1"
	"nogging/internal/quantity"
)

// Behind is the wall behind a lining.
type Behind struct {
	Rw     quantity.Decibel
	Mass   quantity.MassPerArea
	Source string // where these come from
}

// lined reckons a lining with the wall behind it.
func (in *Input) lined(asked quantity.SoundRating, b *buildup.BuildUp) figure {
	f := figure{missing: unknown(b)}
	switch {
	case asked.Name() != string(quantity.LabRw):
		f.missing = append(f.missing, "a method for "+asked.Name()+" of linings: ISO 12354-1 has one for Rw")
	case in.Behind == nil:
		f.missing = append(f.missing, "the wall behind the lining: its Rw and its mass per m²")
	case len(b.Insulation) == 0:
		f.missing = append(f.missing, "fill in the lining: ISO 12354-1 has a method for filled linings")
	}
	if len(f.missing) > 0 {
		return f
	}
	leaf := Leaf(b.A)
	resonance := iso12354_1.Resonance(in.Behind.Mass, leaf.Mass(), b.FrameDepth()+b.Gap)
	gain, err := iso12354_1.Improvement(resonance, in.Behind.Rw)
	if err != nil {
		f.missing = append(f.missing, "a method: "+err.Error())
		return f
	}
	f.value = in.Behind.Rw + gain
	f.low, f.high = f.value-within, f.value+within
	f.derivation = quantity.Derivation{
		Name: "sound insulation of the wall with its lining", Symbol: "Rw", Value: float64(f.value), Unit: "dB", Range: &quantity.Range{Low: float64(f.low), High: float64(f.high)},
		Method: "Rw of the wall behind and ΔRw of the lining by table D.1", Source: iso12354_1.Source, Status: quantity.Estimate,
		Note: "For linings that do not touch the wall behind.",
		From: []quantity.Derivation{
			{Name: "wall behind", Symbol: "Rw", Value: float64(in.Behind.Rw), Unit: "dB", Source: in.Behind.Source, Status: quantity.Entered},
			{Name: "resonance of the lining", Symbol: "f0", Value: float64(resonance), Unit: "Hz", Source: iso12354_1.Source, Status: quantity.Derived},
			faceDerivation("A", b.A, leaf),
		},
	}
	return f
}
