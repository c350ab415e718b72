package pdfa

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// pages checks every page, then the fonts with what the pages show by them.
func (c *checker) pages() {
	shown := map[string]map[uint16]bool{} // codes by the font's reference
	for _, o := range c.objects {
		d, _ := o.(dict)
		if d["/Type"] == "/Page" {
			c.page(d, shown)
		}
	}
	c.need(len(shown) > 0, "6.2.11", "no font is used")
	for ref, codes := range shown {
		c.font(c.dict(ref), codes)
	}
}

func (c *checker) page(d dict, shown map[string]map[uint16]bool) {
	box := c.list(d["/MediaBox"])
	for i := 2; i < len(box); i++ {
		side, _ := box[i].(float64)
		c.need(side >= 3 && side <= 14400, "6.1.13", "a page is %v units wide or high", side)
	}
	for _, a := range c.list(d["/Annots"]) {
		c.annotation(c.dict(a))
	}
	resources := c.dict(d["/Resources"])
	c.need(resources != nil, "6.2.2", "a page has no resources of its own")
	content, _ := c.get(d["/Contents"]).(stream)
	c.content(string(content.data), resources, shown)
}

// annotation checks a link; no other kind is written. Links need no appearance (6.3.3).
func (c *checker) annotation(d dict) {
	c.need(d["/Subtype"] == "/Link", "6.3.1", "annotation %v", d["/Subtype"])
	flags, ok := d["/F"].(float64)
	const hidden = 1 | 2 | 32 | 256 // invisible, hidden, no view, toggle no view
	c.need(ok && int(flags)&4 != 0 && int(flags)&hidden == 0, "6.3.2", "flags %v", d["/F"])
	c.need(len(c.list(d["/Dest"])) > 0, "6.5.1", "link without a destination")
}

// operators are those of ISO 32000-1, annex A, that are let pass: colours in grey only
// (6.2.4.3 with an output intent), no images, no graphics state dictionaries.
var operators = strings.Fields("q Q re W n m l c h S s f B b w d J j M G g BT ET Tf Tz Tm Tj BDC EMC")

var token = regexp.MustCompile(`/[^\s/\[\]<>()]+|\[|\]|<[0-9A-Fa-f]*>|[^\s/\[\]<>()]+`)

// content checks a page's operators.
func (c *checker) content(text string, resources dict, shown map[string]map[uint16]bool) {
	fonts, layers := c.dict(resources["/Font"]), c.dict(resources["/Properties"])
	var operands []string
	depth, face := 0, ""
	for _, t := range token.FindAllString(text, -1) {
		if strings.ContainsAny(t[:1], "/[]<") || strings.Trim(t, "+-.0123456789") == "" {
			operands = append(operands, t)
			continue
		}
		c.need(slices.Contains(operators, t), "6.2.2", "operator %q", t)
		switch t {
		case "q":
			depth++
			c.need(depth <= 28, "6.1.13", "%d graphics states in each other", depth)
		case "Q":
			depth--
		case "BDC":
			c.need(len(operands) == 2 && layers[operands[1]] != nil, "6.2.2", "marked content %v", operands)
		case "Tf":
			face, _ = fonts[operands[0]].(string)
			c.need(face != "", "6.2.2", "font %v", operands)
		case "Tj":
			c.show(operands[0], face, shown)
		}
		operands = operands[:0]
	}
	c.need(depth == 0, "6.2.2", "%d graphics states are not restored", depth)
}

func (c *checker) show(hex, face string, shown map[string]map[uint16]bool) {
	hex = strings.Trim(hex, "<>")
	if shown[face] == nil {
		shown[face] = map[uint16]bool{}
	}
	for i := 0; i+4 <= len(hex); i += 4 {
		code, _ := strconv.ParseUint(hex[i:i+4], 16, 16)
		shown[face][uint16(code)] = true
	}
}

