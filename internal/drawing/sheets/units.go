package sheets

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"nogging/internal/quantity"
)

// Length is a length on a wall or in a plan.
type Length = quantity.Length

// units is how a practice writes lengths and scales.
type units struct{ imperial bool }

// noBreak is the space inside a number, at which no line ends.
const noBreak = "\u00a0"

// dim writes a dimension: whole millimetres, or feet and inches.
func (u units) dim(l Length) string {
	if u.imperial {
		return strings.ReplaceAll(l.FeetInches(), " ", noBreak)
	}
	return strconv.FormatInt(int64(l.Round(quantity.Millimetre)/quantity.Millimetre), 10)
}

// exact writes a coordinate to half a millimetre, or to 1/16 inch.
func (u units) exact(l Length) string {
	if u.imperial {
		return u.dim(l)
	}
	return l.Round(quantity.Millimetre / 10).String()
}

// thin writes a thickness, which may have half millimetres; below a foot in
// inches alone.
func (u units) thin(l Length) string {
	if u.imperial {
		text := u.dim(l)
		if inches, ok := strings.CutPrefix(text, "0'-"); ok {
			if fraction, ok := strings.CutPrefix(inches, "0"+noBreak); ok {
				return fraction
			}
			return inches
		}
		return text
	}
	return l.Round(quantity.Millimetre / 10).String()
}

// metric finds lengths in mm and masses in kg in running text.
var metric = regexp.MustCompile(`(\d+(?:\.\d+)?) (mm|kg)\b`)

// localise rewrites the metric measures in a text of the layout or of a finding
// in the units of the drawing.
func (u units) localise(text string) string {
	if !u.imperial {
		return text
	}
	return metric.ReplaceAllStringFunc(text, func(m string) string {
		number, unit, _ := strings.Cut(m, " ")
		v, err := strconv.ParseFloat(number, 64)
		if err != nil {
			return m
		}
		if unit == "kg" {
			return u.mass(v)
		}
		return u.thin(Length(v * float64(quantity.Millimetre)))
	})
}

// pounds in a kilogram (international avoirdupois pound, 0.45359237 kg).
const pounds = 1 / 0.45359237

// massUnit is the unit of masses.
func (u units) massUnit() string {
	if u.imperial {
		return "lb"
	}
	return "kg"
}

// inMass turns kg into the unit of masses.
func (u units) inMass(kg float64) float64 {
	if u.imperial {
		return kg * pounds
	}
	return kg
}

// mass writes a round mass with its unit.
func (u units) mass(kg float64) string {
	if u.imperial {
		return strconv.FormatFloat(u.inMass(kg), 'f', 0, 64) + " lb"
	}
	return strconv.FormatFloat(kg, 'f', -1, 64) + " kg"
}

// by writes a width and a height.
func (u units) by(w, h Length) string { return u.dim(w) + " × " + u.dim(h) }

// tolerance is the difference that is worth reporting (common practice).
func (u units) tolerance() string {
	if u.imperial {
		return `3/16"`
	}
	return "5 mm"
}

// span writes a stretch, or its place if it has no length.
func (u units) span(from, to Length) string {
	switch {
	case from == to:
		return u.dim(from)
	case u.imperial:
		return u.dim(from) + " – " + u.dim(to)
	}
	return u.dim(from) + "–" + u.dim(to)
}

// note says in what drawings are dimensioned.
func (u units) note() string {
	if u.imperial {
		return "All dimensions in feet and inches, to the nearest 1/16 inch."
	}
	return "All dimensions in mm."
}

// scale is how many times smaller than life a view is drawn.
type scale float64

// name writes a scale as title blocks do.
func (u units) name(s scale) string {
	if u.imperial {
		switch s {
		case 2:
			return `6" = 1'-0"`
		case 4:
			return `3" = 1'-0"`
		case 8:
			return `1 1/2" = 1'-0"`
		case 12:
			return `1" = 1'-0"`
		case 16:
			return `3/4" = 1'-0"`
		case 24:
			return `1/2" = 1'-0"`
		case 48:
			return `1/4" = 1'-0"`
		case 96:
			return `1/8" = 1'-0"`
		case 192:
			return `1/16" = 1'-0"`
		}
	}
	return fmt.Sprintf("1:%g", float64(s))
}

// Scales for walls, from the largest; the last ones only for walls that fit no
// sheet otherwise. ISO 5455 lists the decimal ones; 1:25 is common practice.
func (u units) wallScales() []scale {
	if u.imperial {
		return []scale{12, 16, 24, 48, 96, 192}
	}
	return []scale{10, 20, 25, 50, 100, 200}
}

// planScales are the scales of set-out plans.
func (u units) planScales() []scale {
	if u.imperial {
		return []scale{24, 48, 96, 192}
	}
	return []scale{20, 25, 50, 100, 200}
}

// detailScales are the scales of details.
func (u units) detailScales() []scale {
	if u.imperial {
		return []scale{2, 4, 8}
	}
	return []scale{2, 5, 10}
}

// paper returns the size on paper, in mm, of a length.
func (s scale) paper(l Length) float64 { return l.MM() / float64(s) }
