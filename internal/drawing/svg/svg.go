// Package svg writes a drawing.Scene as SVG 1.1: millimetres as units, one
// group a layer, one group with a <title> a part. The same scene always gives
// the same bytes. Text stays text, in whatever sans-serif face the reader has.
package svg

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"nogging/internal/drawing"
)

// wider is how much wider than the measured face a reader's sans-serif face is
// allowed for: text with less room than this gets its length written down.
const wider = 1.12

// Write writes the scene.
func Write(w io.Writer, s *drawing.Scene) error {
	_, err := w.Write(Append(nil, s))
	return err
}

// Append appends the scene, as an SVG document, to buf.
func Append(buf []byte, s *drawing.Scene) []byte {
	e := &encoder{buf: buf, name: s.Name}
	width, height := num(s.Size.Width), num(s.Size.Height)
	e.str(`<svg xmlns="http://www.w3.org/2000/svg" width="` + width + `mm" height="` + height + `mm" viewBox="0 0 ` + width + ` ` + height + `" role="img">` + "\n")
	e.title(s.Title)
	e.str(`<rect width="` + width + `" height="` + height + `" fill="#fff"/>` + "\n")
	e.str(`<g fill="none" stroke="#000" font-family="sans-serif">` + "\n")
	for _, l := range s.Layers() {
		e.layer(l)
	}
	e.str("</g>\n</svg>\n")
	return e.buf
}

type encoder struct {
	buf   []byte
	name  string // of the scene: ids start with it
	clips int
}

func (e *encoder) str(s string) { e.buf = append(e.buf, s...) }

// layer writes one layer.
func (e *encoder) layer(l drawing.Layer) {
	e.str(`<g id="`)
	e.escape(e.name + "." + strings.ReplaceAll(string(l.Name), " ", "-"))
	e.str(`" data-layer="`)
	e.escape(string(l.Name))
	e.str("\">\n")
	e.items(l.Items)
	e.str("</g>\n")
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
		e.arc(v)
	case drawing.Text:
		e.text(v)
	case *drawing.Group:
		e.group(v)
	}
}

func (e *encoder) group(g *drawing.Group) {
	clip := ""
	if g.Clip != nil {
		e.clips++
		clip = e.name + ".clip" + strconv.Itoa(e.clips)
		e.str(`<clipPath id="`)
		e.escape(clip)
		e.str(`"><rect`)
		e.attr("x", g.Clip.Min.X)
		e.attr("y", g.Clip.Min.Y)
		e.attr("width", g.Clip.Width())
		e.attr("height", g.Clip.Height())
		e.str("/></clipPath>\n")
	}
	e.str("<g")
	if g.ID != "" {
		e.attrText("id", g.ID)
	}
	for _, d := range g.Data {
		e.attrText("data-"+d.Name, d.Value)
	}
	if clip != "" {
		e.attrText("clip-path", "url(#"+clip+")")
	}
	e.str(">\n")
	if g.Title != "" {
		e.title(g.Title)
	}
	e.items(g.Items)
	e.str("</g>\n")
}

func (e *encoder) title(s string) {
	e.str("<title>")
	e.escape(s)
	e.str("</title>\n")
}

func (e *encoder) path(p drawing.Path) {
	if len(p.Points) < 2 {
		return
	}
	e.str(`<path d="`)
	for i, pt := range p.Points {
		if i == 0 {
			e.str("M")
		} else {
			e.str("L")
		}
		e.point(pt)
	}
	if p.Closed {
		e.str("Z")
	}
	e.str(`"`)
	e.paint(p.Pen, p.Fill)
	e.str("/>\n")
}

func (e *encoder) lines(l drawing.Lines) {
	if len(l.Segments) == 0 {
		return
	}
	e.str(`<path d="`)
	for _, s := range l.Segments {
		e.str("M")
		e.point(s.A)
		e.str("L")
		e.point(s.B)
	}
	e.str(`"`)
	e.paint(l.Pen, drawing.NoFill)
	e.str("/>\n")
}

func (e *encoder) circle(c drawing.Circle) {
	e.str("<circle")
	e.attr("cx", c.Centre.X)
	e.attr("cy", c.Centre.Y)
	e.attr("r", c.Radius)
	e.paint(c.Pen, c.Fill)
	e.str("/>\n")
}

