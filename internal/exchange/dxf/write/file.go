package write

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"
)

// Handles that others refer to.
const (
	rootHandle  = 0xC
	modelHandle = 0x1F
	paperHandle = 0x1B
	firstFree   = 0x100
)

// file collects a drawing.
type file struct {
	entities strings.Builder
	blocks   strings.Builder // after the two of model and paper
	records  strings.Builder // of those blocks
	layers   map[string]layer
	handle   int
	drawn    int // dimension blocks
}

// layer is how a layer is drawn.
type layer struct {
	colour int // of the index
	weight int // in 1/100 mm
	off    bool
}

func newFile() *file { return &file{layers: map[string]layer{}, handle: firstFree} }

func (f *file) next() int { f.handle++; return f.handle }

// put appends groups, given as code and value in turn. Lengths are millimetres to
// 1/10000.
func put(b *strings.Builder, groups ...any) {
	for i := 0; i < len(groups); i += 2 {
		fmt.Fprintf(b, "%3d\n", groups[i])
		switch v := groups[i+1].(type) {
		case float64:
			b.WriteString(number(v))
		case string:
			b.WriteString(escaped(v))
		default:
			fmt.Fprint(b, v)
		}
		b.WriteByte('\n')
	}
}

func number(v float64) string {
	s := strings.TrimRight(strconv.FormatFloat(v, 'f', 4, 64), "0")
	if s == "-0." {
		s = "0."
	}
	if strings.HasSuffix(s, ".") {
		s += "0"
	}
	return s
}

// escaped writes characters beyond ASCII as \U+XXXX and keeps lines whole.
func escaped(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r < ' ':
			b.WriteByte(' ')
		case r < 127:
			b.WriteRune(r)
		case r <= 0xFFFF:
			fmt.Fprintf(&b, `\U+%04X`, r)
		default:
			b.WriteByte('?')
		}
	}
	return b.String()
}

func hex(handle int) string { return fmt.Sprintf("%X", handle) }

// entity begins an entity in the model space or in a block.
func (f *file) entity(b *strings.Builder, owner int, kind, on string, groups ...any) {
	put(b, 0, kind, 5, hex(f.next()), 330, hex(owner), 100, "AcDbEntity", 8, on)
	put(b, groups...)
}

func (f *file) line(b *strings.Builder, owner int, on string, p, q point) {
	f.entity(b, owner, "LINE", on, 100, "AcDbLine", 10, p.x, 20, p.y, 30, 0.0, 11, q.x, 21, q.y, 31, 0.0)
}

// arc draws an arc counter-clockwise, angles in degrees.
func (f *file) arc(on string, centre point, radius, from, to float64) {
	f.entity(&f.entities, modelHandle, "ARC", on, 100, "AcDbCircle", 10, centre.x, 20, centre.y, 30, 0.0, 40, radius, 100, "AcDbArc", 50, from, 51, to)
}

// outline draws a closed polyline, or an open one.
func (f *file) outline(on string, points []point, closed int) {
	f.entity(&f.entities, modelHandle, "LWPOLYLINE", on, 100, "AcDbPolyline", 90, len(points), 70, closed, 43, 0.0)
	for _, p := range points {
		put(&f.entities, 10, p.x, 20, p.y)
	}
}

// text writes a text with its middle at a point.
func (f *file) text(b *strings.Builder, owner int, on string, p point, height, degrees float64, text string) {
	f.entity(b, owner, "TEXT", on, 100, "AcDbText", 10, p.x, 20, p.y, 30, 0.0, 40, height, 1, text, 50, degrees, 72, 1, 11, p.x, 21, p.y, 31, 0.0, 100, "AcDbText", 73, 2)
}

