package sheets

import (
	"fmt"
	"slices"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/quantity"
)

// schedule lists what it takes to set out every wall of the level: the ends of
// its tracks' axis, length, products, height and door gaps.
func (l *site) schedule() *drawing.Table {
	w := l.set.lengthWidth()
	t := &drawing.Table{Title: "Set-out schedule, " + l.name(), Columns: []drawing.Column{
		{Head: "Wall", Width: 17}, {Head: "Build-up", Width: 26},
		{Head: "Start x", Width: w, Align: drawing.Right}, {Head: "y", Width: w, Align: drawing.Right},
		{Head: "End x", Width: w, Align: drawing.Right}, {Head: "y", Width: w, Align: drawing.Right},
		{Head: "Length", Width: w, Align: drawing.Right},
		{Head: "Height", Width: w + 6, Align: drawing.Right},
		{Width: 3},
		{Head: "Track: edges from the axis", Width: 58},
		{Head: "Door gaps, from the start of the track", Width: 378 - 17 - 26 - 6*w - 6 - 3 - 58},
	}}
	dim := l.set.units.dim
	for _, wall := range l.walls {
		e := extentOf(wall)
		a, b := wall.Frame.Global(e.From, 0), wall.Frame.Global(e.To, 0)
		t.Add(wall.ID, wall.BuildUp, dim(a.X-l.datum.X), dim(a.Y-l.datum.Y), dim(b.X-l.datum.X), dim(b.Y-l.datum.Y),
			dim(e.Len()), l.heights(wall), "", l.tracks(wall), l.gapText(wall, e))
	}
	return t
}

// heights writes a wall's height, or the least and greatest.
func (l *site) heights(w *layout.Wall) string {
	lo, hi := highest(w.Top), highest(w.Top)
	for _, p := range w.Top {
		lo = min(lo, p.Y)
	}
	if lo == hi {
		return l.set.units.dim(hi)
	}
	return l.set.units.dim(lo) + "–" + l.set.units.dim(hi)
}

// tracks writes each plane's track with where its edges lie to the left (+)
// and right (−) of the axis, seen from the start.
func (l *site) tracks(w *layout.Wall) string {
	var parts []string
	for _, p := range planes(w) {
		parts = append(parts, fmt.Sprintf("%s: %s, %s", w.FrameLines[p.lines[0]].Track,
			signed(l.set.units, p.offset+p.depth/2), signed(l.set.units, p.offset-p.depth/2)))
	}
	return strings.Join(parts, "; ")
}

func signed(u units, v Length) string {
	switch {
	case v > 0:
		return "+" + u.thin(v)
	case v < 0:
		return "−" + u.thin(-v)
	}
	return "0"
}

// gapText writes the gaps in the floor track as running dimensions.
func (l *site) gapText(w *layout.Wall, e geom.Interval) string {
	var parts []string
	for _, g := range gaps(w, e) {
		parts = append(parts, l.set.units.dim(g.From-e.From)+"–"+l.set.units.dim(g.To-e.From))
	}
	return strings.Join(parts, "; ")
}

// key explains a set-out plan: north, scale bar, lines, and the parts of a
// level that is cut into several.
type key struct {
	*site
	scale   scale
	windows []geom.Rect
	current int
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
)

var keyRows = []string{
	"existing structure", "track, both edges", "axis of the wall", "gap in the floor track",
	"stud at an opening or junction", "datum of the coordinates",
}

func (k *key) size() (float64, float64) {
	h := keyHead + keyRow*float64(len(keyRows)) + 9
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
	for i, text := range keyRows {
		y := at.Y + keyHead + keyRow*float64(i) + 2
		k.sample(l, i, drawing.NewRect(at.X, y, 14, 3))
		l.Add(drawing.Text{At: drawing.Point{X: at.X + 17, Y: y + 2.7}, Text: text, Height: drawing.Small, Max: keyWidth - 17})
	}
	if len(k.windows) > 0 {
		k.parts(l, at.Add(0, keyHead+keyRow*float64(len(keyRows))+6))
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
		steps, unit = []Length{1, 2, 4, 5, 10}, quantity.Foot
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
func (k *key) sample(l *drawing.Layer, i int, r drawing.Rect) {
	c := r.Centre()
	across := func(y float64) drawing.Segment {
		return drawing.Segment{A: drawing.Point{X: r.Min.X, Y: y}, B: drawing.Point{X: r.Max.X, Y: y}}
	}
	switch i {
	case 0:
		l.Add(drawing.Box(r, drawing.Cut, drawing.Tint(0.82)), drawing.Lines{Segments: drawing.Hatch(r.Corners(), 45, 1.4), Pen: drawing.Thin})
	case 1:
		l.Add(drawing.Lines{Segments: []drawing.Segment{across(c.Y - 0.9), across(c.Y + 0.9)}, Pen: drawing.Outline})
	case 2:
		l.Add(drawing.Line(across(c.Y).A, across(c.Y).B, drawing.Pen{Weight: drawing.W13, Dash: drawing.LongDashDot}))
	case 3:
		l.Add(drawing.Lines{Segments: []drawing.Segment{across(c.Y - 0.9), across(c.Y + 0.9)}, Pen: drawing.Hidden})
	case 4:
		l.Add(drawing.Box(drawing.NewRect(c.X-0.8, c.Y-0.9, 1.6, 1.8), drawing.Thin, drawing.Black))
	case 5:
		l.Add(drawing.Circle{Centre: c, Radius: 1.2, Pen: drawing.Outline},
			drawing.Lines{Segments: []drawing.Segment{{A: c.Add(-2, 0), B: c.Add(2, 0)}, {A: c.Add(0, -2), B: c.Add(0, 2)}}, Pen: drawing.Outline})
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
		lines = append(lines, drawing.Segment{A: pt(wall.Frame.Global(e.From, 0)), B: pt(wall.Frame.Global(e.To, 0))})
	}
	l.Add(drawing.Lines{Segments: slices.Clip(lines), Pen: drawing.Pen{Weight: drawing.W13, Grey: 0.6}})
}
