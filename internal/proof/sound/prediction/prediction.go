// Package prediction estimates the sound reduction index of frame walls in
// one-third-octave bands from 50 to 5000 Hz from what they are made of. It
// takes the boards of both faces, the cavity and the studs, and gives a
// spectrum as a laboratory might measure it, for packages iso717_1 and
// astm_e413 to rate.
//
// The model follows no standard. It is put together from published theories:
//
//   - each face: forced transmission of a finite plate (1970) up to half
//     its critical frequency, the plate's own waves from it on (1978), a straight line over the logarithm of frequency between
//   - the cavity: both faces as one mass up to the mass-air-mass resonance, then
//     the model of 1978 (Building Acoustics, 2008, equation 8.7)
//   - the studs: line bridges with a compliance (1991; Building Acoustics, equation
//     8.27), which let through what the cavity does not
//
// What theory leaves open are Parameters, which were fitted to published single
// numbers; the tests name them and print how far the model is off on numbers
// that took no part in the fit. It is for gypsum boards screwed, not glued, to
// steel studs; it is not for timber, for which it is far off.
package prediction

import (
	"math"

	"nogging/internal/proof/sound/band"
	"nogging/internal/quantity"
)

// Air at room temperature.
const (
	density   = 1.21 // kg/m³
	speed     = 343  // m/s
	impedance = density * speed
)

// area is the test opening's, in m² (ISO 10140-5 asks for about 10).
const area = 10

// points is the number of frequencies in each band over which its level is
// taken: a third of the band below, in and above its middle.
const points = 3

// all is the number of frequencies.
const all = band.Count * points

// frequency and what depends on it alone.
var frequency, forced [all]float64

func init() {
	for i := range frequency {
		f := float64(band.Frequency(i/points)) * math.Exp2(float64(i%points-1)/9)
		frequency[i] = f
		forced[i] = forcedPlate(f) * math.Pow(impedance/(math.Pi*f), 2)
	}
}

// forcedPlate is the radiation of a forced plate of finite size with an aspect ratio
// near one, in place of the infinite plate's (1970; formula from memory,
// found again in ISO 15186-3:2002, table A.1, within 0.12 dB).
func forcedPlate(f float64) float64 {
	k := 2 * math.Pi * f / speed * math.Sqrt(area)
	return max(0.5, math.Log(k)+0.160+1/(4*math.Pi*k*k))
}

// ForcedTransmission returns the reduction index of a plate far below its
// critical frequency, by mass alone.
func ForcedTransmission(f quantity.Frequency, m quantity.MassPerArea) quantity.Decibel {
	return band.Level(forcedPlate(float64(f)) * math.Pow(impedance/(math.Pi*float64(f)*float64(m)), 2))
}

// Parameters are what theory leaves open.
type Parameters struct {
	Coincidence float64          // critical frequency of a gypsum board times its thickness, in m·Hz
	Loss        float64          // loss factor of a face of one layer; more layers rub and lose 1.3 times as much
	Radiation   float64          // of both sides of the line along a stud: 1 or 2 by the source
	Compliance  float64          // of a stud of 0.6 mm steel up to 400 Hz, in m²/N
	Fall        float64          // exponent with which the compliance falls above 400 Hz
	Empty       quantity.Decibel // how much more an empty cavity lets through than a filled one
}

// Fitted returns the parameters that are nearest to three sources: single
// numbers of the handbook of noise control, table 31.2, and of DIN 4109-33, table 2, and octave levels
// of two textbooks. The tests find them again, and show how far those are off
// that are found without one of the sources.
func Fitted() *Parameters { return &fitted }

var fitted = Parameters{Coincidence: 40, Loss: 0.03, Radiation: 1, Compliance: 2e-7, Fall: 0.5, Empty: 6}

// Board is one board of a face.
type Board struct {
	Mass      quantity.MassPerArea
	Thickness quantity.Length
}

// Leaf is one face, reckoned ready for any wall that has it.
type Leaf struct {
	mass     float64
	critical float64 // Hz
	loss     float64
	root     float64      // of the critical angular frequency
	through  [all]float64 // power that the face alone lets through
	near     [all]float64 // how much nearer the critical frequency makes the studs, below it
}

// NewLeaf reckons a face from its boards, of which there must be at least one,
// with mass and thickness above zero. Screwed boards slide on each other: their
// masses and their bending stiffnesses add up, so that equal boards keep their
// critical frequency.
func (p *Parameters) NewLeaf(boards ...Board) *Leaf {
	l := &Leaf{loss: p.Loss}
	if len(boards) > 1 {
		l.loss *= 1.3
	}
	var stiffness float64 // over that of 1 kg/m² with a critical frequency of 1 Hz
	for _, b := range boards {
		fc := p.Coincidence / b.Thickness.Metres()
		l.mass += float64(b.Mass)
		stiffness += float64(b.Mass) / (fc * fc)
	}
	l.critical = math.Sqrt(l.mass / stiffness)
	l.root = math.Sqrt(2 * math.Pi * l.critical)
	for i, f := range frequency {
		l.through[i] = l.alone(f)
		l.near[i] = 1 / (1 - math.Pow(f/l.critical, 2))
	}
	return l
}

