package sheets

import (
	"fmt"
	"math"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/geom"
	"nogging/internal/layout"
)

// unrolled says, of a layer of a curved wall, that its elevation is unrolled.
func (s *Set) unrolled(l *layout.Layer) string {
	if l.Bend == nil {
		return ""
	}
	text := ", unrolled, radius " + s.units.dim(l.Bend.Radius)
	if l.Bend.Wet {
		text += ", bent wet"
	}
	return text
}

// onAxis returns the stretch of a wall's axis over a stretch of one of its
// layers, which in a curved wall has a length of its own.
func onAxis(w *layout.Wall, l *layout.Layer, u geom.Interval) geom.Interval {
	if w.Curve == nil || l.Bend == nil {
		return u
	}
	scale := float64(w.Curve.Axis.Radius) / float64(l.Bend.Radius)
	at := func(u Length) Length { return Length(math.Round(float64(u) * scale)) }
	return geom.Interval{From: at(u.From), To: at(u.To)}
}

// strike draws what a curved wall is struck by: its centre, the radii to both
// edges of its track, and the chord of the outer edge with its ordinates, to true
// shape.
func (p *planView) strike(s *drawing.Scene, w *layout.Wall) {
	if w.Curve == nil {
		return
	}
	g := p.clip()
	g.Title = "Set-out of curved wall " + w.ID
	for _, set := range w.SetOut(p.datum) {
		if set.On != layout.OnFloor || set.Strike == nil {
			continue
		}
		outer := set.Strike.EdgeA
		if set.Strike.EdgeB.Radius > outer.Radius {
			outer = set.Strike.EdgeB
		}
		for _, c := range outer.Chords {
			p.chord(g, c, set.Strike.Centre)
		}
		p.nameArc(s, w, set)
	}
	centre := p.pt(w.Curve.Axis.Centre)
	if p.frame().Holds(drawing.Rect{Min: centre, Max: centre}) {
		p.centre(s, g, w, centre)
	}
	s.Layer(drawing.SettingOut).Add(g)
}

// chord draws a chord with its ordinates.
func (p *planView) chord(g *drawing.Group, c layout.Chord, centre geom.Point) {
	from, to := c.From.Add(p.datum), c.To.Add(p.datum)
	f := geom.FrameOf(geom.Segment{A: from, B: to})
	out := Length(1) // the side away from the centre
	if f.Local(centre.Add(p.datum)).Y > 0 {
		out = -1
	}
	lines := []drawing.Segment{{A: p.pt(from), B: p.pt(to)}}
	for _, o := range c.Ordinates {
		lines = append(lines, drawing.Segment{A: p.pt(f.Global(o.At, 0)), B: p.pt(f.Global(o.At, out*o.Off))})
	}
	p.placer.Avoid(lines[0])
	g.Add(drawing.Lines{Segments: lines, Pen: drawing.Thin})
}

// centre marks the centre of a curve and leads from it to the wall's ends.
func (p *planView) centre(s *drawing.Scene, g *drawing.Group, w *layout.Wall, c drawing.Point) {
	e := extentOf(w)
	g.Add(drawing.Lines{Pen: drawing.Outline, Segments: []drawing.Segment{{A: c.Add(-2, 0), B: c.Add(2, 0)}, {A: c.Add(0, -2), B: c.Add(0, 2)}}},
		drawing.Lines{Pen: faint, Segments: []drawing.Segment{{A: c, B: p.pt(w.Point(e.From, 0))}, {A: c, B: p.pt(w.Point(e.To, 0))}}})
	p.placer.TakeRect(drawing.Rect{Min: c.Add(-2.2, -2.2), Max: c.Add(2.2, 2.2)})
	at := w.Curve.Axis.Centre.Sub(p.datum)
	text := fmt.Sprintf("centre of %s: x %s  y %s", w.ID, p.set.units.exact(at.X), p.set.units.exact(at.Y))
	var candidates []drawing.Text
	for _, dy := range []float64{-4, 4, -7, 7} {
		candidates = append(candidates,
			drawing.Text{At: c.Add(0, dy), Text: text, Height: drawing.Small, Align: drawing.Centre, Mask: true}.Middle(),
			drawing.Text{At: c.Add(3, dy), Text: text, Height: drawing.Small, Mask: true}.Middle(),
			drawing.Text{At: c.Add(-3, dy), Text: text, Height: drawing.Small, Align: drawing.Right, Mask: true}.Middle())
	}
	p.placeInside(s, candidates)
}

// nameArc writes the radii and lengths of a curved track's edges beside it.
func (p *planView) nameArc(s *drawing.Scene, w *layout.Wall, set layout.SetOut) {
	u, edge := p.set.units, &w.FrameLines[set.Line]
	text := fmt.Sprintf("%s: A R %s, arc %s; B R %s, arc %s", w.ID,
		u.exact(set.Strike.EdgeA.Radius), u.dim(set.Strike.EdgeA.Length), u.exact(set.Strike.EdgeB.Radius), u.dim(set.Strike.EdgeB.Length))
	middle := p.pt(w.Point((edge.Extent.From+edge.Extent.To)/2, edge.Offset))
	t := drawing.Text{Text: text, Height: drawing.Small, Align: drawing.Centre, Mask: true}
	if t, _, ok := p.placer.OnLeader([]drawing.Point{middle}, t, p.frame()); ok {
		drawLeader(s, middle, t)
	}
}

