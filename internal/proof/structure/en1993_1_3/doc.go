// Package en1993_1_3 gives what a cold-formed steel channel can do by
// EN 1993-1-3:2006 with EN 1993-1-5:2006: effective sections in bending and
// compression, bending resistance, shear, local transverse force at a support,
// the second moment of area for deflections, and the range in which the method
// holds.
//
// It takes widths along the middle of the sheet between corner points, as the
// standard's notional widths, and the steel's core thickness. Safety factors
// are γM0 = γM1 = 1.0, the recommended values. The effective section was
// checked against published examples; the clauses on shear and local force are
// from memory (see the tests).
package en1993_1_3

import "math"

// E is the modulus of elasticity in N/mm² (3.2.6, table 3.1), and Poisson's
// ratio.
const (
	E       = 210_000.0
	Poisson = 0.3
)

// Section is a channel idealised by straight strips between its corner points.
// Widths are in mm along the middle of the sheet; stresses in N/mm².
type Section struct {
	Web        float64 // h_p
	Compressed float64 // b_p of the flange in compression
	Other      float64 // b_p of the other flange
	Lip        float64 // c_p; 0 for plain channels
	T          float64 // core thickness
	Fy         float64 // basic yield strength
	Radius     float64 // of the corners, inside
}

// Effective is an effective section. Lengths are in mm.
type Effective struct {
	Area    float64 // mm²
	Major   float64 // second moment, mm⁴
	Minor   float64 // second moment, mm⁴; only of sections in compression
	Neutral float64 // of the neutral axis from the middle of the compressed flange
	WC, WT  float64 // section moduli at the compressed and at the other flange, mm³
	Chi     float64 // reduction of the lip for distortional buckling, 1 for plain channels
	FlangeE float64 // b_e2, effective width of the flange beside the lip; of a plain channel, its effective width
}

func (s *Section) epsilon() float64 { return math.Sqrt(235 / s.Fy) }

// slenderness returns λp of a strip (EN 1993-1-5 4.4(2)).
func (s *Section) slenderness(width, k float64) float64 {
	return width / s.T / (28.4 * s.epsilon() * math.Sqrt(k))
}

// internal returns ρ of a strip held at both edges (EN 1993-1-5 equation 4.2).
func internal(lambda, psi float64) float64 {
	if lambda <= 0.673 {
		return 1
	}
	return math.Min((lambda-0.055*(3+psi))/(lambda*lambda), 1)
}

// outstand returns ρ of a strip held at one edge (EN 1993-1-5 equation 4.3).
func outstand(lambda float64) float64 {
	if lambda <= 0.748 {
		return 1
	}
	return math.Min((lambda-0.188)/(lambda*lambda), 1)
}
