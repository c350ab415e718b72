package document_test

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"nogging/internal/catalogue"
	"nogging/internal/cut"
	"nogging/internal/cut/boards"
	"nogging/internal/document"
	"nogging/internal/drawing/sheets"
	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

const mm = quantity.Millimetre

// project is invented: levels of equal walls in rows, each with a door.
func project(levels, walls int) document.Input {
	p := &plan.Plan{Practice: "metric", Project: plan.Project{Name: "Harbour clinic", Number: "2704", Revision: "B"},
		BuildUps: []plan.BuildUp{{ID: "P1", Frame: plan.FrameSpec{Kind: plan.Single, Stud: "CW75"}, FaceA: []string{"GKB-12.5", "GKB-12.5"},
			Insulation: []plan.Insulation{{Product: "MW-60"}}}}}
	for l := range levels {
		id := fmt.Sprintf("L%d", l)
		p.Levels = append(p.Levels, plan.Level{ID: id, ClearHeight: 2750 * mm})
		for i := range walls {
			x, y := quantity.Length(i%10)*5000*mm, quantity.Length(i/10)*3000*mm
			p.Walls = append(p.Walls, plan.Wall{ID: fmt.Sprintf("%s-%02d", id, i+1), Level: id, BuildUp: "P1",
				Line:     []plan.Pt{{X: x, Y: y}, {X: x + 4200*mm, Y: y}},
				Openings: []plan.Opening{{Kind: plan.Door, At: 1350 * mm, Width: 885 * mm, Height: 2010 * mm, LeafMass: 25}}})
		}
	}
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID("metric")
	return document.Input{Input: sheets.Input{Plan: p, Catalogue: cat, Practice: pr, Layout: layout.Of(p, cat, pr)}}
}

func full(levels, walls int) document.Input {
	in := project(levels, walls)
	for i := range 60 {
		row := document.Row{Group: fmt.Sprintf("group %d", i/20), Code: fmt.Sprintf("CODE-%d", i), Description: "what it is", Unit: "m", Total: float64(i)}
		for range levels {
			row.PerLevel = append(row.PerLevel, float64(i)/float64(levels))
		}
		in.TakeOff = append(in.TakeOff, row)
		in.Findings.Add(finding.Finding{Severity: finding.Severities()[i%4], Object: fmt.Sprintf("L0-%02d", i), What: words.Text(strings.Repeat("something is so and so ", 8)), Fix: "do this"})
	}
	return in
}

func pack(t testing.TB, in document.Input) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := document.Pack(&b, in, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestDeterministic(t *testing.T) {
	in := full(3, 7)
	if !bytes.Equal(pack(t, in), pack(t, in)) {
		t.Error("the same input gave different bytes")
	}
}

// TestPages counts the pages that the file itself declares: a wall more is as many
// pages more as it has sheets, whatever the cover and the schedules take.
func TestPages(t *testing.T) {
	pages := func(walls int) (all, drawn int) {
		in := full(1, walls)
		set := sheets.New(in.Input)
		drawn = len(set.Level("L0")) + len(set.Details())
		for _, w := range in.Layout.Walls {
			drawn += len(set.Wall(w))
		}
		return pageCount(t, pack(t, in)), drawn
	}
	few, fewDrawn := pages(2)
	many, manyDrawn := pages(3)
	if many-few != manyDrawn-fewDrawn {
		t.Errorf("%d pages with 2 walls and %d with 3, whose drawings are %d and %d", few, many, fewDrawn, manyDrawn)
	}
	if few < fewDrawn+3 {
		t.Errorf("%d pages, of which %d are drawings: cover, list of sheets or schedules are missing", few, fewDrawn)
	}
}

// A pack of one part has that part's pages and no other's: together they make up the
// whole pack.
func TestParts(t *testing.T) {
	in := full(2, 4)
	o := boards.Options{}
	zones, err := boards.Plan(context.Background(), in.Layout.Walls, in.Catalogue, in.Practice, o)
	if err != nil {
		t.Fatal(err)
	}
	in.Cutting = &document.Cutting{Options: o}
	for i, z := range cut.Zones(context.Background(), in.Layout.Walls, in.Catalogue, cut.Yard{}) {
		in.Cutting.Zones = append(in.Cutting.Zones, document.CutZone{ID: z.ID, Bars: z.Profiles, Boards: zones[i].Boards})
	}
	whole := pageCount(t, pack(t, in))
	in.Parts = []document.Part{"none"}
	front := pageCount(t, pack(t, in))
	sum := front
	for _, p := range document.Parts() {
		in.Parts = []document.Part{p}
		n := pageCount(t, pack(t, in)) - front
		if none := p == document.PartProofs || p == document.PartMasonry; (n == 0) != none {
			t.Errorf("%s: %d pages", p, n)
		}
		sum += n
	}
	if sum != whole {
		t.Errorf("the parts have %d pages, the whole pack %d", sum, whole)
	}
}

// TestLinks: every line of the list of sheets leads to a page of the file (ISO
// 32000-1, 12.5.6.5).
func TestLinks(t *testing.T) {
	in := full(1, 3)
	file := pack(t, in)
	dest := regexp.MustCompile(`/Subtype/Link[^>]*/Dest\[(\d+) 0 R/Fit\]`).FindAllSubmatch(file, -1)
	if want := 1 + 1 + 1 + 3 + 2; len(dest) != want {
		t.Errorf("%d links, want %d: the set-out plan, the finish schedule, details, three walls, take-off and findings", len(dest), want)
	}
	for _, m := range dest {
		if !bytes.Contains(file, []byte("\n"+string(m[1])+" 0 obj\n<</Type/Page/")) {
			t.Errorf("object %s is no page", m[1])
		}
	}
}

var countOf = regexp.MustCompile(`/Type/Pages/Count (\d+)`)

func pageCount(t *testing.T, file []byte) int {
	t.Helper()
	m := countOf.FindSubmatch(file)
	if m == nil {
		t.Fatal("no page tree")
	}
	n, err := strconv.Atoi(string(m[1]))
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func TestReport(t *testing.T) {
	in := project(2, 40)
	last, total := 0, 0
	if err := document.Pack(io.Discard, in, func(done, of int) {
		if done <= last {
			t.Errorf("%d done after %d", done, last)
		}
		last, total = done, of
	}); err != nil {
		t.Fatal(err)
	}
	if last == 0 || last != total {
		t.Errorf("%d of %d at the end", last, total)
	}
}

// TestBare: a plan with nothing in it still gives a pack.
func TestBare(t *testing.T) {
	in := document.Input{Input: sheets.Input{Plan: &plan.Plan{}, Catalogue: &catalogue.Catalogue{}, Layout: &layout.Project{}}}
	if n := pageCount(t, pack(t, in)); n < 2 {
		t.Errorf("%d pages", n)
	}
}

func TestManyLevels(t *testing.T) {
	in := full(11, 1) // more levels than stand side by side in the take-off
	pack(t, in)
}

// failing is a writer that is full.
type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, io.ErrShortWrite }

func TestWriteError(t *testing.T) {
	if err := document.Pack(failing{}, project(1, 1), nil); err == nil {
		t.Error("a full disk went unnoticed")
	}
}

// BenchmarkPack makes the pack of a project of 100 walls.
func BenchmarkPack(b *testing.B) {
	in := project(2, 50)
	for b.Loop() {
		if err := document.Pack(io.Discard, in, nil); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N)/100, "ms/wall")
}
