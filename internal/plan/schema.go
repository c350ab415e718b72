package plan

import (
	"bytes"
	"encoding/json"
	"reflect"
	"slices"
	"strings"

	"github.com/google/jsonschema-go/jsonschema"
)

// SchemaID names the schema of plan files.
const SchemaID = "urn:nogging:plan:1"

// lengthPattern is the form of a length that is written as text: a number with
// a unit, feet and inches, or inches.
const (
	number        = `(\d+\.?\d*|\.\d+)`
	inches        = `(` + number + `|\d+/\d+)(\s+(` + number + `|\d+/\d+))*\s*("|″|”|in)`
	lengthPattern = `^\s*-?\s*(` + number + `\s*(mm|cm|m)?|` + number + `\s*('|′|’|ft)[\s-]*(` + inches + `)?|` + inches + `)\s*$`
)

// Schema returns the JSON Schema (draft 2020-12) of plan files, by which
// editors complete keys, explain them and mark mistakes. It is generated from
// the types of this package.
func Schema() ([]byte, error) {
	s, err := jsonschema.For[Plan](&jsonschema.ForOptions{TypeSchemas: map[reflect.Type]*jsonschema.Schema{
		reflect.TypeFor[Length]():    {Ref: "#/$defs/length"},
		reflect.TypeFor[Pt]():        {Ref: "#/$defs/point"},
		reflect.TypeFor[Overrides](): {Type: "object"},
	}})
	if err != nil {
		return nil, err
	}
	refine(s, reflect.TypeFor[Plan]())
	s.Properties["nogging"].Const = jsonschema.Ptr[any](Version)
	s.Schema = "https://json-schema.org/draft/2020-12/schema"
	s.ID = SchemaID
	s.Title = "Plan of partitions"
	s.Description = "Levels, existing structure, rooms, build-ups and walls of a building, from which partitions are laid out"
	s.Defs = map[string]*jsonschema.Schema{"length": lengthSchema(), "point": pointSchema()}
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err = e.Encode(s)
	return out.Bytes(), err
}

func lengthSchema() *jsonschema.Schema {
	return &jsonschema.Schema{
		Types: []string{"number", "string"}, Pattern: lengthPattern,
		Description: `millimetres as a number, or text with a unit: 2.75 m, 275 cm, 9'-2", 5/8 in`,
	}
}

func pointSchema() *jsonschema.Schema {
	return &jsonschema.Schema{
		Type: "array", MinItems: jsonschema.Ptr(2), MaxItems: jsonschema.Ptr(2), Items: &jsonschema.Schema{Ref: "#/$defs/length"},
		Description: "a point [x, y] in plan: x to the east, y to the north",
	}
}

// refine adds to a generated schema what the Go type alone does not say: the
// words that a field may hold, and that required lists are not left out.
func refine(s *jsonschema.Schema, t reflect.Type) {
	switch t.Kind() {
	case reflect.Pointer:
		refine(s, t.Elem())
	case reflect.Slice:
		if s.Items != nil {
			refine(s.Items, t.Elem())
		}
	case reflect.Struct:
		for i := range t.NumField() {
			f := t.Field(i)
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			property := s.Properties[name]
			if property == nil {
				continue
			}
			words := choices[t.Name()+"."+name]
			for _, word := range words {
				property.Enum = append(property.Enum, word)
			}
			if f.Type.Kind() == reflect.String && words == nil {
				property.Type, property.Types = "", []string{"string", "number"} // nobody quotes the id 12
			}
			if slices.Contains(s.Required, name) && slices.Equal(property.Types, []string{"null", "array"}) {
				property.Type, property.Types = "array", nil
			}
			if property.Ref != "" {
				property.Types = nil
			}
			refine(property, f.Type)
		}
	}
}
