// Package own is what a building model that this program wrote says of its plan: the
// plan as it was drawn, and the geometry that was written of each wall. So a reader can
// give the plan back as it was, and tell what has been changed in between.
//
// The plan is the text property Plan of the set Nogging_Plan on the project, without
// the walls that are in the model; those are the property Wall of the set Nogging_Wall
// on each wall. Both are JSON. Lengths of geometry are millimetres off the wall's storey.
package own

import (
	"encoding/json"
	"fmt"

	"nogging/internal/plan"
	"nogging/internal/words"
)

// Names of sets and of their properties.
const (
	PlanSet  = "Nogging_Plan"
	Plan     = "Plan"
	Written  = "Written"
	WallSet  = "Nogging_Wall"
	Wall     = "Wall"
	Geometry = "Geometry"
)

// InModel says which objects of a plan are in its model.
type InModel struct {
	Walls     []Place  `json:"walls,omitempty"`
	Rooms     []string `json:"rooms,omitempty"`
	Structure []string `json:"structure,omitempty"`
}

// Place is where a wall of the model stood in the list of the plan's walls.
type Place struct {
	ID string `json:"id"`
	At int    `json:"at"`
}

// Split takes the walls out of a plan that are laid out, so in its model. Of walls of
// one id, it takes the first.
func Split(p *plan.Plan, laid func(id string) bool) (rest plan.Plan, in InModel) {
	rest = *p
	rest.Walls = []plan.Wall{}
	seen := map[string]bool{}
	for i := range p.Walls {
		if w := p.Walls[i]; laid(w.ID) && !seen[w.ID] {
			seen[w.ID] = true
			in.Walls = append(in.Walls, Place{w.ID, i})
		} else {
			rest.Walls = append(rest.Walls, w)
		}
	}
	return rest, in
}

// Join puts walls back where they stood among the rest of the plan's. Those that have
// no place, as they were added to the model, come last.
func Join(rest, walls []plan.Wall, places []Place) []plan.Wall {
	byID := make(map[string]plan.Wall, len(walls))
	for _, w := range walls {
		byID[w.ID] = w
	}
	total := len(rest) + len(places)
	placed := make(map[int]string, len(places))
	for _, p := range places {
		placed[p.At] = p.ID
	}
	all := make([]plan.Wall, 0, len(rest)+len(walls))
	take := func(id string) {
		if w, ok := byID[id]; ok {
			delete(byID, id)
			all = append(all, w)
		}
	}
	for i := range total {
		if id, ok := placed[i]; ok {
			take(id)
		} else if len(rest) > 0 {
			all, rest = append(all, rest[0]), rest[1:]
		}
	}
	all = append(all, rest...)
	for _, w := range walls {
		take(w.ID)
	}
	return all
}

// ErrVersion says that a plan is of a version that is not read.
var ErrVersion = words.Err("the plan in it is of another version")

// largest bounds the text of a plan or wall that is read, in bytes.
const largest = 64 << 20

// Decode reads the text of a property into a value.
func Decode(text string, into any) error {
	if len(text) > largest {
		return fmt.Errorf("it holds %d MB, and at most %d are read", len(text)>>20, largest>>20)
	}
	return json.Unmarshal([]byte(text), into)
}

// DecodePlan reads the text of a plan.
func DecodePlan(text string) (*plan.Plan, error) {
	p := &plan.Plan{}
	if err := Decode(text, p); err != nil {
		return nil, err
	}
	if p.Version != plan.Version {
		return nil, fmt.Errorf("%w: %d, and this program reads %d", ErrVersion, p.Version, plan.Version)
	}
	if p.Levels == nil {
		p.Levels = []plan.Level{}
	}
	if p.Walls == nil {
		p.Walls = []plan.Wall{}
	}
	return p, nil
}
