package structure

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/proof"
	"nogging/internal/proof/structure/din4103_1"
	"nogging/internal/proof/structure/en1995_1_1"
	"nogging/internal/quantity"
)

// Input is everything that the proof of one wall depends on.
type Input struct {
	Wall      *layout.Wall
	Spec      *plan.Wall // requirements and fixings
	Level     *plan.Level
	Seismic   plan.Seismic
	Build     *buildup.BuildUp
	Catalogue *catalogue.Catalogue
	Practice  *catalogue.Practice
}

// prover holds what the checks of one wall share.
type prover struct {
	Input
	height   Length
	stud     *Stud
	frame    Frame
	demand   Demand
	evidence *catalogue.HeightEvidence // that covers the wall as built, if any
	checks   []proof.Check
}

// Prove checks one wall. The order of checks is fixed.
func Prove(in Input) []proof.Check {
	p := &prover{Input: in, height: highest(in.Wall.Top) - in.Wall.Base}
	if missing := p.prepare(); len(missing) > 0 {
		p.add(proof.Check{Name: "strength of the frame", Verdict: proof.NotProven, Missing: missing})
		return p.checks
	}
	p.tested()
	p.frameChecks()
	p.reach()
	p.duty()
	p.head()
	p.oneSided()
	p.splices()
	for i := range p.Wall.Openings {
		p.opening(&p.Wall.Openings[i])
	}
	for i := range p.Spec.Fixings {
		p.fixing(&p.Spec.Fixings[i])
	}
	return p.checks
}

// highest returns the greatest height of a wall's top.
func highest(top layout.Profile) Length {
	var h Length
	for _, pt := range top {
		h = max(h, pt.Y)
	}
	return h
}

// prepare makes the frame and the demand; it returns what is missing for any
// proof at all.
func (p *prover) prepare() []string {
	var missing []string
	if len(p.Wall.FrameLines) == 0 {
		missing = append(missing, "a frame: the wall has none")
	}
	if p.height <= 0 {
		missing = append(missing, "the height of the wall")
	}
	if p.Wall.Head.Kind == plan.HeadFree {
		missing = append(missing, "something that holds the upper edge: the wall stops below the soffit, and the methods here are for studs held at foot and head")
	}
	var lacks []string
	p.stud, lacks = NewStud(p.Build.Stud, p.Practice, p.bearing())
	missing = append(missing, lacks...)
	if len(missing) > 0 {
		return missing
	}
	p.frame = FrameOf(p.Build, p.Practice, p.stud)
	return p.ask()
}

// bearing returns the length on which a stud's web stands in the head track.
func (p *prover) bearing() Length { return Bearing(p.Build, p.Practice, p.Wall.Head.Kind) }

// Bearing returns the length on which a stud's web stands in its head track: the
// leg of the track less what the stud is shorter, or under a sliding head what
// is left in the track when the slab is up.
func Bearing(b *buildup.BuildUp, pr *catalogue.Practice, head string) Length {
	if head == plan.HeadDeflection {
		return pr.HeadEngagement.Value
	}
	return b.Track.Flange - pr.StudShortfall.Value
}

// FrameOf returns the studs of a build-up with the boards that may help them.
// The frames of a twin wall are taken each by itself: each bears the whole load
// of its face.
func FrameOf(b *buildup.BuildUp, pr *catalogue.Practice, s *Stud) Frame {
	f := Frame{Stud: s, Studs: 1, Spacing: b.Spacing}
	for i, face := range []plan.Face{plan.FaceA, plan.FaceB} {
		if b.Kind.Twin() && i == 1 {
			break // the other frame has these boards
		}
		f.Boards[i] = helping(b.Boards(face), b.Spacing, pr)
	}
	return f
}

// helping returns the boards of one face as far as they may help the studs: the
// layer against the frame, on the screws of the outermost one, which go through
// all. A second layer is left out, on the safe side.
func helping(boards []*catalogue.Board, spacing Length, pr *catalogue.Practice) en1995_1_1.Board {
	n := len(boards)
	if n == 0 || n > len(pr.ScrewSpacing.Value) || len(pr.ScrewSpacing.Value[n-1]) != n {
		return en1995_1_1.Board{}
	}
	return en1995_1_1.Board{
		E: pr.BoardModulus.Value, Width: spacing.MM(), Thickness: boards[0].Thickness.MM(),
		Slip: pr.ScrewSlip.Value, Spacing: pr.ScrewSpacing.Value[n-1][n-1].MM(),
	}
}

// ask finds what is asked of the frame.
func (p *prover) ask() []string {
	p.demand = DemandOf(p.Spec.Require, p.Practice)
	p.demand.LineHeight = max(p.demand.LineHeight-p.Wall.Base, 0) // it acts over the floor, the studs stand on an upstand
	if p.demand.Limit <= 0 {
		return []string{"the deflection limit (deflection_limit)"}
	}
	if p.demand.Pressure <= 0 {
		p.add(proof.Check{Name: "uniform pressure", Verdict: proof.NotProven, Missing: []string{"the uniform pressure: neither the wall nor the practice gives one"}, Advice: "write require: {pressure: 200}"})
	}
	return p.quake()
}

// DemandOf returns what a plan and a practice ask of a frame, without
// earthquake: the pressure and deflection limit of the practice where the plan
// gives none, and the line load of the installation zone.
func DemandOf(r plan.Requirements, pr *catalogue.Practice) Demand {
	d := Demand{Pressure: quantity.Pressure(cmp.Or(r.Pressure, pr.Pressure.Value)), Limit: pr.DeflectionLimit.Value}
	if duty, ok := plan.ParseDuty(r.Duty); ok {
		if q, ok := din4103_1.LineLoad(duty.Zone); ok {
			d.Line, d.LineHeight = q, din4103_1.LineHeight
		}
	}
	return d
}

