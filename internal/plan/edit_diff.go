package plan

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"

	"nogging/internal/finding"
	"nogging/internal/words"
)

// diff removes what is gone, and then puts what is new, differs or stands in
// another place, from the first to the last.
func (l listed[T]) diff(from, to *Plan) []Change {
	var list []Change
	stays := map[string]bool{}
	for _, id := range l.ids(to) {
		stays[id] = true
	}
	var now []string
	for _, id := range l.ids(from) {
		if !stays[id] {
			list = append(list, Change{Kind: l.name, ID: id, Value: written(nil)})
			continue
		}
		now = append(now, id)
	}
	before := map[string]*T{}
	old := *l.of(from)
	for i := range old {
		before[l.id(&old[i])] = &old[i]
	}
	is := *l.of(to)
	for i := range is {
		id := l.id(&is[i])
		c := Change{Kind: l.name, ID: id, Value: written(is[i])}
		was := before[id]
		if i >= len(now) || now[i] != id {
			c.At = &i
			if at := slices.Index(now, id); at >= 0 {
				now = slices.Delete(now, at, at+1)
			}
			now = slices.Insert(now, i, id)
		} else if reflect.DeepEqual(*was, is[i]) || bytes.Equal(written(*was), c.Value) {
			continue
		}
		list = append(list, c)
	}
	return list
}

// Diff returns changes that make one plan of another: applied to from, they give to,
// but for the version of the format. Both plans must be Distinct.
func Diff(from, to *Plan) []Change {
	var list []Change
	for _, name := range order {
		list = append(list, kinds[name].diff(from, to)...)
	}
	return list
}

// FromJSON reads a plan that json.Marshal wrote, exactly and quickly. Files that
// people write are for Read, which says what is wrong with them.
func FromJSON(data []byte) (*Plan, error) {
	p := &Plan{}
	if err := strict(data, p); err != nil {
		return nil, fmt.Errorf("the plan cannot be read: %w", err)
	}
	return p, nil
}

// MarshalJSON writes the plan as a plan file in JSON.
func (p Plan) MarshalJSON() ([]byte, error) {
	type plain Plan
	if p.Levels == nil {
		p.Levels = []Level{}
	}
	if p.Walls == nil {
		p.Walls = []Wall{}
	}
	return json.Marshal(plain(p))
}

// Distinct returns the plan with an id of its own for every object of a list, so
// that changes can name each: a second object of the same id gets it with a number,
// one without any the name of its list with a number. What is renamed is told;
// entries of junctions that say nothing, or are ignored, are left out.
func (p *Plan) Distinct() (*Plan, finding.List) {
	next := *p
	var found finding.List
	distinct(&found, "levels", &next.Levels, func(x *Level) *string { return &x.ID })
	distinct(&found, "structure", &next.Structure, func(x *Structure) *string { return &x.ID })
	distinct(&found, "rooms", &next.Rooms, func(x *Room) *string { return &x.ID })
	distinct(&found, "buildups", &next.BuildUps, func(x *BuildUp) *string { return &x.ID })
	distinct(&found, "walls", &next.Walls, func(x *Wall) *string { return &x.ID })
	next.Junctions = nil
	seen := map[string]bool{"": true}
	for i := range p.Junctions {
		if id := p.Junctions[i].ID(); !seen[id] {
			seen[id] = true
			next.Junctions = append(next.Junctions, p.Junctions[i])
		}
	}
	return &next, found
}

func distinct[T any](found *finding.List, name string, list *[]T, id func(*T) *string) {
	taken := map[string]bool{"": true}
	for i := range *list {
		taken[*id(&(*list)[i])] = true
	}
	seen := map[string]bool{"": true}
	own := false
	for i := range *list {
		old := *id(&(*list)[i])
		if !seen[old] {
			seen[old] = true
			continue
		}
		if !own {
			*list, own = slices.Clone(*list), true
		}
		base := old
		if base == "" {
			base = name
		}
		n := 2
		for taken[fmt.Sprintf("%s-%d", base, n)] {
			n++
		}
		mark := fmt.Sprintf("%s-%d", base, n)
		taken[mark], seen[mark] = true, true
		*id(&(*list)[i]) = mark
		found.Add(finding.Finding{Code: "renamed", Severity: finding.Warning, Object: mark, Path: fmt.Sprintf("%s[%d].id", name, i),
			What: words.F("the id %q was not its own, so it goes by %s now", old, mark), Fix: "check what refers to it, and rename it"})
	}
}
