package dxf

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"nogging/internal/plan"
)

// script writes a file as text: groups as code and value in turn.
func script(groups ...any) []byte {
	var b strings.Builder
	for i := 0; i < len(groups); i += 2 {
		fmt.Fprintf(&b, "%3v\r\n%v\r\n", groups[i], groups[i+1])
	}
	return []byte(b.String())
}

// entities wraps entities into the least file that R12 allows.
func entities(groups ...any) []byte {
	return script(append(append([]any{0, "SECTION", 2, "ENTITIES"}, groups...), 0, "ENDSEC", 0, "EOF")...)
}

// blocks wraps blocks and entities.
func blocks(defined []any, placed ...any) []byte {
	all := append([]any{0, "SECTION", 2, "BLOCKS"}, defined...)
	all = append(all, 0, "ENDSEC", 0, "SECTION", 2, "ENTITIES")
	return script(append(append(all, placed...), 0, "ENDSEC", 0, "EOF")...)
}

func line(layer string, x0, y0, x1, y1 float64) []any {
	return []any{0, "LINE", 8, layer, 10, x0, 20, y0, 11, x1, 21, y1}
}

func same(p, q vec) bool { return p.dist(q) < 1e-9 }

// Each case draws one segment; where it lies follows from the reference's rules for
// object coordinates, inserts and arrays, worked out by hand.
func TestPlacing(t *testing.T) {
	unit := append([]any{0, "BLOCK", 2, "B", 10, 1, 20, 0}, append(line("0", 1, 0, 3, 0), 0, "ENDBLK")...) // from its base point to (2, 0)
	nested := append(unit, 0, "BLOCK", 2, "C", 10, 0, 20, 0, 0, "INSERT", 2, "b", 8, "0", 10, 10, 20, 0, 50, 90, 0, "ENDBLK")
	for _, c := range []struct {
		name string
		data []byte
		last segment
		n    int
	}{
		{"line", entities(line("W", 1, 2, 3, 4)...), segment{ink{layer: "W"}, vec{1, 2}, vec{3, 4}, 0, false}, 1},
		{"scaled and turned", blocks(unit, 0, "INSERT", 2, "B", 8, "W", 10, 5, 20, 5, 41, 2, 42, 3, 50, 90), segment{ink{"W", "B"}, vec{5, 5}, vec{5, 9}, 0, false}, 1},
		{"mirrored", blocks(unit, 0, "INSERT", 2, "B", 8, "W", 10, 5, 20, 5, 41, -1), segment{ink{"W", "B"}, vec{5, 5}, vec{3, 5}, 0, false}, 1},
		{"extrusion downwards", blocks(unit, 0, "INSERT", 2, "B", 8, "W", 10, 5, 20, 5, 230, -1), segment{ink{"W", "B"}, vec{-5, 5}, vec{-7, 5}, 0, false}, 1},
		{"array", blocks(unit, 0, "INSERT", 2, "B", 8, "W", 10, 0, 20, 0, 70, 3, 71, 2, 44, 10, 45, 20), segment{ink{"W", "B"}, vec{20, 20}, vec{22, 20}, 0, false}, 6},
		{"nested", blocks(nested, 0, "INSERT", 2, "C", 8, "W", 10, 100, 20, 0, 41, 2, 42, 2), segment{ink{"W", "b"}, vec{120, 0}, vec{120, 4}, 0, false}, 1},
		{"polyline", entities(0, "LWPOLYLINE", 8, "W", 70, 1, 10, 0, 20, 0, 10, 4, 20, 0, 10, 4, 20, 3), segment{ink{layer: "W"}, vec{4, 3}, vec{0, 0}, 0, false}, 3},
		{"old polyline", entities(0, "POLYLINE", 8, "W", 66, 1, 0, "VERTEX", 10, 1, 20, 1, 0, "VERTEX", 10, 2, 20, 1, 0, "SEQEND"), segment{ink{layer: "W"}, vec{1, 1}, vec{2, 1}, 0, false}, 1},
		{"remark", entities(append([]any{999, "a remark"}, line("W", 0, 0, 1, 0)...)...), segment{ink{layer: "W"}, vec{0, 0}, vec{1, 0}, 0, false}, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := parse(c.data).draw()
			if len(d.segments) != c.n {
				t.Fatalf("%d segments, want %d", len(d.segments), c.n)
			}
			if got := d.segments[c.n-1]; got.ink != c.last.ink || !same(got.a, c.last.a) || !same(got.b, c.last.b) {
				t.Errorf("got %v, want %v", got, c.last)
			}
		})
	}
}

