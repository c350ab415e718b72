package app_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"
	"testing"

	"nogging/internal/app"
	"nogging/internal/finding"
)

// files is a file system of texts.
type files map[string]string

func (f files) read(name string) ([]byte, error) {
	text, ok := f[name]
	if !ok {
		return nil, fs.ErrNotExist
	}
	return []byte(text), nil
}

const planText = `nogging: 1
practice: metric
catalogue: [ours.yaml]
overrides: {stud_spacing: 400}
levels:
  - {id: L0, clear_height: 2750}
buildups:
  - id: ours
    frame: {kind: single, stud: CW75}
    face_a: [OUR-12]
walls:
  - {id: L0-01, level: L0, line: [[0, 0], [4000, 0]], buildup: ours, start: free}
`

const ourCatalogue = `boards:
  - {id: OUR-12, name: Board of ours, standard: EN 520, type: A, thickness: 12, width: 1200, lengths: [2500, 3000], mass: 9, edge: tapered}
`

func open(t *testing.T, f files) *app.Job {
	t.Helper()
	j, err := app.Open("plans/house.yaml", f.read)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

func codes(found finding.List) []string {
	var list []string
	for _, f := range found {
		list = append(list, f.Code)
	}
	return list
}

func TestUserCatalogueIsMerged(t *testing.T) {
	j := open(t, files{"plans/house.yaml": planText, "plans/ours.yaml": ourCatalogue})
	j.Build(app.Quiet)
	if j.Findings.NeedsPerson() {
		t.Fatal(j.Findings)
	}
	if got := j.Layout.Walls[0].Faces[0].Layers[0].Board; got != "OUR-12" {
		t.Errorf("boards: %s", got)
	}
	if j.Practice.StudSpacing.Value.MM() != 400 || j.Practice.StudSpacing.Status != "entered by user" {
		t.Errorf("spacing: %+v", j.Practice.StudSpacing)
	}
}

func TestMissingCatalogue(t *testing.T) {
	j := open(t, files{"plans/house.yaml": planText})
	if got := codes(j.Findings); !slices.Contains(got, "catalogue-unread") {
		t.Errorf("findings: %v", got)
	}
	j.Build(app.Quiet) // the wall lacks its boards and is left out; nothing else fails
	if len(j.Layout.Walls) != 0 {
		t.Errorf("walls laid out: %d", len(j.Layout.Walls))
	}
}

func TestNoFile(t *testing.T) {
	if _, err := app.Open("none.yaml", files{}.read); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("error: %v", err)
	}
}

// What layout finds about a wall is placed at the wall in the file, and nothing
// is told twice.
func TestFindingsHavePlaces(t *testing.T) {
	j := open(t, files{"plans/house.yaml": planText, "plans/ours.yaml": ourCatalogue})
	j.Build(app.Quiet)
	i := slices.IndexFunc(j.Findings, func(f finding.Finding) bool { return f.Code == "end-free" })
	if i < 0 || j.Findings[i].Place.Line != 12 || j.Findings[i].Place.File != "plans/house.yaml" {
		t.Fatalf("findings: %+v", j.Findings)
	}
	seen := map[string]bool{}
	for _, f := range j.Findings {
		if seen[f.String()] {
			t.Errorf("told twice: %s", f)
		}
		seen[f.String()] = true
	}
}

// memory is a folder in memory; fail names a file that cannot be made.
type memory struct {
	made map[string]*bytes.Buffer
	fail string
}

var errFull = errors.New("disk full")

func (m *memory) Create(name string) (io.WriteCloser, error) {
	if name == m.fail {
		return nil, errFull
	}
	m.made[name] = &bytes.Buffer{}
	return closer{m.made[name]}, nil
}

func (m *memory) ClearDrawings(dir string) error {
	for name := range m.made {
		if strings.HasPrefix(name, dir+"/") {
			delete(m.made, name)
		}
	}
	return nil
}

type closer struct{ io.Writer }

func (closer) Close() error { return nil }

