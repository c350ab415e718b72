package plan

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"nogging/internal/finding"
	"nogging/internal/quantity"
)

// genPlan draws a plan that is well formed, whether or not it makes sense.
func genPlan(t *rapid.T) *Plan {
	text := rapid.OneOf(rapid.StringMatching(`[A-Za-z0-9 :#'"äß²/-]{0,12}`), rapid.SampledFrom([]string{"", "no", "12", "L1-07", "a\nb", "~", "EI 60"}))
	length := rapid.Custom(func(t *rapid.T) Length {
		return Length(rapid.Int64Range(-50_000_000, 50_000_000).Draw(t, "µm")) * 1000 * quantity.Nanometre
	})
	pt := rapid.Custom(func(t *rapid.T) Pt { return Pt{length.Draw(t, "x"), length.Draw(t, "y")} })
	pts := func(n int) *rapid.Generator[[]Pt] { return some(pt, n) }
	word := func(key string) string { return rapid.SampledFrom(append([]string{""}, choices[key]...)).Draw(t, key) }
	name := func(what string) string { return text.Draw(t, what) }
	l := func(what string) Length { return length.Draw(t, what) }
	mass := func() float64 { return rapid.Float64Range(0, 1000).Draw(t, "mass") }

	p := &Plan{
		Version: 1, Practice: name("practice"), Project: Project{Name: name("project"), Date: name("date")},
		Climate:   Climate{Temperature: rapid.Float64Range(-20, 40).Draw(t, "temperature")},
		Overrides: rapid.SampledFrom([]Overrides{nil, {"stud_spacing": 625.0, "screws": []any{[]any{250.0}}, "jamb": "boxed", "b": map[string]any{"on": true}}}).Draw(t, "overrides"),
		Catalogue: some(text, 2).Draw(t, "catalogue"),
	}
	p.Levels = some(rapid.Custom(func(*rapid.T) Level {
		return Level{ID: name("level"), ClearHeight: l("height"), Floor: word("Level.floor"), Datum: rapid.Ptr(pt, true).Draw(t, "datum")}
	}), 2).Draw(t, "levels")
	p.Structure = some(rapid.Custom(func(*rapid.T) Structure {
		return Structure{ID: name("structure"), Kind: word("Structure.kind"), Line: pts(2).Draw(t, "line"), Thickness: l("thickness"), Outline: pts(5).Draw(t, "outline")}
	}), 2).Draw(t, "structure")
	p.Rooms = some(rapid.Custom(func(*rapid.T) Room {
		return Room{ID: name("room"), Wet: word("Room.wet"), Outline: pts(20).Draw(t, "outline")}
	}), 2).Draw(t, "rooms")
	p.BuildUps = some(rapid.Custom(func(*rapid.T) BuildUp {
		return BuildUp{ID: name("buildup"), Frame: FrameSpec{Kind: FrameKind(word("FrameSpec.kind")), Stud: name("stud"), Gap: l("gap")},
			FaceA: some(text, 3).Draw(t, "boards"), Finish: word("BuildUp.finish"),
			Insulation: some(rapid.Custom(func(*rapid.T) Insulation { return Insulation{Product: name("wool"), Thickness: l("thickness")} }), 2).Draw(t, "insulation")}
	}), 2).Draw(t, "buildups")
	p.Walls = some(rapid.Custom(func(*rapid.T) Wall {
		return Wall{
			ID: name("wall"), Level: name("level"), Line: pts(2).Draw(t, "line"), Justify: Justify(word("Wall.justify")), Height: l("height"), Note: name("note"),
			Require: Requirements{Fire: name("fire"), Wet: word("Requirements.wet")},
			Heights: some(rapid.Custom(func(*rapid.T) HeightAt { return HeightAt{l("at"), l("height")} }), 3).Draw(t, "heights"),
			Openings: some(rapid.Custom(func(*rapid.T) Opening {
				return Opening{ID: name("opening"), Kind: OpeningKind(word("Opening.kind")), At: l("at"), Width: l("width"), LeafMass: mass(),
					Leaf: Leaf{Count: 2, Hinge: word("Leaf.hinge"), Opens: Face(word("Leaf.opens")), Width: l("leaf"), Fire: name("door")}}
			}), 3).Draw(t, "openings"),
			Boxes: some(rapid.Custom(func(*rapid.T) Box { return Box{Face: Face(word("Box.face")), At: l("at"), Gangs: 2} }), 3).Draw(t, "boxes"),
			Fixings: some(rapid.Custom(func(*rapid.T) Fixing {
				return Fixing{Kind: word("Fixing.kind"), Face: FaceB, Mass: mass(), Lever: l("lever")}
			}), 2).Draw(t, "fixings"),
		}
	}), 4).Draw(t, "walls")
	return p
}

