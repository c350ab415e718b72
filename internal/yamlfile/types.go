package yamlfile

import (
	"encoding"
	"reflect"
	"slices"
	"strings"

	"nogging/internal/words"
)

// structType is what a struct says about its keys.
type structType struct {
	fields   map[string]*field
	names    []string // in the order of the struct
	required []*field
}

type field struct {
	name     string
	index    int
	typ      reflect.Type
	about    string // what it is for, from its jsonschema tag
	required bool
}

// structType returns the keys of t, from its json tags; what they are for
// stands in its jsonschema tags.
func (d *decoder) structType(t reflect.Type) *structType {
	if known := d.types[t]; known != nil {
		return known
	}
	s := &structType{fields: map[string]*field{}}
	for i := range t.NumField() {
		name, required, ok := key(t.Field(i))
		if !ok {
			continue
		}
		f := &field{name: name, index: i, typ: t.Field(i).Type, about: t.Field(i).Tag.Get("jsonschema"), required: required}
		s.fields[name] = f
		s.names = append(s.names, name)
		if required {
			s.required = append(s.required, f)
		}
	}
	d.types[t] = s
	return s
}

// key returns the key under which files give a field, whether they have to,
// and whether the field is part of files at all.
func key(f reflect.StructField) (name string, required, ok bool) {
	name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
	if !f.IsExported() || name == "-" {
		return "", false, false
	}
	if name == "" {
		name = f.Name
	}
	return name, !strings.Contains(options, "omitempty") && !strings.Contains(options, "omitzero"), true
}

// want is how a kind of value is called, and how one is written.
type want struct {
	name    words.Text
	example string
}

var (
	tupleType = reflect.TypeFor[Tuple]()
	textType  = reflect.TypeFor[encoding.TextUnmarshaler]()
)

// wanted describes what a type takes.
func wanted(t reflect.Type) want {
	p := reflect.PointerTo(t)
	switch {
	case p.Implements(tupleType):
		n := tupleSize(t)
		return want{words.F("a list of %d values", n), listOf("0", n)}
	case p.Implements(textType):
		if e, ok := reflect.New(t).Interface().(Exemplar); ok {
			return want{named(t), e.Example()}
		}
		return want{named(t), "2750"}
	}
	switch t.Kind() {
	case reflect.Pointer:
		return wanted(t.Elem())
	case reflect.Struct:
		return want{"an object with keys", exampleObject(t)}
	case reflect.Map:
		return want{"an object with keys", "{key: value}"}
	case reflect.Slice:
		return want{"a list", listOf(wanted(t.Elem()).example, 1)}
	case reflect.Array:
		return want{"a list", listOf(wanted(t.Elem()).example, t.Len())}
	case reflect.Bool:
		return want{"true or false", "true"}
	case reflect.Float32, reflect.Float64:
		return want{"a number", "12.5"}
	case reflect.String:
		return want{"text", "text"}
	case reflect.Interface:
		return want{"a value", "text"}
	}
	return want{"a whole number", "1"}
}

// named calls a type of its own by its name.
func named(t reflect.Type) words.Text {
	switch t.Name() {
	case "Length":
		return "a length"
	case "Number":
		return "a number"
	case "Date":
		return "a date"
	case "Shift":
		return "a shift"
	}
	return words.F("a %s", strings.ToLower(t.Name()))
}

// tupleSize returns how many parts a Tuple has.
func tupleSize(t reflect.Type) int { return len(reflect.New(t).Interface().(Tuple).Tuple()) }

// exampleObject shows the keys that an object has to have.
func exampleObject(t reflect.Type) string {
	var keys []string
	for i := range t.NumField() {
		if name, required, ok := key(t.Field(i)); ok && required {
			keys = append(keys, name+": "+wanted(t.Field(i).Type).example)
		}
	}
	if keys == nil {
		return "{key: value}"
	}
	return "{" + strings.Join(keys, ", ") + "}"
}

func listOf(example string, n int) string {
	return "[" + strings.Join(slices.Repeat([]string{example}, n), ", ") + "]"
}
