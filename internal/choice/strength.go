package choice

import (
	"fmt"
	"strings"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/proof/structure"
)

// strength is how a frame stands at the height.
type strength struct {
	standing Standing
	reach    Length // how high it can stand, by what
	by       string
	open     []string
	impact   bool // a test shows the impacts of the duty
}

// figures are what decides over a frame's strength.
type figures struct {
	uses     structure.Uses
	helped   float64         // use by deflection with the estimated help of the boards
	scoped   bool            // the method is inside its range
	firm     structure.Shown // by the test that shows most; nothing without one
	recalled bool            // a record from memory covers the wall for what is asked
	tied     bool            // something but a test leaves open: a sliding head, one-sided boards, spliced studs
}

// decide says how far a frame's strength is shown. The rules are those of
// structure.Prove: tests go before calculation, a calculation outside its range
// proves nothing, and so do records from memory and the help of the boards.
func decide(f *figures, d *structure.Demand) Standing {
	tested := f.firm.Pressure || f.firm.Line
	guess := f.recalled && !f.scoped
	pressure, line := f.firm.Pressure, d.Line == 0 || f.firm.Line
	bare := f.uses.Deflection <= 1 && f.uses.Pressure <= 1
	if (pressure || f.scoped && bare) && (line || f.scoped && f.uses.Line <= 1) && (tested || !f.tied) && d.Pressure > 0 {
		return Proven
	}
	pressure = pressure || guess || f.uses.Pressure <= 1 && (f.uses.Deflection <= 1 || f.helped <= 1)
	line = line || guess || f.uses.Line <= 1
	if pressure && line {
		return Expected
	}
	return Fails
}

// tied reports whether a test is needed for what calculation does not cover.
func (j *judge) tied(b *buildup.BuildUp) bool {
	return j.sliding || b.Kind.OneSided() || j.spliced(b.Stud)
}

// spliced reports whether studs have to be put together of two pieces.
func (j *judge) spliced(stud *catalogue.Profile) bool {
	return len(stud.Lengths) > 0 && stud.Lengths[len(stud.Lengths)-1] < j.Height-j.pr.StudShortfall.Value
}

// most returns what shows more of two tests.
func most(a, b structure.Shown) structure.Shown {
	count := func(s structure.Shown) int {
		n := 0
		for _, ok := range []bool{s.Pressure, s.Line, s.Impact} {
			if ok {
				n++
			}
		}
		return n
	}
	if count(b) > count(a) {
		return b
	}
	return a
}

// useful reports whether a record from memory tells of what is asked.
func (j *judge) useful(s structure.Shown) bool {
	return s.Line || j.Require.Duty == "" && s.Pressure
}

func (j *judge) strength(b *buildup.BuildUp) strength {
	stud, missing := structure.NewStud(b.Stud, j.pr, structure.Bearing(b, j.pr, j.Head))
	if j.demand.Limit <= 0 {
		missing = append(missing, "the deflection limit (deflection_limit)")
	}
	if len(missing) > 0 {
		return strength{standing: Unknown, open: missing}
	}
	frame := structure.FrameOf(b, j.pr, stud)
	f := figures{uses: frame.UsesOf(j.Height, &j.demand), helped: 2, scoped: len(stud.Scope) == 0, tied: j.tied(b)}
	if j.pr.ScrewSlip.Value > 0 {
		f.helped = frame.HelpedUse(j.Height, &j.demand)
	}
	var out, proven strength // by anything, and by what proves
	out.reach, out.by = j.calculated(&frame, &f)
	if f.scoped {
		proven.reach, _ = frame.MaxHeight(&j.demand)
		proven.by = "calculation"
	}
	for i := range j.cat.HeightEvidence {
		e := &j.cat.HeightEvidence[i]
		s := structure.ShownBy(e, &j.demand, j.Require.Duty)
		if !s.Pressure && !s.Line || !j.boarded(e, b) || !structure.FrameTested(e, b, 0, j.sliding) {
			continue
		}
		if (s.Firm || !f.scoped && j.useful(s)) && e.Height > out.reach {
			out.reach, out.by = e.Height, e.ID+", "+string(e.Status)
		}
		if s.Firm && e.Height > proven.reach {
			proven.reach, proven.by = e.Height, e.ID
		}
		switch {
		case e.Height < j.Height:
		case s.Firm:
			f.firm = most(f.firm, s)
		default:
			f.recalled = f.recalled || j.useful(s)
		}
	}
	standing := decide(&f, &j.demand)
	if standing == Proven {
		out = proven
	}
	out.standing, out.impact = standing, f.firm.Impact
	if out.standing == Expected {
		out.open = j.lacks(b, stud, &f)
	}
	return out
}

// boarded reports whether a build-up's faces are as a record covers them.
func (j *judge) boarded(e *catalogue.HeightEvidence, b *buildup.BuildUp) bool {
	return structure.FaceTested(e, b.A, j.pr) && (b.Kind.OneSided() || structure.FaceTested(e, b.B, j.pr))
}

// calculated returns how high a frame can stand by calculation, and how.
func (j *judge) calculated(frame *structure.Frame, f *figures) (Length, string) {
	by := "calculation"
	if !f.scoped {
		by = "calculation outside its range"
	}
	reach, _ := frame.MaxHeight(&j.demand)
	if reach < j.Height && j.pr.ScrewSlip.Value > 0 {
		if h := frame.HelpedHeight(&j.demand); h > reach {
			return h, by + ", with the estimated help of the boards"
		}
	}
	return reach, by
}

// lacks says what is missing for a proof of strength.
func (j *judge) lacks(b *buildup.BuildUp, stud *structure.Stud, f *figures) []string {
	var list []string
	if len(stud.Scope) > 0 {
		list = append(list, "a tested height: "+strings.Join(stud.Scope, ", "))
	} else if f.uses.Deflection > 1 && !f.firm.Pressure {
		list = append(list, "a tested height: only the estimated help of the boards brings the deflection within the limit")
	}
	if f.firm.Pressure || f.firm.Line {
		return list
	}
	for _, one := range []struct {
		open bool
		what string
	}{
		{j.sliding, "a test of the sliding head"},
		{b.Kind.OneSided(), "what holds the flanges without boards"},
		{j.spliced(b.Stud), fmt.Sprintf("the strength of splices: %s comes up to %s mm", b.Stud.ID, last(b.Stud.Lengths))},
		{j.demand.Pressure <= 0, "the uniform pressure: neither the wall nor the practice gives one"},
	} {
		if one.open {
			list = append(list, one.what)
		}
	}
	return list
}

func last(list []Length) Length {
	if len(list) == 0 {
		return 0
	}
	return list[len(list)-1]
}