func (e *encoder) arc(a drawing.Arc) {
	e.str(`<path d="M`)
	e.point(onCircle(a, a.From))
	e.str("A")
	e.num(a.Radius)
	e.str(" ")
	e.num(a.Radius)
	e.str(" 0 ")
	if math.Mod(a.To-a.From+720, 360) > 180 {
		e.str("1 0 ")
	} else {
		e.str("0 0 ")
	}
	e.point(onCircle(a, a.To))
	e.str(`"`)
	e.paint(a.Pen, drawing.NoFill)
	e.str("/>\n")
}

func onCircle(a drawing.Arc, degrees float64) drawing.Point {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return a.Centre.Add(a.Radius*cos, -a.Radius*sin)
}

func (e *encoder) text(t drawing.Text) {
	if t.Text == "" {
		return
	}
	if t.Mask {
		q := t.Quad()
		e.path(drawing.Path{Points: q[:], Closed: true, Fill: drawing.White})
	}
	e.str("<text")
	e.attr("x", t.At.X)
	e.attr("y", t.At.Y)
	e.attr("font-size", drawing.EmSize(t.Height, t.Bold))
	switch t.Align {
	case drawing.Centre:
		e.str(` text-anchor="middle"`)
	case drawing.Right:
		e.str(` text-anchor="end"`)
	}
	if t.Bold {
		e.str(` font-weight="bold"`)
	}
	if t.Turn != 0 {
		e.str(` transform="rotate(` + num(-t.Turn) + " ")
		e.point(t.At)
		e.str(`)"`)
	}
	if w := t.Width(); t.Max > 0 && w*wider > t.Max {
		e.attr("textLength", w)
		e.str(` lengthAdjust="spacingAndGlyphs"`)
	}
	e.str(` stroke="none" fill="` + colour(t.Grey) + `">`)
	e.escape(t.Text)
	e.str("</text>\n")
}

// paint writes the attributes of pen and fill that differ from what the
// drawing's outermost group sets.
func (e *encoder) paint(pen drawing.Pen, fill drawing.Fill) {
	if fill.On {
		e.attrText("fill", colour(fill.Grey))
	}
	if pen.Weight == 0 {
		e.str(` stroke="none"`)
		return
	}
	if pen.Grey != 0 {
		e.attrText("stroke", colour(pen.Grey))
	}
	e.attr("stroke-width", float64(pen.Weight))
	for i, d := range pen.Pattern() {
		if i == 0 {
			e.str(` stroke-dasharray="`)
		} else {
			e.str(" ")
		}
		e.num(d)
	}
	if pen.Pattern() != nil {
		e.str(`"`)
	}
}

func colour(g drawing.Grey) string {
	if g <= 0 {
		return "#000"
	}
	v := int(math.Round(255 * min(float64(g), 1)))
	return fmt.Sprintf("#%02x%02x%02x", v, v, v)
}

func (e *encoder) attr(name string, v float64) {
	e.str(" " + name + `="`)
	e.num(v)
	e.str(`"`)
}

func (e *encoder) attrText(name, v string) {
	e.str(" " + name + `="`)
	e.escape(v)
	e.str(`"`)
}

func (e *encoder) point(p drawing.Point) {
	e.num(p.X)
	e.str(" ")
	e.num(p.Y)
}

func (e *encoder) num(v float64) { e.buf = appendNum(e.buf, v) }

func num(v float64) string { return string(appendNum(nil, v)) }

// appendNum writes a number to two decimals, without trailing zeros: a
// hundredth of a millimetre is finer than any printer.
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
	return buf
}

// escape writes text for XML. Control characters, which XML forbids, become
// spaces.
func (e *encoder) escape(s string) {
	for _, r := range s {
		switch {
		case r == '&':
			e.str("&amp;")
		case r == '<':
			e.str("&lt;")
		case r == '>':
			e.str("&gt;")
		case r == '"':
			e.str("&quot;")
		case r < ' ' || r == 0xFFFE || r == 0xFFFF:
			e.str(" ")
		default:
			e.buf = append(e.buf, string(r)...)
		}
	}
}
