package sheets

import (
	"fmt"
	"slices"

	"nogging/internal/drawing"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/quantity"
)

// key explains a set-out plan: north, scale bar, lines, and the parts of a
// level that is cut into several.
type key struct {
	*site
	scale   scale
	windows []geom.Rect
	current int
	flat    bool // lies below the plan instead of standing beside it
}

const keyWidth = 70.0

func (l *site) newKey(sc scale, windows []geom.Rect, current int) *key {
	return &key{site: l, scale: sc, windows: windows, current: current}
}

// Parts of the key in mm.
const (
	keyHead = 30.0 // north mark and scale bar
	keyRow  = 5.2
	keyPlan = 52.0 // height of the key plan
	keyBar  = 76.0 // width of north mark and scale bar where the key lies
)

// sample is what one row of the key explains.
type sample int

// The rows of the key.
const (
	structureSample sample = iota
	trackSample
	axisSample
	gapSample
	studSample
	throughSample
	datumSample
	cornerSample
)

var sampleTexts = [...]string{
	"existing structure", "track, both edges", "axis of the wall", "gap in the floor track",
	"stud at an opening or junction", "runs through at junction (3)", "datum of the coordinates", "corner that tapes start from",
}

// rows returns what the plan at this scale shows.
func (k *key) rows() []sample {
	rows := []sample{structureSample, trackSample}
	if !coarse(k.scale) {
		rows = append(rows, axisSample)
	}
	rows = append(rows, gapSample, studSample)
	met := false
	k.junctions(func(int, *layout.Junction) { met = true })
	if met {
		rows = append(rows, throughSample)
	}
	rows = append(rows, datumSample)
	if len(k.corners) > 0 {
		rows = append(rows, cornerSample)
	}
	return rows
}

// stacked is how many rows of the key stand over each other.
func (k *key) stacked() int {
	if k.flat {
		return (len(k.rows()) + 1) / 2
	}
	return len(k.rows())
}

func (k *key) size() (float64, float64) {
	if k.flat {
		return keyBar + 2*keyWidth, keyHead - 4
	}
	h := keyHead + keyRow*float64(len(k.rows())) + 9
	if len(k.windows) > 0 {
		h += keyPlan
	}
	return keyWidth, h
}

func (k *key) draw(s *drawing.Scene, at drawing.Point) {
	l := s.Layer(drawing.Notes)
	l.Add(drawing.Text{At: at.Add(0, drawing.Large), Text: "Key", Height: drawing.Large, Bold: true})
	k.north(l, at.Add(8, 18))
	k.bar(l, at.Add(22, 20))
	rows := at.Add(0, keyHead+2)
	if k.flat {
		rows = at.Add(keyBar, 8)
	}
	for i, row := range k.rows() {
		p := rows.Add(float64(i/k.stacked())*keyWidth, keyRow*float64(i%k.stacked()))
		k.sample(l, row, drawing.NewRect(p.X, p.Y, 14, 3))
		l.Add(drawing.Text{At: p.Add(17, 2.7), Text: sampleTexts[row], Height: drawing.Small, Max: keyWidth - 17})
	}
	if len(k.windows) > 0 {
		k.parts(l, at.Add(0, keyHead+keyRow*float64(len(k.rows()))+6))
	}
}

// north draws a mark that points up the sheet, to where y grows.
func (k *key) north(l *drawing.Layer, c drawing.Point) {
	l.Add(drawing.Circle{Centre: c, Radius: 6, Pen: drawing.Thin},
		drawing.Path{Points: []drawing.Point{c.Add(0, -7.5), c.Add(2.4, 4), c.Add(0, 2.2)}, Closed: true, Pen: drawing.Thin, Fill: drawing.Black},
		drawing.Path{Points: []drawing.Point{c.Add(0, -7.5), c.Add(-2.4, 4), c.Add(0, 2.2)}, Closed: true, Pen: drawing.Thin, Fill: drawing.White},
		drawing.Text{At: c.Add(0, -8.5), Text: "N", Height: drawing.Small, Bold: true, Align: drawing.Centre})
}

// bar draws a scale bar of four equal parts.
func (k *key) bar(l *drawing.Layer, at drawing.Point) {
	step := k.barStep()
	w := k.scale.paper(step)
	for i := range 4 {
		fill := drawing.Black
		if i%2 == 1 {
			fill = drawing.White
		}
		l.Add(drawing.Box(drawing.NewRect(at.X+float64(i)*w, at.Y, w, 1.6), drawing.Thin, fill))
	}
	for i := 0; i <= 4; i += 2 {
		l.Add(drawing.Text{At: at.Add(float64(i)*w, -1.2), Text: k.barText(step * Length(i)), Height: drawing.Small, Align: drawing.Centre})
	}
}