// The bulge is the tangent of a quarter of the angle, to the left where positive: 1 is
// a half circle, which from (0, 0) to (2, 0) runs below.
func TestBulge(t *testing.T) {
	for _, c := range []struct {
		bulge  float64
		middle vec
	}{{1, vec{1, -1}}, {-1, vec{1, 1}}, {math.Tan(math.Pi / 8), vec{1, 1 - math.Sqrt2}}} {
		a := bulged(vec{0, 0}, vec{2, 0}, c.bulge)
		if !same(a.at(0), vec{0, 0}) || !same(a.at(1), vec{2, 0}) || !same(a.at(0.5), c.middle) {
			t.Errorf("bulge %g runs %v, %v, %v", c.bulge, a.at(0), a.at(0.5), a.at(1))
		}
	}
}

func TestMirroredArcSweepsTheOtherWay(t *testing.T) {
	data := entities(0, "ARC", 8, "D", 10, 1, 20, 0, 40, 2, 50, 0, 51, 90, 230, -1)
	c := parse(data).draw().curves[0]
	if !same(c.centre, vec{-1, 0}) || !same(c.at(0), vec{-3, 0}) || !same(c.at(1), vec{-1, 2}) || c.sweep >= 0 {
		t.Errorf("got %+v", c)
	}
}

func TestHatchOutlines(t *testing.T) {
	data := entities(0, "HATCH", 8, "W", 10, 0, 20, 0, 30, 0, 2, "SOLID", 70, 1, 91, 2,
		92, 2, 72, 0, 73, 1, 93, 3, 10, 0, 20, 0, 10, 4, 20, 0, 10, 4, 20, 3, 97, 0,
		92, 1, 93, 3, 72, 1, 10, 9, 20, 9, 11, 8, 21, 9, 72, 1, 10, 8, 20, 9, 11, 8, 21, 8, 72, 1, 10, 8, 20, 8, 11, 9, 21, 9, 97, 0, 75, 0, 76, 1, 98, 1, 10, 1, 20, 1)
	rings := parse(data).draw().rings
	if len(rings) != 2 || len(rings[0].points) != 3 || len(rings[1].points) != 3 || !rings[0].filled || rings[1].points[1] != (vec{8, 9}) {
		t.Errorf("got %+v", rings)
	}
}

// Layers that are off or frozen, paper space and Defpoints show nothing.
func TestUnseen(t *testing.T) {
	data := script(0, "SECTION", 2, "TABLES", 0, "TABLE", 2, "LAYER", 0, "LAYER", 2, "OFF", 62, -7, 70, 0, 0, "LAYER", 2, "COLD", 62, 7, 70, 1, 0, "ENDTAB", 0, "ENDSEC",
		0, "SECTION", 2, "ENTITIES", 0, "LINE", 8, "OFF", 11, 1, 0, "LINE", 8, "COLD", 11, 1, 0, "LINE", 8, "defpoints", 11, 1,
		0, "LINE", 8, "SHEET", 67, 1, 11, 1, 0, "LINE", 8, "SEEN", 11, 1, 0, "REGION", 8, "SEEN", 0, "ENDSEC", 0, "EOF")
	d := parse(data).draw()
	if len(d.segments) != 1 || d.unseen != 2 || d.paper != 1 || d.unknown["REGION"] != 1 {
		t.Errorf("%d segments, %d unseen, %d of paper space, unknown %v", len(d.segments), d.unseen, d.paper, d.unknown)
	}
}

