package sheets

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/layout"
)

// junctions lists those of the level, with their numbers on it.
func (l *site) junctions(do func(n int, j *layout.Junction)) {
	n := 0
	for i := range l.set.in.Layout.Junctions {
		if j := &l.set.in.Layout.Junctions[i]; j.Level == l.level.ID {
			n++
			do(n, j)
		}
	}
}

// junctionTable lists which wall runs through at each junction and why; nil for
// a level without junctions.
func (l *site) junctionTable() *drawing.Table {
	w := l.set.lengthWidth()
	t := &drawing.Table{Title: "Junctions, " + l.name() + ": numbers as on the plan", Columns: []drawing.Column{
		{Head: "No.", Width: 10, Align: drawing.Right}, {Head: "x", Width: w, Align: drawing.Right}, {Head: "y", Width: w, Align: drawing.Right},
		{Width: 2}, {Head: "Form", Width: 11}, {Head: "Runs through", Width: 30}, {Head: "Stand against it", Width: 48},
		{Head: "Why", Width: 100}, {Head: "Boards of the through wall", Width: 175 - 2*w},
	}}
	any := false
	l.junctions(func(n int, j *layout.Junction) {
		any = true
		boards := "run on"
		switch {
		case j.Kind == layout.L:
			boards = "lap those of the other layer by layer"
		case len(j.Cut) > 0:
			boards = "cut for " + strings.Join(j.Cut, ", ") + ", joints sealed"
		}
		at := j.At.Sub(l.datum)
		t.Add(strconv.Itoa(n), l.set.units.exact(at.X), l.set.units.exact(at.Y), "", string(j.Kind), j.Walls[0], strings.Join(j.Walls[1:], ", "),
			l.set.units.localise(j.Reason), boards)
	})
	if !any {
		return nil
	}
	return t
}

// throughReach is how far the stroke of a through wall reaches from the middle
// of a junction, in half thicknesses of the wall.
const throughReach = 2

// markJunctions draws a heavy stroke along the wall that runs through at each
// junction, and the junction's number beside it where there is room; the table
// has them all.
func (p *planView) markJunctions(s *drawing.Scene) {
	byID := map[string]*layout.Wall{}
	for _, w := range p.walls {
		byID[w.ID] = w
	}
	p.junctions(func(n int, j *layout.Junction) {
		w := byID[j.Walls[0]]
		c := p.pt(j.At)
		if w == nil || !p.frame().Holds(drawing.Rect{Min: c, Max: c}) {
			return
		}
		e, u := extentOf(w), w.Local(j.At).X
		half := throughReach * w.Thickness / 2
		from, to := max(u-half, e.From), min(u+half, e.To)
		g := p.clip()
		g.Title = fmt.Sprintf("Junction %d: %s runs through: %s", n, w.ID, j.Reason)
		g.Add(drawing.Line(p.pt(w.Point(from, 0)), p.pt(w.Point(to, 0)), drawing.Pen{Weight: drawing.W50}))
		s.Layer(drawing.SettingOut).Add(g)
		p.numberJunction(s, n, c)
	})
}

// numberJunction writes a junction's number in one of the corners round it.
func (p *planView) numberJunction(s *drawing.Scene, n int, c drawing.Point) {
	var candidates []drawing.Text
	for _, d := range []float64{3, 4.5, 6} {
		for _, at := range []drawing.Point{c.Add(d, -d), c.Add(-d, -d), c.Add(d, d), c.Add(-d, d)} {
			candidates = append(candidates, drawing.Text{At: at, Text: "(" + strconv.Itoa(n) + ")", Height: drawing.Tiny, Align: drawing.Centre, Mask: true}.Middle())
		}
	}
	candidates = slices.DeleteFunc(candidates, func(t drawing.Text) bool { return !p.frame().Inset(-3).Holds(t.Bounds()) })
	if t, ok := p.placer.PlaceClear(candidates...); ok {
		s.Layer(drawing.Marks).Add(t)
	}
}

// cutNotes says where the boards of a wall are cut for others.
func (s *Set) cutNotes(w *layout.Wall) []string {
	var out []string
	for i := range w.Faces {
		face := &w.Faces[i]
		outer := &face.Layers[len(face.Layers)-1]
		var at []string
		var product string
		for _, seal := range w.Seals {
			if seal.Use != layout.UseBoardCut || seal.From.Y != outer.Bottom {
				continue
			}
			for _, b := range outer.Breaks {
				if seal.From.X == b.From && !slices.Contains(at, s.units.span(b.From-outer.Extent.From, b.To-outer.Extent.From)) {
					at, product = append(at, s.units.span(b.From-outer.Extent.From, b.To-outer.Extent.From)), s.sundryName(seal.Product)
				}
			}
		}
		if len(at) > 0 {
			out = append(out, fmt.Sprintf("All layers of face %s are cut at %s for the frame of the wall that stands there, against flanking sound; joints beside it: %s.",
				strings.ToUpper(string(face.Face)), strings.Join(at, ", "), product))
		}
	}
	return out
}
