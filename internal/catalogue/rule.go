package catalogue

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"nogging/internal/quantity"
)

// NamedRule is one rule of a practice as it stands in a table: its value in
// words, with unit, source and status.
type NamedRule struct {
	Name   string          `json:"name"`
	Value  string          `json:"value"`
	Unit   string          `json:"unit,omitempty"`
	Source string          `json:"source,omitempty"`
	Status quantity.Status `json:"status"`
	Note   string          `json:"note,omitempty"`
}

// rule is a Rule of any type.
type rule interface {
	given() bool
	origin() NamedRule // without name and unit
	numbers() []float64
	enter(value any) error
	takeFrom(other rule)
	status() *quantity.Status
	wants() string
}

// given reports whether somebody set the rule: every rule that is set carries
// a status.
func (r *Rule[T]) given() bool { return r.Status != "" }

func (r *Rule[T]) origin() NamedRule {
	return NamedRule{Value: inWords(r.Value), Source: r.Source, Status: r.Status, Note: r.Note}
}

func (r *Rule[T]) status() *quantity.Status { return &r.Status }

func (r *Rule[T]) numbers() []float64 { return numbersIn(r.Value) }

// enter sets the rule to what a project's file says in its place.
func (r *Rule[T]) enter(value any) error {
	if value == nil {
		return errors.New("no value")
	}
	data, err := json.Marshal(value)
	if err != nil {
		return err
	}
	var v T
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&v); err != nil {
		return err
	}
	*r = Rule[T]{Value: v, Status: quantity.Entered}
	return nil
}

func (r *Rule[T]) takeFrom(other rule) {
	if o, ok := other.(*Rule[T]); ok {
		*r = *o
	}
}

// wants says what may be written for the rule's value.
func (r *Rule[T]) wants() string {
	switch any(r.Value).(type) {
	case Length:
		return "a length such as 600, 60 cm or 16 in"
	case []Length:
		return "a list of lengths such as [100, 200, 300]"
	case [][]Length:
		return "a list of spacings for each number of layers, from the frame outwards, such as [[250], [750, 250]]"
	case []ConsoleLimit:
		return "a list of rows with boards (mm on a face), ground and load (kN/m), such as {boards: 12.5, load: 0.4}"
	case []JambRule:
		return "a list of rows with max_leaf (kg), max_width, max_height and jamb, such as {max_leaf: 35, jamb: boxed}"
	case []LeafLimit:
		return "a list of rows with depth and leaf (kg), such as {depth: 75, leaf: 75}"
	case []Fixture:
		return "a list of rows such as {kind: basin, height: 850, grounds: [0], load: 150}"
	case []BendRule:
		return "a list of rows with standard, thickness, along, along_wet and across, such as {standard: EN 520, thickness: 12.5, along: 2750}"
	case []CurveRule:
		return "a list of rows with radius and spacing, such as {radius: 5000, spacing: 300}"
	case []FinishLevel:
		return "a list of rows such as {level: Q2, coats: 3, angles: 3, heads: 2}"
	case int:
		return "a whole number"
	case float64:
		return "a number"
	case bool:
		return "true or false"
	}
	return "an id"
}

// numbersIn lists the numbers of a value that a range can bound; lengths count
// in millimetres.
func numbersIn(value any) []float64 {
	switch v := value.(type) {
	case Length:
		return []float64{v.MM()}
	case float64:
		return []float64{v}
	case int:
		return []float64{float64(v)}
	case []Length:
		return flat(v)
	case [][]Length:
		return flat(v)
	}
	return nil
}

func flat[E any](list []E) []float64 {
	var all []float64
	for _, e := range list {
		all = append(all, numbersIn(e)...)
	}
	return all
}

// inWords writes a rule's value for a table.
func inWords(value any) string {
	switch v := value.(type) {
	case Length:
		return v.String()
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64)
	case []Length:
		return joined(v, " / ")
	case [][]Length:
		return joined(v, "; ")
	case []ConsoleLimit:
		return joined(v, "; ")
	case ConsoleLimit:
		return v.String()
	case []JambRule:
		return joined(v, "; ")
	case []BendRule:
		return joined(v, "; ")
	case []CurveRule:
		return joined(v, "; ")
	case []FinishLevel:
		return joined(v, "; ")
	case fmt.Stringer:
		return v.String()
	case []LeafLimit:
		return joined(v, "; ")
	case []Fixture:
		return joined(v, "; ")
	}
	return fmt.Sprint(value)
}

// shown writes what a file says much as it stands there.
func shown(value any) string {
	if data, err := json.Marshal(value); err == nil {
		return string(data)
	}
	return fmt.Sprint(value)
}

func joined[E any](list []E, separator string) string {
	parts := make([]string, len(list))
	for i, e := range list {
		parts[i] = inWords(e)
	}
	return strings.Join(parts, separator)
}

// String says which doors the row is for and what they get.
func (j JambRule) String() string {
	var limits []string
	if j.MaxLeaf > 0 {
		limits = append(limits, "leaf up to "+inWords(j.MaxLeaf)+" kg")
	}
	if j.MaxWidth > 0 {
		limits = append(limits, "opening up to "+j.MaxWidth.String()+" mm wide")
	}
	if j.MaxHeight > 0 {
		limits = append(limits, "wall up to "+j.MaxHeight.String()+" mm high")
	}
	if len(limits) == 0 {
		limits = []string{"any door"}
	}
	made := strings.ReplaceAll(string(j.Jamb), "_", " ")
	if j.Sheet > 0 {
		made += fmt.Sprintf(" of sheet %s mm or thicker", j.Sheet)
	}
	return strings.Join(limits, ", ") + ": " + made
}
