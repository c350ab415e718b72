// Package schematest holds documents against the JSON Schemas of files that people write,
// in tests. It takes a schema (draft 2020-12) as text.
package schematest

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/google/go-cmp/cmp"
	"github.com/google/jsonschema-go/jsonschema"
)

// Current checks that a published schema is the one that the types give.
func Current(t testing.TB, published, made []byte) {
	t.Helper()
	if diff := cmp.Diff(string(published), string(made)); diff != "" {
		t.Errorf("the published schema is out of date; run: make generate\n%s", diff)
	}
}

// Judge returns what the schema has against a YAML document, which is read as editors
// do: by a general reader, as JSON values.
func Judge(t testing.TB, schema []byte) func(document []byte) error {
	t.Helper()
	var s jsonschema.Schema
	if err := json.Unmarshal(schema, &s); err != nil {
		t.Fatal(err)
	}
	r, err := s.Resolve(nil)
	if err != nil {
		t.Fatal(err)
	}
	return func(document []byte) error {
		data, err := yaml.YAMLToJSON(bytes.ReplaceAll(document, []byte("\t"), []byte(" ")))
		if err != nil {
			return err
		}
		var v any
		if err := json.Unmarshal(data, &v); err != nil {
			return err
		}
		return r.Validate(v)
	}
}