// Bytes of the code pages by the Unicode consortium's mapping tables; the layer name
// 壁 in Shift-JIS is 95 C7.
func TestText(t *testing.T) {
	for _, c := range []struct{ page, in, want string }{
		{"ANSI_1252", "T\xfcr", "Tür"}, {"ANSI_1251", "\xd1\xf2\xe5\xed\xe0", "Стена"}, {"ANSI_932", "\x95\xc7", "壁"}, {"", "\x95\xc7", "壁"},
		{"UNDEFINED", "T\xc3\xbcr", "Tür"}, {"ANSI_1252", `T\U+00FCr`, "Tür"}, {"ANSI_1252", `\M+195C7`, "壁"}, {"dos850", "T\x81r", "Tür"},
	} {
		if got := decode(c.in, codePage(c.page)); got != c.want {
			t.Errorf("%s %q gives %q, want %q", c.page, c.in, got, c.want)
		}
	}
	for in, want := range map[string]string{
		`{\fArial|b0|i0;ROOM\P12}`: "ROOM 12", `3'-4\S1/2;"`: `3'-4 1/2"`, "%%uHALL": "HALL", `\A1;\H0.7x;Flur`: "Flur", `a\\b`: `a\b`,
	} {
		if got := plain(in); got != want {
			t.Errorf("%q gives %q, want %q", in, got, want)
		}
	}
}

// encoded writes groups as a binary file; wide as since R13.
func encoded(text []byte, wide bool) []byte {
	tags, _ := readTags(text)
	var b bytes.Buffer
	b.WriteString(binarySentinel)
	for _, g := range tags {
		if wide {
			_ = binary.Write(&b, binary.LittleEndian, uint16(g.code))
		} else {
			b.WriteByte(byte(g.code))
		}
		switch {
		case g.code >= 10 && g.code < 60:
			_ = binary.Write(&b, binary.LittleEndian, g.float())
		case g.code >= 60 && g.code < 80:
			_ = binary.Write(&b, binary.LittleEndian, int16(g.int()))
		default:
			b.WriteString(g.text)
			b.WriteByte(0)
		}
	}
	return b.Bytes()
}

func TestBinarySaysTheSame(t *testing.T) {
	text := entities(append(line("W", 1.5, 2, -3, 4), 0, "INSERT", 2, "B", 62, -5)...)
	want := parse(text)
	for _, wide := range []bool{false, true} {
		got := parse(encoded(text, wide))
		if len(got.entities) != 2 || got.entities[0].float(11) != -3 || got.entities[0].get(8).text != "W" || got.entities[1].int(62) != -5 || got.broken != want.broken {
			t.Errorf("wide %v: got %+v", wide, got.entities)
		}
	}
}

// A block that places itself, and blocks that each place the next one many times, come
// to an end.
func TestHostileBlocks(t *testing.T) {
	var deep []any
	for i := range 40 {
		deep = append(deep, 0, "BLOCK", 2, fmt.Sprint("B", i))
		for range 20 {
			deep = append(deep, 0, "INSERT", 8, "0", 2, fmt.Sprint("B", i+1), 70, 100, 71, 100)
		}
		deep = append(deep, 0, "ENDBLK")
	}
	for name, data := range map[string][]byte{
		"itself": blocks([]any{0, "BLOCK", 2, "A", 0, "INSERT", 2, "A", 8, "0", 0, "ENDBLK"}, 0, "INSERT", 2, "A", 8, "0"),
		"many":   blocks(deep, 0, "INSERT", 2, "B0", 8, "0", 70, 30000, 71, 30000),
	} {
		if d := parse(data).draw(); len(d.segments) != 0 || name == "many" && !d.full {
			t.Errorf("%s: %d segments, full %v", name, len(d.segments), d.full)
		}
	}
}

// The samples hold as many entities as ezdxf 0.18.1 counts in their model space
// (SOURCES.md beside them; blocks of the R12 file by virtual_entities).
func TestSampleCounts(t *testing.T) {
	for _, c := range []struct {
		file                 string
		lines, arcs, circles int
	}{
		{"dxf2013_barcelona_plan.dxf", 954, 69, 188},
		{"dxfR12_barcelona_in_blocks.dxf", 3988, 0, 0},
	} {
		data, err := os.ReadFile(filepath.Join("..", "..", "..", "..", "shared", "data", "plans", "open", c.file))
		if err != nil && os.Getenv("CI") != "true" {
			t.Skipf("the sample drawings are not there: %v", err)
		}
		d := parse(data).draw()
		if len(d.segments) != c.lines || len(d.curves) != c.arcs || len(d.rings) != c.circles {
			t.Errorf("%s: %d lines, %d arcs, %d circles; want %d, %d, %d", c.file, len(d.segments), len(d.curves), len(d.rings), c.lines, c.arcs, c.circles)
		}
	}
}

