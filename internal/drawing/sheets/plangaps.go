package sheets

import (
	"nogging/internal/drawing"
	"nogging/internal/geom"
	"nogging/internal/layout"
)

// beside proposes places for a text along a wall that runs along x or y, on
// either side of it; none for a slanting one.
func (p *planView) beside(w *layout.Wall, u Length, text string) []drawing.Text {
	dir := w.Dir(u)
	upright := abs(dir.Y) > abs(dir.X)
	if w.Curve != nil || abs(dir.X) > geom.Parallel && abs(dir.Y) > geom.Parallel {
		return nil
	}
	c := p.pt(w.Point(u, 0))
	off := p.scale.paper(w.Thickness)/2 + 0.8 + drawing.Small/2
	var out []drawing.Text
	for _, step := range []float64{0, 3.4} {
		for _, side := range []float64{-1, 1} {
			t := drawing.Text{At: c.Add(0, side*(off+step)), Text: text, Height: drawing.Small, Align: drawing.Centre, Mask: true}
			if upright {
				t.At, t.Turn = c.Add(side*(off+step), 0), 90
			}
			t = t.Middle()
			if p.frame().Inset(-3).Holds(t.Bounds()) {
				out = append(out, t)
			}
		}
	}
	return out
}

// dimGaps writes the running dimensions of the gaps in a wall's floor track
// beside them where there is room; the schedule has them all. Each number stands
// at its own side of the gap.
func (p *planView) dimGaps(s *drawing.Scene, w *layout.Wall) {
	dir := w.Frame.Dir
	for _, fl := range w.FrameLines {
		if fl.Offset != w.FrameLines[0].Offset {
			continue
		}
		for _, g := range gaps(w, fl.Extent) {
			a, b := p.set.units.dim(g.From-fl.Extent.From), p.set.units.dim(g.To-fl.Extent.From)
			if dir.X < -0.5 || dir.Y < -0.5 {
				a, b = b, a
			}
			if t, ok := p.placer.PlaceClear(p.beside(w, (g.From+g.To)/2, a+"–"+b)...); ok {
				s.Layer(drawing.Dimensions).Add(t)
			}
		}
	}
}

// nameJoints draws the movement joints of a wall across it and names them.
func (p *planView) nameJoints(s *drawing.Scene, w *layout.Wall) {
	pl := planes(w)[0]
	for _, b := range pl.breaks {
		if !movement(w, b) {
			continue
		}
		u, half := (b.From+b.To)/2, w.Thickness/2
		a, c := p.pt(w.Point(u, half)), p.pt(w.Point(u, -half))
		line := extended(drawing.Segment{A: a, B: c}, 1.2)
		g := p.clip()
		g.Add(drawing.Line(line.A, line.B, drawing.Outline))
		s.Layer(drawing.SettingOut).Add(g)
		text := "movement joint " + p.set.units.span(b.From-pl.extent.From, b.To-pl.extent.From)
		middle := p.pt(w.Point(u, 0))
		if t, ok := p.placer.PlaceClear(p.beside(w, u, text)...); ok {
			s.Layer(drawing.Marks).Add(t)
		} else if t, _, ok := p.placer.OnLeader([]drawing.Point{middle}, drawing.Text{Text: text, Height: drawing.Small, Align: drawing.Centre, Mask: true}, p.frame()); ok {
			drawLeader(s, middle, t)
		}
	}
}
