// Package table reads tables that people already have, such as price lists,
// schedules and lists of measured points: rows of cells under a row of heads. It
// takes the rows of a CSV file or of a workbook's sheet, finds the columns by
// their heads, and says with file, row and column what is wrong with a cell.
// CSV is read as RFC 4180 has it, with semicolons, tabs and bars beside commas.
package table

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"nogging/internal/finding"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// Row is one row of a file with its number there, from 1.
type Row struct {
	Number int
	Cells  []string
}

// CSV reads the rows of a CSV file. The separator is what the first line has most
// of, unless it is given. What was read before an error is returned with it.
func CSV(data []byte, separator string) ([]Row, error) {
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	r := csv.NewReader(bytes.NewReader(data))
	r.FieldsPerRecord, r.LazyQuotes = -1, true
	head, _, _ := bytes.Cut(data, []byte("\n"))
	for _, c := range ";\t|" {
		if bytes.Count(head, []byte(string(c))) > bytes.Count(head, []byte(string(r.Comma))) {
			r.Comma = c
		}
	}
	if separator != "" {
		r.Comma = []rune(separator)[0]
	}
	var rows []Row
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			return rows, nil
		}
		if err != nil {
			return rows, err
		}
		line, _ := r.FieldPos(0)
		rows = append(rows, Row{line, cells})
	}
}

// Field is a column that a table may have.
type Field struct {
	Key    string
	Heads  []string // by which it is known, in small letters
	Needed bool
	Fix    words.Text // what would work where a needed column is missing
}

// Unknown lists, in order, what columns are given for that is none of the fields.
func Unknown(columns map[string]string, fields []Field) []string {
	keys := slices.Sorted(maps.Keys(columns))
	return slices.DeleteFunc(keys, func(key string) bool {
		return slices.ContainsFunc(fields, func(f Field) bool { return f.Key == key })
	})
}

// Table is the rows under a row of heads.
type Table struct {
	File  string
	Rows  []Row
	Found finding.List

	heads Row
	at    map[string]int
}

// Searched is how many rows are looked through for heads: tables begin with titles
// and addresses.
const Searched = 20

// SameHead reports whether two heads are the same but for case and unit.
func SameHead(a, b string) bool {
	x, _ := named(a)
	y, _ := named(b)
	return x == y
}

// Find takes the row with most of the heads for the head row. A head may have its
// unit behind it in brackets. What is missing is an error in Found, and then no row
// is given.
func Find(file string, rows []Row, fields []Field) *Table {
	t := &Table{File: file, at: map[string]int{}}
	if len(rows) == 0 {
		t.Found.Add(finding.Finding{Code: "list-empty", Severity: finding.Error, Place: finding.Place{File: file}, What: "the table has no rows", Fix: "give a table with a head row and a row for each thing"})
		return t
	}
	best := 0
	for i := range min(len(rows), Searched) {
		if at := columns(rows[i].Cells, fields); len(at) > len(t.at) {
			t.at, best = at, i
		}
	}
	t.heads = rows[best]
	t.Rows = rows[best+1:]
	for _, f := range fields {
		if _, ok := t.at[f.Key]; !ok && f.Needed {
			t.Rows = nil
			t.Found.Add(finding.Finding{Code: "list-column", Severity: finding.Error, Place: finding.Place{File: file, Line: t.heads.Number, Column: 1, Text: strings.Join(t.heads.Cells, " | ")},
				What: words.F("%s: no column is called %s", f.Key, strings.Join(f.Heads, ", ")), Fix: words.F("%s, where HEAD is one of: %s", f.Fix, heads(t.heads))})
		}
	}
	return t
}

// Called returns fields with what a person said their columns are called: such a column
// is then needed, and where the head is empty there is none.
func Called(fields []Field, columns map[string]string) []Field {
	list := slices.Clone(fields)
	for i, f := range list {
		said, ok := columns[f.Key]
		if !ok {
			continue
		}
		list[i].Heads = nil
		if head, _ := named(said); head != "" {
			list[i].Heads, list[i].Needed = []string{head}, true
			list[i].Fix = words.F("say what it is called: columns: {%s: HEAD}", f.Key)
		}
	}
	return list
}

