package layout

import (
	"math"

	"nogging/internal/buildup"
	"nogging/internal/geom"
	"nogging/internal/plan"
)

// body is one wall as junctions see it: its axis in the middle of the finished
// thickness, and its planes by their offset v from the axis.
type body struct {
	wall    *plan.Wall
	drawn   *plan.Wall // the same, with places along its line as drawn; wall has them along the axis
	level   *plan.Level
	spec    *buildup.BuildUp
	axis    geom.Segment
	frame   geom.Frame
	arc     *geom.Arc // the axis of a curved wall; axis and frame are then its chord's
	length  Length
	half    Length // of the finished thickness
	rank    rank
	ends    [2]endPoint
	tees    []tee       // ends of other walls that butt on this one
	breaks  []wallBreak // where a crossing wall of higher rank runs through
	ordinal int
	wet     map[plan.Face]string // water action class of the rooms at each face
}

// tee is another wall's end that meets this wall's side.
type tee struct {
	other *body
	end   int
	u     Length // of the other wall's axis
	left  bool   // it stands on face A's side
	cut   bool   // this wall's boards are cut for its frame
	past  bool   // this wall ends just beyond it: a tee in which this wall runs through
}

// wallBreak is a stretch of a wall through which another wall or existing
// structure runs.
type wallBreak struct {
	other *body
	solid *solid
	u     Length // of its middle
	cut   bool   // this wall's frame goes in between the other's boards
}

func newBody(w *plan.Wall, level *plan.Level, spec *buildup.BuildUp, ordinal int) *body {
	line := geom.Segment{A: geom.Point(w.Line[0]), B: geom.Point(w.Line[1])}
	frame := geom.FrameOf(line)
	length := line.Length()
	shift := lineShift(w, spec)
	if shift != 0 {
		line = geom.Segment{A: frame.Global(0, shift), B: frame.Global(length, shift)}
		frame.Origin = line.A
	}
	b := &body{
		wall: w, drawn: w, level: level, spec: spec, axis: line, frame: frame,
		length: length, half: spec.Thickness / 2, rank: rankOf(w, spec, ordinal), ordinal: ordinal,
	}
	for end := range b.ends {
		b.ends[end] = endPoint{body: b, end: end}
	}
	if arc, ok := w.Arc(); ok {
		b.bend(arc, shift)
	}
	return b
}

// at returns the axis point of an end: 0 the start, 1 the end.
func (b *body) at(end int) geom.Point {
	if end == 0 {
		return b.axis.A
	}
	return b.axis.B
}

// outward returns the direction in which the wall would carry on at an end.
func (b *body) outward(end int) geom.Vec {
	d := b.frameAt(end).Dir
	if end == 0 {
		return geom.Vec{X: -d.X, Y: -d.Y}
	}
	return d
}

// frameEdge returns the offset of the plane between frame and boards on one
// side: left is face A's side.
func (b *body) frameEdge(left bool) Length {
	if left {
		return b.half - b.spec.BoardsThickness(plan.FaceA)
	}
	return -b.half + b.spec.BoardsThickness(plan.FaceB)
}

// surface returns the offset of the finished surface on one side.
func (b *body) surface(left bool) Length {
	if left {
		return b.half
	}
	return -b.half
}

// plane returns the offset of the outer surface of the first n board layers on
// one side; layers that the face does not have count nothing.
func (b *body) plane(left bool, n int) Length {
	face, sign := plan.FaceB, Length(-1)
	if left {
		face, sign = plan.FaceA, 1
	}
	v := b.frameEdge(left)
	for i, board := range b.spec.Boards(face) {
		if i >= n {
			break
		}
		v += sign * board.Thickness
	}
	return v
}

// meet returns the u at which the plane at offset v of b meets the plane at
// offset ov of o. The two must not be parallel. Where one of the walls is
// curved they may meet twice, and the place nearest to a point of the plan
// counts.
func (b *body) meet(v Length, o *body, ov Length, near geom.Point) Length {
	if b.arc != nil || o.arc != nil {
		return b.meetCurved(v, o, ov, near)
	}
	q := b.frame.Local(o.frame.Global(0, ov))
	dx, dy := o.frame.Dir.Dot(b.frame.Dir), b.frame.Dir.Cross(o.frame.Dir)
	return q.X + Length(math.Round(float64(v-q.Y)*dx/dy))
}

// lineOffsets returns the offsets of the frame lines' middles, face A's first.
func (b *body) lineOffsets() []Length {
	depth := b.spec.FrameDepth()
	a := b.frameEdge(true) - depth/2
	if !b.spec.Kind.Twin() {
		return []Length{a}
	}
	return []Length{a, b.frameEdge(false) + depth/2}
}

// contacts lists where the frames of a wall that stands against b, or is
// interrupted by it, reach b's own frame: one u for each of its frame lines.
func (b *body) contacts(t tee) []Length {
	var v Length
	if t.end >= 0 {
		v = b.frameEdge(t.left)
	}
	var us []Length
	for _, offset := range t.other.lineOffsets() {
		us = append(us, b.meet(v, t.other, offset, b.point(t.u, 0)))
	}
	return us
}

// parallel reports whether the two walls run in one direction near a point.
func (b *body) parallel(o *body, near geom.Point) bool {
	return b.sine(o, near) < nearlyParallel
}

// sine returns the sine of the angle between the two walls near a point.
func (b *body) sine(o *body, near geom.Point) float64 {
	return math.Abs(b.dir(near).Cross(o.dir(near)))
}

// nearlyParallel is the sine under which two walls that meet count as carrying
// on in one line: about 6 degrees. Below it the planes of their faces meet too
// far from the junction to build a corner.
const nearlyParallel = 0.1
