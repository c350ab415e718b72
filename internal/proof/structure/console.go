package structure

import (
	"cmp"
	"fmt"

	"nogging/internal/catalogue"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/proof"
	"nogging/internal/proof/structure/beam"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// groundReach is how far above or below the fixings a ground may be and still
// take them.
const groundReach = 150 * quantity.Millimetre

// fixture returns what the practice says about a kind of fixing.
func (p *prover) fixture(kind string) catalogue.Fixture {
	for _, x := range p.Practice.Fixtures.Value {
		if x.Kind == kind {
			return x
		}
	}
	return catalogue.Fixture{}
}

// fixing checks one thing hung on the wall: what the boards or the ground bear,
// and what it brings to the studs.
func (p *prover) fixing(f *plan.Fixing) {
	usual := p.fixture(f.Kind)
	height := cmp.Or(f.Height, usual.Height)
	name := fmt.Sprintf("%s on face %s at %s mm", f.Kind, f.Face, f.At)
	mass := f.Mass
	if mass == 0 {
		mass = usual.Load
	}
	missing := p.fixingLacks(f, usual, mass)
	if len(missing) > 0 {
		p.add(proof.Check{Name: name, Verdict: proof.NotProven, Missing: missing})
		return
	}
	load := quantity.LineLoad(float64(quantity.Mass(mass).Weight()) / f.Width.Metres())
	massNode := entered("mass", "m", mass, "kg")
	if f.Mass == 0 {
		massNode = ruleNode(massNode, p.Practice, "fixtures")
	}
	node := quantity.Derivation{Name: "load per metre of wall", Symbol: "q", Value: float64(load) / 1000, Unit: "kN/m", Method: "m g/width", Status: quantity.Derived,
		From: []quantity.Derivation{massNode, entered("width", "", f.Width.MM(), "mm"), entered("lever arm", "e", f.Lever.MM(), "mm")}}
	p.boardsBear(name, f, height, load, node)
	p.studsBear(name, f, height, load, node)
}

// fixingLacks lists what is missing or out of scope for a fixing.
func (p *prover) fixingLacks(f *plan.Fixing, usual catalogue.Fixture, mass float64) []string {
	var missing []string
	if usual.Frame {
		return []string{"the proof of the frame on which it hangs, which stands on the floor: its maker's"}
	}
	if mass <= 0 {
		missing = append(missing, "its mass (mass: in kg)")
	}
	if f.Width <= 0 {
		missing = append(missing, "its width (width:), over which its load is spread")
	}
	if f.Lever <= 0 {
		missing = append(missing, "the distance of its load from the face (lever:)")
	}
	if most := p.Practice.ConsoleLever.Value; f.Lever > most {
		missing = append(missing, fmt.Sprintf("a proof for a lever arm of %s mm: the classes of console loads end at %s mm; take a ground between opening studs and have it designed", f.Lever, most))
	}
	return missing
}

// boardsBear checks what boards and grounds bear, by the practice's classes of
// console loads.
func (p *prover) boardsBear(name string, f *plan.Fixing, height Length, load quantity.LineLoad, node quantity.Derivation) {
	boards, ground := p.Build.BoardsThickness(f.Face), p.hasGround(f, height)
	most := p.Practice.ConsoleFor(boards, ground)
	c := proof.Check{Name: name + ": boards", Asked: fmt.Sprintf("%.2f kN/m", float64(load)/1000)}
	if most <= 0 {
		c.Verdict, c.Missing = proof.NotProven, []string{fmt.Sprintf("a class of console loads for boards of %s mm (consoles)", boards)}
		p.add(c)
		return
	}
	c.Use = float64(load) / 1000 / most
	c.Verdict, _ = judged(c.Use, nil)
	if c.Verdict == proof.Fails {
		c.Advice = p.betterConsole(boards, load)
	}
	limit := ruleNode(quantity.Derivation{Name: "greatest console load", Value: most, Unit: "kN/m", Method: fmt.Sprintf("boards %s mm, ground %s", boards, yes(ground))}, p.Practice, "consoles")
	got := node
	got.From = append(got.From, limit)
	got.Note = "fixings at least 75 mm apart, and of a kind that the boards take"
	c.Got = &got
	p.add(c)
}

func yes(v bool) string {
	if v {
		return "yes"
	}
	return "no"
}

// betterConsole says which class would bear a load.
func (p *prover) betterConsole(boards Length, load quantity.LineLoad) words.Text {
	kn := float64(load) / 1000
	if p.Practice.ConsoleFor(boards, true) >= kn {
		return "put a ground between the studs behind it"
	}
	for _, c := range p.Practice.Consoles.Value {
		if c.Load >= kn {
			return words.F("take boards of %s mm in all%s", c.Boards, map[bool]string{true: ", and a ground between the studs", false: ""}[c.Ground])
		}
	}
	return "hang it on opening studs or on a frame of its own that stands on the floor, and have that designed"
}

// hasGround reports whether a ground stands behind the whole width of a fixing.
func (p *prover) hasGround(f *plan.Fixing, height Length) bool {
	reached := f.At
	for range p.Wall.Members {
		before := reached
		for i := range p.Wall.Members {
			m := &p.Wall.Members[i]
			from, to := min(m.From.X, m.To.X), max(m.From.X, m.To.X)
			// grounds end on studs, so that there is a flange between two of them
			if m.Role == layout.Nogging && (m.From.Y-height).Abs() <= groundReach && from <= reached+groundReach/2 && to > reached {
				reached = to
			}
		}
		if reached >= f.At+f.Width || reached == before {
			break
		}
	}
	return reached+groundReach/2 >= f.At+f.Width && reached > f.At
}

// studsBear checks the studs under the couple of a console. It is not added to
// the line load (DIN 4103-1).
func (p *prover) studsBear(name string, f *plan.Fixing, height Length, load quantity.LineLoad, node quantity.Derivation) {
	share := min(p.frame.Spacing, f.Width).Metres() // no stud has more than the whole thing
	couple := float64(load) * share * f.Lever.Metres()
	m := p.stud.Factor * beam.CoupleMoment(couple, height.Metres(), p.height.Metres())
	c := proof.Check{Name: name + ": studs", Use: m / float64(p.stud.Moment)}
	c.Verdict, c.Missing = judged(c.Use, p.stud.Scope)
	if c.Verdict == proof.NotProven && p.evidence != nil && lineShown(p.evidence, p.Spec.Require.Duty) {
		c.Verdict, c.Missing = proof.Shown, nil
	}
	if c.Verdict == proof.Fails {
		c.Advice = "put studs closer, or opening studs beside it"
	}
	got := quantity.Derivation{Name: "moment in one stud", Symbol: "M", Value: m, Unit: "N·m", Method: "q s e max(z, h - z)/h × load factor", Source: "statics", Status: quantity.Derived, Note: p.factorNote(LineBending),
		From: []quantity.Derivation{node, p.spacingNode(), p.heightNode(), {Name: "height of the fixings", Symbol: "z", Value: height.MM(), Unit: "mm", Status: quantity.Entered, Source: "the plan"}, p.momentStrength()}}
	c.Got = &got
	p.add(c)
}
