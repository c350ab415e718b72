// Package quantity holds the measures that the rest of the program reckons
// with: exact lengths, areas, and how far a figure can be relied on.
//
// A Length is a whole number of nanometres, so that metric sheet thicknesses
// (0.6 mm, 12.5 mm) and inch fractions down to 1/64 inch (396 875 nm) are both
// exact and sums never drift. The inch is 25.4 mm by definition (ISO 31-1).
package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"nogging/internal/words"
)

// Length is a distance in whole nanometres; its range is about ±9.2 million km.
type Length int64

// Units of length.
const (
	Nanometre  Length = 1
	Millimetre        = 1_000_000 * Nanometre
	Metre             = 1000 * Millimetre
	Inch              = 25_400_000 * Nanometre
	Foot              = 12 * Inch
)

// MaxParsed bounds a length read from text, so that sums and products of a
// plan's lengths stay far from overflow.
const MaxParsed = 1000 * 1000 * Metre

// MM returns v millimetres, rounded to the nearest nanometre.
func MM(v float64) Length { return Length(math.Round(v * float64(Millimetre))) }

// Metres returns v metres, rounded to the nearest nanometre.
func Metres(v float64) Length { return Length(math.Round(v * float64(Metre))) }

// MM returns the length in millimetres.
func (l Length) MM() float64 { return float64(l) / float64(Millimetre) }

// Metres returns the length in metres.
func (l Length) Metres() float64 { return float64(l) / float64(Metre) }

// Abs returns the length without its sign.
func (l Length) Abs() Length {
	if l < 0 {
		return -l
	}
	return l
}

// Round returns the length rounded to the nearest multiple of step, halves
// away from zero. A step of zero or less returns l unchanged.
func (l Length) Round(step Length) Length {
	if step <= 0 {
		return l
	}
	half := step / 2
	if l < 0 {
		return -((-l + half) / step * step)
	}
	return (l + half) / step * step
}

// String gives the length in millimetres with as many decimals as it needs,
// as in "2750" or "12.5".
func (l Length) String() string {
	return strconv.FormatFloat(l.MM(), 'f', -1, 64)
}

// FeetInches gives the length as feet, inches and the nearest sixteenth, as in
// 9'-2 1/2".
func (l Length) FeetInches() string {
	sign := ""
	if l < 0 {
		sign, l = "-", -l
	}
	sixteenths := int64(l.Round(Inch/16) / (Inch / 16))
	feet, rest := sixteenths/(12*16), sixteenths%(12*16)
	inches, num := rest/16, rest%16
	text := fmt.Sprintf(`%s%d'-%d`, sign, feet, inches)
	if num > 0 {
		den := int64(16)
		for num%2 == 0 {
			num, den = num/2, den/2
		}
		text += fmt.Sprintf(" %d/%d", num, den)
	}
	return text + `"`
}

// MarshalText writes the length in millimetres.
func (l Length) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

// MarshalJSON writes the length as a number of millimetres.
func (l Length) MarshalJSON() ([]byte, error) { return []byte(l.String()), nil }

// UnmarshalJSON reads a number of millimetres, also one with an exponent, or
// text as ParseLength takes it.
func (l *Length) UnmarshalJSON(data []byte) error {
	text := string(data)
	if unquoted, err := strconv.Unquote(text); err == nil {
		return l.UnmarshalText([]byte(unquoted))
	}
	if strings.ContainsAny(text, "eE") { // as encoding/json writes very small and very large numbers
		v, err := strconv.ParseFloat(text, 64)
		if err != nil || !(math.Abs(v) <= MaxParsed.MM()) {
			return notLength(text)
		}
		*l = MM(v)
		return nil
	}
	return l.UnmarshalText(data)
}

// UnmarshalText reads what ParseLength reads.
func (l *Length) UnmarshalText(text []byte) error {
	v, err := ParseLength(string(text))
	if err != nil {
		return err
	}
	*l = v
	return nil
}

func notLength(text string) error {
	return words.ErrFix(words.F("%q is not a length", text), `write millimetres as 2750, or 2750 mm, 275 cm, 2.75 m, 9'-2", 5/8 in`)
}

// metricUnits are tried longest suffix first.
var metricUnits = []struct {
	suffix string
	unit   Length
}{{"mm", Millimetre}, {"cm", 10 * Millimetre}, {"m", Metre}}

// ParseLength reads a length: a bare number is millimetres; the units mm, cm,
// m, in, ft and the marks ' and " are understood, and feet may be followed by
// inches and a fraction: 2750, 2.75 m, 9'-2", 9' 2 1/2", 5/8 in.
func ParseLength(text string) (Length, error) {
	s := strings.TrimSpace(text)
	negative := strings.HasPrefix(s, "-")
	if negative {
		s = strings.TrimSpace(s[1:])
	}
	l, ok := parseUnsigned(s)
	if !ok || l > MaxParsed {
		return 0, notLength(text)
	}
	if negative {
		l = -l
	}
	return l, nil
}

// plainMarks turns the typographic marks for feet and inches into plain ones.
var plainMarks = strings.NewReplacer("′", "'", "″", `"`, "’", "'", "”", `"`)

func parseUnsigned(s string) (Length, bool) {
	s = plainMarks.Replace(s)
	if strings.ContainsAny(s, `'"`) || strings.HasSuffix(s, "in") || strings.HasSuffix(s, "ft") {
		return parseImperial(s)
	}
	for _, u := range metricUnits {
		if rest, ok := strings.CutSuffix(s, u.suffix); ok {
			return scaled(strings.TrimSpace(rest), u.unit)
		}
	}
	return scaled(s, Millimetre)
}

func parseImperial(s string) (Length, bool) {
	s = strings.ReplaceAll(s, "ft", "'")
	s = strings.ReplaceAll(s, "in", `"`)
	var total Length
	feet, inches, both := strings.Cut(s, "'")
	if both {
		v, ok := scaled(strings.TrimSpace(feet), Foot)
		if !ok {
			return 0, false
		}
		total = v
		inches = strings.TrimLeft(inches, " -")
		if inches == "" {
			return total, true
		}
	} else {
		inches = feet
	}
	inches, ok := strings.CutSuffix(strings.TrimSpace(inches), `"`)
	if !ok {
		return 0, false
	}
	for _, word := range strings.Fields(inches) {
		v, ok := parseInches(word)
		if !ok {
			return 0, false
		}
		total += v
	}
	return total, strings.TrimSpace(inches) != ""
}

// parseInches reads a whole, decimal or fractional number of inches.
func parseInches(word string) (Length, bool) {
	num, den, fraction := strings.Cut(word, "/")
	if !fraction {
		return scaled(word, Inch)
	}
	n, errN := strconv.ParseUint(num, 10, 16)
	d, errD := strconv.ParseUint(den, 10, 16)
	if errN != nil || errD != nil || d == 0 {
		return 0, false
	}
	return Length(math.Round(float64(n) * float64(Inch) / float64(d))), true
}

// scaled reads a plain decimal number and multiplies it by unit. Signs,
// exponents and the words for infinity are refused.
func scaled(number string, unit Length) (Length, bool) {
	if number == "" || strings.Trim(number, "0123456789.") != "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(number, 64)
	if err != nil || v*float64(unit) > float64(MaxParsed) {
		return 0, false
	}
	return Length(math.Round(v * float64(unit))), true
}
