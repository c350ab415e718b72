package write

import (
	"bufio"
	"crypto/sha1"
	"encoding/binary"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf16"

	"nogging/internal/plan"
)

// value is an argument of an entity, as it is written.
type value interface{ step() string }

// Arguments by the productions of ISO 10303-21.
type (
	ref     int    // an entity; 0 is none
	word    string // as it stands
	text    string
	enum    string
	integer int
	real    float64
	list    []value
)

const (
	null    word = "$"
	derived word = "*"
)

func (r ref) step() string {
	if r == 0 {
		return "$"
	}
	return "#" + strconv.Itoa(int(r))
}
func (w word) step() string    { return string(w) }
func (e enum) step() string    { return "." + string(e) + "." }
func (i integer) step() string { return strconv.Itoa(int(i)) }

// step writes a real, which always has a point.
func (r real) step() string {
	s := strconv.FormatFloat(float64(r), 'f', -1, 64)
	if !strings.Contains(s, ".") {
		s += "."
	}
	return s
}

func (l list) step() string {
	var b strings.Builder
	b.WriteByte('(')
	for i, v := range l {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString(v.step())
	}
	b.WriteByte(')')
	return b.String()
}

// step writes a string: printable ASCII as it is, everything else as UTF-16 in hex.
func (t text) step() string {
	var b strings.Builder
	b.WriteByte('\'')
	var wide []uint16
	flush := func() {
		if len(wide) > 0 {
			b.WriteString(`\X2\`)
			for _, u := range wide {
				fmt.Fprintf(&b, "%04X", u)
			}
			b.WriteString(`\X0\`)
			wide = wide[:0]
		}
	}
	for _, r := range string(t) {
		if r < ' ' || r > '~' {
			wide = utf16.AppendRune(wide, r)
			continue
		}
		flush()
		if r == '\'' || r == '\\' {
			b.WriteRune(r)
		}
		b.WriteRune(r)
	}
	flush()
	b.WriteByte('\'')
	return b.String()
}

// typed is a value of a defined type, as property sets want them.
type typed struct {
	of string
	value
}

func (t typed) step() string { return t.of + "(" + t.value.step() + ")" }

// optional is a text, or nothing where it is empty.
func optional(s string) value {
	if s == "" {
		return null
	}
	return text(s)
}

// name is a text, or another where it is empty.
func name(s, other string) value {
	if s == "" {
		return text(other)
	}
	return text(s)
}

// file numbers and writes entities one after the other. Small ones that many use
// (points, directions) are written once.
type file struct {
	out  *bufio.Writer
	last ref
	same map[string]ref
}

func newFile(out io.Writer) *file {
	return &file{out: bufio.NewWriterSize(out, 1<<16), same: map[string]ref{}}
}

func (f *file) header(date, schema string) {
	fmt.Fprintf(f.out, "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(('ViewDefinition [ReferenceView_V1.2]'),'2;1');\n")
	fmt.Fprintf(f.out, "FILE_NAME('',%s,(''),(''),'nogging','nogging','');\nFILE_SCHEMA((%s));\nENDSEC;\nDATA;\n", text(date).step(), text(schema).step())
}

// end closes the file and returns the first error of writing.
func (f *file) end() error {
	f.out.WriteString("ENDSEC;\nEND-ISO-10303-21;\n")
	return f.out.Flush()
}

func (f *file) add(entity string, args ...value) ref {
	f.last++
	f.out.WriteString(f.last.step())
	f.out.WriteByte('=')
	f.out.WriteString(entity)
	f.out.WriteString(list(args).step())
	f.out.WriteString(";\n")
	return f.last
}

// shared adds an entity, or finds the one that is the same.
func (f *file) shared(entity string, args ...value) ref {
	key := entity + list(args).step()
	r, ok := f.same[key]
	if !ok {
		r = f.add(entity, args...)
		f.same[key] = r
	}
	return r
}

func (f *file) point(at ...float64) ref     { return f.shared("IFCCARTESIANPOINT", reals(at...)) }
func (f *file) direction(at ...float64) ref { return f.shared("IFCDIRECTION", reals(at...)) }

func reals(at ...float64) list {
	l := make(list, len(at))
	for i, v := range at {
		l[i] = real(v)
	}
	return l
}

// GlobalID makes an identifier of 22 characters of what names a thing. The same names
// give the same identifier (a name-based UUID, RFC 9562 version 5, in the base 64 of
// IfcGloballyUniqueId).
func GlobalID(names ...string) string {
	sum := sha1.Sum([]byte("nogging\x00" + strings.Join(names, "\x00")))
	id := sum[:16]
	id[6], id[8] = id[6]&0x0f|0x50, id[8]&0x3f|0x80
	const digits = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$"
	out := []byte{digits[id[0]>>6], digits[id[0]&0x3f]}
	for i := 1; i < 16; i += 3 {
		n := binary.BigEndian.Uint32([]byte{0, id[i], id[i+1], id[i+2]})
		out = append(out, digits[n>>18], digits[n>>12&0x3f], digits[n>>6&0x3f], digits[n&0x3f])
	}
	return string(out)
}

// ID is the identifier in a plan's model of what names it there, such as "wall" and the
// wall's mark; "opening" with the marks of wall and opening; "structure", "room" and
// "storey" with theirs; "project".
func ID(p *plan.Plan, names ...string) string {
	return GlobalID(append([]string{p.Project.Number, p.Project.Name}, names...)...)
}

func (w *writer) id(names ...string) value { return text(ID(w.Plan, names...)) }