// room draws a room of 100 mm walls, 4 by 3 m inside, in a unit of so many mm, with a
// door of 900 in its lower wall and its name inside.
func room(unit float64) []any {
	var all []any
	for _, l := range [][4]float64{
		{0, 0, 1000, 0}, {1900, 0, 4200, 0}, {100, 100, 1000, 100}, {1900, 100, 4100, 100}, {1000, 0, 1000, 100}, {1900, 0, 1900, 100},
		{4200, 0, 4200, 3200}, {4100, 100, 4100, 3100}, {4200, 3200, 0, 3200}, {4100, 3100, 100, 3100}, {0, 3200, 0, 0}, {100, 3100, 100, 100},
	} {
		all = append(all, line("A-WALL", l[0]/unit, l[1]/unit, l[2]/unit, l[3]/unit)...)
	}
	all = append(all, 0, "ARC", 8, "A-DOOR", 10, 1000/unit, 20, 100/unit, 40, 900/unit, 50, 0, 51, 90)
	return append(all, 0, "TEXT", 8, "A-TEXT", 10, 2000/unit, 20, 1500/unit, 40, 250/unit, 1, "OFFICE")
}

// Whatever the unit and however the header contradicts it, the same room is found.
func TestRoom(t *testing.T) {
	for _, u := range units {
		t.Run(u.name, func(t *testing.T) {
			p, stats, _ := Mapping{}.Read("room.dxf", entities(room(u.mm)...))
			if stats.Unit != u.name || len(p.Walls) != 4 || len(p.Rooms) != 1 || stats.Openings != 1 {
				t.Fatalf("unit %s, %d walls, %d rooms, %d openings", stats.Unit, len(p.Walls), len(p.Rooms), stats.Openings)
			}
			for _, w := range p.Walls {
				if math.Abs(w.Thickness.MM()-100) > 0.1 {
					t.Errorf("%s is %s thick", w.ID, w.Thickness)
				}
				for _, o := range w.Openings {
					if o.Kind != plan.Door || math.Abs(o.Width.MM()-900) > 0.1 || math.Abs(o.At.MM()-950) > 0.1 {
						t.Errorf("opening %+v", o)
					}
				}
			}
			if r := p.Rooms[0]; r.Name != "OFFICE" || math.Abs(r.Area().SquareMetres()-12) > 0.01 {
				t.Errorf("room %q of %.2f m2", r.Name, r.Area().SquareMetres())
			}
		})
	}
}

// What somebody says of layers and unit goes before everything else, and survives its
// file.
func TestMapping(t *testing.T) {
	m := Mapping{Unit: "cm", Layers: []LayerRole{{"A-WALL", Other}}}
	text, err := m.Marshal()
	if err != nil {
		t.Fatal(err)
	}
	back, found := ParseMapping("layers.yaml", text)
	if len(found) > 0 || back.Unit != m.Unit || len(back.Layers) != 1 || back.Layers[0] != m.Layers[0] {
		t.Fatalf("%s\ngave %+v, %v", text, back, found)
	}
	_, stats, _ := back.Read("room.dxf", entities(room(1)...))
	if stats.Unit != "cm" || stats.Layers[0].As != Other {
		t.Errorf("read as %+v", stats.Mapping())
	}
	if _, found := ParseMapping("layers.yaml", []byte("unit: yd\nlayers:\n  - {layer: A, as: wal}\n")); len(found) != 2 {
		t.Errorf("findings %v", found)
	}
}

func TestRefused(t *testing.T) {
	for _, text := range []string{"", "ISO-10303-21;", "%PDF-1.4\n", "0\nSECTION", binarySentinel, binarySentinel + "\x00\x00SEC"} {
		if _, _, found := (Mapping{}).Read("x.dxf", []byte(text)); !Refused(found) {
			t.Errorf("%q was read", text)
		}
	}
}