// Match is a field that a table may have, and the head of the column that was taken for
// it; none if it has no such column.
type Match struct {
	Field string `json:"field"`
	Head  string `json:"head"`
}

// Matches returns which columns were taken for the fields.
func (t *Table) Matches(fields []Field) []Match {
	var list []Match
	for _, f := range fields {
		m := Match{Field: f.Key}
		if i, ok := t.at[f.Key]; ok {
			m.Head = strings.TrimSpace(t.heads.Cells[i])
		}
		list = append(list, m)
	}
	return list
}

// Heads returns the heads of the columns as they are written.
func (t *Table) Heads() []string {
	list := []string{}
	for _, cell := range t.heads.Cells {
		if head := strings.TrimSpace(cell); head != "" && !slices.Contains(list, head) {
			list = append(list, head)
		}
	}
	return list
}

func heads(row Row) string {
	full := slices.DeleteFunc(slices.Clone(row.Cells), func(s string) bool { return strings.TrimSpace(s) == "" })
	return fmt.Sprintf("%.200s", strings.Join(full, ", "))
}

func columns(cells []string, fields []Field) map[string]int {
	at := map[string]int{}
	for i, cell := range cells {
		name, _ := named(cell)
		for _, f := range fields {
			if _, taken := at[f.Key]; !taken && slices.Contains(f.Heads, name) {
				at[f.Key] = i
				break
			}
		}
	}
	return at
}

// named parts a head such as "X [m]" into its name and its unit.
func named(head string) (name, unit string) {
	name = strings.ToLower(strings.TrimSpace(head))
	for _, b := range []string{"[]", "()"} {
		if i := strings.IndexByte(name, b[0]); i >= 0 && strings.HasSuffix(name, b[1:]) {
			return strings.TrimSpace(name[:i]), strings.TrimSpace(name[i+1 : len(name)-1])
		}
	}
	return name, ""
}

// Has reports whether the table has a column.
func (t *Table) Has(key string) bool { _, ok := t.at[key]; return ok }

// Head returns the head by which a column was found, in small letters and without its
// unit.
func (t *Table) Head(key string) string {
	i, ok := t.at[key]
	if !ok {
		return ""
	}
	name, _ := named(t.heads.Cells[i])
	return name
}

// Unit returns the unit that stands behind a column's head; nothing if none does.
func (t *Table) Unit(key string) string {
	i, ok := t.at[key]
	if !ok {
		return ""
	}
	_, unit := named(t.heads.Cells[i])
	return unit
}

// Cell returns a row's cell, empty where the row or the table has none.
func (t *Table) Cell(row Row, key string) string {
	if i, ok := t.at[key]; ok && i < len(row.Cells) {
		return strings.TrimSpace(row.Cells[i])
	}
	return ""
}

// Wrong tells what is wrong with a cell.
func (t *Table) Wrong(row Row, key, object, code string, what, fix words.Text) {
	t.Found.Add(finding.Finding{Code: code, Severity: finding.Error, Object: object, Place: t.Place(row, key), What: what, Fix: fix})
}

// Place returns where a cell stands.
func (t *Table) Place(row Row, key string) finding.Place {
	return finding.Place{File: t.File, Line: row.Number, Column: t.at[key] + 1, Text: t.Cell(row, key)}
}

// Length reads a cell as a length, in the given unit as ParseLength does. False with no
// finding says that the cell is empty.
func (t *Table) Length(row Row, key, unit string) (quantity.Length, bool) {
	text := t.Cell(row, key)
	if text == "" {
		return 0, false
	}
	l, err := ParseLength(text, unit)
	if err != nil {
		t.Wrong(row, key, "", "cell-no-length", words.F("%s: %q is no length", key, text), "write a number, with its unit if it is another than the column's, such as 2.45 m")
		return 0, false
	}
	return l, true
}

// ParseLength reads a length as tables write it: in the given unit, millimetres if
// that is empty, unless it names its own; a decimal comma is taken for a point.
func ParseLength(text, unit string) (quantity.Length, error) {
	if !strings.Contains(text, ".") && strings.Count(text, ",") == 1 {
		text = strings.Replace(text, ",", ".", 1)
	}
	if strings.Trim(text, "+-.0123456789") == "" {
		text += " " + unit
	}
	return quantity.ParseLength(strings.TrimPrefix(text, "+"))
}
