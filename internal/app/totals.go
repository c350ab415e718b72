package app

import (
	"nogging/internal/cut/together"
	"nogging/internal/finding"
	"nogging/internal/takeoff"
)

// Totals is the summary of a built plan.
type Totals struct {
	Levels    int                      `json:"levels"`
	Walls     int                      `json:"walls"` // in the plan
	LaidOut   int                      `json:"laid_out"`
	Openings  int                      `json:"openings"`
	Junctions map[string]int           `json:"junctions"`
	Members   int                      `json:"members"`
	Pieces    int                      `json:"pieces"`
	Takeoff   []takeoff.Line           `json:"takeoff"`
	Saved     []together.Saving        `json:"boards_saved,omitempty"`
	Findings  map[finding.Severity]int `json:"findings"`
}

// Totals sums up a built plan.
func (j *Job) Totals() Totals {
	t := Totals{
		Levels: len(j.Plan.Levels), Walls: len(j.Plan.Walls), LaidOut: len(j.Layout.Walls), Saved: j.Saved(), Takeoff: j.Takeoff.Total,
		Junctions: map[string]int{}, Findings: map[finding.Severity]int{},
	}
	for _, w := range j.Layout.Walls {
		t.Openings += len(w.Openings)
		t.Members += len(w.Members)
		t.Pieces += len(w.Caps)
		for _, f := range w.Faces {
			for _, l := range f.Layers {
				t.Pieces += len(l.Pieces)
			}
		}
	}
	for _, x := range j.Layout.Junctions {
		t.Junctions[string(x.Kind)]++
	}
	for _, s := range finding.Severities() {
		t.Findings[s] = j.Findings.Count(s)
	}
	return t
}
