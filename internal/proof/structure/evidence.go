package structure

import (
	"cmp"
	"fmt"
	"slices"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/plan"
	"nogging/internal/proof"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// outside lists in which points a wall lies outside what a tested height
// covers; nothing where it is inside all of them.
func outside(e *catalogue.HeightEvidence, b *buildup.BuildUp, pr *catalogue.Practice, height Length, sliding bool) []string {
	var out []string
	unless := func(ok bool, format string, args ...any) {
		if !ok {
			out = append(out, fmt.Sprintf(format, args...))
		}
	}
	unless(slices.Contains(e.Frames, string(b.Kind)), "the frame is %s", b.Kind)
	unless(e.Stud == b.Stud.ID, "the stud is %s, tested was %s", b.Stud.ID, e.Stud)
	unless(b.Stud.Thickness >= e.Steel, "the steel is %s mm, tested was %s", b.Stud.Thickness, e.Steel)
	unless(b.Spacing <= e.Spacing, "studs stand at %s mm, tested were %s", b.Spacing, e.Spacing)
	unless(height <= e.Height, "the wall is %s mm high, tested were %s", height, e.Height)
	unless(!sliding || e.Sliding, "the head slides, which was not tested")
	for _, face := range []plan.Face{plan.FaceA, plan.FaceB} {
		boards := b.Boards(face)
		if face == plan.FaceB && b.Kind.OneSided() {
			continue
		}
		unless(len(boards) >= e.Layers, "face %s has %d layers, tested were %d", face, len(boards), e.Layers)
		unless(b.BoardsThickness(face) >= e.Boards, "the boards of face %s are %s mm, tested were %s", face, b.BoardsThickness(face), e.Boards)
		for _, board := range boards {
			unless(len(e.Types) == 0 || slices.Contains(e.Types, board.Type), "board %s is of type %s, tested were %v", board.ID, board.Type, e.Types)
		}
		unless(e.Screws == 0 || outerScrews(len(boards), pr) <= e.Screws, "screws of face %s stand at %s mm, tested were %s", face, outerScrews(len(boards), pr), e.Screws)
	}
	return out
}

// outerScrews returns the spacing of the outer layer's screws.
func outerScrews(layers int, pr *catalogue.Practice) Length {
	if layers < 1 || layers > len(pr.ScrewSpacing.Value) {
		return greatestHeight
	}
	row := pr.ScrewSpacing.Value[layers-1]
	return row[len(row)-1]
}

// tested looks for the tested height that covers the wall, that with most shown
// first, and tells what is open where the nearest does not.
func (p *prover) tested() {
	var near, recalled *catalogue.HeightEvidence
	var open []string
	sliding := p.Wall.Head.Kind == plan.HeadDeflection
	for i := range p.Catalogue.HeightEvidence {
		e := &p.Catalogue.HeightEvidence[i]
		out := outside(e, p.Build, p.Practice, p.height, sliding)
		if !pressureShown(e, &p.demand) && !lineShown(e, p.Spec.Require.Duty) {
			out = append(out, fmt.Sprintf("nothing that is asked was shown: it is for duties %v and %g Pa at height/%g", e.Duties, e.Pressure, e.Limit))
		}
		if len(out) == 0 && !firm(e) {
			if p.shownBetter(e, recalled) {
				recalled = e
			}
		} else if len(out) == 0 {
			if p.shownBetter(e, p.evidence) {
				p.evidence = e
			}
		} else if firm(e) && e.Stud == p.Build.Stud.ID && (near == nil || len(out) < len(open)) {
			near, open = e, out
		}
	}
	switch {
	case p.evidence != nil:
		got := p.evidenceDerivation()
		p.add(proof.Check{Name: "tested height", Verdict: proof.Passes, Use: p.height.MM() / p.evidence.Height.MM(), Got: &got})
	case near != nil:
		p.add(proof.Check{Name: "tested height", Verdict: proof.NotProven, Asked: near.ID, Missing: open, Advice: "change the wall to what was tested, or record a test that covers it"})
	case recalled != nil:
		got := evidenceDerivation(recalled)
		p.add(proof.Check{Name: "tested height", Verdict: proof.NotProven, Use: p.height.MM() / recalled.Height.MM(), Got: &got,
			Missing: []string{fmt.Sprintf("the document itself: %s is %s", recalled.ID, recalled.Status)}, Advice: words.F("check the height in %s, and record it as height_evidence of your own", recalled.Document)})
	}
}

// shownBetter reports whether a record that covers the wall says more than another:
// it stands for more of what is asked, or for as much at a greater height.
func (p *prover) shownBetter(e, than *catalogue.HeightEvidence) bool {
	if than == nil {
		return true
	}
	return cmp.Or(cmp.Compare(p.shows(e), p.shows(than)), cmp.Compare(e.Height, than.Height)) > 0
}

// shows counts for how much of what is asked a record stands.
func (p *prover) shows(e *catalogue.HeightEvidence) int {
	n := 0
	for _, ok := range []bool{pressureShown(e, &p.demand), lineShown(e, p.Spec.Require.Duty), e.Impact} {
		if ok {
			n++
		}
	}
	return n
}

func pressureShown(e *catalogue.HeightEvidence, d *Demand) bool {
	return e.Pressure > 0 && e.Pressure >= float64(d.Pressure) && e.Limit >= d.Limit
}

func lineShown(e *catalogue.HeightEvidence, duty string) bool {
	asked, ok := plan.ParseDuty(duty)
	return ok && slices.ContainsFunc(e.Duties, func(text string) bool {
		d, ok := plan.ParseDuty(text)
		return ok && d.Covers(asked)
	})
}

// covers reports whether the wall's evidence shows a duty.
func (p *prover) covers(d plan.Duty) bool {
	return slices.ContainsFunc(p.evidence.Duties, func(text string) bool {
		has, ok := plan.ParseDuty(text)
		return ok && has.Covers(d)
	})
}

// covered reports whether test evidence decides over a kind.
func (p *prover) covered(k Kind) bool {
	switch {
	case p.evidence == nil:
		return false
	case k <= PressureSupport:
		return pressureShown(p.evidence, &p.demand)
	case k <= LineSupport:
		return lineShown(p.evidence, p.Spec.Require.Duty)
	}
	return false
}

// firm reports whether a record proves anything: what is from memory or an
// estimate does not.
func firm(e *catalogue.HeightEvidence) bool {
	return e.Status != quantity.Memory && e.Status != quantity.Estimate
}

// TestedHeight returns the record that lets a build-up stand highest for what is
// asked, and whether it proves that: records from memory only say what to
// expect. It is nil where no record covers the build-up.
func TestedHeight(b *buildup.BuildUp, cat *catalogue.Catalogue, pr *catalogue.Practice, r plan.Requirements, sliding bool) (best *catalogue.HeightEvidence, proves bool) {
	d := DemandOf(r, pr)
	for i := range cat.HeightEvidence {
		e := &cat.HeightEvidence[i]
		line, pressure := lineShown(e, r.Duty), pressureShown(e, &d)
		asked := line || r.Duty == "" && pressure
		if r.Pressure > 0 && !pressure || !asked || len(outside(e, b, pr, e.Height, sliding)) > 0 {
			continue
		}
		if best == nil || firm(e) && !proves || firm(e) == proves && e.Height > best.Height {
			best, proves = e, firm(e)
		}
	}
	return best, proves
}

func (p *prover) evidenceDerivation() quantity.Derivation { return evidenceDerivation(p.evidence) }

func evidenceDerivation(e *catalogue.HeightEvidence) quantity.Derivation {
	status := e.Status
	if status == quantity.Entered {
		status = quantity.Evidence
	}
	source := e.Document
	if e.Source != "" {
		source += "; " + e.Source
	}
	return quantity.Derivation{Name: "tested height", Symbol: "h", Value: e.Height.MM(), Unit: "mm", Method: "test evidence " + e.ID, Source: source, Status: status, Note: e.Name}
}
