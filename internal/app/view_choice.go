package app

import (
	"strings"

	"nogging/internal/choice"
	"nogging/internal/finding"
	"nogging/internal/plan"
)

// Chosen is a choice as programs and the page read it.
type Chosen struct {
	Demand   choice.Demand   `json:"demand"`
	Asked    string          `json:"asked"` // the demand in words
	Practice string          `json:"practice"`
	Rank     string          `json:"rank"`
	Priced   bool            `json:"priced"` // costs are known
	Standing choice.Standing `json:"standing"`
	Tried    int             `json:"tried"`
	OnFront  int             `json:"on_front"`
	Why      string          `json:"why,omitempty"`
	Front    []ChosenBuild   `json:"front"`
	Near     []ChosenBuild   `json:"near"`
	Relaxed  []ChosenBuild   `json:"relaxed"`
	Findings finding.List    `json:"findings"`
}

// ChosenBuild is one build-up of a choice.
type ChosenBuild struct {
	Words    string          `json:"words"`
	Standing choice.Standing `json:"standing"`
	Without  string          `json:"without,omitempty"`    // the need without which it would win
	Relaxed  string          `json:"relaxed_to,omitempty"` // to what that need is relaxed
	Measures choice.Measures `json:"measures"`
	Needs    []choice.Need   `json:"needs"`
	BuildUp  plan.BuildUp    `json:"build_up"`
}

// ChosenOf puts a choice into that form. Found is what was found about the plan and
// its catalogues.
func ChosenOf(d choice.Demand, practice string, r *choice.Result, found finding.List) Chosen {
	out := Chosen{Demand: d, Asked: DemandWords(d), Practice: practice, Rank: r.Rank.String(), Priced: r.Priced, Standing: r.Standing, Tried: r.Tried, OnFront: r.OnFront, Why: r.Why(),
		Front: []ChosenBuild{}, Near: []ChosenBuild{}, Relaxed: []ChosenBuild{}, Findings: append(finding.List{}, found...)}
	for i := range r.Front {
		out.Front = append(out.Front, chosenBuild(&r.Front[i], "", ""))
	}
	for i := range r.Near {
		out.Near = append(out.Near, chosenBuild(&r.Near[i].Candidate, r.Near[i].Without, ""))
	}
	for i := range r.Relaxed {
		out.Relaxed = append(out.Relaxed, chosenBuild(&r.Relaxed[i].Candidate, r.Relaxed[i].Need, r.Relaxed[i].Asked))
	}
	return out
}

func chosenBuild(c *choice.Candidate, without, relaxed string) ChosenBuild {
	return ChosenBuild{choice.Words(c.Build), c.Standing(), without, relaxed, c.Measures, c.Needs, c.Build.Spec}
}

// DemandWords says what is asked.
func DemandWords(d choice.Demand) string {
	all := append([]string{d.Height.String() + " mm high"}, d.Require.Asked()...)
	for side, class := range d.Wet {
		if class != "" {
			all = append(all, class+" at face "+string("AB"[side]))
		}
	}
	if d.Thickness > 0 {
		all = append(all, "up to "+d.Thickness.String()+" mm thick")
	}
	if d.Service > 0 {
		all = append(all, "services of "+d.Service.String()+" mm")
	}
	if d.Head == plan.HeadDeflection {
		all = append(all, "sliding head")
	}
	return strings.Join(all, ", ")
}
