package sheets

import (
	"fmt"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/geom"
	"nogging/internal/layout"
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
