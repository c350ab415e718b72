package app

import (
	"context"

	"nogging/internal/drawing/sheets"
	"nogging/internal/drawing/svg"
	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/parts"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/takeoff"
)

// WallView is everything of one wall. Of a wall that cannot be laid out there is
// only its entry in the plan and what keeps it from that.
type WallView struct {
	Wall      *plan.Wall      `json:"wall"`
	Level     string          `json:"level"`
	LaidOut   bool            `json:"laid_out"`
	BuildUp   string          `json:"build_up,omitempty"`
	Length    quantity.Length `json:"length"` // of its line
	Height    quantity.Length `json:"height"` // greatest
	Thickness quantity.Length `json:"thickness"`
	Views     []sheets.View   `json:"views"`
	Parts     []parts.Part    `json:"parts"`
	Findings  finding.List    `json:"findings"` // about it, its openings, and walls that it crosses
	Proof     *WallProof      `json:"proof,omitempty"`
	Takeoff   []takeoff.Line  `json:"takeoff"`
	Choices   []string        `json:"choices,omitempty"` // why its runs are laid out as they are
	Brief     WallBrief       `json:"brief"`
}

// set returns what drawings are made with, in millimetres or in feet and inches.
func (s *State) set(ctx context.Context, imperial bool) (*sheets.Set, error) {
	which := &s.drawn[0]
	if imperial {
		which = &s.drawn[1]
	}
	return which.get(ctx, func(context.Context) (*sheets.Set, error) {
		s.judge()
		return sheets.New(s.job.drawn()).InUnits(imperial), nil
	})
}

// Wall returns everything of one wall; false if the plan has none of that id.
func (s *State) Wall(id string) (WallView, bool) {
	s.judge()
	spec := specsOf(s.job.Plan)[id]
	if spec == nil {
		return WallView{}, false
	}
	b := s.briefs[id]
	v := WallView{Wall: spec, Level: spec.Level, LaidOut: b.LaidOut, BuildUp: b.BuildUp, Length: b.Length, Height: b.Height, Thickness: b.Thickness, Brief: b,
		Views: []sheets.View{}, Parts: []parts.Part{}, Findings: finding.List{}, Takeoff: []takeoff.Line{}}
	for _, f := range s.job.Findings {
		if i, ok := wallOf(f.Path); f.Other == id || ok && i < len(s.job.Plan.Walls) && s.job.Plan.Walls[i].ID == id {
			v.Findings = append(v.Findings, f)
		}
	}
	if w := s.byID[id]; w != nil {
		s.fill(&v, w)
	}
	return v, true
}

// fill adds what a laid-out wall has.
func (s *State) fill(v *WallView, w *work) {
	v.Parts = parts.Of(w.laid, s.job.Catalogue, s.job.Practice)
	v.Takeoff = append(v.Takeoff, w.takeoff(s.job)...)
	for _, c := range w.laid.Choices {
		v.Choices = append(v.Choices, c.String())
	}
	if set, err := s.set(context.Background(), false); err == nil {
		v.Views = append(v.Views, set.Views(w.laid)...)
	}
	for i := range s.proofs {
		if s.proofs[i].Wall == w.laid.ID {
			v.Proof = &s.proofs[i]
		}
	}
}

// Drawing returns one view of a wall as SVG; false if there is none of that id.
// Elements carry the ids of the parts that they show.
func (s *State) Drawing(wall, view string, imperial bool) ([]byte, bool) {
	w := s.byID[wall]
	set, err := s.set(context.Background(), imperial)
	if w == nil || err != nil {
		return nil, false
	}
	scene := set.Draw(w.laid, view)
	if scene == nil {
		return nil, false
	}
	return svg.Append(nil, scene), true
}

// Model returns the shapes of the parts of one wall, or where wall is "" of all walls
// of a level, or where both are of all; false if there is no such wall or level.
func (s *State) Model(wall, level string) (*parts.Model, bool) {
	var walls []*layout.Wall
	for _, w := range s.job.Layout.Walls {
		if (wall == "" || w.ID == wall) && (level == "" || w.Level == level) {
			walls = append(walls, w)
		}
	}
	if wall != "" && len(walls) == 0 || level != "" && s.job.Plan.LevelByID(level) == nil {
		return nil, false
	}
	return parts.ModelOf(walls, s.job.Plan.Levels, s.job.Catalogue, s.job.Practice), true
}
