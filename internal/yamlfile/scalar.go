package yamlfile

import (
	"encoding"
	"encoding/json"
	"math"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"

	"nogging/internal/finding"
	"nogging/internal/words"
)

// isNull reports whether nothing stands where a value could.
func isNull(n ast.Node) bool {
	switch n.(type) {
	case nil, *ast.NullNode:
		return true
	}
	return false
}

// plainText returns a value as the text that stands in the file. Numbers are
// text too: nobody quotes the id 12.
func plainText(n ast.Node) (string, bool) {
	switch n := n.(type) {
	case *ast.StringNode:
		return n.Value, true
	case *ast.LiteralNode:
		return n.Value.Value, true
	case *ast.IntegerNode, *ast.FloatNode:
		return n.GetToken().Value, true
	}
	return "", false
}

// keyText returns the text of a key.
func keyText(key ast.Node) string {
	if text, ok := plainText(key); ok {
		return text
	}
	if t := key.GetToken(); t != nil {
		return t.Value
	}
	return ""
}

// exponential is a number with an exponent (YAML 1.2.2, section 10.3.2), which
// the syntax tree takes for text where it has no decimal point.
var exponential = regexp.MustCompile(`^[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)[eE][-+]?[0-9]+$`)

// number returns the text of an unquoted number.
func number(n ast.Node) (string, bool) {
	switch n := n.(type) {
	case *ast.IntegerNode, *ast.FloatNode:
		return n.GetToken().Value, true
	case *ast.StringNode:
		return n.Value, n.GetToken().Type == token.StringType && exponential.MatchString(n.Value)
	}
	return "", false
}

// kindOf describes what stands in the file.
func kindOf(n ast.Node) words.Text {
	switch n := n.(type) {
	case *ast.MappingNode:
		return "keys with values"
	case *ast.SequenceNode:
		return "a list"
	case *ast.StringNode:
		return words.F("the text %q", clip(n.Value))
	case *ast.LiteralNode:
		return "lines of text"
	case *ast.IntegerNode, *ast.FloatNode:
		return words.F("the number %s", clip(n.GetToken().Value))
	case *ast.BoolNode:
		return words.F("%s", n.GetToken().Value)
	case *ast.NullNode, nil:
		return "nothing"
	}
	return "this"
}

// clip shortens a text to what a message can hold.
func clip(text string) string {
	const longest = 40
	if utf8.RuneCountInString(text) <= longest {
		return text
	}
	return string([]rune(text)[:longest]) + "…"
}

// mismatch tells that something else is needed than what stands there.
func (d *decoder) mismatch(n ast.Node, t reflect.Type) {
	w := wanted(t)
	if plain, ok := bareNumber(n, t); ok {
		w.example = plain
	}
	d.add(finding.Finding{Code: "wrong-type", Severity: finding.Error,
		What: words.F("%s is needed here, not %s", w.name, kindOf(n)), Fix: words.F("write %s", w.example)}, n)
}

// measured is a number with a unit behind it, or with a decimal comma.
var measured = regexp.MustCompile(`^([+-]?\d+)(?:[.,](\d+))?\s*[\pL%°²³/]*$`)

// bareNumber returns the number in a text such as 45 kg, where one is needed.
func bareNumber(n ast.Node, t reflect.Type) (string, bool) {
	text, ok := plainText(n)
	part := measured.FindStringSubmatch(strings.TrimSpace(text))
	if !ok || part == nil {
		return "", false
	}
	switch t.Kind() {
	case reflect.Float32, reflect.Float64:
		if part[2] != "" {
			return part[1] + "." + part[2], true
		}
		return part[1], true
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return part[1], part[2] == ""
	}
	return "", false
}

