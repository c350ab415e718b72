package sheets_test

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/catalogue"
	"nogging/internal/drawing"
	"nogging/internal/drawing/pdf"
	"nogging/internal/drawing/sheets"
	"nogging/internal/drawing/svg"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// fatal is what rapid and the standard library's tests have in common.
type fatal interface {
	Helper()
	Errorf(format string, args ...any)
}

// checkSheets checks what must hold on every sheet: no text over another, none
// outside the frame, none too small to be read when an A3 print is reduced to
// A4 (2.5 mm become 1.8 mm, the least height of ISO 3098), and no id twice.
func checkSheets(t fatal, list []*drawing.Scene) {
	t.Helper()
	names := map[string]bool{}
	for _, s := range list {
		if names[s.Name] {
			t.Errorf("two sheets are called %s", s.Name)
		}
		names[s.Name] = true
		for _, c := range drawing.Clashes(s) {
			t.Errorf("%s: %q at %.1f overlaps %q at %.1f", s.Name, c.A.Text, c.A.At, c.B.Text, c.B.At)
		}
		frame := s.Size.Space()
		frame.Min, frame.Max = frame.Min.Add(-5, -5), frame.Max.Add(5, 5) // the band of grid references
		for _, x := range drawing.Outside(s, frame) {
			t.Errorf("%s: %q at %.1f lies outside the frame", s.Name, x.Text, x.At)
		}
		for _, x := range drawing.Texts(s) {
			least := drawing.Small
			if strings.HasPrefix(s.Name, "set-out") {
				least = drawing.Tiny // names of rooms in plans
			}
			if x.Height < least {
				t.Errorf("%s: %q is %v mm high", s.Name, x.Text, x.Height)
			}
		}
		checkIDs(t, s)
	}
}

var idAttr = regexp.MustCompile(` id="([^"]*)"`)

func checkIDs(t fatal, s *drawing.Scene) {
	t.Helper()
	seen := map[string]bool{}
	for _, m := range idAttr.FindAllStringSubmatch(string(svg.Append(nil, s)), -1) {
		if seen[m[1]] {
			t.Errorf("%s: id %q twice", s.Name, m[1])
		}
		seen[m[1]] = true
	}
}

// wordsOf returns everything written on the sheets.
func wordsOf(list []*drawing.Scene) []string {
	var out []string
	for _, s := range list {
		for _, x := range drawing.Texts(s) {
			out = append(out, x.Text)
		}
	}
	return out
}

// written reports whether a mark stands on the sheets, alone, as one of a
// boxed pair, or before a length or size.
func written(words []string, mark string) bool {
	return slices.ContainsFunc(words, func(w string) bool {
		first, _, _ := strings.Cut(w, "  ")
		return slices.Contains(strings.Split(first, "+"), mark)
	})
}

func TestWalls(t *testing.T) {
	for _, f := range fixtures {
		t.Run(f.name, func(t *testing.T) {
			set, w := f.laid(t)
			list := set.Wall(w)
			if len(list) == 0 {
				t.Fatal("no sheets")
			}
			checkSheets(t, list)
			checkMarks(t, w, wordsOf(list))
		})
	}
}

// checkMarks looks for the mark of every member, gusset and piece of a wall: all
// that the lists name.
func checkMarks(t fatal, w *layout.Wall, words []string) {
	t.Helper()
	for i := range w.Members {
		if m := &w.Members[i]; !written(words, m.Mark()) {
			t.Errorf("member %s is not marked", m.Mark())
		}
	}
	for _, g := range w.Gussets {
		if mark := fmt.Sprintf("G%02d", g.Number); !written(words, mark) {
			t.Errorf("gusset %s is not marked", mark)
		}
	}
	for i := range w.Faces {
		for k := range w.Faces[i].Layers {
			for n := range w.Faces[i].Layers[k].Pieces {
				mark := layout.PieceMark(w.Faces[i].Face, k, &w.Faces[i].Layers[k].Pieces[n])
				if !written(words, mark) {
					t.Errorf("piece %s is not marked", mark)
				}
			}
		}
	}
}

// TestRandomWalls draws walls of all lengths and heights with openings
// anywhere.
func TestRandomWalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := randomWall(t)
		cat := catalogue.Shipped()
		p := f.plan()
		pr, _ := cat.PracticeByID(p.Practice)
		l := layout.Of(p, cat, pr)
		for _, w := range l.Walls {
			list := sheets.New(sheets.Input{Plan: p, Layout: l, Catalogue: cat, Practice: pr}).Wall(w)
			checkSheets(t, list)
			checkMarks(t, w, wordsOf(list))
		}
	})
}