// write puts the whole file out.
func (f *file) write(out io.Writer) error {
	var tables, b strings.Builder
	f.tables(&tables)
	put(&b, 0, "SECTION", 2, "HEADER", 9, "$ACADVER", 1, "AC1015", 9, "$DWGCODEPAGE", 3, "ANSI_1252", 9, "$HANDSEED", 5, hex(f.handle+1),
		9, "$INSUNITS", 70, 4, 9, "$MEASUREMENT", 70, 1, 0, "ENDSEC", 0, "SECTION", 2, "CLASSES", 0, "ENDSEC", 0, "SECTION", 2, "TABLES")
	b.WriteString(tables.String())
	put(&b, 0, "ENDSEC", 0, "SECTION", 2, "BLOCKS")
	space(&b, "*Model_Space", modelHandle, 0x20, 0)
	space(&b, "*Paper_Space", paperHandle, 0x1C, 1)
	b.WriteString(f.blocks.String())
	put(&b, 0, "ENDSEC", 0, "SECTION", 2, "ENTITIES")
	b.WriteString(f.entities.String())
	put(&b, 0, "ENDSEC", 0, "SECTION", 2, "OBJECTS", 0, "DICTIONARY", 5, hex(rootHandle), 330, 0, 100, "AcDbDictionary", 281, 1, 3, "ACAD_GROUP", 350, "D",
		0, "DICTIONARY", 5, "D", 330, hex(rootHandle), 100, "AcDbDictionary", 281, 1, 0, "ENDSEC", 0, "EOF")
	_, err := io.WriteString(out, b.String())
	return err
}

func space(b *strings.Builder, name string, record, handle, paper int) {
	put(b, 0, "BLOCK", 5, hex(handle), 330, hex(record), 100, "AcDbEntity", 67, paper, 8, "0", 100, "AcDbBlockBegin", 2, name, 70, 0, 10, 0.0, 20, 0.0, 30, 0.0, 3, name, 1, "")
	put(b, 0, "ENDBLK", 5, hex(handle+1), 330, hex(record), 100, "AcDbEntity", 67, paper, 8, "0", 100, "AcDbBlockEnd")
}

// tables writes the tables that the format asks for.
func (f *file) tables(b *strings.Builder) {
	table := func(name string, handle, entries int, groups ...any) {
		put(b, 0, "TABLE", 2, name, 5, hex(handle), 330, 0, 100, "AcDbSymbolTable", 70, entries)
		put(b, groups...)
	}
	end := func() { put(b, 0, "ENDTAB") }
	record := func(kind string, handle, owner int, class, name string, groups ...any) {
		code := 5
		if kind == "DIMSTYLE" {
			code = 105
		}
		put(b, 0, kind, code, hex(handle), 330, hex(owner), 100, "AcDbSymbolTableRecord", 100, class, 2, name)
		put(b, groups...)
	}
	table("VPORT", 8, 0)
	end()
	table("LTYPE", 5, 3)
	for i, name := range []string{"ByBlock", "ByLayer", "Continuous"} {
		record("LTYPE", 0x14+i, 5, "AcDbLinetypeTableRecord", name, 70, 0, 3, "", 72, 65, 73, 0, 40, 0.0)
	}
	end()
	table("LAYER", 2, len(f.layers)+1)
	record("LAYER", 0x10, 2, "AcDbLayerTableRecord", "0", 70, 0, 62, 7, 6, "Continuous")
	for _, name := range slices.Sorted(maps.Keys(f.layers)) {
		l := f.layers[name]
		colour := l.colour
		if l.off {
			colour = -colour
		}
		record("LAYER", f.next(), 2, "AcDbLayerTableRecord", name, 70, 0, 62, colour, 6, "Continuous", 370, l.weight)
	}
	end()
	table("STYLE", 3, 1)
	record("STYLE", 0x11, 3, "AcDbTextStyleTableRecord", "Standard", 70, 0, 40, 0.0, 41, 1.0, 50, 0.0, 71, 0, 42, 2.5, 3, "txt", 4, "")
	end()
	table("VIEW", 6, 0)
	end()
	table("UCS", 7, 0)
	end()
	table("APPID", 9, 1)
	record("APPID", 0x12, 9, "AcDbRegAppTableRecord", "ACAD", 70, 0)
	end()
	table("DIMSTYLE", 0xA, 1, 100, "AcDbDimStyleTable")
	record("DIMSTYLE", 0x27, 0xA, "AcDbDimStyleTableRecord", "Standard", 70, 0, 40, 1.0, 140, textHeight, 41, textHeight)
	end()
	table("BLOCK_RECORD", 1, f.drawn+2)
	record("BLOCK_RECORD", modelHandle, 1, "AcDbBlockTableRecord", "*Model_Space", 340, 0)
	record("BLOCK_RECORD", paperHandle, 1, "AcDbBlockTableRecord", "*Paper_Space", 340, 0)
	b.WriteString(f.records.String())
	end()
}
