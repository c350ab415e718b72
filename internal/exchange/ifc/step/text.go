package step

import (
	"bytes"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// maxText bounds a decoded text in bytes: names and labels are short, and
// nobody reads more in a message.
const maxText = 4096

// Text returns a text, plain or typed, decoded; "" where the argument is no
// text. Besides the escapes of ISO 10303-21 (\S\, \P?\, \X\, \X2\, \X4\), raw
// bytes are understood as UTF-8 where they are, and as ISO 8859-1 otherwise.
func (v Value) Text() string { return v.LongText(maxText) }

// LongText is Text for texts that may be longer: up to as many bytes as are said.
func (v Value) LongText(most int) string {
	if len(v) > 0 && v[0] != '\'' {
		_, v = v.Typed()
	}
	if len(v) < 2 || v[0] != '\'' || v[len(v)-1] != '\'' {
		return ""
	}
	raw := v[1 : len(v)-1]
	if len(raw) <= most && plain(raw) {
		return string(raw)
	}
	d := decoder{in: raw, page: charmap.ISO8859_1, utf8: utf8.Valid(raw), most: most}
	for d.pos < len(raw) && d.out.Len() < d.most {
		d.next()
	}
	return d.out.String()
}

// plain reports whether a text stands for itself.
func plain(raw []byte) bool {
	for _, c := range raw {
		if c == '\'' || c == '\\' || c < ' ' || c >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// decoder decodes one text.
type decoder struct {
	in   []byte
	pos  int
	page *charmap.Charmap // of \S\
	utf8 bool
	most int
	out  strings.Builder
}

// next takes one character or one escape.
func (d *decoder) next() {
	c := d.in[d.pos]
	switch {
	case c == '\'':
		d.out.WriteByte(c)
		d.pos++
		if d.has("'") {
			d.pos++ // two quotes stand for one
		}
	case c == '\\':
		d.escape()
	case c == '\r' || c == '\n':
		d.pos++ // a line end inside a text is not part of it
	case c < utf8.RuneSelf:
		d.out.WriteByte(c)
		d.pos++
	case d.utf8:
		r, n := utf8.DecodeRune(d.in[d.pos:])
		d.out.WriteRune(r)
		d.pos += n
	default:
		d.out.WriteRune(rune(c))
		d.pos++
	}
}

func (d *decoder) has(prefix string) bool {
	return bytes.HasPrefix(d.in[d.pos:], []byte(prefix))
}

// escape takes what begins with a backslash. What is no escape stays as it is.
func (d *decoder) escape() {
	rest := d.in[d.pos:]
	switch {
	case d.has(`\\`):
		d.out.WriteByte('\\')
		d.pos += 2
	case d.has(`\S\`) && len(rest) > 3:
		d.out.WriteRune(d.page.DecodeByte(rest[3] | 0x80))
		d.pos += 4
	case d.has(`\P`) && len(rest) > 3 && rest[3] == '\\' && rest[2] >= 'A' && rest[2] <= 'I':
		d.page = pages[rest[2]-'A']
		d.pos += 4
	case d.has(`\X\`) && len(rest) >= 5:
		if r, ok := hex(rest[3:5]); ok {
			d.out.WriteRune(r)
		}
		d.pos += 5
	case d.has(`\X2\`):
		d.wide(4)
	case d.has(`\X4\`):
		d.wide(8)
	default:
		d.out.WriteByte('\\')
		d.pos++
	}
}

// pages are the parts of ISO 8859 that \PA\ to \PI\ choose.
var pages = [...]*charmap.Charmap{
	charmap.ISO8859_1, charmap.ISO8859_2, charmap.ISO8859_3, charmap.ISO8859_4, charmap.ISO8859_5,
	charmap.ISO8859_6, charmap.ISO8859_7, charmap.ISO8859_8, charmap.ISO8859_9,
}

// wide takes \X2\ or \X4\ with its characters of so many hexadecimal digits,
// up to \X0\.
func (d *decoder) wide(size int) {
	d.pos += len(`\X2\`)
	var units []uint16
	for len(d.in)-d.pos >= size && d.out.Len()+len(units) < d.most {
		r, ok := hex(d.in[d.pos : d.pos+size])
		if !ok {
			break
		}
		d.pos += size
		if size == 4 {
			units = append(units, uint16(r))
		} else {
			d.out.WriteRune(r)
		}
	}
	d.out.WriteString(string(utf16.Decode(units)))
	if d.has(`\X0\`) {
		d.pos += len(`\X0\`)
	}
}

func hex(digits []byte) (rune, bool) {
	var r uint32
	for _, c := range digits {
		switch {
		case c >= '0' && c <= '9':
			c -= '0'
		case c >= 'A' && c <= 'F':
			c -= 'A' - 10
		case c >= 'a' && c <= 'f':
			c -= 'a' - 10
		default:
			return 0, false
		}
		r = r<<4 | uint32(c)
	}
	return rune(r), true
}
