package layout

import (
	"math"
	"slices"

	"nogging/internal/geom"
	"nogging/internal/plan"
)

// unroll gives the parts of a curved wall the sizes by which they are cut, once
// all stand in their places along the axis: tracks, headers and noggings their
// own lengths, and the layers of boards, each unrolled by itself, the lengths on
// their own radius.
func (w *wallLayout) unroll() {
	if w.body.arc == nil {
		return
	}
	for i := range w.out.Members {
		w.cutCurved(&w.out.Members[i])
	}
	for i := range w.out.Faces {
		face := &w.out.Faces[i]
		for k := range face.Layers {
			w.unrollLayer(face.Face, k, &face.Layers[k])
		}
	}
}

// cutCurved cuts a member that lies along the curve to its own length. A track
// is slit through its web and its outer flange and bends round its inner one,
// which keeps its length. What spans straight from stud to stud or from jamb to
// jamb is as long as the chord.
func (w *wallLayout) cutCurved(m *Member) {
	arc := w.body.arc
	line := w.out.FrameLines[m.Line]
	span := m.To.X - m.From.X
	switch m.Role {
	case FloorTrack, SoffitTrack:
		inner := line.Offset + w.inside()*line.Depth/2
		along := arc.Along(m.To.X, inner) - arc.Along(m.From.X, inner)
		m.Cut = geom.Pt(along, m.To.Y-m.From.Y).Dist(geom.Point{})
		if s := w.pr.SlitSpacing.Value; s > 0 {
			m.Slits = int((m.Cut+s-1)/s) - 1
		}
	case Header, SillTrack, Nogging:
		own := arc.Offset(line.Offset)
		m.Cut += own.Chord(arc.Along(span, line.Offset)) - span
	}
}

// inside is 1 where face A is on the inside of the curve, else -1.
func (w *wallLayout) inside() Length { return drawnSide(*w.body.arc) }

// unrollLayer measures a layer on its own radius.
func (w *wallLayout) unrollLayer(f plan.Face, k int, l *Layer) {
	own := w.body.midPlane(f == plan.FaceA, k)
	at := func(u Length) Length { return w.body.arc.Along(u, own) }
	l.Extent = geom.Interval{From: at(l.Extent.From), To: at(l.Extent.To)}
	for i := range l.Breaks {
		l.Breaks[i] = geom.Interval{From: at(l.Breaks[i].From), To: at(l.Breaks[i].To)}
	}
	l.Top = l.Top.moved(at)
	for i := range l.Pieces {
		l.Pieces[i].unroll(at)
	}
	for i := range w.out.Joints {
		if j := &w.out.Joints[i]; j.Face == f && j.Layer == k {
			j.From.X, j.To.X = at(j.From.X), at(j.To.X)
		}
	}
	for i := range w.out.Screws {
		if s := &w.out.Screws[i]; s.Face == f && s.Layer == k {
			s.From.X, s.To.X = at(s.From.X), at(s.To.X)
		}
	}
}

// moved returns the profile with each point moved along.
func (p Profile) moved(at func(Length) Length) Profile {
	q := make(Profile, len(p))
	for i := range p {
		q[i] = geom.Pt(at(p[i].X), p[i].Y)
	}
	return q
}

func (p *Piece) unroll(at func(Length) Length) {
	move := func(outline geom.Polygon) {
		for i := range outline {
			outline[i].X = at(outline[i].X)
		}
	}
	move(p.Outline)
	for _, h := range p.Holes {
		move(h)
	}
	box := p.Outline.Bounds()
	p.At = box.Min
	along := box.Max.X - box.Min.X
	if p.Lying {
		p.Height = along
	} else {
		p.Width = along
	}
}

// Point returns the plan point at u along and v to the left of the wall's axis.
func (w *Wall) Point(u, v Length) geom.Point {
	if w.Curve != nil {
		return w.Curve.Axis.Global(u, v)
	}
	return w.Frame.Global(u, v)
}

// Path returns plan points along the line at v to the left of the axis, from one
// u to another: the two ends, and for a curved wall as many between them as keep
// within the tolerance of the curve.
func (w *Wall) Path(stretch geom.Interval, v, tolerance Length) []geom.Point {
	if w.Curve != nil {
		return w.Curve.Axis.Points(stretch, v, tolerance)
	}
	return []geom.Point{w.Frame.Global(stretch.From, v), w.Frame.Global(stretch.To, v)}
}

