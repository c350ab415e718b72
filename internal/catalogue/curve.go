package catalogue

import (
	"fmt"

	"nogging/internal/quantity"
)

// BendRule is one row of how tightly boards can be bent: boards of the standard
// up to the thickness bend to these radii and no tighter. A radius of zero says
// that they are not bent that way.
type BendRule struct {
	Standard  string `json:"standard"`
	Thickness Length `json:"thickness"`
	Along     Length `json:"along,omitempty"`     // lying, with the long side along the curve, dry
	AlongWet  Length `json:"along_wet,omitempty"` // the same, wetted
	Across    Length `json:"across,omitempty"`    // standing, dry
}

// String says which boards the row is for and how they bend.
func (b BendRule) String() string {
	text := b.Standard + " up to " + b.Thickness.String() + ":"
	for _, way := range []struct {
		radius Length
		words  string
	}{{b.Along, "lying"}, {b.AlongWet, "lying and wetted"}, {b.Across, "standing"}} {
		if way.radius > 0 {
			text += " " + way.words + " from " + way.radius.String() + ","
		}
	}
	return text[:len(text)-1]
}

// CurveRule is one row of the stud spacing of curved walls: up to the radius,
// studs stand no farther apart than this on the outside of the curve.
type CurveRule struct {
	Radius  Length `json:"radius"`
	Spacing Length `json:"spacing"`
}

// String says up to which radius the spacing holds.
func (c CurveRule) String() string {
	return "radius up to " + c.Radius.String() + ": " + c.Spacing.String()
}

// BendFor returns how tightly a board can be bent, or false if it cannot.
func (p *Practice) BendFor(b *Board) (BendRule, bool) {
	for _, r := range p.Bending.Value {
		if r.Standard == b.Standard && b.Thickness <= r.Thickness {
			return r, true
		}
	}
	return BendRule{}, false
}

// CurveSpacingFor returns the greatest stud spacing on the outside of a curve of
// the given radius: that of straight walls where no row is for it.
func (p *Practice) CurveSpacingFor(radius, straight Length) Length {
	for _, r := range p.CurveSpacing.Value {
		if radius <= r.Radius {
			return min(r.Spacing, straight)
		}
	}
	return straight
}

func bendConflict(rows []BendRule) string {
	for i, r := range rows {
		switch {
		case r.Standard == "" || r.Thickness <= 0 || r.Along < 0 || r.AlongWet < 0 || r.Across < 0:
			return fmt.Sprintf("row %d has no standard or thickness, or a radius below zero", i+1)
		case r.AlongWet > r.Along && r.Along > 0:
			return fmt.Sprintf("row %d: wetted boards bend to %s mm, less tightly than dry ones to %s mm", i+1, r.AlongWet, r.Along)
		case i > 0 && r.Standard == rows[i-1].Standard && r.Thickness <= rows[i-1].Thickness:
			return fmt.Sprintf("row %d is out of order", i+1)
		}
	}
	return ""
}

func curveConflict(rows []CurveRule) string {
	for i, r := range rows {
		if r.Radius <= 0 || r.Spacing < leastSpacing || i > 0 && r.Radius <= rows[i-1].Radius {
			return fmt.Sprintf("row %d is out of order, or its studs stand closer than %s mm", i+1, leastSpacing)
		}
	}
	return ""
}

// leastSpacing is the least distance of stud centres: closer, their flanges
// nearly touch.
const leastSpacing = 100 * quantity.Millimetre
