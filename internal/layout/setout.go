package layout

import (
	"cmp"
	"slices"

	"nogging/internal/geom"
	"nogging/internal/plan"
)

// SetOut is what is marked for one frame line on the floor or on the soffit
// before any profile is fixed: the two edges of the track, by coordinates from
// the level's datum, and running dimensions along it from its start.
type SetOut struct {
	On     string       `json:"on"`   // floor or soffit
	Line   int          `json:"line"` // index into Wall.FrameLines
	EdgeA  geom.Segment `json:"edge_a"`
	EdgeB  geom.Segment `json:"edge_b"`
	Strike *Strike      `json:"strike,omitempty"` // of a curved wall; the edges above are then its chords
	Marks  []Running    `json:"marks"`
}

// Running is one running dimension.
type Running struct {
	At   Length `json:"at"` // from the start of the track
	What string `json:"what"`
}

// Surfaces on which tracks are set out.
const (
	OnFloor  = "floor"
	OnSoffit = "soffit"
)

// SetOut lists what is to be marked for the wall. The datum is the level's.
func (w *Wall) SetOut(datum geom.Point) []SetOut {
	var list []SetOut
	for i, l := range w.FrameLines {
		for _, on := range []string{OnFloor, OnSoffit} {
			list = append(list, SetOut{
				On: on, Line: i, Marks: w.running(i, on), Strike: w.strike(l, datum),
				EdgeA: w.fromDatum(l.Extent, l.Offset+l.Depth/2, datum),
				EdgeB: w.fromDatum(l.Extent, l.Offset-l.Depth/2, datum),
			})
		}
	}
	return list
}

// fromDatum returns the line at offset v as coordinates from the datum.
func (w *Wall) fromDatum(e geom.Interval, v Length, datum geom.Point) geom.Segment {
	return geom.Segment{A: w.Point(e.From, v).Sub(datum), B: w.Point(e.To, v).Sub(datum)}
}

// running lists the running dimensions of a frame line: its ends, the studs that
// hold other walls, and the gaps that openings leave in the track.
func (w *Wall) running(line int, on string) []Running {
	l := w.FrameLines[line]
	marks := []Running{{0, "start"}, {l.Extent.Len(), "end"}}
	for i := range w.Members {
		if m := &w.Members[i]; m.Line == line && m.Role == JunctionStud && m.Lap == 0 {
			marks = append(marks, Running{m.From.X - l.Extent.From, "junction stud " + m.Mark()})
		}
	}
	for _, o := range w.Openings {
		gap := on == OnFloor && o.AtFloor() || on == OnSoffit && w.cutsTop(o)
		if gap && o.framed && l.holds(o) {
			bay := o.Bay()
			marks = append(marks, Running{bay.From - l.Extent.From, o.ID + " from"}, Running{bay.To - l.Extent.From, o.ID + " to"})
		}
	}
	slices.SortStableFunc(marks, func(a, b Running) int { return cmp.Compare(a.At, b.At) })
	return marks
}

// Datum returns the point from which a level's set-out dimensions run: the
// plan's own, or else the lower left corner inside the building, where a tape can
// be held: that of the level's rooms, or of its partitions where there are none.
func Datum(p *plan.Plan, walls []*Wall, level *plan.Level) geom.Point {
	if level.Datum != nil {
		return geom.Point(*level.Datum)
	}
	var points []geom.Point
	for i := range p.Rooms {
		if r := &p.Rooms[i]; r.Level == level.ID {
			for _, q := range r.Outline {
				points = append(points, geom.Point(q))
			}
		}
	}
	if len(points) == 0 {
		for _, w := range walls {
			if w.Level == level.ID {
				points = append(points, w.corners()...)
			}
		}
	}
	return geom.Bounds(points...).Min
}

// corners returns the corners of the wall's finished body in plan.
func (w *Wall) corners() []geom.Point {
	var points []geom.Point
	for _, l := range w.FrameLines {
		for _, v := range []Length{w.Thickness / 2, -w.Thickness / 2} {
			points = append(points, w.Path(l.Extent, v, geom.Same)...)
		}
	}
	return points
}
