package pdf

import (
	"bytes"
	"compress/zlib"
	"math"
	"slices"
	"strconv"
	"sync"

	"nogging/internal/drawing"
)

// Page is a scene made ready for a Document.
type Page struct {
	size    drawing.Size
	content []byte // compressed
	used    [2]glyphSet
	links   []drawing.Link
}

// Render turns a scene into a page.
func Render(s *drawing.Scene) *Page {
	e := &encoder{height: s.Size.Height}
	for i := range e.used {
		e.used[i] = glyphSet{}
	}
	names := drawing.LayerNames()
	for _, l := range s.Layers() {
		e.layer(slices.Index(names, l.Name), l)
	}
	return &Page{size: s.Size, content: compress(e.buf), used: e.used, links: e.links}
}

// encoder writes PDF operators.
type encoder struct {
	height float64
	buf    []byte
	texts  []drawing.Text // of the layer, still to be written
	pen    drawing.Pen
	fill   drawing.Grey
	used   [2]glyphSet
	links  []drawing.Link
}

// layer writes one layer: its lines, then its texts on top of them; texts are
// never clipped.
func (e *encoder) layer(n int, l drawing.Layer) {
	e.pen, e.fill, e.texts = drawing.Pen{Weight: -1}, -1, e.texts[:0]
	e.op("/OC/L" + strconv.Itoa(n) + " BDC q")
	e.items(l.Items)
	e.op("Q")
	e.writeTexts()
	e.op("EMC")
}

func (e *encoder) items(items []drawing.Item) {
	for _, it := range items {
		e.item(it)
	}
}

func (e *encoder) item(it drawing.Item) {
	switch v := it.(type) {
	case drawing.Path:
		e.path(v)
	case drawing.Lines:
		e.lines(v)
	case drawing.Circle:
		e.circle(v)
	case drawing.Arc:
		e.setPen(v.Pen)
		e.arc(v.Centre, v.Radius, v.From, v.To)
		e.op("S")
	case drawing.Text:
		e.text(v)
	case drawing.Link:
		e.links = append(e.links, v)
	case *drawing.Group:
		e.group(v)
	}
}

func (e *encoder) group(g *drawing.Group) {
	if g.Clip == nil {
		e.items(g.Items)
		return
	}
	pen, fill := e.pen, e.fill
	e.op("q")
	e.num(g.Clip.Min.X * perMM)
	e.num((e.height - g.Clip.Max.Y) * perMM)
	e.num(g.Clip.Width() * perMM)
	e.num(g.Clip.Height() * perMM)
	e.op("re W n")
	e.items(g.Items)
	e.op("Q")
	e.pen, e.fill = pen, fill
}

func (e *encoder) path(p drawing.Path) {
	if len(p.Points) < 2 || (p.Pen.Weight == 0 && !p.Fill.On) {
		return
	}
	e.setPen(p.Pen)
	e.setFill(p.Fill)
	for i, pt := range p.Points {
		e.point(pt)
		if i == 0 {
			e.op("m")
		} else {
			e.op("l")
		}
	}
	e.op(paint(p.Pen, p.Fill, p.Closed))
}

// paint returns the operator that strokes, fills or does both.
func paint(pen drawing.Pen, fill drawing.Fill, closed bool) string {
	switch {
	case pen.Weight == 0:
		return "f"
	case fill.On && closed:
		return "b"
	case fill.On:
		return "B"
	case closed:
		return "s"
	}
	return "S"
}

func (e *encoder) lines(l drawing.Lines) {
	if len(l.Segments) == 0 {
		return
	}
	e.setPen(l.Pen)
	for _, s := range l.Segments {
		e.point(s.A)
		e.op("m")
		e.point(s.B)
		e.op("l")
	}
	e.op("S")
}

func (e *encoder) circle(c drawing.Circle) {
	e.setPen(c.Pen)
	e.setFill(c.Fill)
	e.arc(c.Centre, c.Radius, 0, 360)
	e.op(paint(c.Pen, c.Fill, true))
}

// arc writes an arc as cubic curves of at most a quarter each.
func (e *encoder) arc(centre drawing.Point, r, from, to float64) {
	sweep := to - from
	for sweep <= 0 {
		sweep += 360
	}
	n := int(math.Ceil(sweep/90 - 1e-9))
	step := sweep / float64(n) * math.Pi / 180
	k := 4.0 / 3 * math.Tan(step/4) * r
	at := func(a float64) (p, tangent drawing.Point) {
		sin, cos := math.Sincos(a)
		return centre.Add(r*cos, -r*sin), drawing.Point{X: -sin * k, Y: -cos * k}
	}
	a := from * math.Pi / 180
	p, t := at(a)
	e.point(p)
	e.op("m")
	for range n {
		a += step
		q, u := at(a)
		e.point(p.Add(t.X, t.Y))
		e.point(q.Add(-u.X, -u.Y))
		e.point(q)
		e.op("c")
		p, t = q, u
	}
}

