package plan

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/jsonschema-go/jsonschema"
	"pgregory.net/rapid"

	"nogging/internal/quantity"
	"nogging/internal/schematest"
)

// The published schema is the one that the types give.
func TestSchemaIsCurrent(t *testing.T) {
	published, err := os.ReadFile("../../schema/plan.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	schematest.Current(t, published, madeSchema(t))
}

func madeSchema(t *testing.T) []byte {
	made, err := Schema()
	if err != nil {
		t.Fatal(err)
	}
	return made
}

func TestSchemaAcceptsGoodPlans(t *testing.T) {
	judge := schematest.Judge(t, madeSchema(t))
	for _, file := range goodPlans(t) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if err := judge(data); err != nil {
				t.Error(err)
			}
		})
	}
}

func TestSchemaRefuses(t *testing.T) {
	judge := schematest.Judge(t, madeSchema(t))
	good := `{nogging: 1, levels: [{id: L1, clear_height: 2750}], walls: [{id: W, level: L1, line: [[0, 0], [1, 0]], openings: [{kind: door, at: 0, width: 1, height: 1}]}]}`
	if err := judge([]byte(good)); err != nil {
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
		if err := judge([]byte(text)); err == nil {
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
