// Package iso6946 follows ISO 6946: thermal resistance of walls of plane layers.
// It takes thicknesses and conductivities, and gives resistances of layers, of
// series of layers, and the two limits between which a wall with studs lies.
package iso6946

import (
	"errors"

	"nogging/internal/quantity"
)

// Resistance is a thermal resistance.
type Resistance = quantity.Resistance

// Surface resistances for horizontal heat flow (ISO 6946, table of conventional
// surface resistances). Both faces of an inner wall have the inner one, which is
// from memory.
const (
	Inside  Resistance = 0.13
	Outside Resistance = 0.04
)

// SteelConductivity is that of carbon steel (ISO 10456).
const SteelConductivity quantity.Conductivity = 50

// Layer returns the resistance of a layer of a material.
func Layer(thickness quantity.Length, lambda quantity.Conductivity) Resistance {
	return Resistance(thickness.Metres() / float64(lambda))
}

// air is the resistance of unventilated air layers for horizontal flow by their
// thickness (ISO 6946, table of air layers; those below 25 mm from memory).
var air = []struct {
	thickness  quantity.Length
	resistance Resistance
}{
	{0, 0}, {5 * mm, 0.11}, {7 * mm, 0.13}, {10 * mm, 0.15}, {15 * mm, 0.17}, {25 * mm, 0.18},
}

const mm = quantity.Millimetre

// Air returns the resistance of an unventilated upright layer of air, by linear
// interpolation of the table.
func Air(thickness quantity.Length) Resistance {
	for i := 1; i < len(air); i++ {
		a, b := air[i-1], air[i]
		if thickness < b.thickness {
			t := float64(thickness-a.thickness) / float64(b.thickness-a.thickness)
			return a.resistance + Resistance(t)*(b.resistance-a.resistance)
		}
	}
	return air[len(air)-1].resistance
}

// Slice is one layer of a wall: what it is for most of the area, and the part of
// the area in which something else bridges it. Bridges of one set stand behind
// one another, as one stud does in several layers; those of different sets stand
// without regard to each other, as mortar joints and studs do.
type Slice struct {
	Clear    Resistance
	Bridge   Resistance // meaningless where Fraction is 0
	Fraction float64    // of the area that is bridged, from 0 up to below 1
	Set      int
}

// ErrFraction is given where the bridges take more than the whole of a layer.
var ErrFraction = errors.New("the bridged part of a layer is from 0 up to below 1")

// path is a part of the area with its resistance.
type path struct {
	part       float64
	resistance Resistance
}

// Limits returns the upper limit of the wall's resistance, by paths of heat side
// by side, and the lower, by layers of one temperature (ISO 6946, combined
// method).
func Limits(inside, outside Resistance, slices []Slice) (upper, lower Resistance, err error) {
	lower = inside + outside
	paths := []path{{1, lower}}
	sets := map[int]bool{}
	for i, s := range slices {
		if s.Fraction < 0 || s.Fraction >= 1 {
			return 0, 0, ErrFraction
		}
		lower += s.mixed()
		if !sets[s.Set] {
			sets[s.Set] = true
			paths = cross(paths, pathsOf(slices[i:], s.Set))
		}
	}
	var conductance float64
	for _, p := range paths {
		conductance += p.part / float64(p.resistance)
	}
	return Resistance(1 / conductance), lower, nil
}

// pathsOf divides the area by the bridges of one set, from where all of its
// layers are bridged to where none is.
func pathsOf(slices []Slice, set int) []path {
	var paths []path
	for done := 0.0; done < 1; {
		p := path{part: 1}
		for _, s := range slices {
			switch {
			case s.Set != set:
			case s.Fraction > done:
				p.part = min(p.part, s.Fraction)
				p.resistance += s.Bridge
			default:
				p.resistance += s.Clear
			}
		}
		p.part, done = p.part-done, p.part
		paths = append(paths, p)
	}
	return paths
}

// cross combines the paths of two sets that stand without regard to each other.
func cross(a, b []path) []path {
	var all []path
	for _, x := range a {
		for _, y := range b {
			all = append(all, path{x.part * y.part, x.resistance + y.resistance})
		}
	}
	return all
}

// mixed returns the resistance of the layer where all of it has one temperature
// on each side.
func (s Slice) mixed() Resistance {
	if s.Fraction == 0 {
		return s.Clear
	}
	return Resistance(1 / (s.Fraction/float64(s.Bridge) + (1-s.Fraction)/float64(s.Clear)))
}
