// Package en12354_1 reckons the sound insulation between two rooms from that of
// the wall between them and of what flanks it, by the simplified model of EN
// 12354-1:2000 for weighted numbers. It takes the wall's Rw, its area and the
// flanking elements, and gives R'w and DnT,w with every path.
//
// Homogeneous elements, such as slabs and masonry, take part by three paths each
// (clause 4.4.2); framed elements by the path along themselves only, from their
// normalised flanking level difference. The standard states a standard deviation
// of about 2 dB for the model.
package en12354_1

import (
	"errors"
	"math"

	"nogging/internal/proof/sound/band"
	"nogging/internal/quantity"
)

// Source names the standard in derivations.
const Source = "EN 12354-1:2000"

// Deviation is the standard deviation of the simplified model (clause 5).
const Deviation quantity.Decibel = 2

// Wall is the wall between two rooms.
type Wall struct {
	Rw   quantity.Decibel // with its openings
	Area quantity.Area    // common to both rooms
}

// Flank is one element beside the wall, which is the same in both rooms.
type Flank struct {
	Name   string
	Length quantity.Length // of the common edge

	Rw         quantity.Decibel // of a homogeneous element
	Along      quantity.Decibel // KFf, vibration reduction from it to itself beyond the wall
	RoundA     quantity.Decibel // KFd and KDf, between it and the wall
	Framed     bool             // it is framed, and DnfW counts instead
	DnfW       quantity.Decibel // its weighted normalised flanking level difference
	LabLength  quantity.Length  // edge in the laboratory for which DnfW holds: 2.8 m for walls, 4.5 m for floors and ceilings (from memory)
	Assumption string           // what had to be assumed about it, if anything
}

// Path is one way of the sound.
type Path struct {
	Name      string // "direct", or the flank's name with Ff, Fd or Df
	Reduction quantity.Decibel
}

// referenceArea is A0 in m².
const referenceArea = 10

// Apparent returns R'w, formula (26), and the paths that it sums up, the direct
// one first.
func Apparent(w Wall, flanks []Flank) (quantity.Decibel, []Path) {
	paths := []Path{{"direct", w.Rw}}
	for _, f := range flanks {
		paths = append(paths, f.paths(w)...)
	}
	var through float64
	for _, p := range paths {
		through += band.Through(p.Reduction)
	}
	return band.Level(through), paths
}

// paths returns the ways of the sound in which the flank takes part, formula (28a).
func (f *Flank) paths(w Wall) []Path {
	area := w.Area.SquareMetres()
	if f.Framed {
		edge := 10 * math.Log10(f.LabLength.Metres()/f.Length.Metres())
		return []Path{{f.Name + " Ff", f.DnfW + quantity.Decibel(edge+10*math.Log10(area/referenceArea))}}
	}
	edge := quantity.Decibel(10 * math.Log10(area/f.Length.Metres()))
	mixed := (f.Rw+w.Rw)/2 + f.RoundA + edge
	return []Path{
		{f.Name + " Ff", f.Rw + f.Along + edge},
		{f.Name + " Fd", mixed},
		{f.Name + " Df", mixed},
	}
}

// Standardised returns DnT,w from R'w for a receiving room, formula (5b), for a
// reverberation time of 0.5 s.
func Standardised(apparent quantity.Decibel, receiving quantity.Volume, area quantity.Area) quantity.Decibel {
	return apparent + quantity.Decibel(10*math.Log10(0.32*float64(receiving)/area.SquareMetres()))
}

// ErrTooLight is returned where an element is not heavy enough against the wall
// for the formulae of annex E, figure E.7.
var ErrTooLight = errors.New("the flanking element is less than three times as heavy as the wall")

// AtLightWall returns the vibration reduction where a double-leaf wall of light
// boards meets a homogeneous element that runs through (annex E, figure E.7, at
// 500 Hz): along the element, and between it and the wall.
func AtLightWall(wall, element quantity.MassPerArea) (along, round quantity.Decibel, err error) {
	if 3*wall >= element {
		return 0, 0, ErrTooLight
	}
	m := math.Log10(float64(wall / element))
	return quantity.Decibel(3 + 14.1*m + 5.7*m*m), quantity.Decibel(10 + 10*math.Abs(m)), nil
}

// Least returns the least vibration reduction that an edge between two areas
// can have, formula (29).
func Least(edge quantity.Length, a, b quantity.Area) quantity.Decibel {
	return quantity.Decibel(10 * math.Log10(edge.Metres()*(1/a.SquareMetres()+1/b.SquareMetres())))
}

// Homogeneous returns Rw of a homogeneous element of concrete or masonry of at
// least 150 kg/m² by its mass (annex B; formula from memory).
func Homogeneous(m quantity.MassPerArea) quantity.Decibel {
	return quantity.Decibel(37.5*math.Log10(float64(m)) - 42)
}
