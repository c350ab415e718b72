// Package composite reckons the sound reduction of a wall of several parts:
// boarded wall, doors, glazing and leaks. It takes areas and reduction indices,
// in one band or as weighted numbers, and gives the index of the whole, by the
// sum of the sound power that the parts let through (Sound Insulation,
// 2007, equation 4.92), and the power that slits let through (equation 4.99).
package composite

import (
	"math"

	"nogging/internal/proof/sound/band"
	"nogging/internal/quantity"
)

// Source names the method in derivations.
const Source = "Sound Insulation (2007), equation 4.92"

// Part is one part of a wall.
type Part struct {
	Area      quantity.Area
	Reduction quantity.Decibel // 0 for an open hole
}

// Reduction returns the sound reduction of all parts together; there must be
// one with an area.
func Reduction(parts ...Part) quantity.Decibel {
	var through, area float64
	for _, p := range parts {
		through += float64(p.Area) * band.Through(p.Reduction)
		area += float64(p.Area)
	}
	return band.Level(through / area)
}

// Cost returns what one of the parts costs: how much better the whole would be
// if that part were as good as the first.
func Cost(of int, parts ...Part) quantity.Decibel {
	better := append([]Part(nil), parts...)
	better[of].Reduction = parts[0].Reduction
	return Reduction(better...) - Reduction(parts...)
}

// Edge says where a slit lies, which decides how well it radiates.
type Edge float64

// Where slits lie.
const (
	AlongEdge Edge = 0.5 // at floor, soffit or another wall
	MidPanel  Edge = 1
)

const speed = 343 // of sound in air, m/s

// Slit returns what a slit lets through of the diffuse sound that falls on its
// area, by Gomperts. It may be more than all, since a slit draws sound in from
// beside it. Air does not stick in this theory, so that slits narrower than
// about 1 mm let less through than it says.
func Slit(f quantity.Frequency, width, depth quantity.Length, at Edge) float64 {
	const diffuse = 8
	k := 2 * math.Pi * float64(f) / speed
	w := k * width.Metres()
	x := float64(depth) / float64(width)
	e := (math.Log(8/w) - 0.57722) / math.Pi
	n := float64(at)
	inner := math.Pow(math.Sin(w*x+2*w*e), 2)/math.Pow(math.Cos(w*e), 2) +
		w*w/(2*n*n)*(1+math.Cos(w*x)*math.Cos(w*x+2*w*e))
	return diffuse * w * math.Pow(math.Cos(w*e), 2) / (2 * n * n * inner)
}

// Leaking returns the spectrum of a wall of an area with slits of a total
// length in it. Bands that are not known stay so.
func Leaking(wall *band.Spectrum, area quantity.Area, length, width, depth quantity.Length, at Edge) band.Spectrum {
	share := length.Metres() * width.Metres() / area.SquareMetres()
	out := *wall
	for i := range out {
		slit := share * Slit(band.Frequency(i), width, depth, at)
		out[i] = band.Level((1-share)*band.Through(wall[i]) + slit)
	}
	return out
}
