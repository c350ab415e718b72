// Package hostile holds every reader of the program against files that are cut short,
// garbled, or made to do harm: each is answered, by a finding where nothing of it can be
// meant, never by a panic or with memory that such a file could not fairly ask for.
package hostile

import (
	"archive/zip"
	"bytes"
	"fmt"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"nogging/demo"
	"nogging/internal/app"
	"nogging/internal/catalogue"
	"nogging/internal/exchange/dxf"
	"nogging/internal/exchange/ifc"
	"nogging/internal/exchange/xlsx"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/price"
	"nogging/internal/programme"
	"nogging/internal/schedule"
	"nogging/internal/survey"
	"nogging/internal/table"
	"nogging/internal/variation"
	"nogging/internal/words"
)

// reader is one reader with real files that it takes. Read returns what it finds; an
// error is a finding, too.
type reader struct {
	name string
	real map[string][]byte
	read func(data []byte) finding.List
}

func told(err error) finding.List {
	if err == nil {
		return nil
	}
	return finding.List{{Severity: finding.Error, What: words.Of(err.Error())}}
}

// inTable reads a table and hands its rows on.
func inTable(of func([]table.Row) finding.List) func([]byte) finding.List {
	return func(data []byte) finding.List {
		rows, err := table.CSV(data, "")
		return append(told(err), of(rows)...)
	}
}

func file(t *testing.T, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("../../..", name))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// sample is a public sample; nothing where the samples are not there.
func sample(t *testing.T, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("../../../../shared/data/plans/open", name))
	if err != nil && os.Getenv("CI") != "" {
		t.Fatal(err)
	}
	if err != nil {
		t.Logf("%s is not there: read without it", name)
	}
	return data
}

func readers(t *testing.T) []reader {
	j, err := app.Open("../../../demo/clinic.yaml", os.ReadFile)
	if err != nil {
		t.Fatal(err)
	}
	j.Build(app.Quiet)
	export := func(name string) []byte {
		var out bytes.Buffer
		if err := j.Export(name, &out, app.ExportOptions{}); err != nil {
			t.Fatal(err)
		}
		return out.Bytes()
	}
	book := func() []byte {
		s := &xlsx.Sheet{Name: "Prices", Columns: []xlsx.Column{{Head: "code"}, {Head: "price"}, {Head: "unit"}}}
		for i := range 300 {
			s.Add(xlsx.Text(fmt.Sprint("CW", i)), xlsx.Int(i), xlsx.Text("m"))
		}
		var out bytes.Buffer
		if err := xlsx.Write(&out, &xlsx.Book{Sheets: []*xlsx.Sheet{s}}); err != nil {
			t.Fatal(err)
		}
		return out.Bytes()
	}
	inJSON, err := j.Plan.MarshalJSON()
	if err != nil {
		t.Fatal(err)
	}
	rates, _ := price.ReadRates("rates.yaml", file(t, "demo/prices/rates.yaml"))
	model, drawing := export("x.ifc"), export("x.dxf")
	return []reader{
		{"plan", map[string][]byte{"yaml": demo.Plan, "json": inJSON}, func(d []byte) finding.List { _, f := plan.Parse("x", d); return f }},
		{"edits", map[string][]byte{"json": inJSON}, func(d []byte) finding.List { _, err := plan.FromJSON(d); return told(err) }},
		{"catalogue", map[string][]byte{"yaml": []byte(ownCatalogue)}, func(d []byte) finding.List { _, f := catalogue.Parse("x", d); return f }},
		{"gangs", map[string][]byte{"demo": demo.Gangs, "starter": programme.Starter()}, func(d []byte) finding.List { _, f := programme.ReadSite("x", d); return f }},
		{"record", map[string][]byte{"demo": file(t, "demo/site/done.yaml")}, func(d []byte) finding.List { _, f := programme.ReadRecord("x", d); return f }},
		{"done", map[string][]byte{"yaml": []byte("delivered:\n  - {product: UW75, packs: 3}\n")}, func(d []byte) finding.List { _, _, f := variation.ReadDone("x", d); return f }},
		{"rates", map[string][]byte{"demo": file(t, "demo/prices/rates.yaml")}, func(d []byte) finding.List { _, f := price.ReadRates("x", d); return f }},
		{"columns", map[string][]byte{"yaml": []byte("columns: {wall: No}\nvalues: {fire: {F90: EI 90}}\nunit: cm\n")}, func(d []byte) finding.List { _, f := schedule.ReadColumns("x", d); return f }},
		{"layers", map[string][]byte{"yaml": []byte("unit: mm\nlayers:\n  - {layer: A-WALL, as: wall}\n")}, func(d []byte) finding.List { _, f := dxf.ParseMapping("x", d); return f }},
		{"prices", map[string][]byte{"demo": file(t, "demo/prices/prices.csv")}, inTable(func(rows []table.Row) finding.List {
			l := price.NewList()
			return l.Read("x", rows, rates, catalogue.Shipped())
		})},
		{"schedule", map[string][]byte{"csv": []byte("Wall no,Fire\nL0-01,EI 60\nL0-02,EI 30\n")}, inTable(func(rows []table.Row) finding.List {
			return schedule.Merge(j.Plan, "x", rows, &schedule.Columns{}).Findings
		})},
		{"survey", map[string][]byte{"csv": []byte("x,y,z,on\n0,0,0,floor\n4000,0,2700,soffit\n")}, inTable(func(rows []table.Row) finding.List {
			list := (&survey.Columns{}).Read("x", rows)
			return append(list.Findings, survey.Bend(j.Plan, list.Points, plan.Length(5_000_000)).Findings...)
		})},
		{"workbook", map[string][]byte{"xlsx": book()}, func(d []byte) finding.List { _, err := xlsx.Rows(d, ""); return told(err) }},
		{"model", map[string][]byte{"ours": model, "zipped": zipped(t, "x.ifc", model), "sample": sample(t, "ifc4x3_wall_door_column.ifc")}, func(d []byte) finding.List {
			d, f := ifc.Unpack("x", d)
			if ifc.Refused(f) {
				return f
			}
			_, _, f = ifc.Options{}.Read("x", d)
			return f
		}},
		{"drawing", map[string][]byte{"ours": drawing, "sample": sample(t, "dxf2013_barcelona_plan.dxf")}, func(d []byte) finding.List { _, _, f := dxf.Mapping{}.Read("x", d); return f }},
	}
}

