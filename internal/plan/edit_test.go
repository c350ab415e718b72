package plan

import (
	"bytes"
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// asJSON is what revisions hold of a plan.
func asJSON(t interface{ Fatal(...any) }, p *Plan) []byte {
	data, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// distinctPlan draws a plan of which every object can be named.
func distinctPlan(t *rapid.T) *Plan {
	p := genPlan(t)
	for range rapid.IntRange(0, 2).Draw(t, "junctions") {
		if len(p.Walls) > 1 {
			p.Junctions = append(p.Junctions, Junction{Walls: []string{p.Walls[0].ID, p.Walls[len(p.Walls)-1].ID}})
		}
	}
	p, _ = p.Distinct()
	return p
}

// genChange draws a change that the plan can take: an object of another plan put
// under its own id, one of the plan's own moved or removed.
func genChange(t *rapid.T, p, other *Plan) Change {
	var all []Change
	for _, from := range []*Plan{p, other} {
		for _, c := range Diff(&Plan{Version: 1}, from) {
			c.At = rapid.Ptr(rapid.IntRange(0, 5), true).Draw(t, "at")
			if _, isList := kinds[c.Kind].(interface{ ids(*Plan) []string }); !isList {
				c.At = nil
			}
			all = append(all, c)
			if _, there := p.Object(c.Key()); there {
				all = append(all, Change{Kind: c.Kind, ID: c.ID, Value: json.RawMessage("null")})
			}
		}
	}
	if len(all) == 0 {
		return Change{Kind: "practice", Value: json.RawMessage(`"us"`)}
	}
	return rapid.SampledFrom(all).Draw(t, "change")
}

// Edits and, in reverse order, what takes them back leave a plan byte for byte as
// it was, and no edit touches the plan that it was made on.
func TestInverseRestores(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		first, other := distinctPlan(t), distinctPlan(t)
		states, undo := []*Plan{first}, [][]Change(nil)
		texts := [][]byte{asJSON(t, first)}
		for range rapid.IntRange(1, 6).Draw(t, "edits") {
			p := states[len(states)-1]
			var edit []Change
			at := p
			for range rapid.IntRange(1, 4).Draw(t, "changes") {
				c := genChange(t, at, other)
				next, _, found := at.Apply([]Change{c})
				if found != nil {
					t.Fatalf("%s %s refused: %v", c.Kind, c.Value, found)
				}
				edit, at = append(edit, c), next
			}
			next, inverse, found := p.Apply(edit)
			if found != nil {
				t.Fatal(found)
			}
			if !bytes.Equal(asJSON(t, next), asJSON(t, at)) {
				t.Fatal("changes in one edit differ from the same one by one")
			}
			states, undo, texts = append(states, next), append(undo, inverse), append(texts, asJSON(t, next))
		}
		for i, p := range states {
			if !bytes.Equal(asJSON(t, p), texts[i]) {
				t.Fatal("an edit changed the plan that it was made on")
			}
		}
		at := states[len(states)-1]
		for i := len(undo) - 1; i >= 0; i-- {
			back, redo, found := at.Apply(undo[i])
			if found != nil {
				t.Fatal(found)
			}
			if got := asJSON(t, back); !bytes.Equal(got, texts[i]) {
				t.Fatalf("taken back:\n%s\nwant:\n%s", got, texts[i])
			}
			again, _, found := back.Apply(redo)
			if found != nil || !bytes.Equal(asJSON(t, again), texts[i+1]) {
				t.Fatalf("done again:\n%s\nwant:\n%s\n%v", asJSON(t, again), texts[i+1], found)
			}
			at = back
		}
	})
}

func TestDiffMakesOneOfTheOther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from, to := distinctPlan(t), distinctPlan(t)
		if rapid.Bool().Draw(t, "alike") {
			to = from
			for range rapid.IntRange(0, 4).Draw(t, "changes") {
				to, _, _ = to.Apply([]Change{genChange(t, to, from)})
			}
		}
		got, _, found := from.Apply(Diff(from, to))
		if found != nil || !bytes.Equal(asJSON(t, got), asJSON(t, to)) {
			t.Fatalf("%v\n%s\nwant:\n%s", found, asJSON(t, got), asJSON(t, to))
		}
		if d := Diff(got, to); len(d) > 0 {
			t.Fatalf("equal plans differ: %v", d)
		}
	})
}

