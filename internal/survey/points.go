package survey

import (
	"strings"

	"nogging/internal/finding"
	"nogging/internal/table"
	"nogging/internal/words"
)

const headRow = "give a head row with x, y and z; level, on (floor, soffit or face) and point may stand beside them"

var fields = []table.Field{
	{Key: "point", Heads: []string{"point", "name", "no", "nr", "id", "number", "point id"}},
	{Key: "level", Heads: []string{"level", "storey", "floor level"}},
	{Key: "x", Heads: []string{"x", "e", "east", "easting"}, Needed: true, Fix: headRow},
	{Key: "y", Heads: []string{"y", "n", "north", "northing"}, Needed: true, Fix: headRow},
	{Key: "z", Heads: []string{"z", "h", "elevation", "height"}, Needed: true, Fix: headRow},
	{Key: "on", Heads: []string{"on", "surface", "code", "what"}},
}

// surfaces by the words that people have for them.
var surfaces = map[string]Surface{
	"": Unsaid, "floor": Floor, "slab": Floor, "screed": Floor, "ground": Floor,
	"soffit": Soffit, "ceiling": Soffit, "deck": Soffit,
	"face": Face, "wall": Face, "column": Face, "structure": Face, "facade": Face,
}

// Units are the units that coordinates without one may be in.
func Units() []string { return []string{"mm", "cm", "m", "in", "ft"} }

// Read reads measured points from the rows of a table with the columns x, y and z,
// and level, on (floor, soffit or face) and point where it has them. Coordinates are
// in the unit behind the heads in brackets, else in the given one, else millimetres.
// A row that cannot be read is a finding and is left out.
func Read(file string, rows []table.Row, unit string) ([]Point, finding.List) {
	t := table.Find(file, rows, fields)
	var points []Point
	for _, row := range t.Rows {
		p := Point{Name: t.Cell(row, "point"), Level: t.Cell(row, "level"), Place: t.Place(row, "x")}
		word := strings.ToLower(t.Cell(row, "on"))
		on, known := surfaces[word]
		if !known {
			t.Wrong(row, "on", p.Name, "survey-surface", words.F("%q is no surface that points are measured on", word), "write floor, soffit or face, or leave it empty")
			continue
		}
		p.On = on
		ok := true
		for _, c := range []struct {
			key string
			to  *Length
		}{{"x", &p.X}, {"y", &p.Y}, {"z", &p.Z}} {
			l, read := t.Length(row, c.key, unitOf(t, c.key, unit))
			ok = ok && read
			*c.to = l
		}
		if ok {
			points = append(points, p)
		} else if blank(row) {
			continue
		} else if len(t.Found) == 0 || t.Found[len(t.Found)-1].Place.Line != row.Number {
			t.Wrong(row, "x", p.Name, "survey-coordinate", "the point lacks a coordinate", "write x, y and z, or take the row out")
		}
	}
	return points, t.Found
}

func unitOf(t *table.Table, key, given string) string {
	if u := t.Unit(key); u != "" {
		return u
	}
	if given != "" {
		return given
	}
	return "mm"
}

func blank(row table.Row) bool {
	return strings.TrimSpace(strings.Join(row.Cells, "")) == ""
}
