// Package schemas describes the JSON that the program writes, for programs that read
// it, as JSON Schema (draft 2020-12): the shape from the types that are written, what
// each field means from the comments beside the fields, and the words that a field may
// hold from the constants of its type. So a schema says what the code says; it needs
// the sources, and is made by `make generate`, not by the program.
package schemas

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"github.com/google/jsonschema-go/jsonschema"

	"nogging/internal/app"
	"nogging/internal/layout"
	"nogging/internal/order"
	"nogging/internal/plan"
	"nogging/internal/programme"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// document is a kind of file that a schema describes.
type document struct {
	of          reflect.Type
	title, text string
}

var documents = map[string]document{
	"result":    {reflect.TypeFor[app.Result](), "Result of a plan", "Where every part of every wall is, and why: result.json of the build command"},
	"order":     {reflect.TypeFor[order.Order](), "Order", "What to buy, in packs, with call-offs: order.json of the order command"},
	"programme": {reflect.TypeFor[programme.Programme](), "Programme of work", "Who does what when: programme.json of the programme command"},
	"proofs":    {reflect.TypeFor[[]app.WallProof](), "Proofs of walls", "Every check of every wall with its derivation: what prove --json prints"},
}

// Kinds lists the kinds of documents that have a schema.
func Kinds() []string {
	var list []string
	for k := range documents {
		list = append(list, k)
	}
	slices.Sort(list)
	return list
}

// Of returns the schema of a kind of document; root is the folder of the module.
func Of(kind, root string) ([]byte, error) {
	s, err := schemaOf(kind, root)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err = e.Encode(s)
	return out.Bytes(), err
}

func schemaOf(kind, root string) (*jsonschema.Schema, error) {
	d, ok := documents[kind]
	if !ok {
		return nil, fmt.Errorf("no schema %q; there are %s", kind, strings.Join(Kinds(), ", "))
	}
	g := &generator{sources: newSources(root), defs: map[string]*jsonschema.Schema{}, made: map[reflect.Type]string{}}
	s := g.of(d.of)
	if s.Ref != "" { // the document's own type is its root
		name := strings.TrimPrefix(s.Ref, "#/$defs/")
		s = g.defs[name]
		delete(g.defs, name)
	}
	s.Schema, s.ID, s.Title, s.Description = "https://json-schema.org/draft/2020-12/schema", "urn:nogging:"+kind+":1", d.title, d.text
	s.Defs = g.defs
	return s, g.err
}

// generator makes schemas of types.
type generator struct {
	sources *sources
	defs    map[string]*jsonschema.Schema
	made    map[reflect.Type]string // name in defs
	err     error
}

// written are the types that say themselves how they are written.
var written = map[reflect.Type]*jsonschema.Schema{
	reflect.TypeFor[quantity.Length]():  {Type: "number", Description: "a length in millimetres, exact to the nanometre"},
	reflect.TypeFor[plan.Pt]():          {Type: "array", MinItems: jsonschema.Ptr(2), MaxItems: jsonschema.Ptr(2), Items: &jsonschema.Schema{Type: "number"}, Description: "a point [x, y] in plan, in millimetres"},
	reflect.TypeFor[programme.Date]():   {Type: "string", Pattern: `^\d{4}-\d\d-\d\d$`, Description: "a day, such as 2027-01-11"},
	reflect.TypeFor[programme.Moment](): {Type: "string", Pattern: `^\d{4}-\d\d-\d\dT\d\d:\d\d$`, Description: "a time of the site's clock, such as 2027-01-11T07:30"},
	reflect.TypeFor[programme.Shift]():  {Type: "string", Pattern: `^\d\d:\d\d-\d\d:\d\d$`, Description: "hours within one day, such as 07:00-12:00"},
	reflect.TypeFor[words.Text]():       {Type: "string", Description: "text, in English"},
	reflect.TypeFor[json.RawMessage]():  {},
}

// marked are types that are written with their mark before their own fields.
var marked = []reflect.Type{reflect.TypeFor[layout.Member]()}

var marshaler, textMarshaler = reflect.TypeFor[json.Marshaler](), reflect.TypeFor[interface{ MarshalText() ([]byte, error) }]()

