package en1993_1_3

import (
	"fmt"
	"math"

	"nogging/internal/proof/structure/section"
	"nogging/internal/quantity"
)

// Of returns the section of a channel. The coating, both sides together, is
// taken off the thickness (3.2.4); it carries nothing.
func Of(c section.Channel, coating quantity.Length, fy quantity.Stress) Section {
	t := c.Thickness.MM()
	s := Section{
		Web: c.Web.MM() - t, Compressed: c.Flange.MM() - t, Lip: c.Lip.MM() - t/2,
		T: (c.Thickness - coating).MM(), Fy: float64(fy), Radius: c.Radius.MM(),
	}
	if c.Lip <= 0 {
		s.Lip, s.Compressed = 0, c.Flange.MM()-t/2
	}
	s.Other = s.Compressed
	return s
}

// Scope lists what is outside the range in which the method holds without
// tests (5.2, table 5.1, and 6.1.7.2(1) for the web at supports); nothing where
// all is inside.
func (s *Section) Scope() []string {
	var out []string
	limit := func(what string, value, most float64) {
		if value > most {
			out = append(out, fmt.Sprintf("%s is %.0f, above the %.0f up to which EN 1993-1-3 holds without tests", what, value, most))
		}
	}
	flange := 50.0
	if s.Lip > 0 {
		flange = 60
	}
	limit("b/t of the flange", (s.Compressed+s.T)/s.T, flange)
	limit("c/t of the lip", s.Lip/s.T, 50)
	limit("h/t of the web", s.Web/s.T, 500)
	limit("h/t of the web at the track", s.Web/s.T, 200)
	limit("r/t of the corners at the track", s.Radius/s.T, 6)
	return out
}

// BendingResistance returns Mc,Rd (6.1.4.1) where the boards hold the
// compressed flange against buckling sideways.
func (s *Section) BendingResistance(e *Effective) quantity.Moment {
	return quantity.Moment(math.Min(e.WC, e.WT) * s.Fy / 1000)
}

// ShearResistance returns Vb,Rd of a web without stiffening at the support
// (6.1.5, table 6.1; from memory).
func (s *Section) ShearResistance() quantity.Force {
	lambda := 0.346 * s.Web / s.T * math.Sqrt(s.Fy/E)
	f := 0.58 * s.Fy
	switch {
	case lambda >= 1.40:
		f = 0.67 * s.Fy / (lambda * lambda)
	case lambda > 0.83:
		f = 0.48 * s.Fy / lambda
	}
	return quantity.Force(s.Web * s.T * f)
}

// SupportResistance returns Rw,Rd of one web at an end support on a bearing of
// the given length (6.1.7.2(2)a, equation 6.15a, 6.15b, 6.15c; from memory).
func (s *Section) SupportResistance(bearing quantity.Length) quantity.Force {
	t, ss := s.T, bearing.MM()
	k := s.Fy / 228
	k1 := 1.33 - 0.33*k
	k2 := math.Min(math.Max(1.15-0.15*s.Radius/t, 0.5), 1)
	shape := (9.04 - s.Web/t/60) * (1 + 0.01*ss/t)
	if s.Lip == 0 {
		shape = 5.92 - s.Web/t/132
		if ss/t <= 60 {
			shape *= 1 + 0.01*ss/t
		} else {
			shape *= 0.71 + 0.015*ss/t
		}
	}
	return quantity.Force(math.Max(k1*k2*shape*t*t*s.Fy, 0))
}

// Deflecting returns the second moment of area for deflections under a moment
// (7.1(3); from memory): the gross one less the share that buckles locally at
// that moment. Gross and effective are second moments in mm⁴, depth is in mm.
func Deflecting(gross, effective, depth, fy float64, m quantity.Moment) float64 {
	if effective >= gross {
		return gross
	}
	stress := math.Min(math.Abs(float64(m))*1000*depth/2/gross, fy)
	return gross - stress/fy*(gross-effective)
}
