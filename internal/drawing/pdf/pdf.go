// Package pdf writes drawing.Scenes as the pages of one PDF: text in an
// embedded subset of the face in which drawings are measured, one optional
// layer a drawing layer, an outline of bookmarks. It takes no clock: the same
// scenes give the same bytes.
//
// Render turns a scene into a page's content and may run in several goroutines
// at once; a Document then puts pages together in order.
package pdf

import (
	"bytes"
	"io"
	"strconv"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"nogging/internal/drawing"
)

// perMM is the number of points, the unit of PDF, in a millimetre.
const perMM = 72 / 25.4

const family = "drawing"

// Info is what the document says of itself. Created stamps it; zero stands for
// the first day of 2000, so that output does not depend on when it was made.
type Info struct {
	Title   string
	Subject string
	Created time.Time
}

// Document is a PDF that is being put together.
type Document struct {
	f      *fpdf.Fpdf
	layers map[drawing.LayerName]int
}

// New returns an empty document.
func New(info Info) *Document {
	f := fpdf.New("P", "mm", "A4", "")
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(0, 0, 0)
	f.SetCatalogSort(true)
	f.SetCompression(true)
	if info.Created.IsZero() {
		info.Created = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	f.SetCreationDate(info.Created)
	f.SetModificationDate(info.Created)
	f.SetTitle(info.Title, true)
	f.SetSubject(info.Subject, true)
	f.SetLang("en")
	f.AddUTF8FontFromBytes(family, "", drawing.FontData(false))
	f.AddUTF8FontFromBytes(family, "B", drawing.FontData(true))
	d := &Document{f: f, layers: map[drawing.LayerName]int{}}
	for _, n := range drawing.LayerNames() {
		d.layers[n] = f.AddLayer(string(n), true)
	}
	return d
}

// Add appends a page.
func (d *Document) Add(p *Page) {
	orientation, w, h := "P", p.size.Width, p.size.Height
	if w > h { // the library takes sizes upright
		orientation, w, h = "L", h, w
	}
	d.f.AddPageFormat(orientation, fpdf.SizeType{Wd: w, Ht: h})
	d.f.SetTextColor(0, 0, 0)
	var last drawing.Text
	for _, part := range p.parts {
		d.f.BeginLayer(d.layers[part.layer])
		d.f.RawWriteBuf(bytes.NewReader(part.raw))
		for _, t := range part.texts {
			d.text(t, &last)
		}
		d.f.EndLayer()
	}
}

// Pages returns the number of pages so far.
func (d *Document) Pages() int { return d.f.PageCount() }

// Bookmark enters the current page in the outline. Level 0 is outermost.
func (d *Document) Bookmark(title string, level int) { d.f.Bookmark(title, level, 0) }

// WriteTo finishes the document and writes it.
func (d *Document) WriteTo(w io.Writer) (int64, error) {
	counter := &counter{w: w}
	err := d.f.Output(counter)
	return counter.n, err
}

type counter struct {
	w io.Writer
	n int64
}

func (c *counter) Write(p []byte) (int, error) {
	n, err := c.w.Write(p)
	c.n += int64(n)
	return n, err
}

// text writes one text, setting only what differs from the last one.
func (d *Document) text(t drawing.Text, last *drawing.Text) {
	if t.Height != last.Height || t.Bold != last.Bold {
		style := ""
		if t.Bold {
			style = "B"
		}
		d.f.SetFont(family, style, drawing.EmSize(t.Height, t.Bold)*perMM)
	}
	if t.Grey != last.Grey {
		v := int(255*t.Grey + 0.5)
		d.f.SetTextColor(v, v, v)
	}
	*last = t
	narrow := t.Condensed()
	if narrow < 1 {
		d.f.RawWriteStr(strconv.FormatFloat(100*narrow, 'f', 2, 64) + " Tz")
	}
	at := t.Start()
	if t.Turn != 0 {
		d.f.TransformBegin()
		d.f.TransformRotate(t.Turn, at.X, at.Y)
	}
	d.f.Text(at.X, at.Y, t.Text)
	if t.Turn != 0 {
		d.f.TransformEnd()
	}
	if narrow < 1 {
		d.f.RawWriteStr("100 Tz")
	}
}