func randomWall(t *rapid.T) fixture {
	f := fixture{us: rapid.Bool().Draw(t, "us")}
	kind := rapid.SampledFrom([]plan.FrameKind{plan.Single, plan.Single, plan.TwinIndependent, plan.TwinBraced, plan.Lining}).Draw(t, "kind")
	f.length = quantity.Length(rapid.IntRange(300, 16000).Draw(t, "length")) * mm
	f.height = quantity.Length(rapid.IntRange(2100, 5200).Draw(t, "height")) * mm
	stud, board := "CW75", "GKB-12.5"
	if f.us {
		stud, board = "362S125-18", "GWB-0.625X"
	}
	layers := rapid.IntRange(1, 3).Draw(t, "layers")
	f.build = plan.BuildUp{ID: "P1", FaceA: slices.Repeat([]string{board}, layers), Frame: plan.FrameSpec{Kind: kind, Stud: stud}}
	if kind.Twin() {
		f.build.Frame.Gap = 50 * mm
	}
	at := 300 * mm
	for range rapid.IntRange(0, 5).Draw(t, "openings") {
		at += quantity.Length(rapid.IntRange(50, 2500).Draw(t, "gap")) * mm
		o := plan.Opening{Kind: rapid.SampledFrom(plan.OpeningKinds()).Draw(t, "opening"), At: at,
			Width:  quantity.Length(rapid.IntRange(200, 1600).Draw(t, "width")) * mm,
			Height: quantity.Length(rapid.IntRange(200, 2000).Draw(t, "height")) * mm}
		if o.Kind != plan.Door {
			o.Sill = quantity.Length(rapid.IntRange(0, 1200).Draw(t, "sill")) * mm
		}
		at += o.Width
		f.wall.Openings = append(f.wall.Openings, o)
	}
	return f
}

// TestDeterministic draws a set twice, and one set's sheets twice.
func TestDeterministic(t *testing.T) {
	for _, f := range fixtures {
		set, w := f.laid(t)
		again, _ := f.laid(t)
		draft := set.DraftWall(w)
		for i, s := range again.Wall(w) {
			first, second := svg.Append(nil, draft.Sheet(i)), svg.Append(nil, draft.Sheet(i))
			if !bytes.Equal(first, second) || !bytes.Equal(first, svg.Append(nil, s)) {
				t.Errorf("%s: sheet %d comes out differently", f.name, i+1)
			}
		}
	}
}

// TestScales checks the choice of scales. ISO 5455 (from memory) recommends
// 1:10, 1:20, 1:50, 1:100, 1:200; 1:25 is common practice; US drawings write
// inches to the foot.
func TestScales(t *testing.T) {
	tests := []struct {
		fixture string
		want    []string // of the first and of the last sheet
		sheets  int
	}{
		{"short", []string{"1:20"}, 1},
		{"plain", []string{"1:50"}, 1},
		{"door", []string{"1:20", "1:50"}, 2},
		{"dwelling", []string{"1:25", "1:50"}, 3},
		{"long", []string{"1:50"}, 7},
		{"us", []string{`1/2" = 1'-0"`, `1/4" = 1'-0"`}, 2},
	}
	for _, tt := range tests {
		t.Run(tt.fixture, func(t *testing.T) {
			f := named(t, tt.fixture)
			set, w := f.laid(t)
			list := set.Wall(w)
			if len(list) != tt.sheets {
				t.Errorf("%d sheets, want %d", len(list), tt.sheets)
			}
			for i, s := range []*drawing.Scene{list[0], list[len(list)-1]} {
				if i < len(tt.want) && !slices.Contains(wordsOf([]*drawing.Scene{s}), tt.want[i]) {
					t.Errorf("sheet %s is not at %s", s.Name, tt.want[i])
				}
			}
		})
	}
}

func named(t *testing.T, name string) fixture {
	t.Helper()
	i := slices.IndexFunc(fixtures, func(f fixture) bool { return f.name == name })
	if i < 0 {
		t.Fatalf("no fixture %s", name)
	}
	return fixtures[i]
}

// place returns where a text stands on a wall's sheets.
func place(t *testing.T, list []*drawing.Scene, prefix string) drawing.Point {
	t.Helper()
	for _, s := range list {
		for _, x := range drawing.Texts(s) {
			if x.Text == prefix || strings.HasPrefix(x.Text, prefix+"  ") {
				return x.Bounds().Centre()
			}
		}
	}
	t.Fatalf("no %s", prefix)
	return drawing.Point{}
}

