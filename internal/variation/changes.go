package variation

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"nogging/internal/plan"
)

// changes lists which keys of two objects differ, by their names in plan files, so
// that no key is overlooked. Values are written as files have them.
func changes(a, b any) []Change {
	before, after := keys(a), keys(b)
	names := map[string]bool{}
	for k := range before {
		names[k] = true
	}
	for k := range after {
		names[k] = true
	}
	var list []Change
	for _, k := range slices.Sorted(maps.Keys(names)) {
		if !bytes.Equal(before[k], after[k]) {
			list = append(list, Change{What: strings.ReplaceAll(k, "_", " "), Old: shown(before[k]), New: shown(after[k])})
		}
	}
	return list
}

// keys parts an object into its keys.
func keys(v any) map[string]json.RawMessage {
	parts := map[string]json.RawMessage{}
	text, err := json.Marshal(v)
	if err == nil {
		_ = json.Unmarshal(text, &parts) // every object of a plan is one
	}
	return parts
}

// shown writes a value as a person would: no quotes round texts, no empty values.
func shown(raw json.RawMessage) string {
	text := string(raw)
	var s string
	if json.Unmarshal(raw, &s) == nil {
		return s
	}
	if slices.Contains([]string{"null", "{}", "[]"}, text) {
		return ""
	}
	return strings.NewReplacer(`"`, "", ",", ", ", ":", ": ").Replace(text)
}

// wallChanges lists what changes of a wall.
func wallChanges(a, b *plan.Wall) []Change {
	x, y := *a, *b
	x.ID, y.ID = "", ""
	x.Openings, y.Openings, x.Require, y.Require = nil, nil, plan.Requirements{}, plan.Requirements{}
	list := changes(x, y)
	for i := range list {
		if list[i].What == "line" {
			list[i].Old, list[i].New = lineText(a.Line), lineText(b.Line)
		}
	}
	for _, c := range changes(a.Require, b.Require) {
		c.What = "asked: " + c.What
		list = append(list, c)
	}
	return append(list, openingChanges(a, b)...)
}

func lineText(line []plan.Pt) string {
	var parts []string
	for _, p := range line {
		parts = append(parts, fmt.Sprintf("(%s, %s)", p.X, p.Y))
	}
	return strings.Join(parts, " to ")
}

// openingChanges pairs the openings of a wall: first those that are the same in
// all but their mark, then by mark or kind, and says what became of the rest.
func openingChanges(a, b *plan.Wall) []Change {
	left := make([]int, 0, len(b.Openings))
	for k := range b.Openings {
		left = append(left, k)
	}
	take := func(fits func(o *plan.Opening, k int) bool) (int, bool) {
		for i, k := range left {
			if fits(&b.Openings[k], k) {
				left = slices.Delete(left, i, i+1)
				return k, true
			}
		}
		return 0, false
	}
	var changed []int
	for i := range a.Openings {
		o := a.Openings[i]
		o.ID = ""
		if _, same := take(func(x *plan.Opening, _ int) bool { y := *x; y.ID = ""; return y == o }); !same {
			changed = append(changed, i)
		}
	}
	var list []Change
	for _, i := range changed {
		o := &a.Openings[i]
		k, ok := take(func(x *plan.Opening, _ int) bool { return o.ID != "" && x.ID == o.ID })
		if !ok {
			k, ok = take(func(x *plan.Opening, _ int) bool { return x.Kind == o.Kind && (o.ID == "" || x.ID == "") })
		}
		c := Change{What: "opening " + a.OpeningID(i), Old: openingText(o)}
		if ok {
			c.New = openingText(&b.Openings[k])
			if c.Old == c.New {
				c.Old, c.New = listed(changes(o, &b.Openings[k]))
			}
		}
		list = append(list, c)
	}
	for _, k := range left {
		list = append(list, Change{What: "opening " + b.OpeningID(k), New: openingText(&b.Openings[k])})
	}
	return list
}

func openingText(o *plan.Opening) string {
	text := fmt.Sprintf("%s %s x %s at %s", o.Kind, o.Width, o.Height, o.At)
	if o.Sill > 0 {
		text += fmt.Sprintf(", sill %s", o.Sill)
	}
	return text
}

// listed writes changes in one line each way.
func listed(list []Change) (before, after string) {
	var a, b []string
	for _, c := range list {
		a, b = append(a, strings.TrimSpace(c.What+" "+c.Old)), append(b, strings.TrimSpace(c.What+" "+c.New))
	}
	return strings.Join(a, ", "), strings.Join(b, ", ")
}