// text reads a value that knows its own form, such as a length.
func (d *decoder) text(n ast.Node, v encoding.TextUnmarshaler, t reflect.Type) {
	s, ok := plainText(n)
	if !ok {
		d.mismatch(n, t)
		return
	}
	if err := unmarshal(n, v, s); err != nil {
		if len(s) > 64 {
			err = words.Err(words.F("this is too long for %s", wanted(t).name))
		}
		what, fix := words.FixOf(err)
		if point, ok := withPoint(s, t); ok {
			fix = words.F("write the decimal point: %s", point)
			if whole := strings.Replace(s, ",", "", 1); thousands.MatchString(s) {
				fix = words.F("write %s if the comma parts thousands; for metres write %s m", whole, point)
			}
		}
		d.add(finding.Finding{Code: "bad-" + strings.ToLower(t.Name()), Severity: finding.Error, What: what, Fix: fix}, n)
	}
}

// unmarshal reads a number as JSON has it, with an exponent if need be, and
// anything else as text.
func unmarshal(n ast.Node, v encoding.TextUnmarshaler, s string) error {
	if u, ok := v.(json.Unmarshaler); ok && exponential.MatchString(s) {
		if _, plain := number(n); plain {
			return u.UnmarshalJSON([]byte(s))
		}
	}
	return v.UnmarshalText([]byte(s))
}

// thousands matches numbers whose comma may part thousands.
var thousands = regexp.MustCompile(`^[1-9]\d{0,2},\d{3}$`)

// withPoint returns a text with its decimal comma made a point, where a value of
// the type can be read of that.
func withPoint(text string, t reflect.Type) (string, bool) {
	point := strings.Replace(text, ",", ".", 1)
	v, ok := reflect.New(t).Interface().(encoding.TextUnmarshaler)
	return point, ok && point != text && v.UnmarshalText([]byte(point)) == nil
}

// scalar reads text, numbers and truth values.
func (d *decoder) scalar(n ast.Node, v reflect.Value) {
	ok := false
	switch v.Kind() {
	case reflect.String:
		var s string
		if s, ok = plainText(n); ok {
			v.SetString(s)
		}
	case reflect.Bool:
		var b *ast.BoolNode
		if b, ok = n.(*ast.BoolNode); ok {
			v.SetBool(b.Value)
		}
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		s, isNumber := number(n)
		i, err := strconv.ParseInt(s, 10, v.Type().Bits())
		if ok = isNumber && err == nil; ok {
			v.SetInt(i)
		}
	case reflect.Float32, reflect.Float64:
		var f float64
		if f, ok = float(n); ok {
			v.SetFloat(f)
		}
	}
	if !ok {
		d.mismatch(n, v.Type())
	}
}

// float returns the value of an unquoted finite number.
func float(n ast.Node) (float64, bool) {
	s, ok := number(n)
	if !ok {
		return 0, false
	}
	f, err := strconv.ParseFloat(s, 64)
	return f, err == nil && !math.IsInf(f, 0) && !math.IsNaN(f)
}

// anything reads a value of no given type in the types that encoding/json
// uses: string, float64, bool, []any and map[string]any.
func (d *decoder) anything(n ast.Node) any {
	switch n := n.(type) {
	case *ast.BoolNode:
		return n.Value
	case *ast.StringNode, *ast.LiteralNode:
		if f, ok := float(n); ok {
			return f
		}
		s, _ := plainText(n)
		return s
	case *ast.IntegerNode, *ast.FloatNode:
		if f, ok := float(n); ok {
			return f
		}
	case *ast.SequenceNode:
		if !d.room(n, len(n.Values)) {
			return nil
		}
		list := make([]any, len(n.Values))
		for i, entry := range n.Values {
			list[i] = d.anything(entry)
		}
		return list
	case *ast.MappingNode:
		m := make(map[string]any, len(n.Values))
		for _, pair := range n.Values {
			m[keyText(pair.Key)] = d.anything(pair.Value)
		}
		return m
	case *ast.NullNode:
		return nil
	}
	d.mismatch(n, reflect.TypeFor[any]())
	return nil
}
