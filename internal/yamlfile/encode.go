package yamlfile

import (
	"bytes"
	"cmp"
	"encoding"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// width is the column up to which lists and objects are put on one line.
const width = 100

// Encode writes a struct as YAML that people like to read: keys in the order
// of the struct, nothing that is empty and not required, short lists and
// objects on one line, a blank line between the entries of top-level lists.
// The comments come first, one a line. The same value gives the same bytes,
// and Decode reads them back.
func Encode(v any, comments ...string) ([]byte, error) {
	var e encoder
	for _, c := range comments {
		fmt.Fprintf(&e.out, "# %s\n", c)
	}
	e.top(reflect.Indirect(reflect.ValueOf(v)))
	if e.err != nil {
		return nil, e.err
	}
	return e.out.Bytes(), nil
}

type encoder struct {
	out bytes.Buffer
	err error
}

// pair is one key with its value.
type pair struct {
	key   string
	value reflect.Value
}

// top writes the keys of the document, with blank lines around the values that
// take more than a line.
func (e *encoder) top(v reflect.Value) {
	long := true
	for _, p := range pairs(v) {
		var one encoder
		if t := p.value.Type(); t.Kind() == reflect.Slice && holdsObjects(t.Elem()) && p.value.Len() > 0 {
			one.line(0, p.key+":")
			one.entries(p.value)
		} else {
			one.member(0, p, holdsObjects(t))
		}
		e.fail(one.err)
		before := long
		if long = bytes.Count(one.out.Bytes(), []byte("\n")) > 1; (long || before) && e.out.Len() > 0 {
			e.out.WriteByte('\n')
		}
		e.out.Write(one.out.Bytes())
	}
}

// entries writes the entries of a top-level list, parted by blank lines.
func (e *encoder) entries(list reflect.Value) {
	for i := range list.Len() {
		if i > 0 {
			e.out.WriteByte('\n')
		}
		e.entry(2, list.Index(i), true)
	}
}

// member writes a key and its value, on one line if it fits and may.
func (e *encoder) member(indent int, p pair, spread bool) {
	v := p.value
	for v.Kind() == reflect.Pointer || v.Kind() == reflect.Interface {
		v = v.Elem()
	}
	p.key = e.text(p.key)
	if flow := e.flow(v); !spread && (indent+len(p.key)+2+utf8.RuneCountInString(flow) <= width || single(v)) &&
		!(v.Kind() == reflect.Slice && holdsObjects(v.Type().Elem())) || flow == "[]" || flow == "{}" {
		e.line(indent, p.key+": "+flow)
		return
	}
	e.line(indent, p.key+":")
	if v.Kind() == reflect.Slice || v.Kind() == reflect.Array {
		for i := range v.Len() {
			e.entry(indent+2, v.Index(i), false)
		}
		return
	}
	for _, inner := range pairs(v) {
		e.member(indent+2, inner, false)
	}
}

// entry writes one entry of a list.
func (e *encoder) entry(indent int, v reflect.Value, spread bool) {
	flow := e.flow(v)
	if !spread && indent+2+utf8.RuneCountInString(flow) <= width || single(v) || !holdsObjects(v.Type()) {
		e.line(indent, "- "+flow)
		return
	}
	start := e.out.Len()
	for _, p := range pairs(reflect.Indirect(v)) {
		e.member(indent+2, p, false)
	}
	if e.out.Len() == start {
		e.line(indent, "- {}")
		return
	}
	e.out.Bytes()[start+indent] = '-'
}

func (e *encoder) line(indent int, text string) {
	fmt.Fprintf(&e.out, "%*s%s\n", indent, "", text)
}

// holdsObjects reports whether values of the type have keys.
func holdsObjects(t reflect.Type) bool {
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	return !isTuple(t) && !isText(t) && (t.Kind() == reflect.Struct || t.Kind() == reflect.Map)
}

func isTuple(t reflect.Type) bool { return reflect.PointerTo(t).Implements(tupleType) }

func isText(t reflect.Type) bool { return t.Implements(reflect.TypeFor[encoding.TextMarshaler]()) }

// single reports whether a value cannot be spread over lines.
func single(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Slice, reflect.Array:
		return false
	case reflect.Struct, reflect.Map:
		return !holdsObjects(v.Type())
	}
	return true
}

