package structure

import (
	"fmt"
	"math"

	"nogging/internal/catalogue"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/proof"
	"nogging/internal/proof/structure/beam"
	"nogging/internal/quantity"
)

// slam is by how much the load of a leaf that is let go counts: a load put on at
// once does twice what it does at rest (statics of a spring). No standard says
// how hard doors in partitions slam.
const slam = 2

// hinge is how far the outermost hinges are from a leaf's upper and lower edge
// (common practice).
const hinge = 250 * quantity.Millimetre

// framed reports whether studs make way for an opening, so that it has jambs.
func framed(o *layout.Opening) bool { return o.Kind != plan.Penetration }

// opening checks the jambs and the header of one opening.
func (p *prover) opening(o *layout.Opening) {
	if !framed(o) {
		return
	}
	jamb, missing := p.jambFrame(o)
	if len(missing) > 0 {
		p.add(proof.Check{Name: "jambs of " + o.ID, Verdict: proof.NotProven, Missing: missing})
		return
	}
	p.jambs(o, jamb)
	if o.Kind == plan.Door {
		p.leaf(o, jamb)
		p.jambRule(o)
	}
	p.header(o)
}

// jambFrame returns the weaker jamb of an opening as a frame that bears half of
// the opening and half of the bay beside it.
func (p *prover) jambFrame(o *layout.Opening) (*Frame, []string) {
	product, studs := "", 0.0
	for _, at := range []Length{o.U.From, o.U.To} {
		id, n := p.jambAt(o, at)
		if product == "" || n < studs {
			product, studs = id, n
		}
	}
	if studs == 0 {
		return nil, []string{"studs beside the opening"}
	}
	x, ok := p.Catalogue.Profile(product)
	if !ok {
		return nil, []string{"the profile " + product}
	}
	s, missing := NewStud(x, p.Practice, p.bearing())
	if len(missing) > 0 {
		return nil, missing
	}
	return &Frame{Stud: s, Studs: studs, Spacing: (o.U.Len() + p.frame.Spacing) / 2}, nil
}

// jambReach is how far from an opening's side the studs of its jamb stand: two
// of the widest.
const jambReach = 150 * quantity.Millimetre

// jambAt returns the profile of the studs that stand floor to soffit beside one
// side of an opening, in one line of frame, and how many they are.
func (p *prover) jambAt(o *layout.Opening, side Length) (string, float64) {
	product, n := "", 0.0
	first := p.Wall.FrameLines[0].Offset // frames of a twin wall are alike
	for i := range p.Wall.Members {
		m := &p.Wall.Members[i]
		if m.Line >= len(p.Wall.FrameLines) || p.Wall.FrameLines[m.Line].Offset != first {
			continue
		}
		full := m.Upright() && m.Role != layout.Cripple && m.To.Y > o.Head && m.From.Y < o.Sill+jambReach
		if !full || (m.From.X-side).Abs() > jambReach || m.From.X > o.U.From && m.From.X < o.U.To {
			continue
		}
		if m.Role == layout.OpeningStud || product == "" {
			if product != m.Product {
				product, n = m.Product, 0
			}
		}
		if m.Product == product {
			n++
		}
	}
	return product, n
}

// jambs checks the jambs under what the opening brings to them.
func (p *prover) jambs(o *layout.Opening, f *Frame) {
	use, k := f.Worst(p.height, &p.demand)
	if use == 0 {
		return
	}
	width := quantity.Derivation{Name: "width of load on one jamb", Symbol: "b", Value: f.Spacing.MM(), Unit: "mm", Method: "half the opening and half the bay beside it", Status: quantity.Derived}
	got := quantity.Derivation{Name: "use of the jamb: " + k.String(), Value: use, Method: fmt.Sprintf("as for studs, %g %s", f.Studs, f.Stud.Profile.ID), Status: quantity.Derived, Source: "statics",
		From: []quantity.Derivation{width, p.heightNode(), profileNode(f.Stud.Profile)}}
	c := proof.Check{Name: "jambs of " + o.ID, Asked: p.askedWords(k), Use: use, Got: &got}
	c.Verdict, c.Missing = judged(use, f.Stud.Scope)
	if c.Verdict == proof.Fails {
		c.Advice = "take opening studs, a deeper frame, or a narrower opening"
	}
	p.add(c)
}

// leaf checks a jamb under a leaf that stands open at right angles to the wall:
// its hinges turn the jamb with the leaf's weight on half its width, and twice
// that where it is let go.
func (p *prover) leaf(o *layout.Opening, f *Frame) {
	c := proof.Check{Name: "leaf of " + o.ID + " let go while open", Verdict: proof.NotProven}
	if o.LeafMass <= 0 {
		c.Missing = []string{fmt.Sprintf("the mass of the leaf of %s with its hardware", o.ID)}
		c.Advice = "write leaf_mass: in kg"
		p.add(c)
		return
	}
	couple := float64(quantity.Mass(o.LeafMass).Weight()) * o.Width().Metres() / 2
	m := LeafMoment(couple, (o.Head-p.Wall.Base-hinge).Metres(), hinge.Metres(), p.height.Metres()) * slam * f.Stud.Factor
	c.Use = m / (f.Studs * float64(f.Stud.Moment))
	c.Verdict, c.Missing = judged(c.Use, f.Stud.Scope)
	c.Asked = fmt.Sprintf("%g kg", o.LeafMass)
	got := quantity.Derivation{Name: "moment in the jamb", Symbol: "M", Value: m, Unit: "N·m", Method: "2 × m g b/2 × max(z, h - Z)/h × load factor, Z and z the heights of the upper and lower hinge", Source: "statics; a load put on at once counts twice", Status: quantity.Estimate,
		Note: "no standard gives the force of a slammed door; for one leaf over the whole opening",
		From: []quantity.Derivation{entered("mass of the leaf", "m", o.LeafMass, "kg"), entered("width of the opening", "b", o.Width().MM(), "mm"), p.heightNode(),
			{Name: "bending strength of the jamb", Value: f.Studs * float64(f.Stud.Moment), Unit: "N·m", Method: fmt.Sprintf("%g × %s", f.Studs, f.Stud.Profile.ID), Status: quantity.Derived, From: []quantity.Derivation{profileNode(f.Stud.Profile), p.yieldNode()}}}}
	c.Got = &got
	if c.Verdict == proof.Fails {
		c.Advice = "take opening studs or a deeper frame"
	}
	p.add(c)
}

