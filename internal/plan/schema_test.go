package plan

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/google/go-cmp/cmp"
	"github.com/google/jsonschema-go/jsonschema"
	"pgregory.net/rapid"

	"nogging/internal/quantity"
)

const schemaFile = "../../schema/plan.schema.json"

// The published schema is the one that the types give. With -update it is
// written anew.
func TestSchemaIsCurrent(t *testing.T) {
	got, err := Schema()
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile(schemaFile, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), string(got)); diff != "" {
		t.Errorf("schema/plan.schema.json is out of date; run: go test ./internal/plan -run Schema -update\n%s", diff)
	}
}

func resolved(t *testing.T) *jsonschema.Resolved {
	data, err := Schema()
	if err != nil {
		t.Fatal(err)
	}
	var s jsonschema.Schema
	if err := json.Unmarshal(data, &s); err != nil {
		t.Fatal(err)
	}
	r, err := s.Resolve(nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// instance reads a file as editors do: by a general YAML reader, as JSON
// values.
func instance(t *testing.T, data []byte) any {
	data, err := yaml.YAMLToJSON(bytes.ReplaceAll(data, []byte("\t"), []byte(" ")))
	if err != nil {
		t.Fatal(err)
	}
	var v any
	if err := json.Unmarshal(data, &v); err != nil {
		t.Fatal(err)
	}
	return v
}

func TestSchemaAcceptsGoodPlans(t *testing.T) {
	schema := resolved(t)
	for _, file := range goodPlans(t) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if err := schema.Validate(instance(t, data)); err != nil {
				t.Error(err)
			}
		})
	}
}

func TestSchemaRefuses(t *testing.T) {
	schema := resolved(t)
	good := `{nogging: 1, levels: [{id: L1, clear_height: 2750}], walls: [{id: W, level: L1, line: [[0, 0], [1, 0]], openings: [{kind: door, at: 0, width: 1, height: 1}]}]}`
	if err := schema.Validate(instance(t, []byte(good))); err != nil {
		t.Fatal(err)
	}
	for old, bad := range map[string]string{
		"nogging: 1":           "nogging: 2",
		"nogging: 1, ":         "",
		"id: W":                "id: W, colour: red",
		"level: L1, ":          "",
		"[1, 0]":               "[1, 0, 2]",
		"[0, 0]":               "[0, here]",
		"kind: door":           "kind: dor",
		"clear_height: 2750":   "clear_height: [2750]",
		"walls: [":             "rooms: {}, walls: [",
		"openings":             "head: fixed, openings",
		"height: 1}":           "height: 1, leaf_mass: heavy}",
		"levels: [{id: L1, cl": "levels: [{id: L1, floor: straw, cl",
	} {
		text := strings.Replace(good, old, bad, 1)
		if text == good {
			t.Errorf("%q is not in the plan", old)
		}
		if err := schema.Validate(instance(t, []byte(text))); err == nil {
			t.Errorf("accepted: %s", text)
		}
	}
}

// Every word of the fixed lists stands in the schema.
func TestSchemaHasChoices(t *testing.T) {
	data, err := Schema()
	if err != nil {
		t.Fatal(err)
	}
	if got := bytes.Count(data, []byte(`"enum"`)); got != len(choices) {
		t.Errorf("%d of %d fixed lists stand in the schema", got, len(choices))
	}
}

// The schema and the parser agree on what a length is; of slips such as 5'- the
// schema lets more pass.
func TestSchemaKnowsLengths(t *testing.T) {
	data, err := json.Marshal(lengthSchema())
	if err != nil {
		t.Fatal(err)
	}
	var s jsonschema.Schema
	if err := json.Unmarshal(data, &s); err != nil {
		t.Fatal(err)
	}
	schema, err := s.Resolve(nil)
	if err != nil {
		t.Fatal(err)
	}
	for name, form := range map[string]string{
		"number and unit": `-?[0-9]{1,3}(\.[0-9]{0,2})? ?(mm|cm|m|in|ft|'|"|)`,
		"feet and inches": `[0-9]{1,2}(ft|')[- ]{0,2}[0-9]{1,2}( [1-9]/[1-9])?("|in)`,
		"anything":        `[0-9]{0,2}[.' "/mcinft-]{0,4}`,
	} {
		rapid.Check(t, func(t *rapid.T) {
			text := rapid.StringMatching(form).Draw(t, name)
			_, parsed := quantity.ParseLength(text)
			valid := schema.Validate(text)
			if parsed == nil && valid != nil || parsed != nil && valid == nil && name != "anything" {
				t.Fatalf("%q: parser says %v, schema says %v", text, parsed, valid)
			}
		})
	}
}