// Ground returns the outline in plan of a stretch of the wall between two
// offsets, counter-clockwise from the first offset's start.
func (w *Wall) Ground(stretch geom.Interval, low, high, tolerance Length) geom.Polygon {
	outline := geom.Polygon(w.Path(stretch, low, tolerance))
	back := w.Path(stretch, high, tolerance)
	for i := len(back) - 1; i >= 0; i-- {
		outline = append(outline, back[i])
	}
	return outline
}

// Placed returns the u of a place that the plan gives by its distance along the
// wall's drawn line.
func (w *Wall) Placed(at Length) Length {
	if w.Curve == nil || w.Curve.Drawn == w.Curve.Axis.Radius {
		return at
	}
	return Length(math.Round(float64(at) * (float64(w.Curve.Axis.Radius) / float64(w.Curve.Drawn))))
}

// Unrolled returns the wall as the elevation of one of its layers shows it: with
// members, openings, frame lines and top by their lengths on that layer, which
// is how the layer's own pieces and joints are given. Straight walls are the
// same on every layer.
func (w *Wall) Unrolled(l *Layer) *Wall {
	if w.Curve == nil || l.Bend == nil {
		return w
	}
	c := w.Curve
	own := *w
	curve := *c
	scale := float64(l.Bend.Radius) / float64(c.Axis.Radius)
	at := func(u Length) Length { return Length(math.Round(float64(u) * scale)) }
	stretch := func(i geom.Interval) geom.Interval { return geom.Interval{From: at(i.From), To: at(i.To)} }
	curve.Axis.Radius, own.Curve = l.Bend.Radius, &curve
	own.Top = w.Top.moved(at)
	own.FrameLines, own.Openings, own.Members = nil, nil, nil
	for _, fl := range w.FrameLines {
		fl.Extent = stretch(fl.Extent)
		own.FrameLines = append(own.FrameLines, fl)
	}
	for _, o := range w.Openings {
		o.U = stretch(o.U)
		own.Openings = append(own.Openings, o)
	}
	for _, m := range w.Members {
		m.From.X, m.To.X = at(m.From.X), at(m.To.X)
		own.Members = append(own.Members, m)
	}
	own.Boxes = slices.Clone(w.Boxes)
	for i := range own.Boxes {
		own.Boxes[i].At.X = at(own.Boxes[i].At.X)
	}
	own.Fixtures = slices.Clone(w.Fixtures)
	for i := range own.Fixtures {
		own.Fixtures[i].U = stretch(own.Fixtures[i].U)
	}
	return &own
}

// OnAxis returns the wall with the pieces of all its layers by their places along
// the axis, as its members are given: that is how they lie over each other.
func (w *Wall) OnAxis() *Wall {
	if w.Curve == nil {
		return w
	}
	own := *w
	own.Faces = slices.Clone(w.Faces)
	for i := range own.Faces {
		own.Faces[i].Layers = slices.Clone(own.Faces[i].Layers)
		for k := range own.Faces[i].Layers {
			own.Faces[i].Layers[k] = w.Faces[i].Layers[k].onAxis(w.Curve.Axis.Radius)
		}
	}
	return &own
}

// onAxis returns the layer by its places along an axis of the given radius.
func (l Layer) onAxis(radius Length) Layer {
	if l.Bend == nil {
		return l
	}
	scale := float64(radius) / float64(l.Bend.Radius)
	at := func(u Length) Length { return Length(math.Round(float64(u) * scale)) }
	l.Extent = geom.Interval{From: at(l.Extent.From), To: at(l.Extent.To)}
	l.Breaks = slices.Clone(l.Breaks)
	for i, b := range l.Breaks {
		l.Breaks[i] = geom.Interval{From: at(b.From), To: at(b.To)}
	}
	l.Top = l.Top.moved(at)
	l.Pieces = slices.Clone(l.Pieces)
	for i := range l.Pieces {
		p := &l.Pieces[i]
		p.Outline, p.Holes = slices.Clone(p.Outline), slices.Clone(p.Holes)
		for h := range p.Holes {
			p.Holes[h] = slices.Clone(p.Holes[h])
		}
		p.unroll(at)
	}
	return l
}

// Local returns the wall's coordinates of a plan point: X is u, Y is v.
func (w *Wall) Local(p geom.Point) geom.Point {
	if w.Curve != nil {
		return w.Curve.Axis.Local(p)
	}
	return w.Frame.Local(p)
}

// Dir returns the direction in which the wall runs at u, a unit vector.
func (w *Wall) Dir(u Length) geom.Vec {
	if w.Curve != nil {
		return w.Curve.Axis.Dir(u)
	}
	return w.Frame.Dir
}
