package structure

import (
	"fmt"

	"nogging/internal/catalogue"
	"nogging/internal/proof/structure/beam"
	"nogging/internal/quantity"
)

// derive shows how the figure of a kind was found, over the same numbers as
// Frame.Use.
func (p *prover) derive(k Kind) quantity.Derivation {
	switch k {
	case PressureDeflection, LineDeflection:
		return p.deflection(k)
	case LineShear:
		return p.combinedDerivation()
	case PressureShear, PressureSupport, LineSupport, QuakeSupport:
		return p.reaction(k)
	}
	return p.bending(k)
}

func (p *prover) heightNode() quantity.Derivation {
	return quantity.Derivation{Name: "height between floor and soffit, at the highest place", Symbol: "h", Value: p.height.MM(), Unit: "mm", Method: "from the layout", Status: quantity.Derived}
}

func (p *prover) spacingNode() quantity.Derivation {
	d := quantity.Derivation{Name: "distance of stud centres", Symbol: "s", Value: p.frame.Spacing.MM(), Unit: "mm"}
	if p.Build.Spec.Frame.Spacing > 0 {
		d.Source, d.Status = "the build-up", quantity.Entered
		return d
	}
	return ruleNode(d, p.Practice, "stud_spacing")
}

// ruleNode fills in where a figure of the practice comes from.
func ruleNode(d quantity.Derivation, pr *catalogue.Practice, rule string) quantity.Derivation {
	if r, ok := pr.Rule(rule); ok {
		d.Source, d.Status, d.Note = r.Source, r.Status, r.Note
	}
	return d
}

func (p *prover) pressureNode() quantity.Derivation {
	d := quantity.Derivation{Name: "uniform pressure", Symbol: "p", Value: float64(p.demand.Pressure), Unit: "Pa", Source: "the plan", Status: quantity.Entered}
	if p.Spec.Require.Pressure == 0 {
		return ruleNode(d, p.Practice, "pressure")
	}
	return d
}

// loadNode is the load on one stud.
func (p *prover) loadNode(k Kind) quantity.Derivation {
	switch {
	case k <= PressureSupport:
		return quantity.Derivation{Name: "load on one stud", Symbol: "w", Value: p.frame.spread(p.demand.Pressure), Unit: "N/m", Method: "p s", Status: quantity.Derived,
			From: []quantity.Derivation{p.pressureNode(), p.spacingNode()}}
	case k <= LineSupport:
		line := quantity.Derivation{Name: "line load of " + p.Spec.Require.Duty, Symbol: "q", Value: float64(p.demand.Line), Unit: "N/m", Source: "DIN 4103-1:2015 5.2", Status: quantity.Published}
		return quantity.Derivation{Name: "load on one stud", Symbol: "P", Value: p.frame.point(&p.demand).P, Unit: "N", Method: "q s", Status: quantity.Derived, From: []quantity.Derivation{line, p.spacingNode()}}
	}
	return quantity.Derivation{Name: "load on one stud", Symbol: "w", Value: p.frame.spread(p.demand.Quake), Unit: "N/m", Method: "seismic load × s", Status: quantity.Derived,
		From: []quantity.Derivation{p.quakeDerivation(), p.spacingNode()}}
}

func lineHeightNode(d *Demand) quantity.Derivation {
	return quantity.Derivation{Name: "height of the line load", Symbol: "a", Value: d.LineHeight.MM(), Unit: "mm", Source: "DIN 4103-1:2015", Status: quantity.Published}
}