// FuzzRead feeds broken drawings to the reader: it must end and give a plan that can
// be written.
func FuzzRead(f *testing.F) {
	whole := blocks(append([]any{0, "BLOCK", 2, "R"}, append(room(1), 0, "ENDBLK")...), 0, "INSERT", 2, "R", 8, "0", 41, 0.001, 42, 0.001, 50, 30,
		0, "LWPOLYLINE", 8, "COLUMN", 70, 1, 10, 0, 20, 0, 42, 1, 10, 4, 20, 0, 10, 4, 20, 3, 0, "DIMENSION", 8, "D", 42, 2.5, 1, "8' 2\"",
		0, "HATCH", 8, "A-WALL", 91, 1, 92, 2, 72, 0, 73, 1, 93, 3, 10, 0, 20, 0, 10, 400, 20, 0, 10, 400, 20, 300)
	f.Add(whole)
	f.Add(blocks([]any{0, "BLOCK", 2, "A", 70, 0, 0, "INSERT", 2, "B", 70, 1000000000, 71, 1000000000, 0, "ENDBLK", 0, "BLOCK", 2, "B", 0, "INSERT", 2, "A", 0, "ENDBLK", 0, "BLOCK", 2, "X", 70, 4, 1, "grid.dwg", 0, "ENDBLK"},
		0, "INSERT", 2, "A", 41, -2, 42, 3, 230, -1, 0, "INSERT", 2, "X", 0, "INSERT", 2, "GONE", 0, "LINE", 8, "W", 10, "NaN", 20, "1e999",
		0, "SPLINE", 71, 3, 40, 0, 40, 0, 40, 0, 40, 0, 40, 1, 40, 1, 40, 1, 40, 1, 41, 0, 10, 0, 20, 0, 10, 1, 20, 2, 10, 3, 20, 2, 10, 4, 20, 0,
		0, "ELLIPSE", 10, 1, 20, 2, 11, 3, 21, 4, 40, 0.5, 41, 5, 42, 1, 0, "MLINE", 71, 2, 11, 0, 21, 0, 13, 0, 23, 1, 74, 2, 41, 0, 74, 1, 41, 9, 11, 5, 21, 0, 13, 1, 23, 1, 74, 1, 41, 3,
		0, "LWPOLYLINE", 8, "W", 43, 100, 70, 1, 10, 0, 20, 0, 40, 5, 10, 4, 20, 0, 0, "HATCH", 91, 2, 92, 1, 93, 2, 72, 3, 10, 0, 20, 0, 11, 1, 21, 0, 40, 0.5, 50, 0, 51, 360, 73, 1, 72, 4, 94, 3, 73, 0, 74, 0, 95, 2, 96, 2, 40, 0, 40, 1, 10, 0, 20, 0, 10, 1, 20, 1,
		0, "TEXT", 8, "T", 1, "RH %%c2,70 m \\U+00DF UK +2.50", 0, "TEXT", 1, "OK -0.10"))
	f.Add(encoded(entities(room(25.4)...), true))
	f.Add(encoded(entities(room(1000)...), false))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, _, _ := Mapping{}.Read("fuzz.dxf", data)
		if _, err := plan.Marshal(p, ""); err != nil {
			t.Fatal(err)
		}
	})
}

// Columns are closed outlines, crosses of lines and filled squares; what is long is
// none, and what lies in one place counts once.
func TestColumns(t *testing.T) {
	square := func(kind any, layer string, x float64) []any {
		return []any{0, "LWPOLYLINE", 8, layer, 70, kind, 10, x, 20, 0, 10, x + 300, 20, 0, 10, x + 300, 20, 300, 10, x, 20, 300}
	}
	cross := append(line("COLUMNS", 5000, 0, 5300, 0), line("COLUMNS", 5300, 0, 5150, 200)...)
	all := append(square(1, "COLUMNS", 0), square(1, "COLUMNS", 100)...)
	all = append(append(all, cross...), 0, "SOLID", 8, "WALL", 10, 9000, 20, 0, 11, 9400, 21, 0, 12, 9000, 22, 400, 13, 9400, 23, 400)
	all = append(all, 0, "CIRCLE", 8, "FURNITURE", 10, 7000, 20, 0, 40, 200, 0, "CIRCLE", 8, "COLUMNS", 10, 12000, 20, 0, 40, 200)
	_, stats, _ := Mapping{Unit: "mm"}.Read("columns.dxf", entities(all...))
	if stats.Columns != 4 {
		t.Errorf("%d columns, want 4", stats.Columns)
	}
}