func (e *encoder) text(t drawing.Text) {
	if t.Text == "" {
		return
	}
	if t.Mask {
		q := t.Quad()
		e.path(drawing.Path{Points: q[:], Closed: true, Fill: drawing.White})
	}
	e.texts = append(e.texts, t)
}

// writeTexts writes the layer's texts in one text object (9.4), setting only
// what differs from one to the next.
func (e *encoder) writeTexts() {
	if len(e.texts) == 0 {
		return
	}
	e.op("BT")
	grey, narrow := drawing.Grey(-1), 1.0
	var last drawing.Text
	for _, t := range e.texts {
		if t.Height != last.Height || t.Bold != last.Bold {
			e.buf = append(e.buf, "/F0 "...)
			if t.Bold {
				e.buf[len(e.buf)-2] = '1'
			}
			e.num(drawing.EmSize(t.Height, t.Bold) * perMM)
			e.op("Tf")
		}
		if t.Grey != grey {
			grey = t.Grey
			e.num(float64(grey))
			e.op("g")
		}
		if n := t.Condensed(); n != narrow {
			narrow = n
			e.num(100 * n)
			e.op("Tz")
		}
		e.show(t)
		last = t
	}
	if narrow != 1 {
		e.op("100 Tz")
	}
	e.op("ET")
}

// show writes one text at its place.
func (e *encoder) show(t drawing.Text) {
	sin, cos := math.Sincos(t.Turn * math.Pi / 180)
	for _, v := range []float64{cos, sin, -sin, cos} {
		e.buf = strconv.AppendFloat(e.buf, math.Round(v*1e5)/1e5+0, 'f', -1, 64)
		e.buf = append(e.buf, ' ')
	}
	e.point(t.Start())
	e.op("Tm")
	n := 0
	if t.Bold {
		n = 1
	}
	face := faces[n]()
	e.buf = append(e.buf, '<')
	for _, r := range t.Text {
		drawn := face.of(r)
		g := drawn.glyph
		e.used[n].add(g, drawn.as)
		const digits = "0123456789ABCDEF"
		e.buf = append(e.buf, digits[g>>12&15], digits[g>>8&15], digits[g>>4&15], digits[g&15])
	}
	e.op("> Tj")
}

func (e *encoder) setPen(p drawing.Pen) {
	if p == e.pen || p.Weight == 0 {
		return
	}
	if p.Grey != e.pen.Grey || e.pen.Weight < 0 {
		e.num(float64(p.Grey))
		e.op("G")
	}
	if p.Weight != e.pen.Weight {
		e.num(float64(p.Weight) * perMM)
		e.op("w")
	}
	if p.Dash != e.pen.Dash || (p.Dash != drawing.Continuous && p.Weight != e.pen.Weight) {
		e.buf = append(e.buf, '[')
		for _, d := range p.Pattern() {
			e.num(d * perMM)
		}
		e.op("] 0 d")
	}
	e.pen = p
}

func (e *encoder) setFill(f drawing.Fill) {
	if f.On && f.Grey != e.fill {
		e.num(float64(f.Grey))
		e.op("g")
		e.fill = f.Grey
	}
}

func (e *encoder) point(p drawing.Point) {
	e.num(p.X * perMM)
	e.num((e.height - p.Y) * perMM)
}

func (e *encoder) op(s string) {
	e.buf = append(e.buf, s...)
	e.buf = append(e.buf, '\n')
}

func (e *encoder) num(v float64) { e.buf = appendNum(e.buf, v) }

// appendNum writes a number to two decimals and a space.
func appendNum(buf []byte, v float64) []byte {
	hundredths := int64(math.Round(v * 100))
	if hundredths < 0 {
		buf = append(buf, '-')
		hundredths = -hundredths
	}
	buf = strconv.AppendInt(buf, hundredths/100, 10)
	if rest := hundredths % 100; rest != 0 {
		buf = append(buf, '.', byte('0'+rest/10))
		if rest%10 != 0 {
			buf = append(buf, byte('0'+rest%10))
		}
	}
	return append(buf, ' ')
}

// deflaters are kept for the next page: making one costs more than its work.
var deflaters = sync.Pool{New: func() any {
	z, _ := zlib.NewWriterLevel(nil, zlib.BestSpeed) // only an unknown level gives an error
	return z
}}

// compress deflates data.
func compress(data []byte) []byte {
	var b bytes.Buffer
	b.Grow(len(data)/3 + 64)
	z := deflaters.Get().(*zlib.Writer)
	z.Reset(&b)
	z.Write(data) // a bytes.Buffer takes everything
	z.Close()
	deflaters.Put(z)
	return b.Bytes()
}
