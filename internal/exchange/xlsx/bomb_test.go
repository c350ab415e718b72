package xlsx

import (
	"archive/zip"
	"bytes"
	"fmt"
	"runtime"
	"strings"
	"testing"
)

// packed packs the parts of a workbook.
func packed(t *testing.T, parts map[string]string) []byte {
	t.Helper()
	all := map[string]string{
		"[Content_Types].xml":        `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/></Types>`,
		"_rels/.rels":                `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
		"xl/workbook.xml":            `<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="A" sheetId="1" r:id="r1"/></sheets></workbook>`,
		"xl/_rels/workbook.xml.rels": `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`,
	}
	for name, text := range parts {
		all[name] = text
	}
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, text := range all {
		w, err := z.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write([]byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

const sheetHead = `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>`

func oneSheet(rows string) map[string]string {
	return map[string]string{"xl/worksheets/sheet1.xml": sheetHead + rows + `</sheetData></worksheet>`}
}

// Small files that would unpack to far more than memory holds are refused, and an
// honest one beside them is read.
func TestBombs(t *testing.T) {
	rows, err := Rows(packed(t, oneSheet(`<row r="2"><c r="B2" t="inlineStr"><is><t>CW75</t></is></c><c r="C2"><v>3.25</v></c></row>`)), "")
	if got := fmt.Sprint(rows); err != nil || got != "[[] [ CW75 3.25]]" {
		t.Fatalf("%s, %v", got, err)
	}
	var wide strings.Builder
	for i := range 2000 {
		fmt.Fprintf(&wide, `<row r="%d"><c r="XFD%d"><v>1</v></c></row>`, i+1, i+1)
	}
	// Ten levels of entities, each ten of the one before: the "billion laughs".
	laughs := `<!DOCTYPE w [<!ENTITY a "aaaaaaaaaa">`
	for c := 'b'; c <= 'j'; c++ {
		laughs += fmt.Sprintf(`<!ENTITY %c "%s">`, c, strings.Repeat(fmt.Sprintf("&%c;", c-1), 10))
	}
	entity := oneSheet(`<row r="1"><c r="A1" t="inlineStr"><is><t>&j;</t></is></c></row>`)
	entity["xl/worksheets/sheet1.xml"] = `<?xml version="1.0"?>` + laughs + `]>` + entity["xl/worksheets/sheet1.xml"]
	outside := oneSheet(`<row r="1"><c r="A1" t="inlineStr"><is><t>&x;</t></is></c></row>`)
	outside["xl/worksheets/sheet1.xml"] = `<?xml version="1.0"?><!DOCTYPE w [<!ENTITY x SYSTEM "file:///etc/passwd">]>` + outside["xl/worksheets/sheet1.xml"]
	for name, parts := range map[string]map[string]string{
		"unpacks to much": oneSheet(strings.Repeat(" ", maxUnpacked+1)),
		"wide rows":       oneSheet(wide.String()),
		"entities":        entity,
		"foreign file":    outside,
	} {
		t.Run(name, func(t *testing.T) {
			data := packed(t, parts)
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			rows, err := Rows(data, "")
			runtime.ReadMemStats(&after)
			if err == nil {
				t.Errorf("it was read: %.200q", fmt.Sprint(rows))
			}
			if used := (after.TotalAlloc - before.TotalAlloc) >> 20; used > 2048 {
				t.Errorf("%d MB were taken for %d kB", used, len(data)>>10)
			}
			t.Logf("%d kB: %v, %d MB taken", len(data)>>10, err, (after.TotalAlloc-before.TotalAlloc)>>20)
		})
	}
}