// TestSeenFromItsFace: what is on the right hand of a person who stands before a face
// and looks at it is drawn on the right. Face A is on the left of a wall from start to
// end, so a wall that runs east is seen from the north, where west is on the right.
func TestSeenFromItsFace(t *testing.T) {
	set, w := named(t, "plain").laid(t)
	list := set.Wall(w)
	long := w.Line.Length()
	middle := w.Frame.Global(long/2, 0)
	for _, c := range []struct {
		marks [2]string       // from the wall's start
		from  quantity.Length // where the person stands, to the left of the wall
	}{
		{[2]string{"A1-01", "A1-02"}, long},
		{[2]string{"B1-01", "B1-02"}, -long},
		{[2]string{"S01", "S02"}, -long}, // the frame of a wall with two faces
	} {
		person := w.Frame.Global(long/2, c.from)
		look := middle.Sub(person)
		right := geom.Pt(look.Y, -look.X) // a quarter turn clockwise
		way := w.Line.B.Sub(w.Line.A)
		toRight := way.X.MM()*right.X.MM()+way.Y.MM()*right.Y.MM() > 0
		if a, b := place(t, list, c.marks[0]), place(t, list, c.marks[1]); (b.X > a.X) != toRight {
			t.Errorf("%s at %.0f, %s at %.0f, on the right: %v", c.marks[0], a.X, c.marks[1], b.X, toRight)
		}
	}
}

// TestDimensionPlaces measures the drawn tick of a dimension: at 1:20, a stud
// stands a twentieth of its distance from the start of the track.
func TestDimensionPlaces(t *testing.T) {
	set, w := named(t, "door").laid(t)
	s := set.Wall(w)[0]
	if !slices.Contains(wordsOf([]*drawing.Scene{s}), "1:20") {
		t.Fatal("the sheet is not at 1:20")
	}
	at := w.Members[slices.IndexFunc(w.Members, func(m layout.Member) bool { return m.Role == layout.Stud })].From.X
	zero, stud := leaderOf(t, s, "0"), leaderOf(t, s, at.String())
	if got, want := stud-zero, at.MM()/20; got < want-0.01 || got > want+0.01 {
		t.Errorf("%s is drawn %.2f mm from 0, want %.2f", at, got, want)
	}
}

// leaderOf returns where on the wall the leader of an upright text begins.
func leaderOf(t *testing.T, s *drawing.Scene, text string) float64 {
	t.Helper()
	var end drawing.Point
	s.Walk(func(_ drawing.LayerName, it drawing.Item) {
		if x, ok := it.(drawing.Text); ok && x.Text == text && x.Turn == 90 && end.X == 0 {
			end = drawing.Point{X: x.Bounds().Centre().X, Y: x.Bounds().Min.Y}
		}
	})
	best, at := 1e9, 0.0
	s.Walk(func(_ drawing.LayerName, it drawing.Item) {
		l, ok := it.(drawing.Lines)
		if !ok {
			return
		}
		for _, g := range l.Segments {
			d := (g.B.X-end.X)*(g.B.X-end.X) + (g.B.Y-end.Y)*(g.B.Y-end.Y)
			if d < best {
				best, at = d, g.A.X
			}
		}
	})
	return at
}

// TestLongWallParts: the parts of a wall that needs several views cover it
// without a gap, and no part ends in an opening.
func TestLongWallParts(t *testing.T) {
	set, w := named(t, "long").laid(t)
	all := wordsOf(set.Wall(w))
	from := regexp.MustCompile(`^from (\d+) to (\d+) of 30000, seen from face B`)
	var ends []string
	for _, x := range all {
		if m := from.FindStringSubmatch(x); m != nil {
			ends = append(ends, m[1], m[2])
		}
	}
	if len(ends) != 4 || ends[0] != "0" || ends[1] != ends[2] || ends[3] != "30000" {
		t.Errorf("parts run %v", ends)
	}
}

func TestSlopingHeights(t *testing.T) {
	set, w := named(t, "sloping").laid(t)
	all := wordsOf(set.Wall(w))
	for _, want := range []string{"2300", "3000"} { // heights at start and end
		if !slices.Contains(all, want) {
			t.Errorf("no height %s", want)
		}
	}
}

func TestFeetAndInches(t *testing.T) {
	set, w := named(t, "us").laid(t)
	all := wordsOf(set.Wall(w))
	for _, want := range []string{`14'-0"`, `9'-0"`, `3'-2" × 6'-10"`} {
		if !slices.Contains(all, want) {
			t.Errorf("no %s", want)
		}
	}
}

