package iso717_1

import (
	"math"

	"nogging/internal/proof/sound/band"
	"nogging/internal/quantity"
)

// thirds and octaves are the reference values of table 3.
var (
	thirds  = [16]quantity.Decibel{33, 36, 39, 42, 45, 48, 51, 52, 53, 54, 55, 56, 56, 56, 56, 56} // 100 to 3150 Hz
	octaves = Octaves{36, 45, 52, 55, 56}
)

const atHz500 = band.Hz500 - band.Hz100

// octaveC and octaveCtr are the sound level spectra of table 4 for octaves.
var (
	octaveC   = Octaves{-21, -14, -8, -5, -4}
	octaveCtr = Octaves{-14, -10, -7, -4, -6}
)

// spectrum is a sound level spectrum over a range of bands, as the shares of
// power of its levels.
type spectrum struct {
	from, to int
	share    [band.Count]float64
}

// level is the level difference that the spectrum suffers behind x, formula (1).
func (sp *spectrum) level(x *band.Spectrum) quantity.Decibel {
	var sum float64
	for i := sp.from; i <= sp.to; i++ {
		sum += sp.share[i] * math.Exp(float64(x[i])*perDecibel)
	}
	return quantity.Decibel(-10 * math.Log10(sum))
}

// perDecibel turns a reduction index into the exponent of what passes.
const perDecibel = -math.Ln10 / 10

func weigh(x, levels []quantity.Decibel) quantity.Decibel {
	var sum float64
	for i := range x {
		sum += math.Pow(10, float64(levels[i]-x[i])/10)
	}
	return quantity.Decibel(-10 * math.Log10(sum))
}

// spectra are the sound level spectra of table 4 and, for the enlarged ranges,
// of table B.1.
var spectra = [terms]spectrum{
	C:            levels(band.Hz100, -29, -26, -23, -21, -19, -17, -15, -13, -12, -11, -10, -9, -9, -9, -9, -9),
	Ctr:          levels(band.Hz100, -20, -20, -18, -16, -15, -14, -13, -12, -11, -9, -8, -9, -10, -11, -13, -15),
	C50to3150:    levels(band.Hz50, -40, -36, -33, -29, -26, -23, -21, -19, -17, -15, -13, -12, -11, -10, -9, -9, -9, -9, -9),
	Ctr50to3150:  levels(band.Hz50, -25, -23, -21, -20, -20, -18, -16, -15, -14, -13, -12, -11, -9, -8, -9, -10, -11, -13, -15),
	C50to5000:    levels(band.Hz50, -41, -37, -34, -30, -27, -24, -22, -20, -18, -16, -14, -13, -12, -11, -10, -10, -10, -10, -10, -10, -10),
	Ctr50to5000:  levels(band.Hz50, -25, -23, -21, -20, -20, -18, -16, -15, -14, -13, -12, -11, -9, -8, -9, -10, -11, -13, -15, -16, -18),
	C100to5000:   levels(band.Hz100, -30, -27, -24, -22, -20, -18, -16, -14, -13, -12, -11, -10, -10, -10, -10, -10, -10, -10),
	Ctr100to5000: levels(band.Hz100, -20, -20, -18, -16, -15, -14, -13, -12, -11, -9, -8, -9, -10, -11, -13, -15, -16, -18),
}

func levels(from int, values ...float64) spectrum {
	sp := spectrum{from: from, to: from + len(values) - 1}
	for i, v := range values {
		sp.share[from+i] = math.Pow(10, v/10)
	}
	return sp
}
