package drawing_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/drawing"
	_ "nogging/internal/draws"
)

// TestSizes checks trimmed sizes against ISO 216: A0 has an area of 1 m², sides
// as 1 to the square root of 2, and each size is half the one before, to the
// millimetre.
func TestSizes(t *testing.T) {
	sizes := []drawing.Size{drawing.A0, drawing.A1, drawing.A2, drawing.A3, drawing.A4}
	long, short := 1000*math.Pow(2, 0.25), 1000*math.Pow(2, -0.25)
	for _, s := range sizes {
		if math.Abs(max(s.Width, s.Height)-long) > 1 || math.Abs(min(s.Width, s.Height)-short) > 1 {
			t.Errorf("%s is %v by %v, want %.1f by %.1f", s.Name, s.Width, s.Height, long, short)
		}
		long, short = short, long/2
	}
	if drawing.A4.Width > drawing.A4.Height || drawing.A3.Width < drawing.A3.Height {
		t.Error("A4 stands, the others lie (ISO 5457, from memory)")
	}
}

// TestSpace checks the borders of ISO 5457 (from memory): 20 mm at the left for
// filing, 10 mm elsewhere, and the title block of ISO 7200 within 180 mm.
func TestSpace(t *testing.T) {
	got, want := drawing.A3.Space(), drawing.NewRect(20, 10, 390, 277)
	if got != want {
		t.Errorf("drawing space %v, want %v", got, want)
	}
	if drawing.TitleWidth > 180 {
		t.Error("title block wider than 180 mm")
	}
}

// TestPatterns checks dashes against ISO 128-2 (from memory): a dash is 12
// times the line's weight, a gap 3, a long dash 24.
func TestPatterns(t *testing.T) {
	tests := []struct {
		dash drawing.Dash
		want []float64
	}{
		{drawing.Continuous, nil},
		{drawing.Dashed, []float64{6, 1.5}},
		{drawing.LongDashDot, []float64{12, 1.5, 0.25, 1.5}},
		{drawing.LongDashTwoDots, []float64{12, 1.5, 0.25, 1.5, 0.25, 1.5}},
		{drawing.Dotted, []float64{0.25, 1.5}},
	}
	for _, tt := range tests {
		if got := (drawing.Pen{Weight: drawing.W50, Dash: tt.dash}).Pattern(); !slices.Equal(got, tt.want) {
			t.Errorf("dash %d: %v, want %v", tt.dash, got, tt.want)
		}
	}
}

func TestClashes(t *testing.T) {
	text := func(x, y, turn float64) drawing.Text {
		return drawing.Text{At: drawing.Point{X: x, Y: y}, Text: "2750", Height: drawing.Small, Turn: turn}
	}
	tests := []struct {
		name string
		a, b drawing.Text
		want int
	}{
		{"apart", text(10, 10, 0), text(40, 10, 0), 0},
		{"on top", text(10, 10, 0), text(12, 11, 0), 1},
		{"one above the other", text(10, 10, 0), text(10, 13.5, 0), 0},
		{"upright through flat", text(10, 10, 0), text(14, 14, 90), 1},
		{"upright beside flat", text(10, 10, 0), text(9.9, 14, 90), 0},
		{"aslant in the corner of the other's bounds", text(10, 30, 45), text(1.5, 26, 0), 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := drawing.NewScene("s", "", drawing.A3)
			s.Layer(drawing.Notes).Add(tt.a)
			s.Layer(drawing.Marks).Add(&drawing.Group{Items: []drawing.Item{tt.b}})
			if got := drawing.Clashes(s); len(got) != tt.want {
				t.Errorf("%d clashes, want %d", len(got), tt.want)
			}
		})
	}
}

func TestOutside(t *testing.T) {
	s := drawing.NewScene("s", "", drawing.A3)
	s.Layer(drawing.Notes).Add(drawing.Text{At: drawing.Point{X: 405, Y: 50}, Text: "too long to fit", Height: drawing.Small})
	if got := drawing.Outside(s, drawing.A3.Space()); len(got) != 1 {
		t.Errorf("%d texts outside, want 1", len(got))
	}
}

