// Package band holds levels in one-third-octave bands from 50 to 5000 Hz, the
// form in which sound insulation is measured (ISO 10140-2, ASTM E90) and rated.
package band

import (
	"fmt"
	"math"

	"nogging/internal/quantity"
)

// Count is the number of bands.
const Count = 21

// Places of some bands in a spectrum.
const (
	Hz50   = 0
	Hz100  = 3
	Hz125  = 4
	Hz500  = 10
	Hz3150 = 18
	Hz4000 = 19
	Hz5000 = 20
)

// nominal are the nominal centre frequencies of ISO 266.
var nominal = [Count]quantity.Frequency{
	50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150, 4000, 5000,
}

// Frequency returns the nominal centre frequency of a band.
func Frequency(i int) quantity.Frequency { return nominal[i] }

// Spectrum is a level in each band. Bands that are not known hold NaN.
type Spectrum [Count]quantity.Decibel

// Unknown returns a spectrum of which no band is known.
func Unknown() Spectrum {
	var s Spectrum
	for i := range s {
		s[i] = quantity.Decibel(math.NaN())
	}
	return s
}

// From returns the spectrum whose known values begin at the band of the given
// centre frequency. It is an error if there is no such band, or if there are
// more values than bands from there on.
func From(first quantity.Frequency, values ...quantity.Decibel) (Spectrum, error) {
	s := Unknown()
	for i, f := range nominal {
		if f != first {
			continue
		}
		if i+len(values) > Count {
			return s, fmt.Errorf("%d bands from %g Hz reach beyond 5000 Hz", len(values), first)
		}
		copy(s[i:], values)
		return s, nil
	}
	return s, fmt.Errorf("%g Hz is not the centre of a one-third-octave band from 50 to 5000 Hz", first)
}

// Known reports whether every band from one to another is known and finite.
func (s *Spectrum) Known(from, to int) bool {
	for _, v := range s[from : to+1] {
		if math.IsNaN(float64(v)) || math.IsInf(float64(v), 0) {
			return false
		}
	}
	return true
}

// Octave returns the level in the octave of three neighbouring bands, the
// middle one given: the mean of what they let through, as one divides a band of
// equal incident energy.
func (s *Spectrum) Octave(middle int) quantity.Decibel {
	var through float64
	for _, v := range s[middle-1 : middle+2] {
		through += Through(v) / 3
	}
	return Level(through)
}

// Through returns the share of sound power that passes at a reduction index.
func Through(r quantity.Decibel) float64 { return math.Pow(10, -float64(r)/10) }

// Level returns the reduction index at which a share of sound power passes.
func Level(through float64) quantity.Decibel { return quantity.Decibel(-10 * math.Log10(through)) }
