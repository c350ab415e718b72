// Package asce7_16 gives the seismic design force on a component by ASCE 7-16
// 13.3.1. It takes the site's acceleration and the component's place in the
// building, and gives the force, at strength level: for allowable strength
// design it counts 0.7 times (2.4.5).
package asce7_16

import "math"

// Allowable turns forces at strength level into those of allowable strength
// design (2.4.5).
const Allowable = 0.7

// Component is what decides the force: its amplification ap and response Rp
// (table 13.5-1), and its importance Ip.
type Component struct {
	Amplification float64 // ap
	Response      float64 // Rp
	Importance    float64 // Ip
}

// Partition returns interior walls and partitions other than unreinforced
// masonry (table 13.5-1: ap 1.0, Rp 2.5).
func Partition(importance float64) Component {
	return Component{Amplification: 1, Response: 2.5, Importance: importance}
}

// Coefficient returns Fp over the component's weight (equations 13.3-1 to
// 13.3-3), for the short-period acceleration SDS and the place z/h from 0 at
// the base to 1 at the roof.
func (c Component) Coefficient(sds, place float64) float64 {
	f := 0.4 * c.Amplification * sds * (1 + 2*place) / (c.Response / c.Importance)
	return math.Min(math.Max(f, 0.3*sds*c.Importance), 1.6*sds*c.Importance)
}