func (p *prover) deflection(k Kind) quantity.Derivation {
	l := p.height.Metres()
	d := quantity.Derivation{Name: k.String(), Symbol: "δ", Value: 1000 * p.frame.Deflection(k, p.height, &p.demand), Unit: "mm", Status: quantity.Derived,
		Source: "elementary theory of bending, simply supported", Method: "5 w h⁴/(384 E I)"}
	m := beam.UniformMoment(p.frame.spread(p.demand.Pressure), l)
	d.From = []quantity.Derivation{p.loadNode(k), p.heightNode()}
	if k == LineDeflection {
		m = p.frame.point(&p.demand).Moment(l)
		d.Method = "P b (h² - b²)^1.5/(9√3 h E I), b from the load to the nearer end"
		d.From = append(d.From, lineHeightNode(&p.demand))
	}
	d.From = append(d.From, p.elasticNode(), p.secondNode(m))
	limit := ruleNode(quantity.Derivation{Name: "greatest deflection", Value: 1000 * l / p.demand.Limit, Unit: "mm", Method: fmt.Sprintf("h/%g", p.demand.Limit)}, p.Practice, "deflection_limit")
	d.From = append(d.From, limit)
	if k == PressureDeflection && p.Practice.ScrewSlip.Value > 0 && p.frame.Boards[0].Slip > 0 {
		d.Note = fmt.Sprintf("with the estimated help of the boards %.1f mm (%s); it is no part of the proof", 1000*p.frame.Composite(p.height, &p.demand), "EN 1995-1-1 Annex B")
	}
	return d
}

func (p *prover) elasticNode() quantity.Derivation {
	source := "EN 1993-1-3:2006 3.2.6"
	if p.stud.Method == catalogue.AISI {
		source = "AISI S100-16 A3.3: 29 500 ksi"
	}
	return quantity.Derivation{Name: "modulus of elasticity", Symbol: "E", Value: float64(p.stud.E), Unit: "N/mm²", Source: source, Status: quantity.Published}
}

// secondNode shows the second moment of area under a moment.
func (p *prover) secondNode(m float64) quantity.Derivation {
	d := quantity.Derivation{Name: "second moment of area for deflections", Symbol: "I", Value: p.stud.second(m), Unit: "mm⁴", Status: quantity.Derived}
	if p.stud.Method == catalogue.AISI {
		d.Method, d.Source = "effective section under the allowable moment, without holes", "AISI S100-16 L1.1, appendix 1, procedure I"
		d.From = []quantity.Derivation{p.profileNode(), p.yieldNode()}
		return d
	}
	d.Method, d.Source, d.Status = "Igr - σ/fy (Igr - Ieff)", "EN 1993-1-3:2006 7.1(3)", quantity.Memory
	d.From = []quantity.Derivation{
		{Name: "second moment of the whole section", Symbol: "Igr", Value: float64(p.stud.Gross), Unit: "mm⁴", Source: "EN 1993-1-3:2006 5.1", Status: quantity.Derived, From: []quantity.Derivation{p.profileNode()}},
		{Name: "second moment of the effective section", Symbol: "Ieff", Value: float64(p.stud.Effective), Unit: "mm⁴", Source: "EN 1993-1-3:2006 5.5.3.2, EN 1993-1-5:2006 4.4", Status: quantity.Derived, From: []quantity.Derivation{p.profileNode(), p.yieldNode()}},
	}
	return d
}

func (p *prover) profileNode() quantity.Derivation { return profileNode(p.stud.Profile) }

func profileNode(x *catalogue.Profile) quantity.Derivation {
	text := fmt.Sprintf("%s: web %s, flange %s, lip %s, sheet %s, radius %s mm", x.ID, x.Web, x.Flange, x.Lip, x.Thickness, x.Radius)
	if x.Coating > 0 {
		text += fmt.Sprintf(", of which coating %s", x.Coating)
	}
	if x.Hole > 0 {
		text += fmt.Sprintf(", holes %s", x.Hole)
	}
	return quantity.Derivation{Name: "profile", Text: text, Source: x.Source, Status: x.Status}
}

func (p *prover) yieldNode() quantity.Derivation {
	d := quantity.Derivation{Name: "yield strength", Symbol: "fy", Value: float64(p.stud.Yield), Unit: "N/mm²"}
	if x := p.stud.Profile; x.Yield > 0 {
		d.Source, d.Status = x.Source, x.Status
		return d
	}
	return ruleNode(d, p.Practice, "steel_yield")
}

