package aisi_s100

import (
	"fmt"
	"math"

	"nogging/internal/quantity"
)

// Allowable returns the allowable moment: the lower of local and distortional
// buckling, where boards hold the compressed flange against buckling sideways.
func (s *Section) Allowable() quantity.Moment {
	local, _ := s.Local()
	if d := s.Distortional(); d > 0 {
		return min(local, d)
	}
	return local
}

// Shear returns the allowable shear of the whole web (G2.1, kv = 5.34).
func (s *Section) Shear() quantity.Force {
	t, h := s.Thickness.MM(), s.Flats().Web
	fy, ratio := float64(s.Fy), h/t
	const kv = 5.34
	limit := math.Sqrt(E * kv / fy)
	f := 0.60 * fy
	switch {
	case ratio > 1.51*limit:
		f = math.Pi * math.Pi * E * kv / (12 * (1 - Poisson*Poisson) * ratio * ratio)
	case ratio > limit:
		f = 0.60 * math.Sqrt(E*kv*fy) / ratio
	}
	return quantity.Force(f * h * t / OmegaShear)
}

// ShearAtHole returns the allowable shear where the web has a hole with square
// or oval ends (G3).
func (s *Section) ShearAtHole() quantity.Force {
	v := s.Shear()
	if s.Hole <= 0 {
		return v
	}
	t := s.Thickness.MM()
	c := (s.Flats().Web - s.Hole.MM()) / 2 / t
	switch {
	case c >= 54:
		return v
	case c >= 5:
		return quantity.Force(float64(v) * c / 54)
	}
	return 0
}

// Crippling returns the allowable force of the web at an end support on a
// bearing of the given length, not fastened to it (G5, table G5-2, end, one
// flange; factors from memory).
func (s *Section) Crippling(bearing quantity.Length) quantity.Force {
	t := s.Thickness.MM()
	r, n, h := s.Radius.MM()/t, bearing.MM()/t, s.Flats().Web/t
	c, cr, cn, ch := 4.0, 0.14, 0.35, 0.02
	if s.Lip <= 0 {
		c, cr, cn, ch = 4.0, 0.40, 0.60, 0.03
	}
	p := c * t * t * float64(s.Fy) * (1 - cr*math.Sqrt(r)) * (1 + cn*math.Sqrt(n)) * (1 - ch*math.Sqrt(h))
	return quantity.Force(math.Max(p/OmegaCrippling, 0))
}

// Scope lists what is outside the range of the method (B4.1, table B4.1-1, and
// G5 for the web at supports); nothing where all is inside.
func (s *Section) Scope() []string {
	t, f := s.Thickness.MM(), s.Flats()
	var out []string
	limit := func(what string, value, most float64) {
		if value > most {
			out = append(out, fmt.Sprintf("%s is %.0f, above the %.0f up to which AISI S100 holds", what, value, most))
		}
	}
	limit("w/t of the flange", f.Flange/t, 60)
	limit("h/t of the web at the track", f.Web/t, 200)
	limit("R/t of the corners at the track", s.Radius.MM()/t, 9)
	return out
}
