// Package din4103_1 holds the actions on non-load-bearing partitions by
// DIN 4103-1:2015-06: the line load of an installation zone, console loads and
// impacts. It takes a zone and gives loads; what a wall does under them is for
// the packages that prove it.
//
// Walls that keep people from falling are not covered: for them the horizontal
// loads of EN 1991-1-1 6.4 and its national annex hold.
package din4103_1

import "nogging/internal/quantity"

// LoadFactor is the safety factor on loads in the proof of bending strength.
const LoadFactor = 1.5

// LineHeight is the height above the wall's foot at which the line load acts.
const LineHeight = 900 * quantity.Millimetre

// LightConsole is the console load that every wall has to take anywhere, and
// ConsoleLever the greatest distance of its line of action from the face.
const (
	LightConsole = quantity.LineLoad(400)
	ConsoleLever = 300 * quantity.Millimetre
)

// LineLoad returns the line load of an installation zone: 1 for rooms with few
// people (dwellings, hotels, offices, wards), 2 for gatherings (schools,
// lecture rooms, sales rooms). Other zones are not known.
func LineLoad(zone int) (quantity.LineLoad, bool) {
	switch zone {
	case 1:
		return 500, true
	case 2:
		return 1000, true
	}
	return 0, false
}

// Impacts of clause 5.3 in N·m, by a soft body of 50 kg and by a hard one (from
// memory). Walls are tested with them; no calculation is published for boards on
// thin studs.
const (
	SoftImpact = 100
	HardImpact = 10
)
