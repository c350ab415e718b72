// Package en1995_1_1 gives the bending stiffness of a stud with boards on both
// faces that can slip on their screws, by the method of mechanically jointed
// beams of EN 1995-1-1:2004 Annex B (γ method). The annex is for timber; on
// steel studs with gypsum boards it is an estimate, and so are the stiffness of
// boards and screws that it needs.
package en1995_1_1

import "math"

// Board is the boarding of one face over the width that one stud takes.
type Board struct {
	E         float64 // N/mm², modulus of elasticity along the stud
	Width     float64 // mm
	Thickness float64 // mm
	Slip      float64 // K in N/mm of one screw
	Spacing   float64 // mm of screws along the stud
}

// Stiffness returns (EI)ef in N·mm² (equations B.1 to B.6) of a stud with the
// stiffness stud (N·mm²), the depth in mm and the axial stiffness axial (N),
// over a span in mm. Faces without boards have thickness 0.
func Stiffness(stud, axial, depth, span float64, a, b Board) float64 {
	ga, gb := a.gamma(span), b.gamma(span)
	ra, rb := ga*a.axial(), gb*b.axial()
	armA, armB := (depth+a.Thickness)/2, (depth+b.Thickness)/2
	shift := (ra*armA - rb*armB) / (axial + ra + rb) // of the neutral axis towards face A
	return stud + a.own() + b.own() + axial*shift*shift + ra*(armA-shift)*(armA-shift) + rb*(armB+shift)*(armB+shift)
}

func (b Board) axial() float64 { return b.E * b.Width * b.Thickness }

func (b Board) own() float64 { return b.axial() * b.Thickness * b.Thickness / 12 }

// gamma returns the share of the board's axial stiffness that its screws bring
// to bear (equation B.5): 0 where they resist no slip, 1 where there is none.
func (b Board) gamma(span float64) float64 {
	if b.Slip <= 0 || b.Thickness <= 0 {
		return 0
	}
	return 1 / (1 + math.Pi*math.Pi*b.axial()*b.Spacing/(b.Slip*span*span))
}
