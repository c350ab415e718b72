package app_test

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

var cached = regexp.MustCompile(`(</f>)<v>[^<]*</v>`)

// unreckoned returns a workbook without the results that stand beside its formulas.
func unreckoned(t *testing.T, book []byte) []byte {
	t.Helper()
	r, err := zip.NewReader(bytes.NewReader(book), int64(len(book)))
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, part := range r.File {
		in, err := part.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(in)
		if err != nil {
			t.Fatal(err)
		}
		to, err := w.Create(part.Name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := to.Write(cached.ReplaceAll(text, []byte("$1"))); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// office has LibreOffice open files and save them as something else, in a folder.
func office(t *testing.T, to string, files map[string][]byte) string {
	t.Helper()
	if _, err := exec.LookPath("soffice"); err != nil {
		missing(t, "LibreOffice is not installed (Debian: apt install libreoffice-calc-nogui)")
	}
	dir := t.TempDir()
	args := []string{"-env:UserInstallation=file://" + filepath.Join(dir, "user"), "--headless", "--convert-to", to, "--outdir", filepath.Join(dir, "out")}
	for name, data := range files {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		args = append(args, path)
	}
	if out, err := exec.Command("soffice", args...).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return filepath.Join(dir, "out")
}

// TestOfficeReckons: LibreOffice reckons every formula of every workbook to the result
// that was stored with it and taken away before; and it shows days as days,
// times to the minute of the scheduler's slots.
func TestOfficeReckons(t *testing.T) {
	_, _, made := clinicBid(t)
	books := map[string][]byte{"deliveries.xlsx": clinicProgramme(t)["deliveries.xlsx"].Bytes()}
	for _, name := range []string{"order.xlsx", "bid.xlsx", "cost.xlsx"} {
		books[name] = made[name].Bytes()
	}
	bare := map[string][]byte{}
	for name, data := range books {
		bare[name] = unreckoned(t, data)
	}
	// All sheets, as values, comma-separated, UTF-8.
	out := office(t, "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1", bare)
	for name, data := range books {
		f, err := excelize.OpenReader(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		formulas := 0
		for _, sheet := range f.GetSheetList() {
			text, err := os.ReadFile(filepath.Join(out, strings.TrimSuffix(name, ".xlsx")+"-"+sheet+".csv"))
			if err != nil {
				t.Fatal(err)
			}
			r := csv.NewReader(bytes.NewReader(text))
			r.FieldsPerRecord = -1
			rows, err := r.ReadAll()
			if err != nil {
				t.Fatal(err)
			}
			formulas += sameResults(t, f, sheet, rows)
		}
		if formulas < 20 {
			t.Errorf("%s has only %d formulas", name, formulas)
		}
	}
	if text, err := os.ReadFile(filepath.Join(out, "deliveries-Deliveries.csv")); err != nil || !regexp.MustCompile(`,"2027-01-\d\d","2027-01-\d\d",L0[^\n]*,"2027-01-\d\d \d\d:\d[05]:00",`).Match(text) {
		t.Errorf("days are not shown as days: %v\n%.300s", err, text)
	}
}

// sameResults compares formulas' results with what another program reckoned, and
// returns how many there are.
func sameResults(t *testing.T, f *excelize.File, sheet string, reckoned [][]string) (formulas int) {
	t.Helper()
	rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	for r := range rows {
		for c := range rows[r] {
			cell, _ := excelize.CoordinatesToCellName(c+1, r+1)
			if formula, _ := f.GetCellFormula(sheet, cell); formula == "" {
				continue
			}
			formulas++
			want, err := strconv.ParseFloat(rows[r][c], 64)
			got, err2 := strconv.ParseFloat(reckoned[r][c], 64)
			if err != nil || err2 != nil || math.Abs(got-want) > 2e-3 {
				t.Errorf("%s!%s is %q, LibreOffice has %q", sheet, cell, rows[r][c], reckoned[r][c])
			}
		}
	}
	return formulas
}
