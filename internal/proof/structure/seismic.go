package structure

import (
	"cmp"

	"nogging/internal/catalogue"
	"nogging/internal/plan"
	"nogging/internal/proof"
	"nogging/internal/proof/floorload"
	"nogging/internal/proof/structure/asce7_16"
	"nogging/internal/proof/structure/en1998_1"
	"nogging/internal/quantity"
)

// quake adds the earthquake to the demand where the plan gives one. What is
// missing for it is a check of its own, and the other checks go on.
func (p *prover) quake() []string {
	if p.Seismic == (plan.Seismic{}) {
		return nil
	}
	m, missing := floorload.MassesOf(p.Wall, p.Catalogue, p.Practice)
	q := p.Seismic
	if q.Importance <= 0 {
		missing = append(missing, "the importance factor (seismic: importance)")
	}
	if q.Height <= 0 {
		missing = append(missing, "the height of the building (seismic: height)")
	}
	if p.stud.Method == catalogue.AISI && q.SDS <= 0 {
		missing = append(missing, "the spectral acceleration (seismic: sds)")
	}
	if p.stud.Method == catalogue.EN1993 && (q.Ground <= 0 || q.Soil <= 0) {
		missing = append(missing, "ground acceleration and soil factor (seismic: ground, soil)")
	}
	if len(missing) > 0 {
		p.add(proof.Check{Name: "earthquake", Verdict: proof.NotProven, Missing: missing})
		return nil
	}
	p.demand.Quake = p.quakeLoad(m.PerArea)
	return nil
}

// place returns the height of the wall's middle over that of the building.
func (p *prover) place() float64 {
	z := p.Level.Elevation - p.Seismic.Base + p.height/2
	return min(max(float64(z)/float64(p.Seismic.Height), 0), 1)
}

// quakeLoad returns the seismic load at the level at which the practice's
// method takes strengths.
func (p *prover) quakeLoad(mass quantity.MassPerArea) quantity.Pressure {
	if p.stud.Method == catalogue.AISI {
		c := asce7_16.Partition(p.Seismic.Importance).Coefficient(p.Seismic.SDS, p.place())
		return quantity.Pressure(asce7_16.Allowable * c * float64(mass) * quantity.Gravity)
	}
	return p.site().Load(mass, p.Seismic.Importance)
}

func (p *prover) site() en1998_1.Site {
	return en1998_1.Site{Alpha: p.Seismic.Ground, Soil: p.Seismic.Soil, Place: p.place(), PeriodRatio: cmp.Or(p.Seismic.PeriodRatio, 1)}
}

// quakeDerivation shows the seismic load.
func (p *prover) quakeDerivation() quantity.Derivation {
	m, _ := floorload.MassesOf(p.Wall, p.Catalogue, p.Practice)
	q := p.Seismic
	place := quantity.Derivation{Name: "place of the wall's middle in the building's height", Symbol: "z/H", Value: p.place(), Method: "from the level's elevation and the building's height", Status: quantity.Derived}
	mass := quantity.Derivation{Name: "mass of the wall per area", Value: float64(m.PerArea), Unit: "kg/m²", Method: "from the take-off", Status: quantity.Derived}
	importance := entered("importance factor", "", q.Importance, "")
	d := quantity.Derivation{Name: "seismic load", Value: float64(p.demand.Quake), Unit: "Pa", Status: quantity.Derived}
	if p.stud.Method == catalogue.AISI {
		d.Method, d.Source = "0.7 × 0.4 ap SDS (1 + 2 z/h) Ip/Rp × weight, from 0.3 to 1.6 SDS Ip", "ASCE 7-16 13.3.1, 2.4.5; ap 1.0, Rp 2.5"
		d.From = []quantity.Derivation{entered("spectral acceleration", "SDS", q.SDS, ""), place, importance, mass}
		return d
	}
	d.Method, d.Source = "Sa Wa γa/qa; Sa = αS [3(1 + z/H)/(1 + (1 - Ta/T1)²) - 0.5], at least αS", "EN 1998-1:2004 4.3.5.2; qa 2.0 (table 4.4, from memory)"
	ratio := entered("period of the wall over that of the building", "Ta/T1", q.PeriodRatio, "")
	if q.PeriodRatio == 0 {
		ratio.Value, ratio.Status, ratio.Note = 1, quantity.Derived, "not given; the worst is taken"
	}
	d.From = []quantity.Derivation{entered("ground acceleration", "α", q.Ground, ""), entered("soil factor", "S", q.Soil, ""), place, ratio, importance, mass}
	return d
}

func entered(name, symbol string, value float64, unit string) quantity.Derivation {
	return quantity.Derivation{Name: name, Symbol: symbol, Value: value, Unit: unit, Source: "the plan", Status: quantity.Entered}
}