func TestCautions(t *testing.T) {
	set, w := named(t, "door").laid(t)
	all := strings.Join(wordsOf(set.Wall(w)), " ")
	for _, want := range []string{"Not a certificate", "licensed professional", "sharp edges", "silica dust", "two persons", "cables"} {
		if !strings.Contains(all, want) {
			t.Errorf("no caution of %q", want)
		}
	}
}

func TestLevels(t *testing.T) {
	for _, n := range [][2]int{{3, 1}, {4, 2}, {6, 4}, {14, 8}} {
		t.Run(fmt.Sprintf("%dx%d", n[0], n[1]), func(t *testing.T) {
			in := input(t, storey(n[0], n[1]))
			list := sheets.New(in).Level("L1")
			checkSheets(t, list)
			all := wordsOf(list)
			for _, w := range in.Layout.Walls {
				if i := slices.Index(all, w.ID); i < 0 || slices.Index(all[i+1:], w.ID) < 0 {
					t.Errorf("%s does not stand both in the plan and in the schedule", w.ID)
				}
			}
		})
	}
}

// TestRandomLevels draws levels of bare walls at all angles, anywhere.
func TestRandomLevels(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := sheets.Input{Layout: &layout.Project{}, Catalogue: catalogue.Shipped(),
			Plan: &plan.Plan{Levels: []plan.Level{{ID: "L1", ClearHeight: 2700 * mm}}}}
		size := rapid.IntRange(2000, 60000).Draw(t, "size")
		c := func() quantity.Length { return quantity.Length(rapid.IntRange(0, size).Draw(t, "c")) * mm }
		for i := range rapid.IntRange(1, 25).Draw(t, "walls") {
			line := geom.Segment{A: geom.Pt(c(), c()), B: geom.Pt(c(), c())}
			switch rapid.IntRange(0, 2).Draw(t, "direction") {
			case 0:
				line.B.X = line.A.X
			case 1:
				line.B.Y = line.A.Y
			}
			if line.Length() >= 600*mm {
				in.Layout.Walls = append(in.Layout.Walls, bareWall(wallID(i+1), line))
			}
		}
		checkSheets(t, sheets.New(in).Level("L1"))
	})
}

// bareWall is a wall of nothing but tracks.
func bareWall(id string, line geom.Segment) *layout.Wall {
	return &layout.Wall{ID: id, Level: "L1", BuildUp: "P1", Line: line, Frame: geom.FrameOf(line), Thickness: 100 * mm,
		Top:        layout.Profile{geom.Pt(0, 2700*mm), geom.Pt(line.Length(), 2700*mm)},
		FrameLines: []layout.FrameLine{{Depth: 75 * mm, Extent: geom.Interval{To: line.Length()}, Stud: "CW75", Track: "UW75", Spacing: 600 * mm}}}
}

// TestOrdinates: the plan's running dimensions are the coordinates of both edges
// of the tracks, 75 and 50 mm deep, from
// the datum, which is the lower left corner of the rooms here.
func TestOrdinates(t *testing.T) {
	all := wordsOf(sheets.New(input(t, storey(4, 2))).Level("L1"))
	for _, want := range []string{"4962.5–5037.5  L1-01", "2975–3025  L1-02", "3100–3150  L1-05"} {
		if !slices.Contains(all, want) {
			t.Errorf("no %q", want)
		}
	}
}

func TestNoSuchLevel(t *testing.T) {
	if got := sheets.New(input(t, storey(2, 1))).Level("L9"); len(got) != 0 {
		t.Errorf("%d sheets of a level that is not there", len(got))
	}
}

func TestFileName(t *testing.T) {
	tests := map[string]string{"L1-07": "L1-07", "a/b": "a_2fb", "a_2fb": "a_5f2fb", "Ø": "_c3_98", "../x": ".._2fx"}
	for id, want := range tests {
		if got := sheets.FileName(id); got != want {
			t.Errorf("%q: %q, want %q", id, got, want)
		}
	}
}

// TestBothWriters: every sheet becomes a page.
func TestBothWriters(t *testing.T) {
	set, w := named(t, "openings").laid(t)
	list := set.Wall(w)
	var b bytes.Buffer
	doc := pdf.New(&b, pdf.Info{})
	for _, s := range list {
		doc.Add(pdf.Render(s))
	}
	if err := doc.Close(); err != nil {
		t.Fatal(err)
	}
	if doc.Pages() != len(list) {
		t.Errorf("%d pages of %d sheets", doc.Pages(), len(list))
	}
}