// Edits that share no object can be made in either order.
func TestEditsThatShareNothingMerge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, other := distinctPlan(t), distinctPlan(t)
		a, b := []Change{genChange(t, p, other)}, []Change{genChange(t, p, other)}
		a[0].At, b[0].At = nil, nil
		shared := Shared(a, b)
		if (len(shared) > 0) != (a[0].Key() == b[0].Key()) {
			t.Fatalf("%v %v share %v", a, b, shared)
		}
		if len(shared) > 0 {
			return
		}
		ab, _, found1 := p.Apply(slices.Concat(a, b))
		ba, _, found2 := p.Apply(slices.Concat(b, a))
		if found1 != nil || found2 != nil {
			t.Fatal(found1, found2)
		}
		for _, d := range Diff(ab, ba) {
			if now, _ := ab.Object(d.Key()); d.At == nil || !bytes.Equal(now.Value, d.Value) { // where both add to a list, places may differ
				t.Fatalf("%+v", d)
			}
		}
	})
}

func TestPlanJSONIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		data := asJSON(t, distinctPlan(t))
		back, err := FromJSON(data)
		if err != nil {
			t.Fatal(err)
		}
		if again := asJSON(t, back); !bytes.Equal(again, data) {
			t.Fatalf("%s\nwant:\n%s", again, data)
		}
	})
}

func TestRefusedEdits(t *testing.T) {
	p := &Plan{Version: 1, Walls: []Wall{{ID: "L1-01", Level: "L1"}}, Overrides: Overrides{"stud_spacing": 600.0}}
	wall := `{"id":"L1-02","level":"L1","line":[[0,0],[4000,0]]`
	minus := -1
	for _, test := range []struct {
		name         string
		change       Change
		code, path   string
		what, remedy string
	}{
		{"kind", Change{Kind: "wall", ID: "L1-02", Value: json.RawMessage(wall + "}")}, "unknown-kind", "changes[1].kind", `no "wall"`, "walls"},
		{"field", Change{Kind: "walls", ID: "L1-02", Value: json.RawMessage(wall + `,"hight":3000}`)}, "unknown-key", "changes[1].value", `"hight"`, "height"},
		{"type", Change{Kind: "walls", ID: "L1-02", Value: json.RawMessage(wall + `,"openings":[{"kind":"door","at":500,"width":true,"height":2100}]}`)},
			"wrong-type", "changes[1].value.openings[0].width", "length", "write"},
		{"point", Change{Kind: "walls", ID: "L1-02", Value: json.RawMessage(`{"id":"L1-02","level":"L1","line":[[0],[4000,0]]}`)}, "wrong-count", "changes[1].value.line[0]", "2 values", "write"},
		{"no object", Change{Kind: "walls", ID: "L1-02", Value: json.RawMessage(`[1]`)}, "wrong-type", "changes[1].value", "", "write"},
		{"cut off", Change{Kind: "walls", ID: "L1-02", Value: json.RawMessage(wall)}, "yaml-syntax", "", "", ""},
		{"other id", Change{Kind: "walls", ID: "L1-03", Value: json.RawMessage(wall + "}")}, "id-differs", "changes[1].value.id", `"L1-02"`, "remove it"},
		{"no id", Change{Kind: "walls", Value: json.RawMessage(wall + "}")}, "missing-id", "changes[1].id", "empty", "mark"},
		{"id of one", Change{Kind: "project", ID: "x", Value: json.RawMessage(`{}`)}, "no-id-here", "changes[1].id", "one project", "leave"},
		{"gone", Change{Kind: "walls", ID: "L1-10"}, "unknown-id", "changes[1].id", `no "L1-10"`, "L1-01"},
		{"override gone", Change{Kind: "overrides", ID: "stud_spacin"}, "unknown-id", "changes[1].id", "stud_spacin", "stud_spacing"},
		{"override of nothing", Change{Kind: "overrides", Value: json.RawMessage("1")}, "missing-id", "changes[1].id", "", "name"},
		{"place", Change{Kind: "walls", ID: "L1-02", At: &minus, Value: json.RawMessage(wall + "}")}, "out-of-range", "changes[1].at", "-1", "from 0"},
	} {
		t.Run(test.name, func(t *testing.T) {
			before := asJSON(t, p)
			fine := Change{Kind: "practice", Value: json.RawMessage(`"us"`)}
			next, inverse, found := p.Apply([]Change{fine, test.change})
			if next != nil || inverse != nil || len(found) == 0 {
				t.Fatalf("taken: %v", found)
			}
			f := found[0]
			if f.Code != test.code || test.path != "" && f.Path != test.path || !strings.Contains(f.What.String(), test.what) || !strings.Contains(f.Fix.String(), test.remedy) {
				t.Errorf("%+v", f)
			}
			if !bytes.Equal(asJSON(t, p), before) {
				t.Error("a refused edit changed the plan")
			}
		})
	}
}

