package pdf_test

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"nogging/internal/drawing"
	"nogging/internal/drawing/pdf"
)

func scene() *drawing.Scene {
	s := drawing.NewScene("L1-07", "Wall L1-07", drawing.A3)
	clip := drawing.NewRect(0, 0, 50, 50)
	s.Layer(drawing.Frame).Add(&drawing.Group{Clip: &clip, Items: []drawing.Item{
		drawing.Box(drawing.NewRect(10, 10, 2.5, 130), drawing.Outline, drawing.White),
		drawing.Circle{Centre: drawing.Point{X: 5, Y: 5}, Radius: 1, Pen: drawing.Thin, Fill: drawing.Black},
		drawing.Arc{Centre: drawing.Point{X: 5, Y: 5}, Radius: 2, From: 10, To: 200, Pen: drawing.Hidden},
	}})
	s.Layer(drawing.Notes).Add(
		drawing.Text{At: drawing.Point{X: 20, Y: 20}, Text: "Łódź ≥ 2 m²", Height: drawing.Large, Bold: true, Turn: 90},
		drawing.Text{At: drawing.Point{X: 20, Y: 40}, Text: "squeezed", Height: drawing.Small, Max: 5, Grey: 0.4, Mask: true})
	return s
}

func document(t *testing.T) []byte {
	t.Helper()
	var b bytes.Buffer
	d := pdf.New(&b, pdf.Info{Title: "Harbour clinic"})
	d.Add(pdf.Render(scene()))
	d.Bookmark("Walls", 0)
	d.Bookmark("Wall L1-07", 1)
	d.Add(pdf.Render(drawing.NewScene("empty", "", drawing.A4)))
	d.Bookmark("Wall L1-08", 1)
	d.Bookmark("Take-off", 0)
	if d.Pages() != 2 {
		t.Errorf("%d pages, want 2", d.Pages())
	}
	if err := d.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestDeterministic(t *testing.T) {
	if !bytes.Equal(document(t), document(t)) {
		t.Error("the same scenes gave different bytes")
	}
}

// TestStructure looks for what ISO 32000-1 asks of such a file: sizes of pages
// in points, optional content groups, an outline, embedded fonts that can be
// turned back into text.
func TestStructure(t *testing.T) {
	text := string(document(t))
	for _, want := range []string{
		"%PDF-1.7\n", "/MediaBox[0 0 1190.55 841.89]", // A3 lying: 420 mm is 1190.55 pt
		"/OCProperties", "/Type/OCG", "/Type/Outlines/Count 2", "/Count -2", "/FontFile2", "/ToUnicode", "(D:20000101000000Z)", "%%EOF\n",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q", want)
		}
	}
}

var offset = regexp.MustCompile(`(?m)^(\d{10}) 00000 n $`)

// TestOffsets: every entry of the cross-reference table points to the object of
// its number (7.5.4), and startxref to the table.
func TestOffsets(t *testing.T) {
	file := document(t)
	for i, m := range offset.FindAllSubmatch(file, -1) {
		at, _ := strconv.Atoi(string(m[1]))
		if want := fmt.Sprintf("%d 0 obj\n", i+1); !bytes.HasPrefix(file[at:], []byte(want)) {
			t.Errorf("object %d is not at %d", i+1, at)
		}
	}
	m := regexp.MustCompile(`startxref\n(\d+)\n`).FindSubmatch(file)
	if at, _ := strconv.Atoi(string(m[1])); !bytes.HasPrefix(file[at:], []byte("xref\n")) {
		t.Errorf("startxref %d points to no table", at)
	}
}

