// Package iso717_1 rates the airborne sound insulation of a spectrum by one
// number and its spectrum adaptation terms, as ISO 717-1:2020 does (the same
// tables and rules as ISO 717-1:2013). It takes levels in one-third-octave or
// octave bands, whether R, R' or DnT, and gives Rw, R'w or DnT,w.
package iso717_1

import (
	"fmt"
	"math"

	"nogging/internal/proof/sound/band"
	"nogging/internal/quantity"
)

// Source names the standard in derivations.
const Source = "ISO 717-1:2020"

// Term is a spectrum adaptation term.
type Term int

// The spectrum adaptation terms: C for living noises (pink noise), Ctr for
// urban traffic, over the standard range 100 to 3150 Hz or an enlarged one.
const (
	C Term = iota
	Ctr
	C50to3150
	Ctr50to3150
	C50to5000
	Ctr50to5000
	C100to5000
	Ctr100to5000
	terms // how many there are
)

var names = [terms]string{"C", "Ctr", "C50-3150", "Ctr,50-3150", "C50-5000", "Ctr,50-5000", "C100-5000", "Ctr,100-5000"}

// String writes the term as the standard does.
func (t Term) String() string { return names[t] }

// Terms lists every term.
func Terms() []Term {
	var all []Term
	for t := C; t < terms; t++ {
		all = append(all, t)
	}
	return all
}

// Rating is the single number with its terms.
type Rating struct {
	Weighted     int              // Rw, R'w or DnT,w, in dB
	Unfavourable quantity.Decibel // sum of unfavourable deviations at that number
	term         [terms]int
	known        [terms]bool
}

// Term returns a spectrum adaptation term, and false where the spectrum lacks
// bands for it.
func (r *Rating) Term(t Term) (int, bool) { return r.term[t], r.known[t] }

// String writes the rating as clause 5 has it, such as "54 (-2; -7)".
func (r *Rating) String() string {
	return fmt.Sprintf("%d (%d; %d)", r.Weighted, r.term[C], r.term[Ctr])
}

// rounding keeps sums that are a limit exactly within it.
const rounding = 1e-6

// Rate rates a spectrum in one-third-octave bands. It returns false where bands
// from 100 to 3150 Hz are missing.
func Rate(s *band.Spectrum) (Rating, bool) {
	if !s.Known(band.Hz100, band.Hz3150) {
		return Rating{}, false
	}
	var r Rating
	x := tenths(s)
	r.Weighted, r.Unfavourable = weighted(x[band.Hz100:band.Hz3150+1], thirds[:], 32, atHz500)
	for t := range terms {
		sp := &spectra[t]
		if r.known[t] = x.Known(sp.from, sp.to); r.known[t] {
			r.term[t] = halfUp(float64(sp.level(&x))) - r.Weighted
		}
	}
	return r, true
}

// Weigh returns the level Xw + C of a term without any rounding (clause 4.5,
// with uncertainty). It is NaN where bands are missing.
func Weigh(s *band.Spectrum, t Term) quantity.Decibel {
	sp := &spectra[t]
	if !s.Known(sp.from, sp.to) {
		return quantity.Decibel(math.NaN())
	}
	return sp.level(s)
}

// WeightedTenths returns the rating in steps of 0.1 dB, for the statement of
// uncertainty (clause 4.4, note; ISO 12999-1). Bands from 100 to 3150 Hz must
// be known.
func WeightedTenths(s *band.Spectrum) quantity.Decibel {
	x := tenths(s)
	ten := func(list []quantity.Decibel) []quantity.Decibel {
		out := make([]quantity.Decibel, len(list))
		for i, v := range list {
			out[i] = v * 10
		}
		return out
	}
	w, _ := weighted(ten(x[band.Hz100:band.Hz3150+1]), ten(thirds[:]), 320, atHz500)
	return quantity.Decibel(w) / 10
}

// Octaves are levels in the octave bands 125, 250, 500, 1000 and 2000 Hz.
type Octaves [5]quantity.Decibel

// RateOctaves rates a spectrum in octave bands, which the standard allows for
// measurements in buildings only. The enlarged ranges are not known.
func RateOctaves(o Octaves) Rating {
	for i := range o {
		o[i] = tenth(o[i])
	}
	var r Rating
	r.Weighted, r.Unfavourable = weighted(o[:], octaves[:], 10, 2)
	for t, spectrum := range [...]Octaves{C: octaveC, Ctr: octaveCtr} {
		r.term[t], r.known[t] = halfUp(float64(weigh(o[:], spectrum[:])))-r.Weighted, true
	}
	return r
}

// weighted shifts the reference curve in steps of 1 dB towards the levels until
// the sum of unfavourable deviations is as large as possible but not above the
// limit (clause 4.4); it returns the shifted curve's value at 500 Hz.
func weighted(x, reference []quantity.Decibel, limit quantity.Decibel, at int) (int, quantity.Decibel) {
	room := limit
	for i := range x {
		room += x[i] - reference[i]
	}
	// The deviations sum up to no less than their mean, so no greater shift fits.
	shift := quantity.Decibel(math.Floor(float64(room+rounding) / float64(len(x))))
	for ; ; shift-- {
		var sum quantity.Decibel
		for i := range x {
			if d := reference[i] + shift - x[i]; d > 0 {
				sum += d
			}
		}
		if sum <= limit+rounding {
			return int(math.Round(float64(reference[at] + shift))), sum
		}
	}
}

// tenths reduces a spectrum to one decimal (clause 4.4, footnote 1).
func tenths(s *band.Spectrum) band.Spectrum {
	var out band.Spectrum
	for i, v := range s {
		out[i] = tenth(v)
	}
	return out
}

func tenth(v quantity.Decibel) quantity.Decibel {
	return quantity.Decibel(math.Floor(float64(v)*10+0.5+1e-9) / 10)
}

func halfUp(v float64) int { return int(math.Floor(v + 0.5 + 1e-9)) }

// Weighted returns the weighted number alone, for searches. Bands from 100 to
// 3150 Hz must be known.
func Weighted(s *band.Spectrum) int {
	x := tenths(s)
	w, _ := weighted(x[band.Hz100:band.Hz3150+1], thirds[:], 32, atHz500)
	return w
}