// What makes no sense is stored, and Validate tells about it.
func TestSenselessValuesAreStored(t *testing.T) {
	p := Starter()
	plan, _ := Parse("starter.yaml", p)
	c, _ := plan.Object(Key{"walls", plan.Walls[0].ID})
	var w Wall
	if err := json.Unmarshal(c.Value, &w); err != nil {
		t.Fatal(err)
	}
	w.Openings = append(w.Openings, Opening{Kind: Door, At: 100 * w.Length(), Width: w.Length(), Height: w.Length()})
	c.Value = written(w)
	next, _, found := plan.Apply([]Change{c})
	if found != nil || len(next.Walls[0].Openings) != len(w.Openings) {
		t.Fatal(found)
	}
	if len(next.Validate()) <= len(plan.Validate()) {
		t.Error("a door beyond the wall's end is not told")
	}
}

func TestDistinct(t *testing.T) {
	p := &Plan{Walls: []Wall{{ID: "a"}, {ID: "a"}, {ID: "a-2"}, {ID: ""}}, Junctions: []Junction{{Walls: []string{"b", "a"}}, {Walls: []string{"a", "b"}}, {}}}
	got, found := p.Distinct()
	var ids []string
	for i := range got.Walls {
		ids = append(ids, got.Walls[i].ID)
	}
	if !slices.Equal(ids, []string{"a", "a-3", "a-2", "walls-2"}) || len(found) != 2 || len(got.Junctions) != 1 || p.Walls[1].ID != "a" {
		t.Errorf("%v %v %v", ids, found, got.Junctions)
	}
}

func TestJunctionIDsDiffer(t *testing.T) {
	for _, pair := range [][2][]string{{{"a+b", "c"}, {"a", "b+c"}}, {{"a+", "b"}, {"a", "+b"}}, {{`"a+b"`, "c"}, {"a+b", "c"}}} {
		if a, b := (&Junction{Walls: pair[0]}).ID(), (&Junction{Walls: pair[1]}).ID(); a == b {
			t.Errorf("%v and %v are both %s", pair[0], pair[1], a)
		}
	}
	if id := (&Junction{Walls: []string{"L1-02", "L1-01"}}).ID(); id != "L1-01+L1-02" {
		t.Error(id)
	}
}

