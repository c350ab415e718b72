package xlsx_test

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"io"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"

	"nogging/internal/exchange/xlsx"
)

func book() *xlsx.Book {
	s := &xlsx.Sheet{Name: "Order: L0/L1", Heading: []string{"Order <1>", "second line"}, Columns: []xlsx.Column{
		{Head: "Product", Width: 20}, {Head: "Packs", Width: 8, Format: xlsx.Whole}, {Head: "Price", Width: 10, Format: xlsx.Two},
	}}
	from := s.Next()
	s.Add(xlsx.Text("=not a formula & such"), xlsx.Int(12), xlsx.Number("1234567890.10"))
	s.Add(xlsx.Text("b"), xlsx.Float(2.5, 1), xlsx.Number("0.90"))
	s.AddBold(xlsx.Text("Total"), xlsx.Cell{}, xlsx.Formula(xlsx.Sum(2, from, s.Next()-1), xlsx.Number("1234567891.00")))
	return &xlsx.Book{Title: "Book", Sheets: []*xlsx.Sheet{s, {Name: "Order: L0/L1", Columns: []xlsx.Column{{Head: "x", Width: 9}}}}}
}

// TestReadBack: another library reads the same texts, numbers to the last digit,
// types and formulas, and reckons the formula to the result that was stored.
func TestReadBack(t *testing.T) {
	var out bytes.Buffer
	if err := xlsx.Write(&out, book()); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(out.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]string{"Order- L0-L1", "Order- L0-L1 2"}, f.GetSheetList()); diff != "" {
		t.Error(diff)
	}
	sheet := f.GetSheetList()[0]
	raw := excelize.Options{RawCellValue: true}
	for cell, want := range map[string]string{"A1": "Order <1>", "A4": "=not a formula & such", "B4": "12", "C4": "1234567890.10", "C6": "1234567891.00"} {
		if got, err := f.GetCellValue(sheet, cell, raw); got != want || err != nil {
			t.Errorf("%s: %q (%v), want %q", cell, got, err, want)
		}
	}
	if got, _ := f.GetCellFormula(sheet, "C6"); got != "SUM(C4:C5)" {
		t.Errorf("formula %q", got)
	}
	if got, err := f.CalcCellValue(sheet, "C6", raw); got != "1234567891" || err != nil {
		t.Errorf("reckoned: %q (%v)", got, err)
	}
	if got, _ := f.GetCellType(sheet, "A4"); got != excelize.CellTypeInlineString {
		t.Errorf("type %v of a text", got)
	}
	areas := map[string]string{}
	for _, n := range f.GetDefinedName() {
		areas[n.Name+n.Scope] = n.RefersTo
	}
	if areas["_xlnm.Print_Area"+sheet] != "'Order- L0-L1'!$A$1:$C$6" || areas["_xlnm.Print_Titles"+sheet] != "'Order- L0-L1'!$3:$3" {
		t.Errorf("%v", areas)
	}
}

// TestWellFormed: every part is well-formed XML, and the same book gives the same
// bytes.
func TestWellFormed(t *testing.T) {
	var out, again bytes.Buffer
	if xlsx.Write(&out, book()) != nil || xlsx.Write(&again, book()) != nil || !bytes.Equal(out.Bytes(), again.Bytes()) {
		t.Fatal("two writings differ")
	}
	r, err := zip.NewReader(bytes.NewReader(out.Bytes()), int64(out.Len()))
	if err != nil {
		t.Fatal(err)
	}
	for _, part := range r.File {
		f, err := part.Open()
		if err != nil {
			t.Fatal(err)
		}
		d := xml.NewDecoder(f)
		for err == nil {
			_, err = d.Token()
		}
		if err != io.EOF {
			t.Errorf("%s: %v", part.Name, err)
		}
	}
}

func TestRows(t *testing.T) {
	var out bytes.Buffer
	if err := xlsx.Write(&out, book()); err != nil {
		t.Fatal(err)
	}
	rows, err := xlsx.Rows(out.Bytes(), "")
	if err != nil || len(rows) != 6 || rows[3][2] != "1234567890.10" {
		t.Errorf("%v %v", rows, err)
	}
	if _, err := xlsx.Rows([]byte("code;price"), ""); err == nil || !strings.Contains(err.Error(), "no workbook") {
		t.Errorf("%v", err)
	}
	if _, err := xlsx.Rows(out.Bytes(), "none"); err == nil {
		t.Error("a sheet that is not there was read")
	}
}

// TestDays: another library reads days and times as such, and narrow sheets stand
// upright, wide ones lie.
func TestDays(t *testing.T) {
	narrow := &xlsx.Sheet{Name: "a", Columns: []xlsx.Column{{Head: "day", Width: 12, Format: xlsx.Date}, {Head: "time", Width: 18, Format: xlsx.Time}}}
	day := time.Date(2027, 1, 11, 0, 0, 0, 0, time.UTC).Unix() / 86400
	narrow.Add(xlsx.Day(int(day)), xlsx.Minute(int(day)*1440+7*60+40))
	wide := &xlsx.Sheet{Name: "b", Columns: []xlsx.Column{{Head: "x", Width: 101}}}
	var out bytes.Buffer
	if err := xlsx.Write(&out, &xlsx.Book{Sheets: []*xlsx.Sheet{narrow, wide}}); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&out)
	if err != nil {
		t.Fatal(err)
	}
	for cell, want := range map[string]string{"A2": "2027-01-11", "B2": "2027-01-11 07:40"} {
		if got, err := f.GetCellValue("a", cell); got != want || err != nil {
			t.Errorf("%s is %q (%v), want %q", cell, got, err, want)
		}
	}
	for sheet, want := range map[string]string{"a": "portrait", "b": "landscape"} {
		if l, err := f.GetPageLayout(sheet); err != nil || *l.Orientation != want {
			t.Errorf("%s: %v, %v", sheet, *l.Orientation, err)
		}
	}
}
