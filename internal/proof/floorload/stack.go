package floorload

import (
	"math"

	"nogging/internal/quantity"
)

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
