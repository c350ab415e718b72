// Package bre465 follows BRE Digest 465: the resistance of walls with light steel
// studs in the insulated layer. It takes the limits of ISO 6946 and the studs'
// sizes, and gives the resistance that lies between them.
package bre465

import "nogging/internal/quantity"

// Studs are the studs of one frame, with their flanges left out of the areas.
type Studs struct {
	Flange  quantity.Length
	Depth   quantity.Length // of the web
	Spacing quantity.Length
}

// Share returns the part p with which the upper limit counts, for steel studs
// within the insulation (cold and hybrid frames).
func (s Studs) Share(upper, lower quantity.Resistance) float64 {
	return 0.8*float64(lower/upper) + 0.44 -
		0.1*s.Flange.MM()/40 - 0.2*600/s.Spacing.MM() - 0.04*s.Depth.MM()/100
}

// Total returns the wall's resistance from surface to surface.
func (s Studs) Total(upper, lower quantity.Resistance) quantity.Resistance {
	p := quantity.Resistance(s.Share(upper, lower))
	return p*upper + (1-p)*lower
}

// Fraction returns the part of the area that the webs take.
func Fraction(sheet, spacing quantity.Length) float64 { return float64(sheet) / float64(spacing) }