// strength shows a strength of the stud.
func (p *prover) strength(name, symbol string, value float64, unit, en, us string, recalled bool) quantity.Derivation {
	d := quantity.Derivation{Name: name, Symbol: symbol, Value: value, Unit: unit, Source: en, Status: quantity.Derived, From: []quantity.Derivation{p.profileNode(), p.yieldNode()}}
	if p.stud.Method == catalogue.AISI {
		d.Source = us
	}
	if recalled {
		d.Status = quantity.Memory
	}
	return d
}

func (p *prover) momentStrength() quantity.Derivation {
	return p.strength("bending strength", "M", float64(p.stud.Moment), "N·m",
		"EN 1993-1-3:2006 6.1.4.1, γM0 1.0, flanges held by boards", "AISI S100-16 F3.1, F4, Ω 1.67, flanges held by boards; with holes", false)
}

func (p *prover) shearStrength() quantity.Derivation {
	return p.strength("shear strength", "V", float64(p.stud.Shear), "N", "EN 1993-1-3:2006 6.1.5", "AISI S100-16 G2.1 and G3, Ω 1.60", p.stud.Method == catalogue.EN1993)
}

func (p *prover) supportStrength() quantity.Derivation {
	d := p.strength("strength of the web at the track", "R", float64(p.stud.Support), "N", "EN 1993-1-3:2006 6.1.7.2(2)", "AISI S100-16 G5, end, one flange, Ω 1.85", true)
	bearing := quantity.Derivation{Name: "bearing of the web on the track", Value: p.stud.Bearing.MM(), Unit: "mm", Method: "leg of the track less what the stud is shorter", Status: quantity.Derived,
		From: []quantity.Derivation{profileNode(p.Build.Track)}}
	d.From = append(d.From, bearing)
	return d
}

// factorNote says with what factor loads stand beside strengths.
func (p *prover) factorNote(k Kind) string {
	switch {
	case k >= QuakeBending:
		return "the seismic load is a design value"
	case p.stud.Factor == 1:
		return "allowable strength design"
	}
	return fmt.Sprintf("load × %g", p.stud.Factor)
}

func (p *prover) bending(k Kind) quantity.Derivation {
	l := p.height.Metres()
	d := quantity.Derivation{Name: "moment in one stud", Symbol: "M", Value: p.frame.moment(k, l, &p.demand), Unit: "N·m", Method: "w h²/8", Source: "statics", Status: quantity.Derived, Note: p.factorNote(k),
		From: []quantity.Derivation{p.loadNode(k), p.heightNode()}}
	if k == LineBending {
		d.Method = "P a (h - a)/h"
		d.From = append(d.From, lineHeightNode(&p.demand))
	}
	d.From = append(d.From, p.momentStrength())
	return d
}

func (p *prover) reaction(k Kind) quantity.Derivation {
	v, _ := p.frame.shear(k, p.height.Metres(), &p.demand)
	d := quantity.Derivation{Name: "force at the end of one stud", Symbol: "V", Value: v, Unit: "N", Method: "w h/2", Source: "statics", Status: quantity.Derived, Note: p.factorNote(k),
		From: []quantity.Derivation{p.loadNode(k), p.heightNode()}}
	if k == LineSupport {
		d.Method = "P (h - a)/h at the foot, P a/h at the head, the greater"
		d.From = append(d.From, lineHeightNode(&p.demand))
	}
	if k == PressureShear {
		d.From = append(d.From, p.shearStrength())
	} else {
		d.From = append(d.From, p.supportStrength())
	}
	return d
}

func (p *prover) combinedDerivation() quantity.Derivation {
	method, source := "M/M + (2 V/V - 1)² where V is above half of its strength", "EN 1993-1-3:2006 6.1.10, Mf,Rd taken as 0"
	if p.stud.Method == catalogue.AISI {
		method, source = "√((M/Ma)² + (V/Va)²)", "AISI S100-16 H2"
	}
	return quantity.Derivation{Name: "use under shear with bending, at the line load", Value: p.frame.Use(LineShear, p.height, &p.demand), Method: method, Source: source, Status: quantity.Memory,
		From: []quantity.Derivation{p.bending(LineBending), p.shearStrength()}}
}
