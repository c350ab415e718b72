package plan

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"nogging/internal/finding"
	"nogging/internal/words"
	"nogging/internal/yamlfile"
)

// Change puts or removes one object of a plan as a whole: one wall, one room, one
// value of the practice. What a plan has once, such as its project, is put and
// removed without an id.
//
// Kinds are the keys of the plan file: levels, structure, rooms, buildups, walls,
// junctions and overrides, whose objects have ids; project, practice, catalogue,
// climate and seismic, of which there is one. A junction goes by the ids of its
// walls (Junction.ID), an override by the name of the practice's value.
type Change struct {
	Kind  string          `json:"kind"`
	ID    string          `json:"id,omitempty"`
	At    *int            `json:"at,omitempty"` // place in its list from 0; where it stands, or at the end of the list, if left out
	Value json.RawMessage `json:"value"`        // as the plan file has it, in JSON; null removes the object
}

// Edit is what a person does in one go, with words for it.
type Edit struct {
	Label   string   `json:"label,omitempty"`
	Changes []Change `json:"changes"`
}

// Key names one object of a plan.
type Key struct {
	Kind string `json:"kind"`
	ID   string `json:"id,omitempty"`
}

// Key returns which object is changed.
func (c Change) Key() Key { return Key{c.Kind, c.ID} }

// Removes reports whether the change takes its object out.
func (c Change) Removes() bool { return len(c.Value) == 0 || string(c.Value) == "null" }

// Shared lists the objects that both lists of changes touch, each once, in the
// order of the first. Two edits of one plan that share none can both stand.
func Shared(a, b []Change) []Key {
	touched := map[Key]bool{}
	for _, c := range b {
		touched[c.Key()] = true
	}
	var list []Key
	for _, c := range a {
		if touched[c.Key()] {
			list = append(list, c.Key())
			delete(touched, c.Key())
		}
	}
	return list
}

// Apply makes the changes, one after another, and gives the new plan and the
// changes that take it back, to be applied in the order given. The plan itself
// stays as it is, and shares with the new one what does not change.
//
// A change of a kind or of an object that is not known, and a value that is not of
// its kind's type, refuse all of the changes: the plan is nil then, and the
// findings say what is wrong, with paths such as changes[2].value.openings[0].width.
// What is of the right type is taken however little sense it makes, as from a
// file; Validate tells about that.
func (p *Plan) Apply(changes []Change) (*Plan, []Change, finding.List) {
	next := *p
	e := editor{plan: &next, cloned: map[string]bool{}}
	inverse := make([]Change, 0, len(changes))
	for i, c := range changes {
		e.where = fmt.Sprintf("changes[%d]", i)
		k, ok := kinds[c.Kind]
		if !ok {
			e.refuse(c, "unknown-kind", ".kind", words.F("a plan has no %q", c.Kind), yamlfile.Suggest(c.Kind, "kinds", order))
			continue
		}
		inverse = append(inverse, k.apply(&e, c))
	}
	if len(e.found) > 0 {
		return nil, nil, e.found
	}
	slices.Reverse(inverse)
	return &next, inverse, nil
}

// Object returns one object as a change would put it, with its place in its list.
// What the plan has once is always there.
func (p *Plan) Object(k Key) (Change, bool) {
	kind, ok := kinds[k.Kind]
	if !ok {
		return Change{}, false
	}
	return kind.object(p, k)
}

// editor makes changes to a plan that is its own but for the lists that it has
// not cloned yet.
type editor struct {
	plan   *Plan
	cloned map[string]bool
	where  string // the change at hand
	found  finding.List
}

func (e *editor) refuse(c Change, code, key string, what, fix words.Text) {
	e.found.Add(finding.Finding{Code: code, Severity: finding.Error, Object: c.ID, Path: e.where + key, What: what, Fix: fix})
}

// kind is how the objects of one kind are kept.
type kind interface {
	apply(e *editor, c Change) (inverse Change)
	object(p *Plan, k Key) (Change, bool)
	diff(from, to *Plan) []Change
}

// kinds holds every kind by its key in the plan file.
var kinds map[string]kind

// order lists the kinds such that what others refer to comes first.
var order = []string{"project", "practice", "overrides", "catalogue", "climate", "seismic", "save_boards", "levels", "structure", "rooms", "buildups", "walls", "junctions"}

func init() {
	kinds = map[string]kind{
		"project":     single[Project]{"project", func(p *Plan) *Project { return &p.Project }},
		"practice":    single[string]{"practice", func(p *Plan) *string { return &p.Practice }},
		"overrides":   overrides{},
		"catalogue":   single[[]string]{"catalogue", func(p *Plan) *[]string { return &p.Catalogue }},
		"climate":     single[Climate]{"climate", func(p *Plan) *Climate { return &p.Climate }},
		"seismic":     single[Seismic]{"seismic", func(p *Plan) *Seismic { return &p.Seismic }},
		"save_boards": single[bool]{"save_boards", func(p *Plan) *bool { return &p.SaveBoards }},
		"levels":      listed[Level]{"levels", func(p *Plan) *[]Level { return &p.Levels }, func(x *Level) string { return x.ID }},
		"structure":   listed[Structure]{"structure", func(p *Plan) *[]Structure { return &p.Structure }, func(x *Structure) string { return x.ID }},
		"rooms":       listed[Room]{"rooms", func(p *Plan) *[]Room { return &p.Rooms }, func(x *Room) string { return x.ID }},
		"buildups":    listed[BuildUp]{"buildups", func(p *Plan) *[]BuildUp { return &p.BuildUps }, func(x *BuildUp) string { return x.ID }},
		"walls":       listed[Wall]{"walls", func(p *Plan) *[]Wall { return &p.Walls }, func(x *Wall) string { return x.ID }},
		"junctions":   listed[Junction]{"junctions", func(p *Plan) *[]Junction { return &p.Junctions }, (*Junction).ID},
	}
}

// ID returns the mark by which changes know the entry: the ids of its walls in
// alphabetical order, as in L1-01+L1-02. An id in which a plus sign or a quotation
// mark stands is quoted.
func (j *Junction) ID() string {
	var parts []string
	for _, id := range slices.Sorted(slices.Values(j.Walls)) {
		if strings.ContainsAny(id, `+"`) {
			id = strconv.Quote(id)
		}
		parts = append(parts, id)
	}
	return strings.Join(parts, "+")
}

// read reads a change's value into v: by encoding/json where that can, and else,
// for words that a person can act on, as plan files are read.
func read[T any](e *editor, c Change, v *T) bool {
	if strict(c.Value, v) == nil {
		return true
	}
	var again struct {
		Value T `json:"value"`
	}
	_, found := yamlfile.Decode("", slices.Concat([]byte(`{"value": `), c.Value, []byte("}")), &again)
	bad := false
	for _, f := range found {
		if f.Severity == finding.Error || f.Code == "unknown-key" {
			f.Severity, f.Place, f.Path = finding.Error, finding.Place{}, e.where+"."+f.Path
			f.Object = c.ID
			e.found.Add(f)
			bad = true
		}
	}
	*v = again.Value
	return !bad
}
