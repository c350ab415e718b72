// Package en1998_1 gives the seismic force on a partition by EN 1998-1:2004
// 4.3.5.2. It takes the site's factors and the wall's place in the building,
// and gives the horizontal load per area of wall.
package en1998_1

import (
	"math"

	"nogging/internal/quantity"
)

// Behaviour is qa of interior walls and facades (table 4.4; from memory).
const Behaviour = 2.0

// Site is what decides the coefficient Sa.
type Site struct {
	Alpha       float64 // ag/g
	Soil        float64 // S
	Place       float64 // z/H, height of the wall's middle over that of the building, from 0 to 1
	PeriodRatio float64 // Ta/T1, period of the wall over that of the building
}

// Coefficient returns Sa (equation 4.25), not below α S.
func (s Site) Coefficient() float64 {
	r := 1 - s.PeriodRatio
	return math.Max(s.Alpha*s.Soil*(3*(1+s.Place)/(1+r*r)-0.5), s.Alpha*s.Soil)
}

// Load returns Fa per area of wall (equation 4.24), for the wall's own mass and
// its importance factor γa.
func (s Site) Load(mass quantity.MassPerArea, importance float64) quantity.Pressure {
	return quantity.Pressure(s.Coefficient() * float64(mass) * quantity.Gravity * importance / Behaviour)
}