// Critical returns the critical frequency of the face.
func (l *Leaf) Critical() quantity.Frequency { return quantity.Frequency(l.critical) }

// Mass returns the mass of the face.
func (l *Leaf) Mass() quantity.MassPerArea { return quantity.MassPerArea(l.mass) }

// alone returns the power that the face alone lets through.
func (l *Leaf) alone(f float64) float64 {
	forced := func(f float64) float64 {
		return forcedPlate(f) * math.Pow(impedance/(math.Pi*f*l.mass), 2)
	}
	free := func(f float64) float64 {
		return math.Pow(impedance/(math.Pi*f*l.mass), 2) * math.Pi * l.critical / (2 * l.loss * f)
	}
	half := l.critical / 2
	switch {
	case f <= half:
		return forced(f)
	case f >= l.critical:
		return free(f)
	}
	t := math.Log2(f / half)
	return math.Exp((1-t)*math.Log(forced(half)) + t*math.Log(free(l.critical)))
}

// Cavity is the space between the faces, reckoned ready.
type Cavity struct {
	depth   float64 // that the air acts with, in m
	through [all]float64
	bound   [all]float64 // no more than through, and never more for more depth or fill
}

// NewCavity reckons a cavity of a depth above zero, a part of which may be
// filled with mineral wool: there the air keeps its temperature and is softer,
// as though it were 1.4 times as deep.
func (p *Parameters) NewCavity(depth, fill quantity.Length) *Cavity {
	fill = min(max(fill, 0), depth)
	d := depth.Metres()
	c := &Cavity{depth: d + 0.4*fill.Metres()}
	var lost float64
	if fill == 0 {
		lost = float64(p.Empty)
	}
	for i, f := range frequency {
		rising := 20*math.Log10(f*c.depth) - 29 // Building Acoustics, equation 8.7, up to 55/d
		best, gain := min(rising, highestGain), rising
		if f >= 55/d {
			best, gain = max(best, 6), 6
		}
		c.through[i] = math.Pow(10, (lost-gain)/10)
		c.bound[i] = math.Pow(10, (lost-best)/10)
	}
	return c
}

// highestGain is what a filled cavity gains at most, just below 55/d, in dB.
var highestGain = 20*math.Log10(55*1.4) - 29

// Resonance returns the mass-air-mass resonance of two faces over the cavity.
func (c *Cavity) Resonance(a, b *Leaf) quantity.Frequency {
	return quantity.Frequency(60 * math.Sqrt((a.mass+b.mass)/(a.mass*b.mass*c.depth)))
}

// Studs are the bridges between the faces, reckoned ready.
type Studs struct {
	radiation float64
	soft      [all]float64 // 4 ω^1.5 c C
	strength  [all]float64 // 64 ρ² c³ / (b ω²)
}

// NewStuds reckons studs at a spacing above zero with a compliance up to 400 Hz
// in m²/N; see Parameters.Steel.
func (p *Parameters) NewStuds(spacing quantity.Length, compliance float64) *Studs {
	s := &Studs{radiation: p.Radiation}
	for i, f := range frequency {
		w := 2 * math.Pi * f
		if f > 400 {
			s.soft[i] = 4 * math.Pow(w, 1.5) * speed * compliance * math.Pow(f/400, -p.Fall)
		} else {
			s.soft[i] = 4 * math.Pow(w, 1.5) * speed * compliance
		}
		s.strength[i] = 64 * density * density * speed * speed * speed / (spacing.Metres() * w * w)
	}
	return s
}

// Thicknesses of steel between which the compliance of studs is known to
// change: laboratories find 0.46 mm studs 4 to 5 dB better than 0.84 mm ones,
// and no more change at 1.4 mm.
const (
	thinSteel  = 400 * quantity.Millimetre / 1000
	thickSteel = 840 * quantity.Millimetre / 1000
	usualSteel = 600 * quantity.Millimetre / 1000
)

// Steel returns the compliance of C-shaped studs of a thickness of steel, in
// m²/N. An estimate: it falls with the square of the thickness.
func (p *Parameters) Steel(thickness quantity.Length) float64 {
	t := min(max(thickness, thinSteel), thickSteel)
	return p.Compliance * math.Pow(usualSteel.MM()/t.MM(), 2)
}
