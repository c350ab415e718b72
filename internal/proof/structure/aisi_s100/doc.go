// Package aisi_s100 gives what a cold-formed steel stud can do by AISI S100-16,
// allowable strength design: effective sections with and without a hole in the
// web, allowable moments for local and for distortional buckling, allowable
// shear, and web crippling at an end support.
//
// It takes a channel's outside dimensions, its yield strength and the width of
// the holes in its web. Effective sections, distortional buckling and shear
// were checked against published tables of section properties; the factors for
// web crippling are from memory (see the tests).
package aisi_s100

import (
	"math"

	"nogging/internal/proof/structure/section"
	"nogging/internal/quantity"
)

// E and G are the moduli of elasticity and shear in N/mm² (29 500 and
// 11 300 ksi), with Poisson's ratio.
const (
	E       = 29_500 * ksi
	G       = 11_300 * ksi
	Poisson = 0.3

	ksi = 6.894757 // N/mm²
)

// Safety factors of allowable strength design.
const (
	OmegaBending   = 1.67 // chapter F
	OmegaShear     = 1.60 // chapter G
	OmegaCrippling = 1.85 // table G5-2, flanges stiffened or partly, not fastened to the support, end, one flange (from memory)
)

// Section is a channel with its steel.
type Section struct {
	section.Channel
	Fy   quantity.Stress
	Hole quantity.Length // width across the web of its holes, which are in the middle of its depth
}

// reduction returns ρ for a plate of flat width w under the stress f with the
// buckling factor k (appendix 1, 1.1).
func reduction(w, t, k, f float64) float64 {
	if w <= 0 || f <= 0 {
		return 1
	}
	critical := k * math.Pi * math.Pi * E / (12 * (1 - Poisson*Poisson)) * (t / w) * (t / w)
	lambda := math.Sqrt(f / critical)
	if lambda <= 0.673 {
		return 1
	}
	return (1 - 0.22/lambda) / lambda
}
