package xlsx

import (
	"bytes"
	"testing"
)

// FuzzRows: whatever a workbook holds, as an archive or in its parts, reading it ends
// with rows or an error.
func FuzzRows(f *testing.F) {
	s := &Sheet{Name: "Prices", Heading: []string{"Prices"}, Columns: []Column{{Head: "Code", Width: 9}, {Head: "Price", Width: 9, Format: Two}}}
	s.Add(Text("CW75"), Number("1.63"))
	s.AddBold(Text("Total"), Formula(Sum(1, 3, 3), Number("1.63")))
	var book bytes.Buffer
	if err := Write(&book, &Book{Title: "Prices", Sheets: []*Sheet{s}}); err != nil {
		f.Fatal(err)
	}
	f.Add(book.Bytes(), "", "", "")
	f.Add([]byte{}, s.xml(), "", "Prices")
	f.Add([]byte{}, sheetHead+`<row r="300"><c r="AB300" t="s"><v>1</v></c></row></sheetData><mergeCells><mergeCell ref="A1:B2"/></mergeCells></worksheet>`, `<sst xmlns="`+mainSpace+`" count="1"><si><r><t>a</t></r></si></sst>`, "A")
	f.Add([]byte{}, sheetHead+`<row><c><f>SUM(A1)</f><v>1e9999</v></c><c r="A0"><v>-</v></c><c t="d"><v>2027-01-11</v></c></row></sheetData></worksheet>`, "", "A")
	f.Fuzz(func(t *testing.T, data []byte, sheet, strings, name string) {
		if len(data) == 0 {
			data = packed(t, map[string]string{"xl/worksheets/sheet1.xml": sheet, "xl/sharedStrings.xml": strings})
		}
		rows, err := Rows(data, name)
		if err != nil && rows != nil {
			t.Errorf("rows and %v", err)
		}
	})
}
