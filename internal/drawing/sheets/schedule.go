package sheets

import (
	"fmt"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/geom"
	"nogging/internal/layout"
)

// scheduleWidth is the width of the set-out schedule in mm.
const scheduleWidth = 380.0

// schedule lists what it takes to set out every wall of the level: the ends of
// both edges of each track, its length, the wall's height, and the gaps in it.
func (l *site) schedule() *drawing.Table {
	w := l.set.lengthWidth()
	height := w + 6 // for the least and the greatest
	if l.set.units.imperial {
		w, height = w-2, 2*w-6
	}
	fixed := []drawing.Column{{Head: "Wall", Width: 15}, {Head: "Build-up", Width: 22}, {Head: "Track", Width: 29}}
	for _, head := range []string{"A start x", "y", "A end x", "y", "B start x", "y", "B end x", "y", "Length"} {
		fixed = append(fixed, drawing.Column{Head: head, Width: max(w, drawing.TextWidth(head, drawing.Small, true)+6), Align: drawing.Right})
	}
	fixed = append(fixed, drawing.Column{Head: "Height", Width: height, Align: drawing.Right}, drawing.Column{Width: 2})
	used := 0.0
	for _, c := range fixed {
		used += c.Width
	}
	t := &drawing.Table{Title: "Set-out schedule, " + l.name() + ": lines to snap, edges of tracks at face A and face B",
		Columns: append(fixed, drawing.Column{Head: "Gaps, from the track's start", Width: scheduleWidth - used})}
	for _, wall := range l.walls {
		l.listWall(t, wall)
	}
	return t
}

// listWall adds a row for each track of a wall.
func (l *site) listWall(t *drawing.Table, wall *layout.Wall) {
	u := l.set.units
	for _, s := range wall.SetOut(l.datum) {
		if s.On != layout.OnFloor {
			continue
		}
		fl := &wall.FrameLines[s.Line]
		cells := []string{wall.ID, wall.BuildUp, l.trackName(wall, s.Line)}
		for _, e := range []geom.Segment{s.EdgeA, s.EdgeB} {
			cells = append(cells, u.exact(e.A.X), u.exact(e.A.Y), u.exact(e.B.X), u.exact(e.B.Y))
		}
		t.Add(append(cells, u.exact(fl.Extent.Len()), l.heights(wall), "", l.gapText(wall, fl.Extent))...)
	}
}

// trackName names the track of a frame line and, where a wall has several, which
// it is.
func (l *site) trackName(w *layout.Wall, line int) string {
	name := w.FrameLines[line].Track
	all := planes(w)
	for i, p := range all {
		for n, k := range p.lines {
			if k != line {
				continue
			}
			if len(all) > 1 {
				name += ", face " + "AB"[min(i, 1):][:1]
			}
			if len(p.lines) > 1 {
				name += fmt.Sprintf(", part %d", n+1)
			}
		}
	}
	return name
}

// heights writes a wall's height, or the least and greatest.
func (l *site) heights(w *layout.Wall) string {
	lo, hi := highest(w.Top), highest(w.Top)
	for _, p := range w.Top {
		lo = min(lo, p.Y)
	}
	return l.set.units.span(lo, hi)
}

// gapText writes the gaps that openings leave in a floor track as running
// dimensions, and the movement joint at its end.
func (l *site) gapText(w *layout.Wall, e geom.Interval) string {
	var parts []string
	for _, o := range w.Openings {
		if g, ok := gap(w, o, e); ok {
			parts = append(parts, o.ID+" "+l.set.units.span(g.From-e.From, g.To-e.From))
		}
	}
	for _, p := range planes(w) {
		for _, b := range p.breaks {
			if b.From == e.To && movement(w, b) {
				parts = append(parts, "then movement joint "+l.set.units.thin(b.Len()))
			}
		}
	}
	return strings.Join(parts, "; ")
}