func (p *prover) add(c proof.Check) {
	c.Need = proof.Structure
	p.checks = append(p.checks, c)
}

// frameChecks checks the studs for everything that is asked.
func (p *prover) frameChecks() {
	for k := range kinds {
		if !k.asked(&p.demand) {
			continue
		}
		use := p.frame.Use(k, p.height, &p.demand)
		got := p.derive(k)
		c := proof.Check{Name: k.String(), Use: use, Asked: p.askedWords(k), Got: &got, Verdict: proof.Passes}
		c.Verdict, c.Missing = judged(use, p.stud.Scope)
		if c.Verdict == proof.Fails && p.helped(k) {
			c.Verdict, c.Missing = proof.NotProven, []string{"a tested height: only the estimated help of the boards brings the deflection within the limit"}
		}
		if c.Verdict != proof.Passes && p.covered(k) {
			c.Verdict, c.Missing = proof.Shown, nil // the evidence decides
		}
		p.add(c)
	}
}

// judged gives the verdict on a use. Outside its range a method proves neither
// that something holds nor that it fails.
func judged(use float64, scope []string) (proof.Verdict, []string) {
	switch {
	case len(scope) > 0:
		return proof.NotProven, []string{fmt.Sprintf("test evidence: %s; outside its range the method gives a use of %.2f", strings.Join(scope, ", "), use)}
	case !(use <= 1):
		return proof.Fails, nil
	}
	return proof.Passes, nil
}

// helped reports whether a deflection is within the limit with the estimated
// help of the boards.
func (p *prover) helped(k Kind) bool {
	if k != PressureDeflection || p.Practice.ScrewSlip.Value <= 0 {
		return false
	}
	return p.frame.Composite(p.height, &p.demand)*p.demand.Limit <= p.height.Metres()
}

func (p *prover) askedWords(k Kind) string {
	switch {
	case k == PressureDeflection:
		return fmt.Sprintf("%.0f Pa, height/%g", float64(p.demand.Pressure), p.demand.Limit)
	case k <= PressureSupport:
		return fmt.Sprintf("%.0f Pa", float64(p.demand.Pressure))
	case k == LineDeflection:
		return fmt.Sprintf("%s, height/%g", p.Spec.Require.Duty, p.demand.Limit)
	case k <= LineSupport:
		return p.Spec.Require.Duty
	}
	return "earthquake on site"
}

// duty says what has to be shown by test for the duty that is asked.
func (p *prover) duty() {
	d, ok := plan.ParseDuty(p.Spec.Require.Duty)
	if !ok {
		if p.Spec.Require.Duty != "" {
			p.add(proof.Check{Name: "duty " + p.Spec.Require.Duty, Asked: p.Spec.Require.Duty, Verdict: proof.NotProven, Missing: []string{fmt.Sprintf("a method or test for duty %q, which is not known", p.Spec.Require.Duty)}})
		}
		return
	}
	names, what := []string{"soft-body and hard-body impact"}, "DIN 4103-1 5.3: impacts of 100 N·m (soft body) and 10 N·m (hard body) are tested (energies from memory)"
	if d.Grade != "" {
		names, what = []string{"stiffness under 500 N at 1.5 m", "soft-body and hard-body impact"}, "BS 5234-2: grades are found by test"
	}
	for _, name := range names {
		c := proof.Check{Name: name, Asked: p.Spec.Require.Duty, Verdict: proof.NotProven, Missing: []string{"test evidence; " + what},
			Advice: "record the test of this build-up as height_evidence with this duty and impact: true"}
		if p.evidence != nil && p.evidence.Impact && p.covers(d) {
			got := p.evidenceDerivation()
			c.Verdict, c.Missing, c.Advice, c.Got = proof.Passes, nil, "", &got
		}
		p.add(c)
	}
}

// head says what has to be shown for a sliding head.
func (p *prover) head() {
	if p.Wall.Head.Kind != plan.HeadDeflection {
		return
	}
	c := proof.Check{Name: "sliding head", Verdict: proof.NotProven, Missing: []string{"test evidence for the legs of the head track: no published method covers tracks and studs as thin as these"},
		Advice: "record a tested height with sliding: true, or have the legs of the head track designed"}
	if p.evidence != nil && p.evidence.Sliding {
		got := p.evidenceDerivation()
		c = proof.Check{Name: c.Name, Verdict: proof.Passes, Got: &got}
	}
	p.add(c)
}

// splices says what is open where studs are put together of two pieces.
func (p *prover) splices() {
	if p.evidence != nil || !slices.ContainsFunc(p.Wall.Members, func(m layout.Member) bool { return m.Spliced }) {
		return
	}
	p.add(proof.Check{Name: "splices of studs", Verdict: proof.NotProven, Missing: []string{"the strength of the laps: studs here are taken to run through"},
		Advice: "order studs in one length, or record a tested height with spliced studs"})
}

// oneSided says what is open for walls that are boarded on one face only.
func (p *prover) oneSided() {
	if !p.Build.Kind.OneSided() || p.evidence != nil {
		return
	}
	p.add(proof.Check{Name: "load from the side without boards", Verdict: proof.NotProven,
		Missing: []string{"what holds the flanges without boards against buckling sideways: strengths here are for flanges held by boards"},
		Advice:  "tie the studs back to the wall behind or add bridging, and have it designed; or record a tested height"})
}
