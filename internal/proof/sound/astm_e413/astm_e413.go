// Package astm_e413 rates the airborne sound insulation of a spectrum by one
// whole number, as ASTM E413 does. It takes levels in the one-third-octave
// bands from 125 to 4000 Hz and gives the sound transmission class STC of
// transmission losses measured in a laboratory; the same contour gives ASTC,
// NIC and NNIC from levels measured in buildings.
//
// STC and Rw are not each other plus a constant: only E413 bounds each single
// deficiency, by 8 dB.
package astm_e413

import (
	"math"

	"nogging/internal/proof/sound/band"
	"nogging/internal/quantity"
)

// Source names the standard in derivations.
const Source = "ASTM E413"

// contour is the reference contour from 125 to 4000 Hz, relative to its value at
// 500 Hz.
var contour = [16]int{-16, -13, -10, -7, -4, -1, 0, 1, 2, 3, 4, 4, 4, 4, 4, 4}

// The limits of deficiencies, in dB; both may be reached.
const (
	mostInAll = 32
	mostInOne = 8
)

// Rating is the class with what governs it.
type Rating struct {
	STC          int
	Deficiencies int // their sum at that class, in dB
	Greatest     int // the greatest of them, in dB
}

// Rate rates a spectrum. It returns false where bands from 125 to 4000 Hz are
// missing.
func Rate(s *band.Spectrum) (Rating, bool) {
	if !s.Known(band.Hz125, band.Hz4000) {
		return Rating{}, false
	}
	var loss [len(contour)]int
	room, class := mostInAll, math.MaxInt
	for i := range loss {
		loss[i] = whole(s[band.Hz125+i])
		room += loss[i] - contour[i]
		class = min(class, loss[i]-contour[i]+mostInOne)
	}
	class = min(class, int(math.Floor(float64(room)/float64(len(loss))))) // the deficiencies sum up to no less
	for ; ; class-- {
		r := Rating{STC: class}
		for i := range loss {
			d := max(0, class+contour[i]-loss[i])
			r.Deficiencies += d
			r.Greatest = max(r.Greatest, d)
		}
		if r.Deficiencies <= mostInAll {
			return r, true
		}
	}
}

// whole rounds a transmission loss to whole decibels, halves up.
func whole(v quantity.Decibel) int { return int(math.Floor(float64(v) + 0.5)) }