// TestSubset reads the embedded faces back with an independent parser: glyphs
// that are used keep their outline and advance, others lose theirs.
func TestSubset(t *testing.T) {
	var fonts []*sfnt.Font
	for _, m := range regexp.MustCompile(`(?s)/FlateDecode/Length1 \d+>>\nstream\n(.*?)\nendstream`).FindAllSubmatch(document(t), -1) {
		f, err := sfnt.Parse(inflate(t, m[1]))
		if err != nil {
			t.Fatal(err)
		}
		fonts = append(fonts, f)
	}
	if len(fonts) != 2 {
		t.Fatalf("%d faces", len(fonts))
	}
	for n, text := range []string{"squeezed", "Łódź ≥ 2 m²"} {
		whole, err := sfnt.Parse(drawing.FontData(n == 1))
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range text + "X" {
			g, err := whole.GlyphIndex(nil, r)
			if err != nil {
				t.Fatal(err)
			}
			want, got := outline(t, whole, g), outline(t, fonts[n], g)
			if r == 'X' { // is not used
				want = nil
			}
			if !slices.Equal(got, want) {
				t.Errorf("glyph of %q has %d segments, want %d", r, len(got), len(want))
			}
		}
	}
}

func outline(t *testing.T, f *sfnt.Font, g sfnt.GlyphIndex) []sfnt.Segment {
	t.Helper()
	var b sfnt.Buffer
	segments, err := f.LoadGlyph(&b, g, fixed.I(2048), nil)
	if err != nil {
		t.Fatal(err)
	}
	return slices.Clone(segments)
}

func inflate(t *testing.T, data []byte) []byte {
	t.Helper()
	r, err := zlib.NewReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	out, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

var stream = regexp.MustCompile(`(?s)<</Length \d+/Filter/FlateDecode>>\nstream\n(.*?)\nendstream`)

// content returns the operators of the first page.
func content(t *testing.T) string {
	t.Helper()
	m := stream.FindSubmatch(document(t))
	if m == nil {
		t.Fatal("no page content")
	}
	return string(inflate(t, m[1]))
}

// TestBalanced: graphics states and marked content that are opened are closed
// again (ISO 32000-1, 8.4.2 and 14.6).
func TestBalanced(t *testing.T) {
	ops := strings.Fields(content(t))
	count := map[string]int{}
	for _, op := range ops {
		count[op]++
	}
	for _, pair := range [][2]string{{"q", "Q"}, {"BDC", "EMC"}, {"BT", "ET"}} {
		if count[pair[0]] == 0 || count[pair[0]] != count[pair[1]] {
			t.Errorf("%d %s, %d %s", count[pair[0]], pair[0], count[pair[1]], pair[1])
		}
	}
}

// TestRectangle: a rectangle on paper, y down, comes out in points, y up.
func TestRectangle(t *testing.T) {
	if want := "28.35 813.54 m\n35.43 813.54 l\n35.43 445.04 l\n28.35 445.04 l\nb"; !strings.Contains(content(t), want) {
		t.Errorf("no %q in\n%s", want, content(t))
	}
}

// TestWidths compares the widths by which texts are placed with those of an
// independent reader of the same font, the PDF library's own.
func TestWidths(t *testing.T) {
	f := fpdf.New("P", "mm", "A4", "")
	f.AddUTF8FontFromBytes("face", "", drawing.FontData(false))
	f.AddUTF8FontFromBytes("face", "B", drawing.FontData(true))
	for _, text := range []string{"2750", "885 × 2010", "S01–S06", "Gypsum board 12.5 mm", "Łódź ≥ 2 m²", "Стена Τοίχος"} {
		for _, bold := range []bool{false, true} {
			style := ""
			if bold {
				style = "B"
			}
			f.SetFont("face", style, drawing.EmSize(10, bold)*72/25.4)
			got, want := drawing.TextWidth(text, 10, bold), f.GetStringWidth(text)
			if math.Abs(got-want) > 0.01*want {
				t.Errorf("%q (bold %v) is %.3f mm wide, the PDF library has %.3f", text, bold, got, want)
			}
		}
	}
}

func BenchmarkRender(b *testing.B) {
	s := scene()
	for b.Loop() {
		pdf.Render(s)
	}
}