// of returns the schema of a type: of structs, and of those in written, a reference.
func (g *generator) of(t reflect.Type) *jsonschema.Schema {
	if name, ok := g.made[t]; ok {
		return &jsonschema.Schema{Ref: "#/$defs/" + name}
	}
	if s, ok := written[t]; ok {
		return g.define(t, s)
	}
	if (t.Implements(marshaler) || t.Implements(textMarshaler)) && !slices.Contains(marked, t) && t.Kind() != reflect.Pointer {
		g.err = fmt.Errorf("say in written how %s is written", t)
	}
	switch t.Kind() {
	case reflect.Pointer:
		return orNull(g.of(t.Elem()))
	case reflect.Slice:
		return &jsonschema.Schema{Types: []string{"array", "null"}, Items: g.of(t.Elem())}
	case reflect.Array:
		return &jsonschema.Schema{Type: "array", MinItems: jsonschema.Ptr(t.Len()), MaxItems: jsonschema.Ptr(t.Len()), Items: g.of(t.Elem())}
	case reflect.Map:
		return &jsonschema.Schema{Types: []string{"object", "null"}, AdditionalProperties: g.of(t.Elem())}
	case reflect.Struct:
		return g.structure(t)
	case reflect.String:
		return g.words(t)
	case reflect.Bool:
		return &jsonschema.Schema{Type: "boolean"}
	case reflect.Float64, reflect.Float32:
		return &jsonschema.Schema{Type: "number"}
	case reflect.Interface:
		return &jsonschema.Schema{}
	}
	return &jsonschema.Schema{Type: "integer"}
}

// orNull lets null stand in a schema's place, too.
func orNull(s *jsonschema.Schema) *jsonschema.Schema {
	return &jsonschema.Schema{AnyOf: []*jsonschema.Schema{s, {Type: "null"}}}
}

// define enters a schema under the type's name and returns a reference to it.
func (g *generator) define(t reflect.Type, s *jsonschema.Schema) *jsonschema.Schema {
	name := t.Name()
	if g.defs[name] != nil { // of another package
		parts := strings.Split(t.PkgPath(), "/")
		name = parts[len(parts)-1] + "." + name
	}
	g.made[t], g.defs[name] = name, s
	return &jsonschema.Schema{Ref: "#/$defs/" + name}
}

// words returns the schema of a text: one of the constants of its type, where it has any.
func (g *generator) words(t reflect.Type) *jsonschema.Schema {
	list := g.sources.constants(t)
	if len(list) == 0 {
		return &jsonschema.Schema{Type: "string"}
	}
	s := &jsonschema.Schema{Type: "string", Description: g.sources.typeText(t)}
	for _, w := range list {
		s.Enum = append(s.Enum, w)
	}
	return g.define(t, s)
}

func (g *generator) structure(t reflect.Type) *jsonschema.Schema {
	s := &jsonschema.Schema{Type: "object", Description: g.sources.typeText(t), Properties: map[string]*jsonschema.Schema{}}
	ref := s
	if t.Name() != "" {
		ref = g.define(t, s) // before its fields, which may hold the type itself
	}
	if slices.Contains(marked, t) {
		g.property(s, "mark", &jsonschema.Schema{Type: "string", Description: "unique within its wall"}, true)
	}
	g.fields(s, t)
	return ref
}

// fields adds the fields of a struct as encoding/json writes them: its own, then those
// of what it embeds that have another name.
func (g *generator) fields(s *jsonschema.Schema, t reflect.Type) {
	var embedded []reflect.Type
	for i := range t.NumField() {
		f := t.Field(i)
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case f.Anonymous && name == "" && f.Type.Kind() == reflect.Pointer:
			embedded = append(embedded, f.Type.Elem())
			continue
		case f.Anonymous && name == "":
			embedded = append(embedded, f.Type)
			continue
		case !f.IsExported() || name == "-":
			continue
		case name == "":
			name = f.Name
		}
		p := g.of(f.Type)
		if text := g.sources.fieldText(t, f.Name); text != "" {
			p.Description = text
		}
		g.property(s, name, p, !strings.Contains(options, "omit"))
	}
	for _, e := range embedded {
		g.fields(s, e)
	}
}

// property adds a property unless there is one of its name.
func (g *generator) property(s *jsonschema.Schema, name string, p *jsonschema.Schema, always bool) {
	if s.Properties[name] != nil {
		return
	}
	s.Properties[name] = p
	s.PropertyOrder = append(s.PropertyOrder, name)
	if always {
		s.Required = append(s.Required, name)
	}
}
