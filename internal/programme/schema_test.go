package programme

import (
	"encoding/json"
	"flag"
	"os"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/google/go-cmp/cmp"
	"github.com/google/jsonschema-go/jsonschema"
)

var update = flag.Bool("update", false, "write the schema anew")

const schemaFile = "../../schema/gangs.schema.json"

// The published schema is the one that the types give.
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
		t.Errorf("schema/gangs.schema.json is out of date; run: make generate\n%s", diff)
	}
}

// The schema takes the starter and the demo, and refuses what the reader refuses.
func TestSchemaJudges(t *testing.T) {
	text, err := Schema()
	if err != nil {
		t.Fatal(err)
	}
	var s jsonschema.Schema
	if err := json.Unmarshal(text, &s); err != nil {
		t.Fatal(err)
	}
	r, err := s.Resolve(nil)
	if err != nil {
		t.Fatal(err)
	}
	judge := func(data []byte) error {
		var v any
		if err := yaml.Unmarshal(data, &v); err != nil {
			t.Fatal(err)
		}
		asJSON, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		var plain any
		if err := json.Unmarshal(asJSON, &plain); err != nil {
			t.Fatal(err)
		}
		return r.Validate(plain)
	}
	demo, err := os.ReadFile("../../demo/site/gangs.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, good := range [][]byte{Starter(), demo, []byte(site)} {
		if err := judge(good); err != nil {
			t.Error(err)
		}
	}
	for _, bad := range []string{
		"programme: 2\ncalendars: []\ngangs: []\n",
		"programme: 1\ngangs: []\n",
		"programme: 1\ncalendars: []\ngangs: [{id: x, skills: [singing], size: 2}]\n",
		"programme: 1\ncalendars: [{id: x, days: [moonday], shifts: [\"07:00-12:00\"]}]\ngangs: []\n",
		"programme: 1\ncalendars: []\ngangs: []\ncompound: quick\n",
		"programme: 1\ncalendars: []\ngangs: []\nhats: 3\n",
	} {
		if judge([]byte(bad)) == nil {
			t.Errorf("the schema takes %q", bad)
		}
	}
}

// The starter is read without a finding.
func TestStarter(t *testing.T) {
	if _, found := ReadSite("gangs.yaml", Starter()); len(found) > 0 {
		t.Error(found)
	}
}
