package quantity

import (
	"math"
	"strconv"
)

// Derivation is a figure that a person could act on, with the way in which it
// was found: method, inputs with their own sources, clause or table, and how far
// it can be relied on.
type Derivation struct {
	Name   string       `json:"name"`             // what it is, such as "second moment of area"
	Symbol string       `json:"symbol,omitempty"` // as the method writes it, such as "Iy"
	Value  float64      `json:"value"`            // meaningless where Text is set
	Unit   string       `json:"unit,omitempty"`   // such as "mm⁴"; none for ratios
	Text   string       `json:"text,omitempty"`   // a figure that is no number, such as "EI 60"
	Range  *Range       `json:"range,omitempty"`  // within which the true value is expected, where the method says so
	Method string       `json:"method,omitempty"` // formula or rule, in symbols or words
	Source string       `json:"source,omitempty"` // standard with edition and clause or table; none for common practice
	Status Status       `json:"status,omitempty"`
	Note   string       `json:"note,omitempty"` // scope, or what was taken and why
	From   []Derivation `json:"from,omitempty"` // the figures that it was found from
}

// Range is an interval of values.
type Range struct {
	Low  float64 `json:"low"`  // in the figure's unit
	High float64 `json:"high"` // likewise
}

// Weakest returns the least firm status among the figure and all that it was
// found from: a chain is as strong as its weakest link.
func (d *Derivation) Weakest() Status {
	worst := d.Status
	for i := range d.From {
		if s := d.From[i].Weakest(); s.rank() > worst.rank() {
			worst = s
		}
	}
	return worst
}

// Figure writes the figure with its unit and range, to three significant digits.
func (d *Derivation) Figure() string {
	if d.Text != "" {
		return d.Text
	}
	s := significant(d.Value)
	if d.Range != nil {
		s += " (" + significant(d.Range.Low) + " to " + significant(d.Range.High) + ")"
	}
	if d.Unit != "" {
		s += " " + d.Unit
	}
	return s
}

// significant writes a number to three significant digits, and whole numbers whole.
func significant(v float64) string {
	if v == 0 || math.Abs(v) >= 1000 {
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	digits := max(0, 2-int(math.Floor(math.Log10(math.Abs(v)))))
	s := strconv.FormatFloat(v, 'f', digits, 64)
	if whole := strconv.FormatFloat(v, 'f', 0, 64); digits > 0 && v == math.Trunc(v) {
		return whole
	}
	return s
}
