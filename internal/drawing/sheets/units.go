package sheets

import (
	"fmt"
	"strconv"
	"strings"

	"nogging/internal/quantity"
)

// Length is a length on a wall or in a plan.
type Length = quantity.Length

// units is how a practice writes lengths and scales.
type units struct{ imperial bool }

// dim writes a dimension: whole millimetres, or feet and inches.
func (u units) dim(l Length) string {
	if u.imperial {
		return l.FeetInches()
	}
	return strconv.FormatInt(int64(l.Round(quantity.Millimetre)/quantity.Millimetre), 10)
}

// thin writes a thickness, which may have half millimetres; below a foot in
// inches alone.
func (u units) thin(l Length) string {
	if u.imperial {
		text := l.FeetInches()
		if inches, ok := strings.CutPrefix(text, "0'-"); ok {
			if fraction, ok := strings.CutPrefix(inches, "0 "); ok {
				return fraction
			}
			return inches
		}
		return text
	}
	return l.Round(quantity.Millimetre / 10).String()
}

// by writes a width and a height.
func (u units) by(w, h Length) string { return u.dim(w) + " × " + u.dim(h) }

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

// detailScales are the scales of sections through a build-up.
func (u units) detailScales() []scale {
	if u.imperial {
		return []scale{4, 8}
	}
	return []scale{5, 10}
}

// paper returns the size on paper, in mm, of a length.
func (s scale) paper(l Length) float64 { return l.MM() / float64(s) }
