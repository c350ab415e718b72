package pdf

import (
	"encoding/binary"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"nogging/internal/drawing"
)

// glyphSet is the glyphs of a face that a document uses, each with the rune it
// stands for.
type glyphSet map[sfnt.GlyphIndex]rune

func (g glyphSet) join(o glyphSet) {
	for glyph, r := range o {
		g.add(glyph, r)
	}
}

// add enters a glyph; of several characters that look alike the first in Unicode's
// order is kept, whichever comes first.
func (g glyphSet) add(glyph sfnt.GlyphIndex, r rune) {
	if old, ok := g[glyph]; !ok || r < old {
		g[glyph] = r
	}
}

// sorted lists the glyphs in ascending order.
func (g glyphSet) sorted() []sfnt.GlyphIndex { return slices.Sorted(maps.Keys(g)) }

// typeface is one of the two faces that drawings use.
type typeface struct {
	name  string
	data  []byte
	font  *sfnt.Font // nil if the face cannot be read: its text is left out
	glyph [0x500]shown
}

// shown is a glyph and the character that it shows.
type shown struct {
	glyph sfnt.GlyphIndex
	as    rune
}

// faces are the plain and the bold face.
var faces = [2]func() *typeface{
	sync.OnceValue(func() *typeface { return newTypeface("DrawingRegular", drawing.FontData(false)) }),
	sync.OnceValue(func() *typeface { return newTypeface("DrawingBold", drawing.FontData(true)) }),
}

func newTypeface(name string, data []byte) *typeface {
	t := &typeface{name: name, data: data}
	parsed, err := sfnt.Parse(data)
	if err != nil {
		return t
	}
	t.font = parsed
	for r := range t.glyph {
		t.glyph[r] = t.lookUp(rune(r))
	}
	return t
}

// of returns the glyph of a rune.
func (t *typeface) of(r rune) shown {
	if int(r) < len(t.glyph) {
		return t.glyph[r]
	}
	return t.lookUp(r)
}

func (t *typeface) lookUp(r rune) shown {
	if t.font == nil {
		return shown{}
	}
	g, as, err := drawing.Glyph(t.font, nil, r)
	if err != nil {
		return shown{}
	}
	return shown{g, as}
}

// thousandths is the unit of glyph measures in PDF: 1/1000 em (9.2.4).
const thousandths = 1000

// width returns a glyph's advance in thousandths of the em.
func (t *typeface) width(g sfnt.GlyphIndex) int {
	if t.font == nil {
		return 0
	}
	a, err := t.font.GlyphAdvance(nil, g, fixed.I(thousandths), font.HintingNone)
	if err != nil {
		return 0
	}
	return a.Round()
}

// writeFont writes a face as a composite font whose codes are its glyph numbers
// (9.7) and returns its object.
func (d *Document) writeFont(t *typeface, used glyphSet) int {
	var m font.Metrics
	if t.font != nil {
		if got, err := t.font.Metrics(nil, fixed.I(thousandths), font.HintingNone); err == nil {
			m = got
		}
	}
	data := subset(t.data, used.sorted())
	name := tag(used) + "+" + t.name
	program := d.out.stream(fmt.Sprintf("/Length1 %d", len(data)), compress(data))
	// Flag 4 marks a face whose codes are its own; the box and stem are rough
	// measures that viewers use only to replace a face that is missing.
	descriptor := d.out.object("<</Type/FontDescriptor/FontName/%s/Flags 4/FontBBox[-250 -250 1250 1000]/ItalicAngle 0/Ascent %d/Descent %d/CapHeight %d/StemV 90/FontFile2 %d 0 R>>",
		name, m.Ascent.Round(), -m.Descent.Round(), m.CapHeight.Round(), program)
	var widths strings.Builder
	for _, g := range used.sorted() {
		fmt.Fprintf(&widths, "%d[%d]", g, t.width(g))
	}
	cid := d.out.object("<</Type/Font/Subtype/CIDFontType2/BaseFont/%s/CIDSystemInfo<</Registry(Adobe)/Ordering(Identity)/Supplement 0>>/FontDescriptor %d 0 R/CIDToGIDMap/Identity/W[%s]>>",
		name, descriptor, widths.String())
	unicode := d.out.stream("", compress([]byte(toUnicode(used))))
	return d.out.object("<</Type/Font/Subtype/Type0/BaseFont/%s/Encoding/Identity-H/DescendantFonts[%d 0 R]/ToUnicode %d 0 R>>", name, cid, unicode)
}

// tag returns six capitals that name a subset (9.6.4).
func tag(used glyphSet) string {
	sum := uint32(2166136261)
	for _, g := range used.sorted() {
		sum = (sum ^ uint32(g)) * 16777619
	}
	var b strings.Builder
	for range 6 {
		b.WriteByte('A' + byte(sum%26))
		sum /= 26
	}
	return b.String()
}

// toUnicode maps glyph numbers back to text, so that it can be searched and
// copied (9.10.3).
func toUnicode(used glyphSet) string {
	var b strings.Builder
	b.WriteString("/CIDInit/ProcSet findresource begin 12 dict begin begincmap/CMapType 2 def/CMapName/U def\n1 begincodespacerange<0000><FFFF>endcodespacerange\n")
	const most = 100 // entries in one block
	for part := range slices.Chunk(used.sorted(), most) {
		fmt.Fprintf(&b, "%d beginbfchar\n", len(part))
		for _, g := range part {
			fmt.Fprintf(&b, "<%04X>%s\n", g, strings.Replace(text(string(used[g])), "FEFF", "", 1))
		}
		b.WriteString("endbfchar\n")
	}
	b.WriteString("endcmap CMapName currentdict/CMap defineresource pop end end")
	return b.String()
}