const ownCatalogue = `catalogue: 1
boards:
  - {id: OWN-15, name: Own board, thickness: 15, standard: EN 520, type: A, edge: AK, mass: 12.5, width: 1250, lengths: [2500]}
`

func zipped(t *testing.T, name string, data []byte) []byte {
	t.Helper()
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	w, err := z.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.Write(data); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// harmful are files that no reader can take anything from.
func harmful(t *testing.T) map[string][]byte {
	var picture bytes.Buffer
	if err := png.Encode(&picture, image.NewGray(image.Rect(0, 0, 64, 64))); err != nil {
		t.Fatal(err)
	}
	laughs := "a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n"
	for i := range 12 { // each level ten of the one before: 10^13 in all
		laughs += fmt.Sprintf("a%d: &a%d [%s]\n", i+1, i+1, strings.TrimSuffix(strings.Repeat(fmt.Sprintf("*a%d, ", i), 10), ", "))
	}
	bytesOf := func(n int) []byte {
		out, state := make([]byte, n), uint32(1)
		for i := range out {
			state = state*1664525 + 1013904223
			out[i] = byte(state >> 24)
		}
		return out
	}
	return map[string][]byte{
		"zeros":            make([]byte, 1<<20),
		"noise":            bytesOf(1 << 20),
		"one long line":    bytes.Repeat([]byte("a"), 4<<20),
		"nested lists":     []byte("walls: " + strings.Repeat("[", 100_000)),
		"nested maps":      []byte("walls: " + strings.Repeat("{a: ", 20_000)),
		"nested json":      []byte(`{"walls":` + strings.Repeat(`[`, 100_000) + strings.Repeat(`]`, 100_000) + "}"),
		"nested blocks":    []byte("walls:\n" + deep(500)),
		"aliases":          []byte(laughs),
		"alias of itself":  []byte("a: &a [*a]\nwalls: *a\n"),
		"nested instances": []byte("ISO-10303-21;HEADER;ENDSEC;DATA;#1=IFCWALL(" + strings.Repeat("(", 100_000)),
		"open text":        []byte("ISO-10303-21;DATA;#1=IFCWALL('" + strings.Repeat("x", 1<<20)),
		"nested sections":  []byte(strings.Repeat("0\nSECTION\n2\nENTITIES\n", 50_000)),
		"huge number":      []byte("0\nSECTION\n2\nENTITIES\n0\nLINE\n10\n1" + strings.Repeat("0", 1<<16) + "\n"),
		"zip of zeros":     zipped(t, "x.ifc", make([]byte, 64<<20)),
		"zip of itself":    zipped(t, "a.zip", zipped(t, "b.ifc", nil)),
		"picture":          picture.Bytes(),
		"quotes":           bytes.Repeat([]byte(`"`), 1<<20+1),
	}
}

// deep is a mapping in a mapping, so many times, indented.
func deep(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.Repeat(" ", i+1) + "a:\n")
	}
	return b.String()
}

// fair is how much a reader may allocate in all for a file.
func fair(size int) uint64 { return 256<<20 + 400*uint64(size) }

// TestReaders: real files that are cut at each sixteenth, or of which each sixteenth is
// overwritten, are read as far as they go; what cannot be meant is told.
func TestReaders(t *testing.T) {
	bad := harmful(t)
	for _, r := range readers(t) {
		t.Run(r.name, func(t *testing.T) {
			take := func(what string, data []byte) finding.List {
				var before, after runtime.MemStats
				runtime.ReadMemStats(&before)
				found := r.read(data)
				runtime.ReadMemStats(&after)
				if used := after.TotalAlloc - before.TotalAlloc; used > fair(len(data)) {
					t.Errorf("%s: %d MB were allocated for %d kB", what, used>>20, len(data)>>10)
				}
				return found
			}
			for name, data := range r.real {
				if data == nil {
					continue
				}
				for _, f := range take(name, data) {
					if f.Severity == finding.Error {
						t.Errorf("%s: %v", name, f)
					}
				}
				for i := range 16 {
					from, to := len(data)*i/16, len(data)*(i+1)/16
					take(fmt.Sprintf("%s, %d/16 of it", name, i), data[:from])
					garbled := bytes.Clone(data)
					copy(garbled[from:to], bad["noise"])
					take(fmt.Sprintf("%s, %d/16 overwritten", name, i+1), garbled)
				}
			}
			for name, data := range bad {
				if found := take(name, data); !found.NeedsPerson() {
					t.Errorf("%s is taken without a word: %v", name, found)
				}
			}
		})
	}
}
