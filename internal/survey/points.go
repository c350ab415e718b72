package survey

import (
	"slices"
	"strings"

	"nogging/internal/finding"
	"nogging/internal/table"
	"nogging/internal/words"
	"nogging/internal/yamlfile"
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

// Columns is what a person said once about a list of points.
type Columns struct {
	Columns   map[string]string `json:"columns,omitempty"`   // what the list calls point, level, x, y, z and on
	Unit      string            `json:"unit,omitempty"`      // of coordinates that give none; mm if left out
	Sheet     string            `json:"sheet,omitempty"`     // of a workbook; the first if left out
	Separator string            `json:"separator,omitempty"` // of a CSV file; found by its head row if left out
}

// ReadColumns reads the file that remembers what the columns of lists of points are.
func ReadColumns(file string, data []byte) (*Columns, finding.List) {
	c := &Columns{}
	places, found := yamlfile.Decode(file, data, c)
	var wrong finding.List
	for _, key := range table.Unknown(c.Columns, fields) {
		wrong.Add(finding.Finding{Code: "survey-field", Severity: finding.Error, Path: "columns." + key, What: words.F("points have no field %q", key), Fix: "take one of point, level, x, y, z, on"})
	}
	if c.Unit != "" && !slices.Contains(Units(), c.Unit) {
		wrong.Add(finding.Finding{Code: "survey-unit", Severity: finding.Error, Path: "unit", What: words.F("there is no unit %q", c.Unit), Fix: words.F("give one of %s", strings.Join(Units(), ", "))})
		c.Unit = ""
	}
	places.Fill(wrong)
	return c, append(found, wrong...)
}

// List is what was read of a list of points.
type List struct {
	Points   []Point
	Heads    []string      // of its columns
	Columns  []table.Match // which of them were taken for what
	Findings finding.List
}

// Read reads measured points from the rows of a table with the columns x, y and z,
// and level, on (floor, soffit or face) and point where it has them. Coordinates are
// in the unit behind the heads in brackets, else in the one that was said, else
// millimetres. A row that cannot be read is a finding and is left out.
func (c *Columns) Read(file string, rows []table.Row) List {
	t := table.Find(file, rows, table.Called(fields, c.Columns))
	list := List{Heads: t.Heads(), Columns: t.Matches(fields)}
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
		for _, x := range []struct {
			key string
			to  *Length
		}{{"x", &p.X}, {"y", &p.Y}, {"z", &p.Z}} {
			l, read := t.Length(row, x.key, unitOf(t, x.key, c.Unit))
			ok = ok && read
			*x.to = l
		}
		if ok {
			list.Points = append(list.Points, p)
		} else if blank(row) {
			continue
		} else if len(t.Found) == 0 || t.Found[len(t.Found)-1].Place.Line != row.Number {
			t.Wrong(row, "x", p.Name, "survey-coordinate", "the point lacks a coordinate", "write x, y and z, or take the row out")
		}
	}
	list.Findings = t.Found
	return list
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
