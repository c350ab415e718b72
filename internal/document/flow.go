package document

import (
	"nogging/internal/drawing"
)

// flow fills sheets column by column, from the left.
type flow struct {
	title   string
	name    string
	columns int
	scenes  []*drawing.Scene
	column  int
	y       float64

	headings []heading
}

// heading is where a heading stands.
type heading struct {
	text  string
	scene int // index
}

// gutter is the room between columns, and between what stands in one, in mm.
const gutter = 8.0

func newFlow(name, title string, columns int) *flow {
	return &flow{name: name, title: title, columns: columns}
}

// width returns the width of a column.
func (f *flow) width() float64 {
	return (drawing.A3.Field().Width() - gutter*float64(f.columns-1)) / float64(f.columns)
}

// scene returns the sheet that is being filled.
func (f *flow) scene() *drawing.Scene {
	if len(f.scenes) == 0 {
		f.turn()
	}
	return f.scenes[len(f.scenes)-1]
}

// turn begins a new sheet.
func (f *flow) turn() {
	f.scenes = append(f.scenes, drawing.NewScene(f.name, f.title, drawing.A3))
	f.column, f.y = 0, drawing.A3.Field().Min.Y
}

// next goes to the next column, or to a new sheet after the last.
func (f *flow) next() {
	f.scene()
	f.column++
	f.y = drawing.A3.Field().Min.Y
	if f.column == f.columns {
		f.turn()
	}
}

// left returns the height that the column has left.
func (f *flow) left() float64 {
	f.scene()
	return drawing.A3.Field().Max.Y - f.y
}

// at returns where the next thing in the column goes.
func (f *flow) at() drawing.Point {
	f.scene()
	return drawing.Point{X: drawing.A3.Field().Min.X + float64(f.column)*(f.width()+gutter), Y: f.y}
}

// layer returns the layer to draw on.
func (f *flow) layer() *drawing.Layer { return f.scene().Layer(drawing.Notes) }

// table sets a table, on over as many columns as it needs.
func (f *flow) table(t *drawing.Table) {
	for from := 0; from < len(t.Rows); {
		n := t.Fitting(from, f.left())
		if n == 0 {
			if f.y == drawing.A3.Field().Min.Y {
				return // a heading longer than a sheet: no caller makes one
			}
			f.next()
			continue
		}
		t.Draw(f.layer(), f.at(), from, n)
		f.y += t.Reach(n) + gutter
		from += n
	}
}

// heading sets a heading and keeps it with the room that follows it.
func (f *flow) heading(text string, height, follow float64) {
	if f.left() < height+follow {
		f.next()
	}
	f.scene()
	f.headings = append(f.headings, heading{text, len(f.scenes) - 1})
	f.layer().Add(drawing.Text{At: f.at().Add(0, height), Text: text, Height: height, Bold: true, Max: f.width()})
	f.y += height + 3
}

// paragraph sets wrapped text.
func (f *flow) paragraph(text string, indent float64, bold bool) {
	for _, line := range drawing.Wrap(text, drawing.Small, f.width()-indent, bold) {
		if f.left() < 2*drawing.Small {
			f.next()
		}
		f.layer().Add(drawing.Text{At: f.at().Add(indent, drawing.Small), Text: line, Height: drawing.Small, Bold: bold})
		f.y += drawing.LineGap * drawing.Small
	}
	f.y += 1
}

// bullet sets wrapped text behind a dash.
func (f *flow) bullet(text string) {
	if f.left() < 2*drawing.Small {
		f.next()
	}
	f.layer().Add(drawing.Text{At: f.at().Add(0, drawing.Small), Text: "–", Height: drawing.Small})
	f.paragraph(text, 5, false)
}