// some draws up to n values; none is a nil slice, as after reading a file.
func some[T any](g *rapid.Generator[T], n int) *rapid.Generator[[]T] {
	return rapid.Map(rapid.SliceOfN(g, 0, n), func(s []T) []T {
		if len(s) == 0 {
			return nil
		}
		return s
	})
}

// readingFailed reports whether any finding is about reading, as opposed to
// checking.
func readingFailed(found finding.List) bool {
	for _, f := range found {
		switch f.Code {
		case "yaml-syntax", "unknown-key", "duplicate-key", "missing-key", "wrong-type", "wrong-count", "bad-length", "empty-entry":
			return true
		}
	}
	return false
}

func TestMarshalRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genPlan(t)
		p.settle()
		data, err := Marshal(p, schemaComment("plan.schema.json"))
		if err != nil {
			t.Fatal(err)
		}
		back, found := Parse("plan.yaml", data)
		if readingFailed(found) {
			t.Fatalf("%s\n%v", data, found)
		}
		if diff := cmp.Diff(p, back); diff != "" {
			t.Fatalf("%s\n(-want +got):\n%s", data, diff)
		}
		again, err := Marshal(back, schemaComment("plan.schema.json"))
		if err != nil || string(again) != string(data) {
			t.Fatalf("%v\n%s\n%s", err, data, again)
		}
	})
}

// JSON as Go writes it is a plan file, too.
func TestJSONRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genPlan(t)
		fillRequired(p)
		data, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		var plain Plan
		if err := json.Unmarshal(data, &plain); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(p, &plain, cmpopts.EquateEmpty()); diff != "" {
			t.Fatalf("encoding/json (-want +got):\n%s", diff)
		}
		back, found := Parse("plan.json", data)
		if readingFailed(found) {
			t.Fatalf("%s\n%v", data, found)
		}
		p.settle()
		if diff := cmp.Diff(p, back, cmpopts.EquateEmpty()); diff != "" {
			t.Fatalf("%s\n(-want +got):\n%s", data, diff)
		}
	})
}

// The file that Marshal makes of a plan with everything in it. With -update it
// is written anew.
func TestMarshalGolden(t *testing.T) {
	p := readGood(t, "metric.yaml")
	got, err := Marshal(p, schemaComment("../schema/plan.schema.json"), "Written from another file.")
	if err != nil {
		t.Fatal(err)
	}
	const golden = "testdata/marshalled.yaml"
	if *update {
		if err := os.WriteFile(golden, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), string(got)); diff != "" {
		t.Error(diff)
	}
	if back, found := Parse("x", got); len(found) > 0 || !cmp.Equal(p, back) {
		t.Errorf("read back %s %v", cmp.Diff(p, back), found)
	}
}

// fillRequired makes empty lists of the required ones that are nil: JSON writes
// nil as null, which a plan file takes for left out.
func fillRequired(p *Plan) {
	p.Levels = append([]Level{}, p.Levels...)
	p.Walls = append([]Wall{}, p.Walls...)
	for i := range p.Walls {
		p.Walls[i].Line = append([]Pt{}, p.Walls[i].Line...)
	}
	for i := range p.Rooms {
		p.Rooms[i].Outline = append([]Pt{}, p.Rooms[i].Outline...)
	}
}

func readGood(t *testing.T, name string) *Plan {
	data, err := os.ReadFile(filepath.Join("testdata/good", name))
	if err != nil {
		t.Fatal(err)
	}
	p, found := Parse(name, data)
	if len(found) > 0 {
		t.Fatal(found)
	}
	return p
}

// Every key of the format is used in the good plan, so that the tests above
// see them all.
func TestGoodPlanUsesEveryKey(t *testing.T) {
	text, err := os.ReadFile("testdata/good/metric.yaml")
	if err != nil {
		t.Fatal(err)
	}
	schema, err := Schema()
	if err != nil {
		t.Fatal(err)
	}
	var s any
	if err := json.Unmarshal(schema, &s); err != nil {
		t.Fatal(err)
	}
	for _, key := range keysOf(s, nil) {
		if !strings.Contains(string(text), key+":") {
			t.Errorf("no %s in the good plan", key)
		}
	}
}

// keysOf lists the keys that a schema knows, at every depth.
func keysOf(schema any, keys []string) []string {
	m, ok := schema.(map[string]any)
	if !ok {
		return keys
	}
	if p, ok := m["properties"].(map[string]any); ok {
		for key, inner := range p {
			keys = keysOf(inner, append(keys, key))
		}
	}
	return keysOf(m["items"], keys)
}

func TestMarshalRefusesFunctions(t *testing.T) {
	p := &Plan{Version: 1, Overrides: Overrides{"x": fmt.Errorf}}
	if _, err := Marshal(p); err == nil {
		t.Error("a function was written")
	}
}

// schemaComment is the comment by which editors find the schema of a plan file.
func schemaComment(schema string) string { return "yaml-language-server: $schema=" + schema }