func TestWrite(t *testing.T) {
	j := open(t, files{"plans/house.yaml": planText, "plans/ours.yaml": ourCatalogue})
	j.Build(app.Quiet)
	out := &memory{made: map[string]*bytes.Buffer{"walls/L0-99.svg": {}}} // of an earlier build
	n, err := j.Write(out, app.Quiet)
	if err != nil || n != len(out.made) {
		t.Fatalf("%d files, %d made, %v", n, len(out.made), err)
	}
	var result struct {
		Walls []struct {
			ID      string `json:"id"`
			Members []struct {
				Mark string `json:"mark"`
			} `json:"members"`
			Takeoff []any `json:"takeoff"`
		} `json:"walls"`
	}
	if err := json.Unmarshal(out.made["result.json"].Bytes(), &result); err != nil {
		t.Fatal(err)
	}
	if len(result.Walls) != 1 || result.Walls[0].Members[0].Mark == "" || len(result.Walls[0].Takeoff) == 0 {
		t.Errorf("result: %+v", result)
	}
	if !bytes.HasPrefix(out.made["pack.pdf"].Bytes(), []byte("%PDF-")) {
		t.Error("pack.pdf is no PDF")
	}
	if !strings.Contains(out.made["set-out/L0.svg"].String(), "L0-01") {
		t.Error("the set-out plan does not name the wall")
	}
}

// The sheets of one wall do not take the place of another wall's.
func TestSheetsKeepApart(t *testing.T) {
	text := strings.ReplaceAll(planText, "[ours.yaml]", "[]")
	text = strings.ReplaceAll(text, "OUR-12", "GKB-12.5")
	text = strings.Replace(text, "[[0, 0], [4000, 0]]", "[[0, 0], [60000, 0]]", 1) + `
  - {id: L0-01-1, level: L0, line: [[0, 3000], [4000, 3000]], buildup: ours}
  - {id: L0-01_sheet1, level: L0, line: [[0, 6000], [4000, 6000]], buildup: ours}
`
	j := open(t, files{"plans/house.yaml": text})
	j.Build(app.Quiet)
	out := &memory{made: map[string]*bytes.Buffer{}}
	if n, err := j.Write(out, app.Quiet); err != nil || n != len(out.made) {
		t.Errorf("%d files written, %d kept, %v", n, len(out.made), err)
	}
	if out.made["walls/L0-01_sheet2.svg"] == nil {
		t.Error("the long wall has one sheet")
	}
}

// Of two walls that cross is told once, with which of them runs through.
func TestCrossingIsToldOnce(t *testing.T) {
	text := strings.Replace(planText, "walls:", `walls:
  - {id: L0-02, level: L0, line: [[2000, -2000], [2000, 2000]], buildup: ours, require: {fire: EI 90}}`, 1)
	j := open(t, files{"plans/house.yaml": text, "plans/ours.yaml": ourCatalogue})
	j.Build(app.Quiet)
	var said []string
	for _, f := range j.Findings {
		if f.Code == "walls-cross" || f.Code == "wall-interrupted" {
			said = append(said, string(f.Severity)+" "+f.Object+" "+f.What.String())
		}
	}
	if len(said) != 1 || !strings.HasPrefix(said[0], "warning L0-01 the wall crosses L0-02") ||
		!strings.HasSuffix(said[0], "; L0-02 is taken to run through and L0-01 to stop on both sides of it") {
		t.Errorf("%q", said)
	}
}

func TestNotProven(t *testing.T) {
	for walls, want := range []string{"", "requirements of 1 wall are shown on its sheets", "requirements of 2 walls are shown on their sheets"} {
		text := planText
		for i := range walls {
			text += fmt.Sprintf("  - {id: L0-1%d, level: L0, line: [[0, %d], [4000, %d]], buildup: ours, require: {fire: EI 30}}\n", i, 1000+i, 1000+i)
		}
		j := open(t, files{"plans/house.yaml": text, "plans/ours.yaml": ourCatalogue})
		j.Build(app.Quiet)
		i := slices.IndexFunc(j.Findings, func(f finding.Finding) bool { return f.Code == "not-proven" })
		if want == "" && i >= 0 || want != "" && (i < 0 || !strings.HasPrefix(j.Findings[i].What.String(), want)) {
			t.Errorf("%d walls: %v", walls, j.Findings)
		}
	}
}

func TestWriteFails(t *testing.T) {
	j := open(t, files{"plans/house.yaml": planText, "plans/ours.yaml": ourCatalogue})
	j.Build(app.Quiet)
	for _, name := range []string{"result.json", "takeoff.csv", "set-out/L0.svg", "pack.pdf"} {
		if _, err := j.Write(&memory{made: map[string]*bytes.Buffer{}, fail: name}, app.Quiet); !errors.Is(err, errFull) {
			t.Errorf("%s: error %v", name, err)
		}
	}
}
