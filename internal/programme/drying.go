package programme

import (
	"fmt"
	"slices"
)

// The drying times of joint compound in hours by relative humidity and temperature:
// the classical evaporation table (reference, 4e: from memory; its labels are those of
// a published chart for a coat of 1/16 in).
var (
	dryTemperatures = []float64{32, 40, 50, 60, 70, 80, 100} // °F
	dryHumidities   = []float64{0, 20, 40, 50, 60, 70, 80, 90, 98}
	dryHours        = [][]float64{
		{38, 28, 19, 13, 9, 6, 3},
		{48, 34, 23, 16, 11, 8, 4},
		{60, 44, 29, 20, 14, 10, 5},
		{72, 48, 36, 24, 17, 12, 6},
		{84, 60, 42, 29, 20, 13.5, 8},
		{108, 84, 54, 38, 26, 19.5, 10},
		{168, 108, 78, 54, 38, 27, 14},
		{312, 216, 144, 108, 72, 49, 26},
		{1272, 912, 624, 432, 288, 216, 120},
	}
)

// tableCoat is the thickness in mm of the coat that the table is for: 1/16 in.
const tableCoat = 25.4 / 16

// Air is temperature in °C and relative humidity in per cent.
type Air struct {
	Temperature float64 `json:"temperature"` // °C
	Humidity    float64 `json:"humidity"`    // %, relative
}

// String gives the air for people.
func (a Air) String() string { return fmt.Sprintf("%.4g °C and %.3g %%", a.Temperature, a.Humidity) }

// DryingHours returns how long a coat of drying compound takes to dry in the air
// given, thickness in mm: the table between its rows and columns linearly, which is on
// the safe side of its curves, in proportion to the thickness (a film from which water
// evaporates at a steady rate; estimate). It is false outside the table, which reaches
// from 0 to 37.8 °C (32 to 100 °F) and from 0 to 98 %.
func DryingHours(a Air, thickness float64) (hours float64, ok bool) {
	f := a.Temperature*9/5 + 32
	i, u, okT := between(dryTemperatures, f)
	k, v, okH := between(dryHumidities, a.Humidity)
	if !okT || !okH || thickness < 0 {
		return 0, false
	}
	row := func(k int) float64 { return dryHours[k][i]*(1-u) + dryHours[k][i+1]*u }
	return (row(k)*(1-v) + row(k+1)*v) * thickness / tableCoat, true
}

// between returns the step of an ascending list in which x lies, and how far in it;
// false outside. A degree given in °C may be beyond the ends by an error of reckoning.
func between(list []float64, x float64) (i int, u float64, ok bool) {
	const slack = 1e-9
	last := len(list) - 1
	if !(x >= list[0]-slack && x <= list[last]+slack) {
		return 0, 0, false
	}
	i, _ = slices.BinarySearch(list, x)
	i = min(max(i-1, 0), last-1)
	return i, min(max((x-list[i])/(list[i+1]-list[i]), 0), 1), true
}
