package plan

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"maps"
	"reflect"
	"slices"

	"nogging/internal/words"
	"nogging/internal/yamlfile"
)

// strict reads JSON into v and allows nothing that v has no place for.
func strict(data []byte, v any) error {
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(v); err != nil {
		return err
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return errors.New("more than one value")
	}
	return nil
}

// written writes a value as changes hold it. The types of plans always can be
// written but for numbers that are not finite, which no file has.
func written(v any) json.RawMessage {
	data, err := json.Marshal(v)
	if err != nil {
		return nil
	}
	return data
}

// single is a kind of which a plan has one.
type single[T any] struct {
	name string
	of   func(*Plan) *T
}

func (s single[T]) apply(e *editor, c Change) Change {
	if c.ID != "" {
		e.refuse(c, "no-id-here", ".id", words.F("a plan has one %s, which has no id", s.name), "leave the id out")
	}
	was, _ := s.object(e.plan, c.Key())
	var v T
	if !c.Removes() && !read(e, c, &v) {
		return was
	}
	*s.of(e.plan) = v
	return was
}

func (s single[T]) object(p *Plan, k Key) (Change, bool) {
	v := *s.of(p)
	if reflect.ValueOf(&v).Elem().IsZero() {
		return Change{Kind: s.name, Value: written(nil)}, k.ID == ""
	}
	return Change{Kind: s.name, Value: written(v)}, k.ID == ""
}

func (s single[T]) diff(from, to *Plan) []Change {
	was, _ := s.object(from, Key{})
	is, _ := s.object(to, Key{})
	if bytes.Equal(was.Value, is.Value) {
		return nil
	}
	return []Change{is}
}

// overrides is the kind of the practice's values that a project changes.
type overrides struct{}

func (overrides) apply(e *editor, c Change) Change {
	inverse, there := overrides{}.object(e.plan, c.Key())
	switch {
	case c.ID == "":
		e.refuse(c, "missing-id", ".id", "it is not said which value of the practice is changed", "give its name as id, such as stud_spacing")
		return inverse
	case c.Removes() && !there:
		e.unknown(c, slices.Sorted(maps.Keys(e.plan.Overrides)))
		return inverse
	}
	next := maps.Clone(e.plan.Overrides)
	if next == nil {
		next = Overrides{}
	}
	var v any
	switch {
	case c.Removes():
		delete(next, c.ID)
	case !read(e, c, &v):
		return inverse
	default:
		next[c.ID] = v
	}
	if e.plan.Overrides = next; len(next) == 0 {
		e.plan.Overrides = nil
	}
	return inverse
}

func (overrides) object(p *Plan, k Key) (Change, bool) {
	v, there := p.Overrides[k.ID]
	return Change{Kind: "overrides", ID: k.ID, Value: written(v)}, there
}

func (overrides) diff(from, to *Plan) []Change {
	var list []Change
	for _, id := range slices.Sorted(maps.Keys(from.Overrides)) {
		if _, stays := to.Overrides[id]; !stays {
			list = append(list, Change{Kind: "overrides", ID: id, Value: written(nil)})
		}
	}
	for _, id := range slices.Sorted(maps.Keys(to.Overrides)) {
		was, there := overrides{}.object(from, Key{ID: id})
		if is, _ := (overrides{}).object(to, Key{ID: id}); !there || !bytes.Equal(was.Value, is.Value) {
			list = append(list, is)
		}
	}
	return list
}

// listed is a kind of which a plan has a list.
type listed[T any] struct {
	name string
	of   func(*Plan) *[]T
	id   func(*T) string
}

func (l listed[T]) index(p *Plan, id string) int {
	list := *l.of(p)
	for i := range list {
		if l.id(&list[i]) == id {
			return i
		}
	}
	return -1
}

func (l listed[T]) ids(p *Plan) []string {
	list := *l.of(p)
	ids := make([]string, len(list))
	for i := range list {
		ids[i] = l.id(&list[i])
	}
	return ids
}

func (l listed[T]) object(p *Plan, k Key) (Change, bool) {
	at := l.index(p, k.ID)
	if at < 0 {
		return Change{Kind: l.name, ID: k.ID, Value: written(nil)}, false
	}
	return Change{Kind: l.name, ID: k.ID, At: &at, Value: written((*l.of(p))[at])}, true
}

func (l listed[T]) apply(e *editor, c Change) Change {
	inverse, there := l.object(e.plan, c.Key())
	switch {
	case c.ID == "":
		e.refuse(c, "missing-id", ".id", "the id is empty", "give each object its own short mark")
		return inverse
	case c.At != nil && *c.At < 0:
		e.refuse(c, "out-of-range", ".at", words.F("there is no place %d in a list", *c.At), "count places from 0")
		return inverse
	case c.Removes() && !there:
		e.unknown(c, l.ids(e.plan))
		return inverse
	}
	list := l.own(e)
	if c.Removes() {
		*list = slices.Delete(*list, *inverse.At, *inverse.At+1)
		if len(*list) == 0 {
			*list = nil
		}
		return inverse
	}
	v, ok := l.value(e, c)
	if !ok {
		return inverse
	}
	return l.put(list, c, v, inverse)
}

// put sets a value in its place and returns what takes that back.
func (l listed[T]) put(list *[]T, c Change, v T, inverse Change) Change {
	if inverse.At == nil {
		at := len(*list)
		if c.At != nil {
			at = min(*c.At, at)
		}
		*list = slices.Insert(*list, at, v)
		return inverse
	}
	at := *inverse.At
	if c.At == nil || min(*c.At, len(*list)-1) == at {
		(*list)[at] = v
		inverse.At = nil // it stays in its place
		return inverse
	}
	*list = slices.Insert(slices.Delete(*list, at, at+1), min(*c.At, len(*list)-1), v)
	return inverse
}

// own returns the list, cloned once so that the plan before keeps its own.
func (l listed[T]) own(e *editor) *[]T {
	list := l.of(e.plan)
	if !e.cloned[l.name] {
		e.cloned[l.name] = true
		*list = slices.Clone(*list)
	}
	return list
}

// value reads the object of a change.
func (l listed[T]) value(e *editor, c Change) (v T, ok bool) {
	if !read(e, c, &v) {
		return v, false
	}
	if w, wall := any(&v).(*Wall); wall {
		w.settle()
	}
	if id := l.id(&v); id != c.ID {
		e.refuse(c, "id-differs", ".value.id", words.F("the change is about %q, and its value has the id %q", c.ID, id),
			"give both the same id; to rename an object, remove it under the old id and put it under the new one")
		return v, false
	}
	return v, true
}

// unknown refuses to remove what is not there.
func (e *editor) unknown(c Change, known []string) {
	e.refuse(c, "unknown-id", ".id", words.F("the plan has no %q among its %s, so it cannot be removed", c.ID, c.Kind), yamlfile.Suggest(c.ID, words.F("%s of the plan", c.Kind), known))
}
