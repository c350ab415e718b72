package write_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"nogging/internal/exchange/ifc/step"
)

// express is what is needed of an EXPRESS schema (ISO 10303-11) to check instances:
// entities with their attributes in order, and defined types.
type express struct {
	entities map[string]*entity
	types    map[string]string // IFCLABEL: STRING, SELECT(...), ENUMERATION(...), or another type
}

type entity struct {
	abstract bool
	super    string
	own      []attribute
	derived  map[string]bool
}

type attribute struct {
	name, of string
	optional bool
}

var (
	entityText = regexp.MustCompile(`(?s)ENTITY (\w+)(.*?)END_ENTITY;`)
	typeText   = regexp.MustCompile(`(?s)TYPE (\w+) = (.*?);(.*?)END_TYPE;`)
	superText  = regexp.MustCompile(`(?s)SUBTYPE OF \((\w+)\)`)
	attrText   = regexp.MustCompile(`(?s)^\s*(\w+) : (OPTIONAL )?(.*)$`)
	derived    = regexp.MustCompile(`SELF\\\w+\.(\w+) :`)
	space      = regexp.MustCompile(`\s+`)
)

// schema reads a schema that lies beside the repository.
func schema(t *testing.T, file string) *express {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("../../../../../shared/data/schemas", file))
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal(err)
		}
		t.Skip("no EXPRESS schemas beside the repository")
	}
	x := &express{map[string]*entity{}, map[string]string{}}
	for _, m := range typeText.FindAllStringSubmatch(string(data), -1) {
		x.types[strings.ToUpper(m[1])] = strings.ToUpper(space.ReplaceAllString(m[2], " "))
	}
	for _, m := range entityText.FindAllStringSubmatch(string(data), -1) {
		e := &entity{derived: map[string]bool{}}
		head, _, _ := strings.Cut(m[2], ";")
		e.abstract = strings.Contains(head, "ABSTRACT")
		if s := superText.FindStringSubmatch(head); s != nil {
			e.super = strings.ToUpper(s[1])
		}
		_, body, _ := strings.Cut(m[2], ";")
		for _, d := range derived.FindAllStringSubmatch(body, -1) {
			e.derived[d[1]] = true
		}
		for _, stop := range []string{"\n DERIVE", "\n INVERSE", "\n UNIQUE", "\n WHERE"} {
			body, _, _ = strings.Cut(body, stop)
		}
		for _, line := range strings.Split(body, ";") {
			if a := attrText.FindStringSubmatch(line); a != nil {
				e.own = append(e.own, attribute{a[1], strings.ToUpper(space.ReplaceAllString(a[3], " ")), a[2] != ""})
			}
		}
		x.entities[strings.ToUpper(m[1])] = e
	}
	if len(x.entities) < 600 || len(x.types) < 300 {
		t.Fatalf("read only %d entities and %d types of the schema", len(x.entities), len(x.types))
	}
	return x
}

// attributes lists those of an entity from its topmost supertype down.
func (x *express) attributes(name string) (list []attribute, derived map[string]bool) {
	derived = map[string]bool{}
	for e := x.entities[name]; e != nil; e = x.entities[e.super] {
		list = append(slices.Clone(e.own), list...)
		for d := range e.derived {
			derived[d] = true
		}
	}
	return list, derived
}

func (x *express) is(name, super string) bool {
	for ; name != ""; name = x.entities[name].super {
		if name == super {
			return true
		}
		if x.entities[name] == nil {
			return false
		}
	}
	return false
}

// check holds every instance of a file against the schema.
func (x *express) check(f *step.File, report func(id step.ID, what string)) {
	for _, name := range f.Types() {
		e := x.entities[name]
		for _, id := range f.OfType(name) {
			if e == nil || e.abstract {
				report(id, name+" is no entity that can be written")
				continue
			}
			attrs, derived := x.attributes(name)
			args := f.Args(id)
			if len(args) != len(attrs) {
				report(id, fmt.Sprintf("%s has %d attributes, written are %d", name, len(attrs), len(args)))
				continue
			}
			for i, a := range attrs {
				if err := x.value(f, args[i], a.of, a.optional, derived[a.name]); err != "" {
					report(id, fmt.Sprintf("%s.%s: %s: %s", name, a.name, args[i], err))
				}
			}
		}
	}
}

