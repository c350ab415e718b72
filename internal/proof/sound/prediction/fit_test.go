package prediction

import (
	"math"
	"testing"

	"nogging/internal/proof/sound/astm_e413"
	"nogging/internal/proof/sound/band"
	"nogging/internal/proof/sound/iso717_1"
)

// source is what one source prints of walls with studs and a filled cavity.
type source struct {
	walls   []published
	spectra []spectral
}

// The three sources that took part in the fit of Fitted.
var (
	fromHandbook = source{walls: handbookFilled}
	fromStandard = source{walls: metalStuds}
	fromTextbook = source{spectra: textbookFilled}
)

// Fitted is the best of a grid of parameters on all three sources, so nobody
// has to take its figures on trust.
func TestFitted(t *testing.T) {
	if got := fit(fromHandbook, fromStandard, fromTextbook); got != *Fitted() {
		t.Errorf("the best fit is %+v, not %+v", got, *Fitted())
	}
	// What an empty cavity loses was fitted on the handbook alone.
	p := *Fitted()
	best, least := p.Empty, math.Inf(1)
	for p.Empty = 0; p.Empty <= 12; p.Empty++ {
		if m := meanSquare(off(&p, handbookEmpty)); m < least {
			best, least = p.Empty, m
		}
	}
	if best != Fitted().Empty {
		t.Errorf("an empty cavity loses %g dB by the best fit, not %g", best, Fitted().Empty)
	}
}

// fit tries every set of a grid. Each source counts the same, however many
// walls it has.
func fit(sources ...source) Parameters {
	best, least := Parameters{}, math.Inf(1)
	for p := range grid {
		var m float64
		for _, s := range sources {
			m += s.meanSquare(&p)
		}
		if m < least {
			best, least = p, m
		}
	}
	return best
}

// grid gives the sets of parameters from which the fit chooses.
func grid(yield func(Parameters) bool) {
	for _, coincidence := range []float64{36, 38, 40} {
		for _, loss := range []float64{0.02, 0.03, 0.05} {
			for _, radiation := range []float64{1, 2} {
				for _, compliance := range []float64{1e-7, 2e-7, 3e-7, 5e-7, 1e-6, 2e-6} {
					for _, fall := range []float64{0.5, 1, 1.5, 2} {
						if !yield(Parameters{coincidence, loss, radiation, compliance, fall, 6}) {
							return
						}
					}
				}
			}
		}
	}
}

// meanSquare of a source counts an octave level a third of a rating.
func (s *source) meanSquare(p *Parameters) float64 {
	all := off(p, s.walls)
	for _, d := range offBands(p, s.spectra) {
		all = append(all, d/3)
	}
	return meanSquare(all)
}

func meanSquare(deviations []float64) float64 {
	var sum float64
	for _, d := range deviations {
		sum += d * d / float64(len(deviations))
	}
	return sum
}

// off returns by how much the model's ratings exceed the published ones.
func off(p *Parameters, walls []published) []float64 {
	all := make([]float64, len(walls))
	for i := range walls {
		all[i] = walls[i].predicted(p) - walls[i].rating
	}
	return all
}

func (w *published) predicted(p *Parameters) float64 {
	s := w.spectrum(p)
	if w.stc {
		r, _ := astm_e413.Rate(&s)
		return float64(r.STC)
	}
	return float64(iso717_1.Weighted(&s))
}

// offBands returns by how much the model's octave levels exceed the published ones.
func offBands(p *Parameters, walls []spectral) []float64 {
	var all []float64
	for i := range walls {
		for j, got := range walls[i].predicted(p) {
			all = append(all, got-float64(walls[i].levels[j]))
		}
	}
	return all
}

// predicted returns the levels in the octaves from 125 to 4000 Hz.
func (w *spectral) predicted(p *Parameters) [6]float64 {
	s := Alone(p.NewLeaf(w.a...))
	if w.b != nil {
		s = w.spectrum(p)
	}
	var levels [6]float64
	for i := range levels {
		levels[i] = float64(s.Octave(band.Hz125 + 3*i))
	}
	return levels
}