func TestPlacer(t *testing.T) {
	var p drawing.Placer
	at := func(x float64) drawing.Text {
		return drawing.Text{At: drawing.Point{X: x, Y: 10}, Text: "S01", Height: drawing.Small}
	}
	p.Take(at(0))
	p.Avoid(drawing.Segment{A: drawing.Point{X: 23, Y: 0}, B: drawing.Point{X: 23, Y: 20}})
	if got, ok := p.Place(at(1), at(20), at(40)); !ok || got.At.X != 40 {
		t.Errorf("placed at %v, %v; want the one that is free and crosses no line", got.At.X, ok)
	}
	if got, ok := p.Place(at(1), at(20)); !ok || got.At.X != 20 {
		t.Errorf("placed at %v, %v; want the one across the line where no other is free", got.At.X, ok)
	}
	if _, ok := p.Place(at(1), at(41)); ok {
		t.Error("placed where nothing is free")
	}
}

// TestRows: whatever is dimensioned, no two texts overlap as long as there is
// room for all.
func TestRows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawing.Row{
			Axis: drawing.Axis(rapid.Bool().Draw(t, "axis")), Line: 100, Out: 1, Lo: 20, Hi: 220,
			Dimension: rapid.Bool().Draw(t, "dimension"), Upright: rapid.Bool().Draw(t, "upright"), Height: drawing.Small,
		}
		if rapid.Bool().Draw(t, "other side") {
			r.Out = -1
		}
		at := rapid.SliceOfN(rapid.Float64Range(30, 200), 0, 15).Draw(t, "at")
		slices.Sort(at)
		for _, a := range at {
			r.Marks = append(r.Marks, drawing.Mark{At: a, From: 90, Text: rapid.StringMatching(`[0-9]{1,5}`).Draw(t, "text")})
		}
		if _, ok := r.Strain(); !ok {
			t.Skip("no room")
		}
		s := drawing.NewScene("s", "", drawing.A3)
		r.Draw(s.Layer(drawing.Dimensions))
		if c := drawing.Clashes(s); len(c) > 0 {
			t.Fatalf("%q overlaps %q", c[0].A.Text, c[0].B.Text)
		}
	})
}

// TestChains: the same for dimensions end to end.
func TestChains(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawing.Chain{Axis: drawing.Axis(rapid.Bool().Draw(t, "axis")), Line: 100, Lo: 0, Hi: 250, Height: drawing.Small}
		at := 30.0
		for i := range rapid.IntRange(2, 12).Draw(t, "marks") {
			c.Marks = append(c.Marks, drawing.Mark{At: at, From: 97})
			if i > 0 {
				c.Texts = append(c.Texts, rapid.StringMatching(`[0-9]{1,5}`).Draw(t, "text"))
			}
			at += rapid.Float64Range(0.5, 16).Draw(t, "step")
		}
		s := drawing.NewScene("s", "", drawing.A3)
		if got := c.Draw(s.Layer(drawing.Dimensions)); len(got) != len(c.Texts) {
			t.Fatalf("%d texts of %d", len(got), len(c.Texts))
		}
		if k := drawing.Clashes(s); len(k) > 0 {
			t.Fatalf("%q overlaps %q", k[0].A.Text, k[0].B.Text)
		}
	})
}

func TestWrap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(rapid.StringMatching(`[a-z]{1,9}`), 0, 40).Draw(t, "words")
		lines := drawing.Wrap(strings.Join(words, " "), drawing.Small, 60, false)
		if got := strings.Fields(strings.Join(lines, " ")); !slices.Equal(got, words) {
			t.Fatalf("words changed: %v", got)
		}
		for _, l := range lines {
			if drawing.TextWidth(l, drawing.Small, false) > 60 {
				t.Fatalf("%q is too long", l)
			}
		}
	})
}