var aggregate = regexp.MustCompile(`^(?:LIST|SET|ARRAY) \[(\w+):([\w?]+)\] OF (?:UNIQUE )?(.*)$`)

// value says what is wrong with an argument of a type; nothing if it is right.
func (x *express) value(f *step.File, v step.Value, of string, optional, derived bool) string {
	text := string(v)
	switch {
	case text == "$":
		if optional {
			return ""
		}
		return "it is not optional"
	case text == "*":
		if derived {
			return ""
		}
		return "it is not derived"
	case derived:
		return "it is derived"
	}
	if m := aggregate.FindStringSubmatch(of); m != nil {
		if !v.IsList() {
			return "want " + of
		}
		n := 0
		for item := range v.Items() {
			n++
			if err := x.value(f, item, m[3], false, false); err != "" {
				return err
			}
		}
		least, _ := strconv.Atoi(m[1])
		most, err := strconv.Atoi(m[2])
		if n < least || err == nil && n > most {
			return fmt.Sprintf("%d of %s", n, of)
		}
		return ""
	}
	if x.entities[of] != nil {
		id, ok := v.Ref()
		if !ok || !x.is(f.Type(id), of) {
			return "want " + of
		}
		return ""
	}
	def, ok := x.types[of]
	if !ok {
		return x.simple(text, of)
	}
	switch {
	case strings.HasPrefix(def, "ENUMERATION OF"):
		if !slices.Contains(inBrackets(def), v.Enum()) {
			return "no such item of " + of
		}
		return ""
	case strings.HasPrefix(def, "SELECT"):
		return x.selected(f, v, of, inBrackets(def))
	}
	return x.value(f, v, def, false, false)
}

// selected checks a value of a select: an instance of one of its entities, or a value
// that names one of its types.
func (x *express) selected(f *step.File, v step.Value, of string, from []string) string {
	name, rest, typed := strings.Cut(string(v), "(")
	for _, item := range from {
		switch {
		case x.entities[item] != nil:
			if id, ok := v.Ref(); ok && x.is(f.Type(id), item) {
				return ""
			}
		case strings.HasPrefix(x.types[item], "SELECT"):
			if x.selected(f, v, item, inBrackets(x.types[item])) == "" {
				return ""
			}
		case typed && name == item:
			return x.value(f, step.Value(strings.TrimSuffix(rest, ")")), item, false, false)
		}
	}
	return "none of " + of
}

func inBrackets(def string) []string {
	_, list, _ := strings.Cut(def, "(")
	list, _, _ = strings.Cut(list, ")")
	var out []string
	for _, item := range strings.Split(list, ",") {
		out = append(out, strings.TrimSpace(item))
	}
	return out
}

var (
	isReal    = regexp.MustCompile(`^[-+]?\d+\.\d*(E[-+]?\d+)?$`)
	isInteger = regexp.MustCompile(`^[-+]?\d+$`)
)

// simple checks a value of a simple type.
func (x *express) simple(text, of string) string {
	of, _, _ = strings.Cut(of, "(")
	ok := false
	switch strings.TrimSpace(of) {
	case "STRING":
		ok = strings.HasPrefix(text, "'") && strings.HasSuffix(text, "'")
	case "REAL", "NUMBER":
		ok = isReal.MatchString(text)
	case "INTEGER":
		ok = isInteger.MatchString(text)
	case "BOOLEAN", "LOGICAL":
		ok = text == ".T." || text == ".F." || text == ".U." && of == "LOGICAL"
	case "BINARY":
		ok = strings.HasPrefix(text, `"`)
	}
	if !ok {
		return "want " + of
	}
	return ""
}
