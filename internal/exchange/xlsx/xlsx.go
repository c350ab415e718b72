// Package xlsx writes workbooks of tables as Office Open XML (ECMA-376,
// SpreadsheetML), and reads the first sheet of one as rows of text.
//
// Cells are typed: text, numbers in decimal notation as they are given, never
// rounded through a float, days and times, and formulas with their result, so that a
// reader that does not reckon shows the same as one that does. Each sheet has a print
// area and fits a page in width, upright where it is narrow; its head row is repeated on
// every page and stays in view. The same book
// gives the same bytes.
package xlsx

import (
	"archive/zip"
	"cmp"
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Book is a workbook.
type Book struct {
	Title  string
	Sheets []*Sheet
}

// Sheet is one table with a heading above it.
type Sheet struct {
	Name    string   // shortened and made unique when it is written
	Heading []string // lines above the table
	Columns []Column
	rows    []row
}

// Column is one column of a sheet.
type Column struct {
	Head   string
	Width  float64 // in characters
	Format Format
}

// Format is how numbers of a column are shown.
type Format int

// The formats.
const (
	General Format = iota
	Whole          // 1,234
	Two            // 1,234.56
	Four           // 1,234.5678
	Date           // 2027-01-11
	Time           // 2027-01-11 07:30
)

// Cell is one cell; the zero Cell is empty.
type Cell struct {
	text, number, formula string
}

// Text returns a cell of text.
func Text(s string) Cell { return Cell{text: s} }

// Number returns a cell of a number in decimal notation, such as "12.50".
func Number(decimal string) Cell { return Cell{number: decimal} }

// Float returns a cell of a measured number, to so many decimals; -1: to as many as it has.
func Float(v float64, decimals int) Cell {
	return Cell{number: strconv.FormatFloat(v, 'f', decimals, 64)}
}

// Int returns a cell of a whole number.
func Int(n int) Cell { return Cell{number: strconv.Itoa(n)} }

// epoch is 1 January 1970 in days as spreadsheets count them, from 30 December 1899.
const epoch = 25569

// Day returns a cell of a day, given as days since 1 January 1970.
func Day(days int) Cell { return Int(epoch + days) }

// Minute returns a cell of a time, given as minutes since 1 January 1970 began.
func Minute(minutes int) Cell { return Float(epoch+float64(minutes)/(24*60), -1) }

// Formula returns a cell of a formula, without the equals sign, with its result.
func Formula(formula string, result Cell) Cell {
	result.formula = formula
	return result
}

type row struct {
	cells []Cell
	bold  bool
}

// Next returns the number, from 1, of the row that is added next.
func (s *Sheet) Next() int { return len(s.Heading) + 2 + len(s.rows) }

// Add adds a row.
func (s *Sheet) Add(cells ...Cell) { s.rows = append(s.rows, row{cells: cells}) }

// AddBold adds a row of totals or a heading within the table.
func (s *Sheet) AddBold(cells ...Cell) { s.rows = append(s.rows, row{cells, true}) }

// At names the cell of a column, from 0, in a row, from 1: B7.
func At(column, row int) string { return letters(column) + strconv.Itoa(row) }

// Sum returns the formula that sums a column over rows.
func Sum(column, from, to int) string {
	return "SUM(" + At(column, from) + ":" + At(column, to) + ")"
}

func letters(column int) string {
	s := ""
	for n := column; n >= 0; n = n/26 - 1 {
		s = string(rune('A'+n%26)) + s
	}
	return s
}

// Write writes the book. A sheet without rows is written with its head.
func Write(out io.Writer, b *Book) error {
	w := zip.NewWriter(out)
	names := sheetNames(b.Sheets)
	file := func(name, content string) error {
		f, err := w.Create(name)
		if err == nil {
			_, err = io.WriteString(f, xml.Header+content)
		}
		return err
	}
	parts := [][2]string{
		{"[Content_Types].xml", contentTypes(len(b.Sheets))},
		{"_rels/.rels", packageRelations},
		{"docProps/core.xml", coreProperties(b.Title)},
		{"xl/workbook.xml", workbook(b.Sheets, names)},
		{"xl/_rels/workbook.xml.rels", workbookRelations(len(b.Sheets))},
		{"xl/styles.xml", styles()},
	}
	for i, s := range b.Sheets {
		parts = append(parts, [2]string{fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1), s.xml()})
	}
	for _, p := range parts {
		if err := file(p[0], p[1]); err != nil {
			return err
		}
	}
	return w.Close()
}

// maxSheetName is how long a sheet's name may be.
const maxSheetName = 31

// sheetNames returns names that spreadsheets accept, each once.
func sheetNames(sheets []*Sheet) []string {
	used := map[string]bool{}
	names := make([]string, len(sheets))
	for i, s := range sheets {
		base := strings.Map(func(r rune) rune {
			if strings.ContainsRune(`[]:*?/\'`, r) || r < ' ' {
				return '-'
			}
			return r
		}, cmp.Or(strings.TrimSpace(s.Name), "Sheet"))
		name := clip(base, maxSheetName)
		for n := 2; used[strings.ToLower(name)]; n++ {
			suffix := fmt.Sprintf(" %d", n)
			name = clip(base, maxSheetName-len(suffix)) + suffix
		}
		used[strings.ToLower(name)] = true
		names[i] = name
	}
	return names
}

func clip(s string, n int) string {
	for utf8.RuneCountInString(s) > n {
		_, size := utf8.DecodeLastRuneInString(s)
		s = s[:len(s)-size]
	}
	return s
}

// escape makes text safe in XML.
func escape(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a Builder takes everything
	return b.String()
}
