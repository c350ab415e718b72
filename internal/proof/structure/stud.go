package structure

import (
	"fmt"
	"slices"

	"nogging/internal/catalogue"
	"nogging/internal/proof/structure/aisi_s100"
	"nogging/internal/proof/structure/en1993_1_3"
	"nogging/internal/proof/structure/section"
	"nogging/internal/quantity"
)

// Length is a length in a proof.
type Length = quantity.Length

// Stud is what one profile can do, as figures: made once for a profile, then
// used for any number of walls. For EN 1993-1-3 the strengths are design values
// that are held against loads times Factor; for AISI S100 they are allowable
// values, and Factor is 1.
type Stud struct {
	Profile *catalogue.Profile
	Method  string // catalogue.EN1993 or catalogue.AISI
	Yield   quantity.Stress
	E       quantity.Stress
	Bearing Length // of the web on the track
	Factor  float64

	Area      quantity.SectionArea
	Gross     quantity.SecondMoment
	Effective quantity.SecondMoment // at the yield strength (EN 1993-1-3), or for deflections (AISI S100)
	Moment    quantity.Moment
	Shear     quantity.Force
	Support   quantity.Force // of the web at the track
	Scope     []string       // what is outside the method's range
}

// channel returns the profile's shape.
func channel(p *catalogue.Profile) section.Channel {
	return section.Channel{Web: p.Web, Flange: p.Flange, Lip: p.Lip, Thickness: p.Thickness, Radius: p.Radius}
}

// NewStud reckons what a profile can do by the practice's method, standing with
// its web on bearing in the track. It returns what is missing where it cannot.
func NewStud(p *catalogue.Profile, pr *catalogue.Practice, bearing Length) (*Stud, []string) {
	s := &Stud{Profile: p, Method: pr.SteelMethod.Value, Bearing: max(bearing, 0), Yield: quantity.Stress(p.Yield)}
	if s.Yield == 0 {
		s.Yield = quantity.Stress(pr.SteelYield.Value)
	}
	var missing []string
	if s.Yield <= 0 {
		missing = append(missing, "the yield strength of "+p.ID)
	}
	if p.Radius <= 0 {
		missing = append(missing, "the radius of the corners of "+p.ID)
	}
	if f := channel(p).Flats(); f.Web <= 0 || f.Flange <= 0 || p.Coating >= p.Thickness {
		missing = append(missing, fmt.Sprintf("dimensions of %s that make a channel", p.ID))
	}
	if !slices.Contains([]string{catalogue.EN1993, catalogue.AISI}, s.Method) {
		missing = append(missing, "the standard by which steel is proven (steel_method)")
	}
	if len(missing) > 0 {
		return nil, missing
	}
	g := channel(p).Gross()
	s.Area, s.Gross = g.Area, g.Major
	if s.Method == catalogue.EN1993 {
		s.byEN1993()
	} else {
		s.byAISI()
	}
	if !(s.Moment > 0 && s.Shear > 0 && s.Support > 0) {
		return nil, []string{fmt.Sprintf("a strength of %s: its web is too slender or its holes are too large for the method", p.ID)}
	}
	return s, nil
}

func (s *Stud) byEN1993() {
	x := en1993_1_3.Of(channel(s.Profile), s.Profile.Coating, s.Yield)
	e := x.Bending()
	_, gross := x.Gross()
	s.E, s.Factor = en1993_1_3.E, loadFactor
	s.Gross, s.Effective = quantity.SecondMoment(gross), quantity.SecondMoment(e.Major)
	s.Moment, s.Shear, s.Support = x.BendingResistance(&e), x.ShearResistance(), x.SupportResistance(s.Bearing)
	s.Scope = x.Scope()
}

func (s *Stud) byAISI() {
	x := aisi_s100.Section{Channel: channel(s.Profile), Fy: s.Yield, Hole: s.Profile.Hole}
	s.E, s.Factor = aisi_s100.E, 1
	s.Effective = x.Deflecting()
	s.Moment, s.Shear, s.Support = x.Allowable(), x.ShearAtHole(), x.Crippling(s.Bearing)
	s.Scope = x.Scope()
}

// second returns the second moment of area in mm⁴ for deflections under a
// moment in N·m.
func (s *Stud) second(m float64) float64 {
	if s.Method == catalogue.AISI {
		return float64(s.Effective)
	}
	return en1993_1_3.Deflecting(float64(s.Gross), float64(s.Effective), s.Profile.Web.MM(), float64(s.Yield), quantity.Moment(m))
}

// stiffness returns EI in N·m² under a moment in N·m.
func (s *Stud) stiffness(m float64) float64 { return float64(s.E) * s.second(m) * 1e-6 }
