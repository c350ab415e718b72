package layout

import (
	"slices"

	"nogging/internal/geom"
	"nogging/internal/plan"
)

// Body returns from where to where the wall's finished surfaces run, face A's and
// face B's, for each stretch between what runs through the wall. A face without
// boards runs as far as the frame behind it.
func (w *Wall) Body() [][2]geom.Interval {
	var runs []geom.Interval // of the first line of the frame
	for _, l := range w.FrameLines {
		if l.Offset == w.FrameLines[0].Offset {
			runs = append(runs, l.Extent)
		}
	}
	slices.SortFunc(runs, func(a, b geom.Interval) int { return compare(a.From, b.From) })
	body := make([][2]geom.Interval, len(runs))
	for side, face := range bothFaces {
		own := w.frameRuns(side, runs)
		if outer := w.outermost(face); outer != nil {
			own = outer.over(own)
		}
		for i := range runs {
			body[i][side] = own[i]
		}
	}
	return body
}

// frameRuns returns the extents of the frame line behind face B; those given, of
// the line behind face A, for that.
func (w *Wall) frameRuns(side int, first []geom.Interval) []geom.Interval {
	var own []geom.Interval
	for _, l := range w.FrameLines {
		if side == 1 && l.Offset == w.FrameLines[len(w.FrameLines)-1].Offset {
			own = append(own, l.Extent)
		}
	}
	if len(own) != len(first) {
		return first
	}
	slices.SortFunc(own, func(a, b geom.Interval) int { return compare(a.From, b.From) })
	return own
}

// outermost returns the outermost layer of a face, by its places along the axis;
// nil where the face has no boards.
func (w *Wall) outermost(face plan.Face) *Layer {
	for i := range w.Faces {
		if f := &w.Faces[i]; f.Face == face && len(f.Layers) > 0 {
			l := f.Layers[len(f.Layers)-1]
			l.Pieces = nil
			if w.Curve != nil {
				l = l.onAxis(w.Curve.Axis.Radius)
			}
			return &l
		}
	}
	return nil
}

// over returns the layer's extents over the runs of a frame: its own ends, and
// where it breaks between two runs.
func (l *Layer) over(runs []geom.Interval) []geom.Interval {
	out := slices.Clone(runs)
	for i := range out {
		if i == 0 {
			out[i].From = l.Extent.From
		} else if b := l.breakAt(runs[i-1].To, runs[i].From); b != nil {
			out[i-1].To, out[i].From = b.From, b.To
		}
	}
	if n := len(out); n > 0 {
		out[n-1].To = l.Extent.To
	}
	return out
}

// breakAt returns the break between the ends of two runs.
func (l *Layer) breakAt(from, to Length) *geom.Interval {
	for i := range l.Breaks {
		if b := &l.Breaks[i]; b.From < to && from < b.To {
			return b
		}
	}
	return nil
}

// Between returns the outline in plan of a body whose right surface runs over one
// stretch and its left surface, face A's, over another; counter-clockwise.
func (w *Wall) Between(right, left geom.Interval, tolerance Length) geom.Polygon {
	outline := geom.Polygon(w.Path(right, -w.Thickness/2, tolerance))
	back := w.Path(left, w.Thickness/2, tolerance)
	slices.Reverse(back)
	return append(outline, back...)
}