func TestPlaces(t *testing.T) {
	p := &Plan{Walls: []Wall{{ID: "a"}, {ID: "b"}, {ID: "c"}}}
	at := func(i int) *int { return &i }
	put := func(id string, at *int) Change {
		return Change{Kind: "walls", ID: id, At: at, Value: json.RawMessage(`{"id":"` + id + `","level":"","line":null,"note":"new"}`)}
	}
	for _, test := range []struct {
		change Change
		want   string
		back   *int // place in the inverse
	}{
		{put("b", nil), "a b c", nil}, // so that it goes where it stands by then
		{put("b", at(1)), "a b c", nil},
		{put("b", at(0)), "b a c", at(1)},
		{put("b", at(9)), "a c b", at(1)},
		{put("d", nil), "a b c d", nil},
		{put("d", at(1)), "a d b c", nil},
		{put("d", at(9)), "a b c d", nil},
		{Change{Kind: "walls", ID: "b"}, "a c", at(1)},
	} {
		next, inverse, found := p.Apply([]Change{test.change})
		if found != nil {
			t.Fatal(found)
		}
		var ids []string
		for i := range next.Walls {
			ids = append(ids, next.Walls[i].ID)
		}
		if got := strings.Join(ids, " "); got != test.want || !reflect.DeepEqual(inverse[0].At, test.back) {
			t.Errorf("%s at %v: %s, back at %v", test.change.ID, test.change.At, got, inverse[0].At)
		}
	}
}

// Whatever a page sends is refused with reasons or can be taken back.
func FuzzApply(f *testing.F) {
	start, _ := Parse("starter.yaml", Starter())
	f.Add("walls", "L1-01", `{"id":"L1-01","level":"L1","line":[[0,0],[4000,0]],"openings":[{"kind":"door","at":500,"width":885,"height":2100}]}`, 0)
	f.Add("walls", "L1-01", `null`, 3)
	f.Add("levels", "L9", `{"id":"L9","clear_height":"9'-2\""}`, -1)
	f.Add("overrides", "stud_spacing", `{"a":[1e300,{}]}`, 0)
	f.Add("catalogue", "", `["a"]`, 0)
	f.Add("junctions", "a+b", `{"walls":["b","a"]}`, 1)
	f.Add("rooms", "R", "{\"id\":\"R\"}{", 1)
	f.Fuzz(func(t *testing.T, kind, id, value string, at int) {
		before := asJSON(t, start)
		c := Change{Kind: kind, ID: id, Value: json.RawMessage(value)}
		if at >= 0 {
			c.At = &at
		}
		next, inverse, found := start.Apply([]Change{c})
		if (next == nil) != (len(found) > 0) {
			t.Fatalf("%v", found)
		}
		for _, x := range found {
			if x.Path == "" || x.What == "" {
				t.Errorf("%+v", x)
			}
		}
		if next == nil {
			return
		}
		back, _, found := next.Apply(inverse)
		if found != nil || !bytes.Equal(asJSON(t, back), before) {
			t.Fatalf("%s %s: not taken back: %v", kind, value, found)
		}
		if again, err := FromJSON(asJSON(t, next)); err != nil || !bytes.Equal(asJSON(t, again), asJSON(t, next)) {
			t.Fatalf("%s %s: not read back: %v", kind, value, err)
		}
		next.Validate()
	})
}

// FuzzChanges: an edit of several changes, as a page sends it, is refused with reasons
// or can be taken back.
func FuzzChanges(f *testing.F) {
	start, _ := Parse("starter.yaml", Starter())
	f.Add([]byte(`[{"kind":"walls","id":"L1-01","value":null},{"kind":"walls","id":"L1-01","value":{"id":"L1-01","level":"L1","line":[[0,0],[4000,0]]},"at":2}]`))
	f.Add([]byte(`[{"kind":"levels","id":"L9","value":{"id":"L9","clear_height":1}},{"kind":"levels","id":"L9","value":null},{"kind":"walls","id":"x","value":{"id":"x","level":"L9"}}]`))
	f.Add([]byte(`[{"kind":"project","id":"","value":{"name":[[[[]]]]}}]`))
	f.Fuzz(func(t *testing.T, text []byte) {
		var list []Change
		if json.Unmarshal(text, &list) != nil {
			return
		}
		next, inverse, found := start.Apply(list)
		if (next == nil) != (len(found) > 0) {
			t.Fatalf("%v", found)
		}
		if next == nil {
			return
		}
		if back, _, found := next.Apply(inverse); found != nil || !bytes.Equal(asJSON(t, back), asJSON(t, start)) {
			t.Fatalf("%s: not taken back: %v", text, found)
		}
	})
}
