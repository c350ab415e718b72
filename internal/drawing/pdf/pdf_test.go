package pdf_test

import (
	"bytes"
	"compress/zlib"
	"io"
	"math"
	"regexp"
	"strings"
	"testing"

	"codeberg.org/go-pdf/fpdf"

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
	d := pdf.New(pdf.Info{Title: "Harbour clinic"})
	d.Add(pdf.Render(scene()))
	d.Bookmark("Wall L1-07", 0)
	d.Add(pdf.Render(drawing.NewScene("empty", "", drawing.A4)))
	if d.Pages() != 2 {
		t.Errorf("%d pages, want 2", d.Pages())
	}
	var b bytes.Buffer
	if _, err := d.WriteTo(&b); err != nil {
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
// in points, optional content groups, an outline, an embedded font.
func TestStructure(t *testing.T) {
	text := string(document(t))
	for _, want := range []string{
		"/MediaBox [0 0 1190.55 841.89]", // A3 lying: 420 mm is 1190.55 pt
		"/OCProperties", "/Type /OCG", "/Outlines", "/FontFile2", "/ToUnicode", "(D:20000101000000)",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %s", want)
		}
	}
}

var stream = regexp.MustCompile(`(?s)<</Filter /FlateDecode /Length \d+>>\nstream\n(.*?)\nendstream`)

// content returns the operators of the first page.
func content(t *testing.T) string {
	t.Helper()
	m := stream.FindSubmatch(document(t))
	if m == nil {
		t.Fatal("no page content")
	}
	r, err := zlib.NewReader(bytes.NewReader(m[1]))
	if err != nil {
		t.Fatal(err)
	}
	data, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
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
