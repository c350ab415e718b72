package aisi_s100

import (
	"math"
	"testing"

	"nogging/internal/proof/structure/section"
	"nogging/internal/quantity"
	"nogging/internal/validation"
)

func in(v float64) quantity.Length { return quantity.MM(v * 25.4) }

const (
	in3   = 25.4 * 25.4 * 25.4
	in4   = in3 * 25.4
	inKip = 112.984829 // N·m
	lb    = 4.4482216  // N
)

// published is a row of the tables of section properties in the SSMA product
// technical guide, 2024, Fy 33 ksi. Flanges, lips, radii and holes are by the
// rules that stand with them.
type published struct {
	name                                    string
	depth, flange, lip, t                   float64 // in
	ixe, sxe, local, distortional, vg, vnet float64 // in⁴, in³, in-kip, in-kip, lb, lb
}

var guide = []published{
	{"162S125-18", 1.625, 1.25, .188, .0188, .034, .031, .61, .65, 302, 100},
	{"250S125-18", 2.5, 1.25, .188, .0188, .089, .059, 1.17, 1.03, 258, 196},
	{"250S125-27", 2.5, 1.25, .188, .0283, .144, .097, 1.92, 1.83, 685, 344},
	{"250S125-30", 2.5, 1.25, .188, .0312, .159, .110, 2.17, 2.09, 832, 378},
	{"250S125-33", 2.5, 1.25, .188, .0346, .175, .125, 2.48, 2.41, 975, 399},
	{"350S125-18", 3.5, 1.25, .188, .0188, .203, .072, 1.42, 1.47, 180, 159},
	{"350S125-27", 3.5, 1.25, .188, .0283, .315, .130, 2.57, 2.65, 614, 359},
	{"350S125-30", 3.5, 1.25, .188, .0312, .346, .150, 2.96, 3.04, 824, 436},
	{"350S125-33", 3.5, 1.25, .188, .0346, .382, .175, 3.45, 3.53, 1024, 487},
	{"362S125-18", 3.625, 1.25, .188, .0188, .221, .075, 1.48, 1.52, 173, 163},
	{"362S125-27", 3.625, 1.25, .188, .0283, .342, .135, 2.67, 2.75, 592, 370},
	{"362S125-30", 3.625, 1.25, .188, .0312, .376, .156, 3.08, 3.17, 794, 449},
	{"362S125-33", 3.625, 1.25, .188, .0346, .415, .182, 3.59, 3.67, 1024, 521},
	{"400S125-18", 4, 1.25, .188, .0188, .281, .083, 1.64, 1.68, 156, 156},
	{"400S125-30", 4, 1.25, .188, .0312, .474, .174, 3.44, 3.53, 715, 484},
	{"600S125-27", 6, 1.25, .188, .0283, 1.097, .271, 5.35, 4.63, 349, 349},
	{"600S125-30", 6, 1.25, .188, .0312, 1.218, .315, 6.22, 5.39, 468, 468},
	{"600S125-33", 6, 1.25, .188, .0346, 1.361, .369, 7.30, 6.32, 638, 638},
	{"250S137-33", 2.5, 1.375, .375, .0346, .203, .158, 3.11, 3.10, 975, 399},
	{"250S162-33", 2.5, 1.625, .5, .0346, .235, .180, 3.55, 3.56, 975, 399},
	{"362S162-33", 3.625, 1.625, .5, .0346, .551, .268, 5.29, 5.43, 1024, 521},
	{"362S162-43", 3.625, 1.625, .5, .0451, .710, .372, 7.34, 7.62, 1739, 676},
	{"362S162-54", 3.625, 1.625, .5, .0566, .873, .466, 9.22, 9.51, 2341, 705},
}

func (p published) section() Section {
	hole := 1.5
	if p.depth <= 2.5 {
		hole = .75
	}
	radius := math.Max(3.0/32-p.t/2, 1.5*p.t)
	return Section{section.Channel{Web: in(p.depth), Flange: in(p.flange), Lip: in(p.lip), Thickness: in(p.t), Radius: in(radius)}, 33 * ksi, in(hole)}
}

// check puts a figure beside the guide's.
func check(t *testing.T, p published, symbol, unit string, status validation.Status, got, want, within float64) {
	t.Helper()
	validation.Check(t, validation.Case{Method: "AISI S100-16", Name: p.name + ": " + symbol, Source: "SSMA product technical guide 2024, section properties", Status: status,
		Unit: unit, Expected: want, Got: got, Tolerance: within})
}

// Check cases 1.2a to 1.2f and table 1c: the guide's own figures to their last
// digit, which the reference found again; moments within 2 %.
func TestEffectiveAgainstGuide(t *testing.T) {
	for _, p := range guide {
		s := p.section()
		local, e := s.Local()
		check(t, p, "Sxe", "in³", validation.Reworked, float64(e.Modulus)/in3, p.sxe, .0016)
		check(t, p, "Ixe", "in⁴", validation.Reworked, float64(s.Deflecting())/in4, p.ixe, .0016)
		check(t, p, "Mal", "in-kip", validation.Reworked, float64(local)/inKip, p.local, .02*p.local)
	}
}

// The guide's allowable moments for distortional buckling and its allowable
// shears, whole and at holes, which the reference did not find again.
func TestDistortionalAndShearAgainstGuide(t *testing.T) {
	for _, p := range guide {
		s := p.section()
		check(t, p, "Mad", "in-kip", validation.Read, float64(s.Distortional())/inKip, p.distortional, .02*p.distortional)
		check(t, p, "V", "lb", validation.Read, float64(s.Shear())/lb, p.vg, .005*p.vg)
		check(t, p, "V at holes", "lb", validation.Read, float64(s.ShearAtHole())/lb, p.vnet, .005*p.vnet)
	}
}

// Web crippling is from memory: it grows with bearing, and 600S125-27 is too
// slender for the method.
func TestCripplingAndScope(t *testing.T) {
	s := guide[9].section()
	if s.Crippling(in(1)) <= 0 || s.Crippling(in(1)) >= s.Crippling(in(1.25)) {
		t.Errorf("web crippling: %v at 1 in, %v at 1.25 in", s.Crippling(in(1)), s.Crippling(in(1.25)))
	}
	if len(s.Scope()) != 0 {
		t.Errorf("%s: %v", guide[9].name, s.Scope())
	}
	slender := guide[15].section()
	if len(slender.Scope()) != 1 {
		t.Errorf("%s: %v", guide[15].name, slender.Scope())
	}
}