// Dimensions are rounded for people; that does not hide the unit. In a drawing in
// inches that calls itself millimetres they say which is right.
func TestDimensionsTellTheUnit(t *testing.T) {
	header := script(0, "SECTION", 2, "HEADER", 9, "$INSUNITS", 70, 4, 0, "ENDSEC")
	all := append(line("WALL", 0, 0, 100, 0), line("WALL", 0, 4.5, 100, 4.5)...)
	for range 3 {
		all = append(all, 0, "DIMENSION", 8, "D", 42, 100.03, 1, `8'-4"`)
	}
	_, stats, found := Mapping{}.Read("feet.dxf", append(header, entities(all...)...))
	if stats.Unit != "in" || !strings.Contains(fmt.Sprint(found), "the header says mm") {
		t.Errorf("unit %s, %v", stats.Unit, found)
	}
}

// A room that the drawing outlines is taken as it is drawn, and not found a second time.
func TestOutlinedRoom(t *testing.T) {
	all := append(room(1), 0, "LWPOLYLINE", 8, "A-ROOM", 70, 1, 10, 100, 20, 100, 10, 4100, 20, 100, 10, 4100, 20, 3100, 10, 100, 20, 3100)
	p, _, _ := Mapping{}.Read("room.dxf", entities(all...))
	if len(p.Rooms) != 1 || p.Rooms[0].Name != "OFFICE" || p.Rooms[0].Found {
		t.Errorf("got %+v", p.Rooms)
	}
}

// Attributes of inserts are words of the drawing, invisible ones and their definitions
// are not.
func TestAttributes(t *testing.T) {
	data := blocks([]any{0, "BLOCK", 2, "TAG", 0, "ATTDEF", 8, "0", 1, "NAME?", 2, "N", 0, "ENDBLK"},
		0, "INSERT", 2, "TAG", 8, "R", 66, 1, 10, 5, 20, 5, 0, "ATTRIB", 8, "R", 10, 5, 20, 6, 1, "STORE", 2, "N", 70, 0, 0, "ATTRIB", 8, "R", 1, "hidden", 2, "X", 70, 1, 0, "SEQEND")
	labels := parse(data).draw().labels
	if len(labels) != 1 || labels[0].text != "STORE" || labels[0].at != (vec{5, 6}) {
		t.Errorf("got %+v", labels)
	}
}

// Lines of a finish within a wall do not make two of it: the thickness that the drawing
// has most of is taken, and what ends short of a line by a few millimetres goes on.
func TestLinesWithinWalls(t *testing.T) {
	var all []any
	for i := range 4 {
		y := float64(i) * 3000
		all = append(all, line("WALL", 0, y, 5000, y)...)
		all = append(all, line("WALL", 0, y+150, 2500, y+150)...)
		all = append(all, line("WALL", 2503, y+150, 5000, y+150)...)
	}
	all = append(all, line("WALL", 0, 90, 5000, 90)...)
	p, _, _ := Mapping{Unit: "mm"}.Read("finish.dxf", entities(all...))
	if len(p.Walls) != 4 {
		t.Fatalf("%d walls, want 4", len(p.Walls))
	}
	for _, w := range p.Walls {
		if w.Thickness != length(150) || w.Length() != length(5000) {
			t.Errorf("%s is %s thick and %s long", w.ID, w.Thickness, w.Length())
		}
	}
}

// A wall between two arcs about one centre is curved: start, middle and end of its
// centre line follow from radius 3000 and a quarter turn.
func TestCurvedWall(t *testing.T) {
	arc := func(radius float64) []any {
		return []any{0, "ARC", 8, "WALL", 10, 0, 20, 0, 40, radius, 50, 350, 51, 80}
	}
	all := append(arc(2950), arc(3050)...)
	p, _, _ := Mapping{Unit: "mm"}.Read("curved.dxf", entities(append(all, arc(4000)...)...))
	if len(p.Walls) != 1 {
		t.Fatalf("%d walls", len(p.Walls))
	}
	w := p.Walls[0]
	for i, c := range []struct {
		got     plan.Pt
		degrees float64
	}{{w.Line[0], -10}, {*w.Via, 35}, {w.Line[1], 80}} {
		if want := pt(polar(3000, radians(c.degrees))); c.got != want {
			t.Errorf("point %d lies at %v, want %v", i, c.got, want)
		}
	}
	if w.Thickness != length(100) {
		t.Errorf("%s thick", w.Thickness)
	}
}
