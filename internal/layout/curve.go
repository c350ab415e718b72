package layout

import (
	"math"
	"slices"

	"nogging/internal/geom"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// A curved wall is laid out unrolled: u is the arc length along its axis, so
// all that stands or lies in the wall's plane is placed as in a straight wall.
// What differs is where its planes meet others (this file), how wide a piece is
// on the inside and on the outside of the curve, and how it is set out.

// bend makes the body curved. The arc is the wall's line as drawn, its axis lies
// shift to the left of that.
func (b *body) bend(drawn geom.Arc, shift Length) {
	axis := drawn.Offset(shift)
	b.arc, b.length = &axis, axis.Length()
	b.axis = geom.Segment{A: axis.Global(0, 0), B: axis.Global(b.length, 0)}
	b.frame = geom.FrameOf(b.axis)
	b.wall = onAxis(b.wall, drawn, shift, b.half)
}

// onAxis returns the wall with all that is given by distances along its drawn
// arc given by those along its axis. An opening keeps its clear width on the
// inside of the curve, where its jambs come nearest to each other; along the
// axis that takes more.
func onAxis(w *plan.Wall, drawn geom.Arc, shift, half Length) *plan.Wall {
	axis := drawn.Offset(shift)
	inner := axis
	inner.Radius -= half
	moved := *w
	moved.Heights, moved.Openings = slices.Clone(w.Heights), slices.Clone(w.Openings)
	moved.Boxes, moved.Fixings = slices.Clone(w.Boxes), slices.Clone(w.Fixings)
	for i := range moved.Heights {
		moved.Heights[i].At = drawn.Along(w.Heights[i].At, shift)
	}
	for i := range moved.Openings {
		o := &moved.Openings[i]
		o.At = drawn.Along(o.At, shift)
		o.Width = inner.Along(inner.Under(o.Width), drawnSide(inner)*-half)
	}
	for i := range moved.Boxes {
		moved.Boxes[i].At = drawn.Along(w.Boxes[i].At, shift)
	}
	moved.Pipes = slices.Clone(w.Pipes)
	for i := range moved.Pipes {
		path := slices.Clone(moved.Pipes[i].Path)
		for k := range path {
			path[k].X = drawn.Along(path[k].X, shift)
		}
		moved.Pipes[i].Path = path
	}
	for i := range moved.Fixings {
		f := &moved.Fixings[i]
		f.At, f.Width = drawn.Along(f.At, shift), drawn.Along(f.Width, shift)
	}
	return &moved
}

// drawnSide is 1 where the centre lies to the left of an arc, else -1.
func drawnSide(a geom.Arc) Length {
	if a.Sweep < 0 {
		return -1
	}
	return 1
}

// point returns the plan point at u along and v to the left of the axis.
func (b *body) point(u, v Length) geom.Point {
	if b.arc != nil {
		return b.arc.Global(u, v)
	}
	return b.frame.Global(u, v)
}

// local returns the wall's coordinates of a plan point.
func (b *body) local(p geom.Point) geom.Point {
	if b.arc != nil {
		return b.arc.Local(p)
	}
	return b.frame.Local(p)
}

// dir returns the direction of the wall near a plan point.
func (b *body) dir(near geom.Point) geom.Vec {
	if b.arc != nil {
		return b.arc.Dir(b.arc.Local(near).X)
	}
	return b.frame.Dir
}

// frameAt returns the frame that touches the wall at an end.
func (b *body) frameAt(end int) geom.Frame {
	if b.arc == nil {
		return b.frame
	}
	return b.arc.Tangent(b.ends[end].drawnEnd())
}

func (b *body) bounds() geom.Rect {
	if b.arc != nil {
		return b.arc.Bounds()
	}
	return geom.Bounds(b.axis.A, b.axis.B)
}

// within returns a plan point of the wall on this side of what it meets at an
// end: its middle, or nearer to the end where the wall or the other is curved
// and may come round to the other side.
func (b *body) within(end int, other *body) geom.Point {
	d := b.length / 2
	for _, x := range []*body{b, other} {
		if x.arc != nil {
			d = min(d, x.arc.Radius/2)
		}
	}
	return b.point(out(end, b.ends[end].drawnEnd(), -d), 0)
}

// meetCurved is meet where one of the walls is curved: exactly where the
// circles, or circle and line, cross. Where they do not, they come nearest to
// each other at the foot of the centre, which then counts.
func (b *body) meetCurved(v Length, o *body, ov Length, near geom.Point) Length {
	points := b.crossings(v, o, ov)
	if len(points) == 0 {
		points = []geom.Point{b.nearestTo(o)}
	}
	best := slices.MinFunc(points, func(p, q geom.Point) int { return compare(p.Dist(near), q.Dist(near)) })
	return b.local(best).X
}

// crossings returns where the plane at offset v of b crosses that at offset ov
// of o, of which one is curved.
func (b *body) crossings(v Length, o *body, ov Length) []geom.Point {
	switch {
	case b.arc == nil:
		return geom.CircleLine(o.arc.Centre, o.arc.RadiusAt(ov), b.frame.Global(0, v), b.frame.Dir)
	case o.arc == nil:
		return geom.CircleLine(b.arc.Centre, b.arc.RadiusAt(v), o.frame.Global(0, ov), o.frame.Dir)
	}
	return geom.CircleCircle(b.arc.Centre, b.arc.RadiusAt(v), o.arc.Centre, o.arc.RadiusAt(ov))
}

// nearestTo returns the place of b's axis nearest to that of o.
func (b *body) nearestTo(o *body) geom.Point {
	switch {
	case b.arc == nil:
		return b.frame.Global(b.frame.Local(o.arc.Centre).X, 0)
	case o.arc == nil:
		foot := o.frame.Global(o.frame.Local(b.arc.Centre).X, 0)
		return b.arc.Global(b.arc.Local(foot).X, 0)
	}
	return b.arc.Global(b.arc.Local(o.arc.Centre).X, 0)
}

// anywhere is the one place near which two straight walls can meet.
var anywhere = []geom.Point{{}}

// meetings returns points near which the axes of two walls may cross.
func (b *body) meetings(o *body) []geom.Point {
	if b.arc == nil && o.arc == nil {
		return anywhere
	}
	return b.crossings(0, o, 0)
}

// insideArc is inside for a curved wall: the stretches of its circle, from one
// wall's thickness before its start to as much beyond its end, that lie in the
// body.
func (x *solid) insideArc(b *body, v Length) []geom.Interval {
	line := b.arc.Offset(v)
	if line.Radius <= 0 {
		return nil
	}
	round := Length(math.Round(2 * math.Pi * float64(b.arc.Radius)))
	beyond := min(max((round-b.length)/2-quantity.Millimetre, 0), nearMiss+4*b.spec.Thickness)
	low, high := -beyond, b.length+beyond
	cuts := []Length{low, high}
	x.outline.Edges(func(s geom.Segment) {
		for _, p := range geom.CircleLine(line.Centre, line.Radius, s.A, s.Dir()) {
			along := geom.FrameOf(s).Local(p).X
			if u := b.arc.Local(p).X; along >= 0 && along <= s.Length() && u > low && u < high {
				cuts = append(cuts, u)
			}
		}
	})
	slices.Sort(cuts)
	var spans []geom.Interval
	for i := 1; i < len(cuts); i++ {
		if !x.outline.Contains(b.arc.Global((cuts[i-1]+cuts[i])/2, v)) {
			continue
		}
		if n := len(spans); n > 0 && spans[n-1].To == cuts[i-1] {
			spans[n-1].To = cuts[i]
			continue
		}
		spans = append(spans, geom.Interval{From: cuts[i-1], To: cuts[i]})
	}
	return spans
}
