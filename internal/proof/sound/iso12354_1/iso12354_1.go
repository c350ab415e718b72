// Package iso12354_1 reckons by how much a lining of boards on studs, which do
// not touch the wall behind, changes the Rw of that wall (ISO 12354-1:2017,
// annex D). It takes the masses of both, the depth of the cavity and the bare
// wall's Rw, and gives the change.
package iso12354_1

import (
	"errors"
	"math"

	"nogging/internal/proof/sound/band"
	"nogging/internal/quantity"
)

// Source names the standard in derivations.
const Source = "ISO 12354-1:2017, annex D"

// Resonance returns the resonance of a lining before a wall over a cavity filled
// with mineral wool of 5 kPa·s/m² or more, formula (D.2).
func Resonance(wall, lining quantity.MassPerArea, cavity quantity.Length) quantity.Frequency {
	stiffness := 0.111e6 / cavity.Metres()
	return quantity.Frequency(math.Sqrt(stiffness*(1/float64(wall)+1/float64(lining))) / (2 * math.Pi))
}

// ErrScope is returned outside of what table D.1 covers.
var ErrScope = errors.New("table D.1 covers resonances from 30 to 5000 Hz and walls of Rw 20 to 60 dB")

// steps are the rows of table D.1 above 160 Hz.
var steps = []struct {
	upTo   quantity.Frequency // nominal
	change quantity.Decibel
}{{200, -1}, {250, -3}, {315, -5}, {400, -7}, {500, -9}, {1600, -10}, {5000, -5}}

// Improvement returns the change of Rw by table D.1, where the resonance counts
// as the centre of the third of an octave in which it falls.
func Improvement(resonance quantity.Frequency, bare quantity.Decibel) (quantity.Decibel, error) {
	if resonance < 30 || resonance > 5000 || bare < 20 || bare > 60 {
		return 0, ErrScope
	}
	centre := nominal(resonance)
	if centre <= 160 {
		return max(0, quantity.Decibel(74.4-20*math.Log10(float64(centre)))-bare/2), nil
	}
	for _, s := range steps {
		if centre <= s.upTo {
			return s.change, nil
		}
	}
	return 0, ErrScope
}

// nominal returns the nominal centre of the third of an octave in which a
// frequency from 30 to 5000 Hz falls.
func nominal(f quantity.Frequency) quantity.Frequency {
	below := []quantity.Frequency{31.5, 40}
	i := int(math.Round(10*math.Log10(float64(f)))) - 15 // 10^1.5 Hz is 31.5 Hz
	if i < len(below) {
		return below[i]
	}
	return band.Frequency(i - len(below))
}