// LeafMoment returns the greatest moment in N·m that a couple (N·m), as two
// opposite forces at the heights upper and lower, brings to a jamb of a height.
func LeafMoment(couple, upper, lower, height float64) float64 {
	end := couple / height
	return end * math.Max(lower, height-upper)
}

// jambRule checks the jambs against the practice's table for doors.
func (p *prover) jambRule(o *layout.Opening) {
	c := proof.Check{Name: "make of the jambs of " + o.ID, Verdict: proof.Passes}
	rule, ok := p.Practice.JambFor(o.LeafMass, o.Width(), p.height)
	if !ok {
		c.Verdict, c.Missing = proof.NotProven, []string{"a row of the practice's jamb table for this door"}
		p.add(c)
		return
	}
	c.Asked = rule.Jamb.Words()
	stiff := p.hasOpeningStud(o)
	got := quantity.Derivation{Name: "make of the jambs", Text: catalogue.JambBoxed.Words(), Method: rule.String(), Source: rule.Source, Status: p.Practice.Jambs.Status}
	if stiff {
		got.Text = catalogue.JambOpeningStud.Words()
	}
	if rule.Jamb == catalogue.JambOpeningStud && !stiff {
		c.Verdict, c.Advice = proof.Fails, "take a stud whose series has an opening stud"
	}
	if most := p.Practice.HeaviestLeaf(p.Build.FrameDepth()); stiff && most > 0 && o.LeafMass > 0 {
		got.From = []quantity.Derivation{ruleNode(quantity.Derivation{Name: "heaviest leaf on these opening studs", Value: most, Unit: "kg"}, p.Practice, "opening_stud_leaf"), entered("mass of the leaf", "m", o.LeafMass, "kg")}
		if c.Use = o.LeafMass / most; c.Use > 1 {
			c.Verdict, c.Advice = proof.Fails, "take a deeper frame, or have the jambs designed"
		}
	}
	c.Got = &got
	p.add(c)
}

// hasOpeningStud reports whether both sides of an opening have the stiff
// profile.
func (p *prover) hasOpeningStud(o *layout.Opening) bool {
	for _, at := range []Length{o.U.From, o.U.To} {
		id, _ := p.jambAt(o, at)
		if id != p.Build.OpeningStud.ID || p.Build.OpeningStud == p.Build.Stud {
			return false
		}
	}
	return true
}

// header checks the header under what presses on the face above and below it.
// What it carries downwards is checked by the layout.
func (p *prover) header(o *layout.Opening) {
	x := p.headerProfile(o)
	if x == nil || p.demand.Pressure <= 0 {
		return
	}
	c := proof.Check{Name: "header of " + o.ID + " under uniform pressure", Verdict: proof.NotProven, Asked: fmt.Sprintf("%.0f Pa", float64(p.demand.Pressure))}
	s, missing := NewStud(x, p.Practice, p.bearing())
	if len(missing) > 0 {
		c.Missing = missing
		p.add(c)
		return
	}
	high := (p.height - o.Sill) / 2
	w, l := float64(p.demand.Pressure)*high.Metres(), o.U.Len().Metres()
	m := s.Factor * beam.UniformMoment(w, l)
	c.Use = m / float64(s.Moment)
	c.Verdict, c.Missing = judged(c.Use, s.Scope)
	got := quantity.Derivation{Name: "moment in the header", Symbol: "M", Value: m, Unit: "N·m", Method: "p b l²/8 × load factor", Source: "statics", Status: quantity.Derived, Note: p.factorNote(PressureBending),
		From: []quantity.Derivation{p.pressureNode(), {Name: "height of load on the header", Symbol: "b", Value: high.MM(), Unit: "mm", Method: "half of what is above and half of the opening", Status: quantity.Derived},
			{Name: "width of the opening", Symbol: "l", Value: o.U.Len().MM(), Unit: "mm", Method: "from the layout", Status: quantity.Derived},
			{Name: "bending strength of the header", Value: float64(s.Moment), Unit: "N·m", Status: quantity.Derived, From: []quantity.Derivation{profileNode(x), p.yieldNode()}}}}
	c.Got = &got
	if c.Verdict == proof.Fails {
		c.Advice = "take a header of two profiles, or a narrower opening"
	}
	p.add(c)
}

// headerProfile returns the profile of the header over an opening, nil where
// there is none.
func (p *prover) headerProfile(o *layout.Opening) *catalogue.Profile {
	for i := range p.Wall.Members {
		m := &p.Wall.Members[i]
		u := geom.Interval{From: min(m.From.X, m.To.X), To: max(m.From.X, m.To.X)}
		if m.Role == layout.Header && u.From <= o.U.From+jambReach && u.To >= o.U.To-jambReach && (m.From.Y-o.Head).Abs() < jambReach {
			if x, ok := p.Catalogue.Profile(m.Product); ok {
				return x
			}
		}
	}
	return nil
}