// TestWrapLongWord: a word wider than the line runs on over the next ones.
func TestWrapLongWord(t *testing.T) {
	word := strings.Repeat("m", 100)
	lines := drawing.Wrap("a "+word+" b", drawing.Small, 60, true)
	if got := strings.Join(lines, ""); strings.ReplaceAll(got, " ", "") != "a"+word+"b" {
		t.Errorf("%q", lines)
	}
	for _, l := range lines {
		if w := drawing.TextWidth(l, drawing.Small, true); w > 60 {
			t.Errorf("%q is %.1f mm wide", l, w)
		}
	}
}

func TestTableKeepsTogether(t *testing.T) {
	table := drawing.Table{Columns: []drawing.Column{{Head: "What", Width: 30}, {Head: "No.", Width: 12, Align: drawing.Right}}}
	table.Heading("Boards")
	table.Add("a text that needs more than one line of this column", "7")
	table.Heading("Profiles")
	table.Add("short", "1")
	lines := len(table.Rows) - 3
	for n := range len(table.Rows) + 1 {
		got := table.Fitting(0, table.Reach(n))
		switch {
		case n < 1+lines && got != 0:
			t.Errorf("room for %d rows: %d set, which parts a row or leaves a heading alone", n, got)
		case n == 2+lines && got != 1+lines:
			t.Errorf("room for %d rows: %d set, want %d without the second heading", n, got, 1+lines)
		case n == len(table.Rows) && got != n:
			t.Errorf("room for all %d rows: %d set", n, got)
		}
	}
}

func TestTitleBlock(t *testing.T) {
	s := drawing.NewScene("L1-07", "Wall L1-07", drawing.A3)
	drawing.Finish(s, drawing.TitleBlock{
		Project: "Harbour clinic with a name that is far too long for the field it is given in the block", Number: "2704",
		Title: "Wall L1-07: framing", Subtitle: "Level 1", Drawing: "2704-L1-07", Kind: "Construction drawing",
		Scale: "1:20", Revision: "B", Date: "2027-01-11", Sheet: 1, Sheets: 2,
	}, "Caution.", []string{"A note."})
	if c := drawing.Clashes(s); len(c) > 0 {
		t.Errorf("%q overlaps %q", c[0].A.Text, c[0].B.Text)
	}
	for _, text := range drawing.Texts(s) {
		if text.Height < drawing.Small {
			t.Errorf("%q is %v mm high, the least is %v", text.Text, text.Height, drawing.Small)
		}
	}
}

// TestWrapKeepsNumbers: a no-break space ends no line.
func TestWrapKeepsNumbers(t *testing.T) {
	lines := drawing.Wrap("12'-3\u00a01/2\" 14'-0\u00a03/16\" 7'-11\u00a015/16\"", drawing.Small, 24, false)
	for _, l := range lines {
		if !strings.HasSuffix(l, `"`) {
			t.Errorf("%q ends inside a number", l)
		}
	}
	if len(lines) != 3 {
		t.Errorf("%d lines, want 3", len(lines))
	}
}

// TestOnLeader: a mark on a leader keeps off texts, lines and the leaders' way over
// texts, and stays in its area.
func TestOnLeader(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var p drawing.Placer
		area := drawing.NewRect(0, 0, 100, 80)
		c := func(hi float64) float64 { return rapid.Float64Range(0, hi).Draw(t, "c") }
		var taken []drawing.Text
		for range rapid.IntRange(0, 12).Draw(t, "texts") {
			x := drawing.Text{At: drawing.Point{X: c(100), Y: c(80)}, Text: "taken", Height: drawing.Small}
			taken = append(taken, x)
		}
		p.Take(taken...)
		part := drawing.Point{X: c(100), Y: c(80)}
		got, from, ok := p.OnLeader([]drawing.Point{part}, drawing.Text{Text: "K03", Height: drawing.Small, Align: drawing.Centre}, area)
		if !ok {
			return
		}
		if from != part || !area.Holds(got.Bounds()) {
			t.Fatalf("%v from %v lies outside", got.Bounds(), from)
		}
		for _, x := range taken {
			if x.Bounds().Overlaps(got.Bounds()) {
				t.Fatalf("%v lies over %v", got.Bounds(), x.Bounds())
			}
		}
	})
}
