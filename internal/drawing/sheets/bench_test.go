package sheets_test

import (
	"io"
	"testing"

	"nogging/internal/drawing/pdf"
	"nogging/internal/drawing/svg"
)

// BenchmarkWallSVG draws and writes all sheets of one wall, 4.2 m with a door
// and two layers a face.
func BenchmarkWallSVG(b *testing.B) {
	set, w := fixtures[1].laid(b)
	var buf []byte
	for b.Loop() {
		for _, s := range set.Wall(w) {
			buf = svg.Append(buf[:0], s)
		}
	}
	b.ReportMetric(float64(len(set.Wall(w))), "sheets")
}

// BenchmarkWallPDF draws the same wall into a PDF; b.N walls make one document.
func BenchmarkWallPDF(b *testing.B) {
	set, w := fixtures[1].laid(b)
	doc := pdf.New(io.Discard, pdf.Info{})
	for b.Loop() {
		for _, s := range set.Wall(w) {
			doc.Add(pdf.Render(s))
		}
	}
	if err := doc.Close(); err != nil {
		b.Fatal(err)
	}
}

// BenchmarkCompose arranges the views of one wall without drawing them.
func BenchmarkCompose(b *testing.B) {
	set, w := fixtures[1].laid(b)
	for b.Loop() {
		set.DraftWall(w)
	}
}
