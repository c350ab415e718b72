// Package en1991_1_1 gives the equivalent load of movable partitions over a floor
// by EN 1991-1-1:2002 6.3.1.2(8). It takes a wall's weight per metre. The classes
// are from memory; that they end at 3 kN/m is published.
package en1991_1_1

import "nogging/internal/quantity"

// Class is one row: movable partitions that
// weigh up to Wall per metre may be counted as Floor over the whole floor.
type Class struct {
	Wall  quantity.LineLoad
	Floor quantity.Pressure
}

// classes of 6.3.1.2(8), the lightest first.
var classes = []Class{{1000, 500}, {2000, 800}, {3000, 1200}}

// ClassOf returns the class of a wall by its weight per metre; false for walls
// above 3 kN/m, which the floor's design has to take where they stand.
func ClassOf(weight quantity.LineLoad) (Class, bool) {
	for _, c := range classes {
		if weight <= c.Wall {
			return c, true
		}
	}
	return Class{}, false
}

// Weight returns the weight per metre of a wall of a mass per area and height.
func Weight(mass quantity.MassPerArea, height quantity.Length) quantity.LineLoad {
	return quantity.LineLoad(float64(mass) * quantity.Gravity * height.Metres())
}