// barStep returns the round length of which four fill about 36 mm.
func (k *key) barStep() Length {
	steps := []Length{100, 200, 250, 500, 1000, 2000, 2500, 5000}
	unit := quantity.Millimetre
	if k.set.units.imperial {
		steps, unit = []Length{6, 12, 24, 48, 60, 120}, quantity.Inch
	}
	best := steps[0] * unit
	for _, n := range steps {
		if k.scale.paper(4*n*unit) <= 40 {
			best = n * unit
		}
	}
	return best
}

func (k *key) barText(v Length) string {
	if k.set.units.imperial {
		return fmt.Sprintf("%d'", v/quantity.Foot)
	}
	text := fmt.Sprintf("%g", v.Metres())
	if v > k.barStep()*3 {
		text += " m"
	}
	return text
}

// sample draws what one row of the key explains.
func (k *key) sample(l *drawing.Layer, row sample, r drawing.Rect) {
	c := r.Centre()
	across := func(y float64) drawing.Segment {
		return drawing.Segment{A: drawing.Point{X: r.Min.X, Y: y}, B: drawing.Point{X: r.Max.X, Y: y}}
	}
	switch row {
	case structureSample:
		l.Add(drawing.Box(r, drawing.Cut, drawing.Tint(0.82)), drawing.Lines{Segments: drawing.Hatch(r.Corners(), 45, 1.4), Pen: drawing.Thin})
	case trackSample:
		l.Add(drawing.Lines{Segments: []drawing.Segment{across(c.Y - 0.9), across(c.Y + 0.9)}, Pen: drawing.Outline})
	case axisSample:
		l.Add(drawing.Line(across(c.Y).A, across(c.Y).B, drawing.CentreLine))
	case gapSample:
		l.Add(drawing.Lines{Segments: []drawing.Segment{across(c.Y - 0.9), across(c.Y + 0.9)}, Pen: drawing.Hidden})
	case studSample:
		l.Add(drawing.Box(drawing.NewRect(c.X-0.8, c.Y-0.9, 1.6, 1.8), drawing.Thin, drawing.Black))
	case throughSample:
		l.Add(drawing.Line(c.Add(-3, 0), c.Add(3, 0), drawing.Pen{Weight: drawing.W50}))
	case datumSample:
		l.Add(drawing.Circle{Centre: c, Radius: 1.2, Pen: drawing.Outline},
			drawing.Lines{Segments: []drawing.Segment{{A: c.Add(-2, 0), B: c.Add(2, 0)}, {A: c.Add(0, -2), B: c.Add(0, 2)}}, Pen: drawing.Outline})
	case cornerSample:
		l.Add(cornerSymbol(c))
	}
}

// parts draws the key plan of a level in several parts; this sheet's is shaded.
func (k *key) parts(l *drawing.Layer, at drawing.Point) {
	w, h := k.bounds.Max.X-k.bounds.Min.X, k.bounds.Max.Y-k.bounds.Min.Y
	f := min((keyWidth-2)/w.MM(), (keyPlan-8)/h.MM())
	pt := func(p geom.Point) drawing.Point {
		return at.Add((p.X-k.bounds.Min.X).MM()*f, 4+(k.bounds.Max.Y-p.Y).MM()*f)
	}
	for i, win := range k.windows {
		r := drawing.Rect{Min: pt(geom.Pt(win.Min.X, win.Max.Y)), Max: pt(geom.Pt(win.Max.X, win.Min.Y))}
		fill := drawing.NoFill
		if i == k.current {
			fill = drawing.Tint(0.8)
		}
		l.Add(drawing.Box(r, drawing.Thin, fill),
			drawing.Text{At: r.Centre(), Text: fmt.Sprint(i + 1), Height: drawing.Small, Align: drawing.Centre, Bold: i == k.current}.Middle())
	}
	var lines []drawing.Segment
	for _, wall := range k.walls {
		e := extentOf(wall)
		line := wall.Path(e, 0, 100*quantity.Millimetre)
		for i := 1; i < len(line); i++ {
			lines = append(lines, drawing.Segment{A: pt(line[i-1]), B: pt(line[i])})
		}
	}
	l.Add(drawing.Lines{Segments: slices.Clip(lines), Pen: drawing.Pen{Weight: drawing.W13, Grey: 0.6}})
}