// keptTables are the parts of a TrueType file that a PDF needs (9.9) and those
// without which other programs refuse to read the face, in the file's order.
var keptTables = []string{"OS/2", "cmap", "cvt ", "fpgm", "glyf", "head", "hhea", "hmtx", "loca", "maxp", "name", "post", "prep"}

// subset returns a TrueType file in which only the given glyphs, and those they
// are composed of, have an outline; glyphs keep their numbers. A file that is
// not understood is returned whole.
func subset(ttf []byte, glyphs []sfnt.GlyphIndex) []byte {
	tables := readTables(ttf)
	head, loca, glyf := tables["head"], tables["loca"], tables["glyf"]
	if len(head) < 54 || len(loca) == 0 || len(glyf) == 0 {
		return ttf
	}
	places := readLoca(loca, binary.BigEndian.Uint16(head[50:]) == 1)
	keep := make([]bool, len(places))
	for _, g := range glyphs {
		keepGlyph(keep, places, glyf, int(g))
	}
	keepGlyph(keep, places, glyf, 0)
	var outlines, index []byte
	for g := range places {
		index = binary.BigEndian.AppendUint32(index, uint32(len(outlines)))
		if keep[g] {
			outlines = append(outlines, glyphData(places, glyf, g)...)
			for len(outlines)%4 != 0 {
				outlines = append(outlines, 0)
			}
		}
	}
	tables["glyf"], tables["loca"] = outlines, index
	tables["head"] = slices.Clone(head)
	binary.BigEndian.PutUint16(tables["head"][50:], 1) // long offsets
	return writeTables(tables)
}

// readTables splits a TrueType file into its tables.
func readTables(ttf []byte) map[string][]byte {
	tables := map[string][]byte{}
	if len(ttf) < 12 {
		return tables
	}
	for i := range int(binary.BigEndian.Uint16(ttf[4:])) {
		entry := 12 + 16*i
		if entry+16 > len(ttf) {
			break
		}
		from, length := uint64(binary.BigEndian.Uint32(ttf[entry+8:])), uint64(binary.BigEndian.Uint32(ttf[entry+12:]))
		if from+length <= uint64(len(ttf)) {
			tables[string(ttf[entry:entry+4])] = ttf[from : from+length]
		}
	}
	return tables
}

// readLoca returns where each glyph begins; the last entry is the end.
func readLoca(loca []byte, long bool) []int {
	var places []int
	if long {
		for i := 0; i+4 <= len(loca); i += 4 {
			places = append(places, int(binary.BigEndian.Uint32(loca[i:])))
		}
		return places
	}
	for i := 0; i+2 <= len(loca); i += 2 {
		places = append(places, 2*int(binary.BigEndian.Uint16(loca[i:])))
	}
	return places
}

// glyphData returns the outline of a glyph; nil if it has none.
func glyphData(places []int, glyf []byte, g int) []byte {
	if g+1 >= len(places) || places[g] >= places[g+1] || places[g+1] > len(glyf) {
		return nil
	}
	return glyf[places[g]:places[g+1]]
}

// Flags of the parts of a composite glyph in a TrueType file.
const (
	argsAreWords = 1 << 0
	oneScale     = 1 << 3
	moreParts    = 1 << 5
	twoScales    = 1 << 6
	twoByTwo     = 1 << 7
)

// keepGlyph marks a glyph and those it is composed of.
func keepGlyph(keep []bool, places []int, glyf []byte, g int) {
	if g < 0 || g >= len(keep) || keep[g] {
		return
	}
	keep[g] = true
	data := glyphData(places, glyf, g)
	if len(data) < 10 || int16(binary.BigEndian.Uint16(data)) >= 0 {
		return // a simple outline
	}
	for at := 10; at+4 <= len(data); {
		flags := binary.BigEndian.Uint16(data[at:])
		keepGlyph(keep, places, glyf, int(binary.BigEndian.Uint16(data[at+2:])))
		at += 4 + partLength(flags)
		if flags&moreParts == 0 {
			return
		}
	}
}

// partLength returns how many bytes follow a part's flags and glyph number.
func partLength(flags uint16) int {
	n := 2
	if flags&argsAreWords != 0 {
		n = 4
	}
	switch {
	case flags&oneScale != 0:
		n += 2
	case flags&twoScales != 0:
		n += 4
	case flags&twoByTwo != 0:
		n += 8
	}
	return n
}

// writeTables puts a TrueType file together from the tables to be kept.
func writeTables(tables map[string][]byte) []byte {
	var names []string
	for _, n := range keptTables {
		if len(tables[n]) > 0 {
			names = append(names, n)
		}
	}
	file := binary.BigEndian.AppendUint32(nil, 0x00010000)
	search, log := 1, 0
	for search*2 <= len(names) {
		search, log = search*2, log+1
	}
	for _, v := range []int{len(names), search * 16, log, (len(names) - search) * 16} {
		file = binary.BigEndian.AppendUint16(file, uint16(v))
	}
	at := len(file) + 16*len(names)
	var body []byte
	for _, n := range names {
		t := tables[n]
		file = append(file, n...)
		file = binary.BigEndian.AppendUint32(file, checksum(t))
		file = binary.BigEndian.AppendUint32(file, uint32(at+len(body)))
		file = binary.BigEndian.AppendUint32(file, uint32(len(t)))
		body = append(body, t...)
		for len(body)%4 != 0 {
			body = append(body, 0)
		}
	}
	return append(file, body...)
}

// checksum adds a table up in words of four bytes.
func checksum(t []byte) uint32 {
	var sum uint32
	for i := 0; i < len(t); i += 4 {
		var word [4]byte
		copy(word[:], t[i:])
		sum += binary.BigEndian.Uint32(word[:])
	}
	return sum
}