// pairs returns the keys and values of a struct or map that are to be written.
func pairs(v reflect.Value) []pair {
	var list []pair
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			name, required, ok := key(v.Type().Field(i))
			if ok && (required || !empty(v.Field(i))) {
				list = append(list, pair{name, v.Field(i)})
			}
		}
	case reflect.Map:
		for _, k := range v.MapKeys() {
			list = append(list, pair{k.String(), v.MapIndex(k)})
		}
		slices.SortFunc(list, func(a, b pair) int { return cmp.Compare(a.key, b.key) })
	}
	return list
}

func empty(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Slice, reflect.Map:
		return v.Len() == 0
	}
	return v.IsZero()
}

// flow writes a value on one line.
func (e *encoder) flow(v reflect.Value) string {
	if !v.IsValid() {
		return "null"
	}
	switch t := v.Type(); {
	case v.Kind() == reflect.Pointer || v.Kind() == reflect.Interface:
		return e.flow(v.Elem())
	case isTuple(t):
		return e.tuple(v)
	case isText(t):
		text, err := v.Interface().(encoding.TextMarshaler).MarshalText()
		e.fail(err)
		if _, err := strconv.ParseFloat(string(text), 64); err == nil {
			return string(text)
		}
		return e.text(string(text))
	}
	switch v.Kind() {
	case reflect.Struct, reflect.Map:
		var parts []string
		for _, p := range pairs(v) {
			parts = append(parts, e.text(p.key)+": "+e.flow(p.value))
		}
		return "{" + strings.Join(parts, ", ") + "}"
	case reflect.Slice, reflect.Array:
		parts := make([]string, v.Len())
		for i := range parts {
			parts[i] = e.flow(v.Index(i))
		}
		return "[" + strings.Join(parts, ", ") + "]"
	}
	return e.scalar(v)
}

func (e *encoder) tuple(v reflect.Value) string {
	copied := reflect.New(v.Type())
	copied.Elem().Set(v)
	var parts []string
	for _, part := range copied.Interface().(Tuple).Tuple() {
		parts = append(parts, e.flow(reflect.ValueOf(part).Elem()))
	}
	return "[" + strings.Join(parts, ", ") + "]"
}

func (e *encoder) scalar(v reflect.Value) string {
	switch v.Kind() {
	case reflect.String:
		return e.text(v.String())
	case reflect.Bool:
		return strconv.FormatBool(v.Bool())
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return strconv.FormatInt(v.Int(), 10)
	case reflect.Float32, reflect.Float64:
		f := v.Float()
		if math.IsNaN(f) || math.IsInf(f, 0) {
			e.fail(fmt.Errorf("%v cannot be written: it is not a finite number", f))
		}
		if a := math.Abs(f); a != 0 && (a < 1e-6 || a >= 1e15) {
			return strconv.FormatFloat(f, 'e', -1, 64)
		}
		return strconv.FormatFloat(f, 'f', -1, 64)
	}
	e.fail(fmt.Errorf("values of type %s cannot be written", v.Type()))
	return ""
}

func (e *encoder) fail(err error) {
	if e.err == nil {
		e.err = err
	}
}

// mistaken are words that YAML readers take for something else than text.
var mistaken = []string{"true", "false", "yes", "no", "on", "off", "y", "n", "null", "nan", "inf", "infinity"}

// text writes text, in quotes where it could be misread. Bytes that are not
// UTF-8 become U+FFFD.
func (e *encoder) text(s string) string {
	if isPlain(s) {
		return s
	}
	var b bytes.Buffer
	j := json.NewEncoder(&b)
	j.SetEscapeHTML(false)
	e.fail(j.Encode(s))
	return escapeControls(strings.TrimSuffix(b.String(), "\n"))
}

// isPlain reports whether a text needs no quotes anywhere: it begins with a
// letter, and goes on with letters, digits, single blanks and harmless signs.
func isPlain(s string) bool {
	if s == "" || strings.HasSuffix(s, " ") || slices.Contains(mistaken, strings.ToLower(s)) {
		return false
	}
	for i, r := range s {
		switch {
		case unicode.IsLetter(r):
		case i > 0 && (unicode.IsDigit(r) || strings.ContainsRune("_./()+-", r)):
		case i > 0 && r == ' ' && s[i-1] != ' ':
		default:
			return false
		}
	}
	return true
}

// escapeControls writes the characters that JSON leaves alone and YAML does
// not allow in a file as escapes.
func escapeControls(s string) string {
	if strings.IndexFunc(s, unprintable) < 0 {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		if unprintable(r) {
			fmt.Fprintf(&b, `\u%04x`, r)
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}

func unprintable(r rune) bool {
	return r >= 0x7f && r < 0xa0 || r == 0xfeff || r == 0xfffe || r == 0xffff
}
