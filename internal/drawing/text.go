package drawing

import (
	"math"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Nominal heights of text in millimetres (ISO 3098): the height of a capital.
// Nothing that is built from is smaller than Small on an A3 sheet, so that a print
// reduced to A4 still has 1.8 mm.
const (
	Tiny  = 1.8 // for names in a plan that would be lost otherwise
	Small = 2.5
	Large = 3.5
	Head  = 5.0
	Huge  = 7.0
)

// LineGap is the distance of base lines of running text, in text heights.
const LineGap = 1.6

// Align says which point of a text stands at its anchor.
type Align int

// Where the anchor is, along the text.
const (
	Left Align = iota
	Centre
	Right
)

// Text is one line of text. At is on the base line.
type Text struct {
	At     Point
	Text   string
	Height float64 // of a capital, in mm
	Align  Align
	Turn   float64 // degrees counter-clockwise as seen on paper
	Max    float64 // the text is condensed to this width; 0: as it comes
	Bold   bool
	Mask   bool // paint the paper white behind it
	Grey   Grey
}

// face holds what is needed of one font, in parts of the em.
type face struct {
	capital, descent float64
	advance          [0x500]float64 // Latin, Greek and Cyrillic
	other            func(rune) float64
}

var faces = [2]func() *face{
	sync.OnceValue(func() *face { return load(goregular.TTF) }),
	sync.OnceValue(func() *face { return load(gobold.TTF) }),
}

// FontData returns the TrueType font in which texts are measured and that
// writers embed.
func FontData(bold bool) []byte {
	if bold {
		return gobold.TTF
	}
	return goregular.TTF
}

// load reads a font that is part of the program. A font that cannot be read
// gives a face of half-em letters, which is what most faces average.
func load(ttf []byte) *face {
	f := &face{capital: 0.7, descent: 0.2, other: func(rune) float64 { return 0.5 }}
	for i := range f.advance {
		f.advance[i] = 0.5
	}
	parsed, err := sfnt.Parse(ttf)
	if err != nil {
		return f
	}
	var buf sfnt.Buffer
	const em = 2048
	size := fixed.I(em)
	if m, err := parsed.Metrics(&buf, size, font.HintingNone); err == nil {
		f.capital, f.descent = inEm(m.CapHeight, em), inEm(m.Descent, em)
	}
	measure := func(buf *sfnt.Buffer, r rune) float64 {
		glyph, _, err := Glyph(parsed, buf, r)
		if err != nil {
			return 0.5
		}
		a, err := parsed.GlyphAdvance(buf, glyph, size, font.HintingNone)
		if err != nil {
			return 0.5
		}
		return inEm(a, em)
	}
	for r := range f.advance {
		f.advance[r] = measure(&buf, rune(r))
	}
	f.other = func(r rune) float64 { return measure(nil, r) }
	return f
}

// Missing stands for characters that the faces do not have, and for those that have no
// shape.
const Missing = '\uFFFD'

// Glyph returns the glyph by which a character is drawn in one of the faces, and the
// character that this glyph shows: the same, a blank for a tab, or Missing.
func Glyph(f *sfnt.Font, buf *sfnt.Buffer, r rune) (sfnt.GlyphIndex, rune, error) {
	if r == '\t' {
		r = ' '
	}
	if g, err := f.GlyphIndex(buf, r); err == nil && g != 0 && !unicode.IsControl(r) {
		return g, r, nil
	}
	g, err := f.GlyphIndex(buf, Missing)
	return g, Missing, err
}

func inEm(v fixed.Int26_6, em float64) float64 { return float64(v) / 64 / em }

func faceOf(bold bool) *face {
	if bold {
		return faces[1]()
	}
	return faces[0]()
}

// EmSize returns the size of the font, in mm, whose capitals have the given
// height.
func EmSize(height float64, bold bool) float64 { return height / faceOf(bold).capital }

// TextWidth returns the width of a text in mm at the given height.
func TextWidth(text string, height float64, bold bool) float64 {
	f := faceOf(bold)
	w := 0.0
	for _, r := range text {
		if int(r) < len(f.advance) {
			w += f.advance[r]
		} else {
			w += f.other(r)
		}
	}
	return w * height / f.capital
}

// Width returns the width that the text takes up.
func (t Text) Width() float64 {
	w := TextWidth(t.Text, t.Height, t.Bold)
	if t.Max > 0 {
		return min(w, t.Max)
	}
	return w
}

// Condensed returns the ratio, up to 1, by which the text has to be narrowed.
func (t Text) Condensed() float64 {
	w := TextWidth(t.Text, t.Height, t.Bold)
	if t.Max > 0 && w > t.Max {
		return t.Max / w
	}
	return 1
}

// descenders are the signs that reach below the base line.
const descenders = "gjpqyQ,;()[]{}|_çşţАДЦЩдруфцщμβγζηξρφχψ"

// Quad returns the corners of the area that the text's ink can take up.
func (t Text) Quad() [4]Point {
	w := t.Width()
	left := -w * float64(t.Align) / 2
	bottom := 0.0
	if strings.ContainsAny(t.Text, descenders) {
		bottom = EmSize(t.Height, t.Bold) * faceOf(t.Bold).descent
	}
	top := -1.04 * t.Height
	return [4]Point{
		t.at(left, top), t.at(left+w, top), t.at(left+w, bottom), t.at(left, bottom),
	}
}

// Start returns the left end of the base line.
func (t Text) Start() Point { return t.at(-t.Width()*float64(t.Align)/2, 0) }

// at turns an offset from the anchor.
func (t Text) at(dx, dy float64) Point {
	if t.Turn == 0 {
		return t.At.Add(dx, dy)
	}
	sin, cos := math.Sincos(t.Turn * math.Pi / 180)
	return t.At.Add(dx*cos+dy*sin, dy*cos-dx*sin)
}

// Bounds returns the upright rectangle around the text.
func (t Text) Bounds() Rect {
	q := t.Quad()
	r := Rect{q[0], q[0]}
	for _, p := range q[1:] {
		r.Min.X, r.Min.Y = min(r.Min.X, p.X), min(r.Min.Y, p.Y)
		r.Max.X, r.Max.Y = max(r.Max.X, p.X), max(r.Max.Y, p.Y)
	}
	return r
}

// Middle returns the text moved so that the middle of its capitals, not its
// base line, is at the anchor.
func (t Text) Middle() Text {
	t.At = t.at(0, t.Height/2)
	return t
}

// wrapSlack is the part of a line's width that Wrap fills: readers of SVG set
// text in a face of their own, which may be wider than the one measured here.
const wrapSlack = 0.9

// breaks reports whether a line may end at a sign: at any space but the
// no-break one.
func breaks(r rune) bool { return r != '\u00a0' && unicode.IsSpace(r) }

// parted cuts a word into parts that fit a width.
func parted(word string, height, width float64, bold bool) []string {
	var parts []string
	first, used := 0, 0.0
	for i, r := range word {
		w := TextWidth(string(r), height, bold)
		if i > first && used+w > width {
			parts = append(parts, word[first:i])
			first, used = i, 0
		}
		used += w
	}
	return append(parts, word[first:])
}

// Wrap breaks a text into lines that fit a width. A word that is wider runs on over
// lines of its own.
func Wrap(text string, height, width float64, bold bool) []string {
	width *= wrapSlack
	space := TextWidth(" ", height, bold)
	var words []string
	for _, w := range strings.FieldsFunc(text, breaks) {
		words = append(words, parted(w, height, width, bold)...)
	}
	var lines []string
	first, used := 0, 0.0
	for i, word := range words {
		w := TextWidth(word, height, bold)
		if i > first && used+space+w > width {
			lines = append(lines, strings.Join(words[first:i], " "))
			first, used = i, w
			continue
		}
		if i > first {
			used += space
		}
		used += w
	}
	if first < len(words) {
		lines = append(lines, strings.Join(words[first:], " "))
	}
	return lines
}