// font checks a composite font with the codes that are shown by it; codes are glyph
// numbers, since both maps are Identity.
func (c *checker) font(d dict, codes map[uint16]bool) {
	c.need(d["/Subtype"] == "/Type0" && d["/Encoding"] == "/Identity-H", "6.2.11.3.3", "font %v", d)
	cid := c.dict(c.list(d["/DescendantFonts"])[0])
	system := c.dict(cid["/CIDSystemInfo"])
	c.need(text(system["/Registry"]) == "Adobe" && text(system["/Ordering"]) == "Identity", "6.2.11.3.1", "character collection %v", system)
	c.need(cid["/Subtype"] == "/CIDFontType2" && cid["/CIDToGIDMap"] == "/Identity", "6.2.11.3.2", "descendant %v", cid["/CIDToGIDMap"])
	c.need(d["/BaseFont"] == cid["/BaseFont"] && c.dict(cid["/FontDescriptor"])["/FontName"] == d["/BaseFont"], "6.2.11.2", "names %v and %v", d["/BaseFont"], cid["/BaseFont"])
	program, _ := c.get(c.dict(cid["/FontDescriptor"])["/FontFile2"]).(stream)
	f, err := sfnt.Parse(program.data)
	if err != nil {
		c.fault("6.2.11.4.1", "the font is not embedded: %v", err)
		return
	}
	unicode, _ := c.get(d["/ToUnicode"]).(stream)
	texts, widths := mapping(string(unicode.data)), c.widths(cid["/W"])
	c.need(!codes[0], "6.2.11.8", "the glyph .notdef is shown")
	for code := range codes {
		c.glyph(f, code, widths, texts)
	}
}

func (c *checker) glyph(f *sfnt.Font, code uint16, widths map[uint16]float64, texts map[uint16]string) {
	var b sfnt.Buffer
	outline, err := f.LoadGlyph(&b, sfnt.GlyphIndex(code), fixed.I(1000), nil)
	empty := strings.Trim(texts[code], " \u00A0") == ""
	c.need(err == nil && (len(outline) > 0 || empty), "6.2.11.4.1", "glyph %d (%q) is not embedded: %v", code, texts[code], err)
	advance, err := f.GlyphAdvance(&b, sfnt.GlyphIndex(code), fixed.I(1000), font.HintingNone)
	w, ok := widths[code]
	c.need(err == nil && ok && abs(float64(advance)/64-w) <= 1, "6.2.11.5", "glyph %d is %v wide, the font has %v", code, w, float64(advance)/64)
	c.need(texts[code] != "" && !strings.ContainsAny(texts[code], "\x00\uFEFF\uFFFE"), "6.2.11.7.2", "glyph %d stands for %q", code, texts[code])
}

func abs(v float64) float64 { return max(v, -v) }

// widths reads the array W of single widths (ISO 32000-1, 9.7.4.3).
func (c *checker) widths(v any) map[uint16]float64 {
	list, out := c.list(v), map[uint16]float64{}
	for i := 0; i+1 < len(list); i += 2 {
		first, _ := list[i].(float64)
		for k, w := range c.list(list[i+1]) {
			out[uint16(first)+uint16(k)], _ = w.(float64)
		}
	}
	return out
}

var single = regexp.MustCompile(`<([0-9A-F]{4})>\s*<((?:[0-9A-F]{4})+)>`)

// mapping reads the single characters of a ToUnicode map (9.10.3).
func mapping(cmap string) map[uint16]string {
	out := map[uint16]string{}
	for _, block := range regexp.MustCompile(`(?s)beginbfchar(.*?)endbfchar`).FindAllStringSubmatch(cmap, -1) {
		for _, m := range single.FindAllStringSubmatch(block[1], -1) {
			code, _ := strconv.ParseUint(m[1], 16, 16)
			var r uint64
			if _, err := fmt.Sscanf(m[2], "%X", &r); err == nil {
				out[uint16(code)] = string(rune(r))
			}
		}
	}
	return out
}
