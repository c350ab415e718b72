package programme

import (
	"bytes"
	_ "embed" // for the starter file
	"encoding/json"
	"reflect"
	"slices"

	"github.com/google/jsonschema-go/jsonschema"

	"nogging/internal/plan"
)

// SchemaID names the schema of gangs files.
const SchemaID = "urn:nogging:gangs:1"

//go:embed starter.yaml
var starter []byte

// Starter returns a gangs file to begin with, explained line by line.
func Starter() []byte { return slices.Clone(starter) }

// Schema returns the JSON Schema (draft 2020-12) of gangs files, made from the types of
// this package.
func Schema() ([]byte, error) {
	s, err := jsonschema.For[Site](&jsonschema.ForOptions{TypeSchemas: map[reflect.Type]*jsonschema.Schema{
		reflect.TypeFor[Date]():        {Type: "string", Pattern: `^\d{4}-\d\d-\d\d$`, Description: "a day, such as 2027-01-11"},
		reflect.TypeFor[Shift]():       {Type: "string", Pattern: `^\d\d?:\d\d-\d\d?:\d\d$`, Description: "hours within one day, such as 07:00-12:00"},
		reflect.TypeFor[plan.Length](): {Types: []string{"number", "string"}, Description: "millimetres as a number, or text with a unit: 3 m"},
		reflect.TypeFor[Skill]():       oneOf(texts(Skills())),
		reflect.TypeFor[Stage]():       oneOf(texts(Stages())),
		reflect.TypeFor[Material]():    oneOf(texts(Materials())),
		reflect.TypeFor[Compound]():    oneOf([]string{string(Drying), string(Setting)}),
	}})
	if err != nil {
		return nil, err
	}
	s.Properties["programme"].Const = jsonschema.Ptr[any](Version)
	s.Properties["calendars"].Items.Properties["days"].Items = oneOf(weekdays)
	notNull(s)
	s.Schema, s.ID, s.Title = "https://json-schema.org/draft/2020-12/schema", SchemaID, "Gangs and site"
	s.Description = "Gangs, calendars, plant, zones, air, others and deliveries, from which a programme is made"
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err = e.Encode(s)
	return out.Bytes(), err
}

// oneOf is the schema of a text that is one of those given.
func oneOf(list []string) *jsonschema.Schema {
	s := &jsonschema.Schema{Type: "string"}
	for _, w := range list {
		s.Enum = append(s.Enum, w)
	}
	return s
}

// notNull says of required lists that they are not left empty.
func notNull(s *jsonschema.Schema) {
	for _, name := range s.Required {
		if p := s.Properties[name]; p != nil && slices.Equal(p.Types, []string{"null", "array"}) {
			p.Type, p.Types = "array", nil
		}
	}
	for _, p := range s.Properties {
		if p.Items != nil {
			notNull(p.Items)
		}
	}
}
