package structure

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"nogging/internal/buildup"
	"nogging/internal/catalogue"
	"nogging/internal/proof"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// Reach is how high a frame can stand by calculation.
type Reach struct {
	Height  Length   // 0 where it does not do at 1.8 m
	Decides Kind     // what ends it
	Scope   []string // what is outside the method's range: then the height is an estimate
}

// MaxHeight returns how high walls of a build-up can stand under a demand, with
// a head of the kind given, or what is missing to say so.
func MaxHeight(b *buildup.BuildUp, pr *catalogue.Practice, head string, d Demand) (Reach, []string) {
	if d.Limit <= 0 {
		return Reach{}, []string{"the deflection limit (deflection_limit)"}
	}
	s, missing := NewStud(b.Stud, pr, Bearing(b, pr, head))
	if len(missing) > 0 {
		return Reach{}, missing
	}
	f := FrameOf(b, pr, s)
	h, k := f.MaxHeight(&d)
	return Reach{h, k, s.Scope}, nil
}

// reach shows the greatest height that the frame can reach, and where it is
// too low, the next frame that would do.
func (p *prover) reach() {
	h, k := p.frame.MaxHeight(&p.demand)
	got := quantity.Derivation{Name: "greatest height by calculation", Symbol: "h", Value: h.MM(), Unit: "mm", Method: "the height at which the first check reaches its limit, which is " + k.String(), Status: quantity.Derived,
		From: []quantity.Derivation{p.derive(k)}}
	if h == 0 {
		got.Text, got.Note = "none", "it is not enough for 1.8 m"
	}
	c := proof.Check{Name: "greatest height", Verdict: proof.Shown, Got: &got}
	if len(p.stud.Scope) > 0 {
		got.Status, got.Note = quantity.Estimate, strings.Join(p.stud.Scope, "; ")
	}
	if p.height > h {
		c.Advice = p.next()
	}
	p.add(c)
}

// Candidate is a frame that could stand in a wall.
type Candidate struct {
	Frame
	Track *catalogue.Profile
}

// steel returns kg of studs per m² of wall.
func (c *Candidate) steel() float64 { return c.Stud.Profile.Mass / c.Spacing.Metres() }

// String names the frame.
func (c *Candidate) String() string {
	return fmt.Sprintf("%s at %s mm", c.Stud.Profile.ID, c.Spacing)
}

// Candidates lists the frames of the studs of one standard in the catalogue, at
// spacings that suit boards of a width, none wider than widest: the shallowest
// first, then those with least steel.
func Candidates(cat *catalogue.Catalogue, pr *catalogue.Practice, standard string, boards, widest Length, head string) []Candidate {
	var all []Candidate
	for i := range cat.Profiles {
		x := &cat.Profiles[i]
		track, ok := cat.TrackFor(x.ID)
		if x.Kind != catalogue.Stud || x.Standard != standard || !ok {
			continue
		}
		s, missing := NewStud(x, pr, Bearing(&buildup.BuildUp{Track: track}, pr, head))
		if len(missing) > 0 {
			continue
		}
		for _, spacing := range spacings(boards, widest) {
			all = append(all, Candidate{Frame{Stud: s, Studs: 1, Spacing: spacing}, track})
		}
	}
	slices.SortStableFunc(all, func(a, b Candidate) int {
		return cmp.Or(cmp.Compare(a.Stud.Profile.NominalDepth(), b.Stud.Profile.NominalDepth()), cmp.Compare(a.steel(), b.steel()))
	})
	return all
}

// spacings lists the distances of studs at which boards of a width end on
// studs, from the widest down to some 300 mm.
func spacings(boards, widest Length) []Length {
	var all []Length
	for n := Length(1); n <= 4; n++ {
		if s := (boards / n).Round(quantity.Millimetre / 10); s > 0 && s <= widest {
			all = append(all, s)
		}
	}
	return all
}

// next names the next frame that would do, inside the method's range if there
// is one.
func (p *prover) next() words.Text {
	widest := max(p.frame.Spacing, p.Practice.StudSpacing.Value)
	var estimate *Candidate
	all := Candidates(p.Catalogue, p.Practice, p.Build.Stud.Standard, p.Build.A[0].Width, widest, p.Wall.Head.Kind)
	for i := range all {
		c := &all[i]
		if use, _ := c.Worst(p.height, &p.demand); !(use <= 1) {
			continue
		}
		if len(c.Stud.Scope) == 0 {
			return p.wouldDo(c)
		}
		if estimate == nil {
			estimate = c
		}
	}
	if estimate == nil {
		return "no frame of the catalogue would do by calculation: take a lower wall, a sub-frame, or record a tested height"
	}
	return words.F("%s; it is outside the method's range, so a tested height is needed", p.wouldDo(estimate))
}

func (p *prover) wouldDo(c *Candidate) words.Text {
	h, _ := c.MaxHeight(&p.demand)
	return words.F("%s would do: by calculation it reaches %s mm", c, h)
}
