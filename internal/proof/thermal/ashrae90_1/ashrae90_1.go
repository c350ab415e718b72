// Package ashrae90_1 follows the cavity correction factors of ASHRAE 90.1 and the
// IECC: what is left of insulation between steel studs. It takes depth and
// spacing of the studs and the rated resistance, and gives the effective one. The
// factors are from memory and stand as defaults only.
package ashrae90_1

import (
	"fmt"
	"math"

	"nogging/internal/quantity"
)

// perRated is 1 h·ft²·°F/Btu, the unit of rated resistances, in m²·K/W.
const perRated = 0.176110

type row struct {
	depth, spacing quantity.Length
	rated, factor  float64
}

const inch = quantity.Inch

// factors is the table of effective resistances, from memory.
var factors = []row{
	{7 * inch / 2, 16 * inch, 11, 0.50}, {7 * inch / 2, 16 * inch, 13, 0.46}, {7 * inch / 2, 16 * inch, 15, 0.43},
	{6 * inch, 16 * inch, 19, 0.37}, {6 * inch, 16 * inch, 21, 0.35},
	{7 * inch / 2, 24 * inch, 11, 0.60}, {7 * inch / 2, 24 * inch, 13, 0.55}, {7 * inch / 2, 24 * inch, 15, 0.52},
	{6 * inch, 24 * inch, 19, 0.45}, {6 * inch, 24 * inch, 21, 0.43},
}

const (
	sameDepth = inch / 4 // studs of 3-5/8 in take the row of 3.5 in
	sameRated = 0.5      // of a rating as the trade rounds it
)

// Effective returns the resistance of the insulated layer with its studs, and the
// factor. A spacing between those of the table takes the closer one, which is the
// less favourable; studs further apart than 24 in have no row.
func Effective(depth, spacing quantity.Length, rated quantity.Resistance) (quantity.Resistance, float64, error) {
	column := 16 * inch
	if spacing >= 24*inch {
		column = 24 * inch
	}
	r := float64(rated) / perRated
	for _, row := range factors {
		if (row.depth-depth).Abs() <= sameDepth && row.spacing == column && spacing <= 24*inch && math.Abs(row.rated-r) <= sameRated {
			return rated * quantity.Resistance(row.factor), row.factor, nil
		}
	}
	return 0, 0, fmt.Errorf("the table has no row for studs of %.2f in at %.0f in with R-%.1f between them",
		depth.MM()/inch.MM(), spacing.MM()/inch.MM(), r)
}
