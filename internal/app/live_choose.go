package app

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"

	"nogging/internal/choice"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
	"nogging/internal/yamlfile"
)

// ChoiceRequest asks which build-ups do what is asked: of a wall, or freely. What a
// demand states comes on top of what is asked of the wall.
type ChoiceRequest struct {
	Wall   string         `json:"wall,omitempty"`
	Demand *choice.Demand `json:"demand,omitempty"` // takes the place of the wall's own
	Rank   string         `json:"rank,omitempty"`   // cost, thickness, mass, labour or carbon; cost where prices are known, else thickness, if empty
	All    bool           `json:"all,omitempty"`    // the whole front and not only its best
}

// chosenShown is how many build-ups of the front are shown.
const chosenShown = 8

// Choose ranks the build-ups that the catalogue allows by what is asked. The error
// says what cannot be understood.
func (s *State) Choose(r ChoiceRequest) (Chosen, error) {
	rank, ok := choice.ParseMeasure(r.Rank)
	if !ok && r.Rank != "" {
		return Chosen{}, fmt.Errorf("nothing is ranked by %q: %s", r.Rank, yamlfile.Suggest(r.Rank, "measures", choice.MeasureNames()))
	}
	if r.Rank == "" {
		rank = choice.Cost
	}
	o := choice.Options{Rank: rank, Most: chosenShown, About: true}
	if r.All {
		o.Most = 0
	}
	var d choice.Demand
	switch {
	case r.Demand != nil:
		d = *r.Demand
	default:
		var err error
		if d, err = s.job.DemandOf(r.Wall); err != nil {
			return Chosen{}, err
		}
	}
	result, err := s.job.Choose(d, o)
	if err != nil {
		return Chosen{}, err
	}
	return ChosenOf(d, s.job.Practice.ID, result, nil), nil
}

// Adopt returns the changes that make walls of a build-up. One of the plan that is
// the same but for its id and name is taken; else the build-up joins the plan, under
// its own id where that is free, or else with a number behind it. Findings say
// which walls the plan does not have; then there are no changes.
func (s *State) Adopt(b plan.BuildUp, walls []string) ([]plan.Change, finding.List) {
	var changes []plan.Change
	var found finding.List
	p := s.job.Plan
	id, there := buildUpFor(p, b)
	if !there {
		b.ID = id
		changes = append(changes, change("buildups", id, b))
	}
	specs := specsOf(p)
	for _, name := range slices.Compact(slices.Sorted(slices.Values(walls))) {
		spec := specs[name]
		if spec == nil {
			found.Add(finding.Finding{Code: "unknown-wall", Severity: finding.Error, Object: name, What: words.F("the plan has no wall %q", name), Fix: "choose among its walls"})
			continue
		}
		w := *spec
		w.BuildUp = id
		changes = append(changes, change("walls", name, w))
	}
	if found != nil {
		return nil, found
	}
	return changes, nil
}

// change puts an object as it is given.
func change(kind, id string, v any) plan.Change {
	value, _ := json.Marshal(v) // values of plans can be written
	return plan.Change{Kind: kind, ID: id, Value: value}
}

// buildUpFor returns the id under which a build-up goes in a plan, and whether it is
// there already.
func buildUpFor(p *plan.Plan, b plan.BuildUp) (id string, there bool) {
	same := func(a, b plan.BuildUp) bool {
		a.ID, a.Name, b.ID, b.Name = "", "", "", ""
		return bytes.Equal(change("", "", a).Value, change("", "", b).Value)
	}
	for i := range p.BuildUps {
		if same(p.BuildUps[i], b) {
			return p.BuildUps[i].ID, true
		}
	}
	base := b.ID
	if base == "" {
		base = "W"
	}
	id = base
	for n := 2; id == "" || p.BuildUpByID(id) != nil; n++ {
		id = fmt.Sprintf("%s-%d", base, n)
	}
	return id, false
}

// FindRooms returns the changes that give a level the rooms that its walls enclose,
// between their faces as they will be built.
func (s *State) FindRooms(level string) []plan.Change {
	return s.job.Plan.FindRooms(level, func(w *plan.Wall) quantity.Length {
		switch laid := s.byID[w.ID]; {
		case laid != nil:
			return laid.laid.Thickness
		case w.Thickness > 0:
			return w.Thickness
		}
		return assumedThickness
	})
}

// WallsBetween returns the changes that put walls between the rooms of a level.
func (s *State) WallsBetween(level string) []plan.Change { return s.job.Plan.WallsBetween(level) }

// RoomPairs lists which rooms are parted by which walls.
func (s *State) RoomPairs() []plan.RoomPair { return s.job.Plan.RoomPairs() }