// segments returns the lines between points that follow each other.
func segments(points []drawing.Point) []drawing.Segment {
	var lines []drawing.Segment
	for i := 1; i < len(points); i++ {
		lines = append(lines, drawing.Segment{A: points[i-1], B: points[i]})
	}
	return lines
}

// placeInside writes the first text that finds room inside the plan.
func (p *planView) placeInside(s *drawing.Scene, candidates []drawing.Text) {
	var inside []drawing.Text
	for _, t := range candidates {
		if p.frame().Inset(-3).Holds(t.Bounds()) {
			inside = append(inside, t)
		}
	}
	if t, ok := p.placer.Place(inside...); ok {
		s.Layer(drawing.Marks).Add(t)
	}
}

// strikes lists how the curved walls of the level are struck on the slab: each
// edge of each track by centre and radius, and by ordinates from its chords.
func (l *site) strikes() *drawing.Table {
	w := l.set.lengthWidth()
	t := &drawing.Table{Title: "Curved walls, " + l.name() + ": to strike each edge of the track from its centre, or from chords by ordinates; lengths and gaps above run along the axis"}
	t.Columns = []drawing.Column{{Head: "Wall", Width: 15}, {Head: "Edge", Width: 16}}
	for _, head := range []string{"Centre x", "y", "Radius", "Arc", "Chord x", "y", "to x", "y", "Chord", "Rise"} {
		t.Columns = append(t.Columns, drawing.Column{Head: head, Width: w, Align: drawing.Right})
	}
	used := 31 + 10*w + 2
	t.Columns = append(t.Columns, drawing.Column{Width: 2}, drawing.Column{Head: "Ordinates: along the chord / off it", Width: scheduleWidth - used})
	for _, wall := range l.walls {
		l.listStrikes(t, wall)
	}
	return t
}

// listStrikes adds the rows of one wall.
func (l *site) listStrikes(t *drawing.Table, wall *layout.Wall) {
	u := l.set.units
	for _, set := range wall.SetOut(l.datum) {
		if set.On != layout.OnFloor || set.Strike == nil {
			continue
		}
		for i, e := range []layout.StruckEdge{set.Strike.EdgeA, set.Strike.EdgeB} {
			name := "face " + "AB"[i:i+1]
			if len(wall.FrameLines) > 1 {
				name = fmt.Sprintf("%d, %s", set.Line+1, name)
			}
			head := []string{wall.ID, name, u.exact(set.Strike.Centre.X), u.exact(set.Strike.Centre.Y), u.exact(e.Radius), u.exact(e.Length)}
			for _, c := range e.Chords {
				var parts []string
				for _, o := range c.Ordinates {
					parts = append(parts, u.exact(o.At)+" / "+u.exact(o.Off))
				}
				t.Add(append(head, u.exact(c.From.X), u.exact(c.From.Y), u.exact(c.To.X), u.exact(c.To.Y), u.exact(c.Length), u.exact(c.Rise), "", strings.Join(parts, ";  "))...)
				head = []string{"", "", "", "", "", ""}
			}
		}
	}
}

// curveNotes says how the frame of a curved wall follows its curve.
func (s *Set) curveNotes(w *layout.Wall) []string {
	c := w.Curve
	if c == nil {
		return nil
	}
	var slits []string
	for i := range w.Members {
		if m := &w.Members[i]; m.Slits > 0 {
			slits = append(slits, fmt.Sprintf("%s %d", m.Mark(), m.Slits))
		}
	}
	out := []string{fmt.Sprintf("Curved: the axis has a radius of %s, the faces %s inside and %s outside. Studs stand no more than %s apart on the outside.",
		s.units.dim(c.Axis.Radius), s.units.dim(c.Inner), s.units.dim(c.Outer), s.units.dim(c.Spacing))}
	if len(slits) > 0 {
		out = append(out, fmt.Sprintf("Slit the tracks through web and outer flange at equal distances of %s or less and bend them round the inner flange, which is as long as they are cut. Slits: %s.",
			s.units.dim(s.in.Practice.SlitSpacing.Value), strings.Join(slits, ", ")))
	}
	return append(out, "Headers, sills and noggings are straight and cut to the chord.")
}

// bendNotes says how the boards of a curved wall follow its curve.
func (s *Set) bendNotes(w *layout.Wall) []string {
	if w.Curve == nil {
		return nil
	}
	lying, wet := false, false
	for _, f := range w.Faces {
		for _, l := range f.Layers {
			lying, wet = lying || l.Bend != nil && l.Bend.Lying, wet || l.Bend != nil && l.Bend.Wet
		}
	}
	out := []string{"Each layer is drawn unrolled and cut to the lengths on its own radius."}
	if lying {
		out = append(out, "Boards lie with their long side along the curve; W × H gives the width across the board first. Fix them from one end, stud by stud.")
	}
	if wet {
		out = append(out, "Wet the side that is stretched, bend over a former and let dry before fixing (common practice).")
	}
	return out
}
