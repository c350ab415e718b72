package floorload

import (
	"math"

	"nogging/internal/quantity"
)

// Class is one row of EN 1991-1-1:2002 6.3.1.2(8): movable partitions that
// weigh up to Wall per metre may be counted as Floor over the whole floor.
type Class struct {
	Wall  quantity.LineLoad
	Floor quantity.Pressure
}

// classes are from memory; that the method ends at 3 kN/m is published.
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

// Stack is boards stacked flat on a floor.
type Stack struct {
	Mass  quantity.MassPerArea // of one board
	Count int
}

// Pressure returns the load that the stack lays on the floor under it, spread
// over the area of a board.
func (s Stack) Pressure() quantity.Pressure {
	return quantity.Pressure(float64(s.Count) * float64(s.Mass) * quantity.Gravity)
}

// Most returns how many boards may lie in one stack on a floor that carries an
// imposed load.
func Most(mass quantity.MassPerArea, imposed quantity.Pressure) int {
	if mass <= 0 {
		return 0
	}
	return int(math.Floor(float64(imposed)/(float64(mass)*quantity.Gravity) + 1e-9))
}
