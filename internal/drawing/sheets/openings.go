package sheets

import (
	"fmt"
	"slices"

	"nogging/internal/drawing"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// levels returns the heights to dimension at the wall's start, up to the given
// upper edge, and, where that differs, at its end.
func (e *elevation) levels(top layout.Profile) (start, end []Length) {
	start = append(start, topAt(top, e.extent.From))
	if h := topAt(top, e.extent.To); h != start[0] {
		end = append(end, h)
	}
	if e.wall.Base != 0 {
		start = append(start, e.wall.Base)
	}
	for _, o := range e.wall.Openings {
		start = append(start, o.Head)
		if !o.AtFloor() {
			start = append(start, o.Sill)
		}
	}
	slices.Sort(start)
	return slices.Compact(start), end
}

// corners returns the heights of a sloping or stepped upper edge at its corners
// within the window, as marks over the wall.
func (e *elevation) corners(top layout.Profile) []drawing.Mark {
	var marks []drawing.Mark
	for _, p := range top {
		if p.X > e.extent.From && p.X < e.extent.To && e.inWindow(p.X) && !level(top) {
			marks = append(marks, drawing.Mark{At: float64(p.X), From: float64(p.Y), Text: "h " + e.set.units.dim(p.Y)})
		}
	}
	return marks
}

// level reports whether an upper edge runs level from end to end.
func level(top layout.Profile) bool {
	return !slices.ContainsFunc(top, func(p geom.Point) bool { return p.Y != top[0].Y })
}

// labelOpenings writes what each opening is into its middle, or beside it where
// that is too small.
func (e *elevation) labelOpenings(s *drawing.Scene, placer *drawing.Placer) {
	for i := range e.wall.Openings {
		o := &e.wall.Openings[i]
		r, ok := e.openingRect(o)
		if !ok {
			continue
		}
		size := e.set.units.by(o.Width(), o.Head-max(o.Sill, 0))
		if o.Kind == plan.Penetration {
			if !e.writeLines(s, placer, r, []string{o.ID, size}, 2) {
				e.onLeader(s, placer, []drawing.Point{r.Centre()}, o.ID+"  "+size, e.body())
			}
			continue
		}
		if !e.writeLines(s, placer, r, []string{o.ID, string(o.Kind), size}, 1) {
			e.onLeader(s, placer, []drawing.Point{r.Centre()}, o.ID, e.body())
		}
	}
}

// diagonals returns the lines that cross out openings.
func (e *elevation) diagonals() []drawing.Segment {
	var out []drawing.Segment
	for i := range e.wall.Openings {
		if r, ok := e.openingRect(&e.wall.Openings[i]); ok {
			c := r.Corners()
			out = append(out, drawing.Segment{A: c[0], B: c[2]}, drawing.Segment{A: c[1], B: c[3]})
		}
	}
	return out
}

// movementMost is the widest gap between two frames in one line that is a movement
// joint in any case; what else runs through a wall is wider.
const movementMost = 55 * quantity.Millimetre

// movement reports whether a gap between two frames or boards in one line is a
// movement joint.
func movement(w *layout.Wall, b geom.Interval) bool {
	return b.Len() <= movementMost || slices.ContainsFunc(w.Controls, func(c layout.ControlJoint) bool {
		return b.From <= c.U.From && c.U.To <= b.To
	})
}

// movements returns the movement joints of the wall that show in the view.
func (e *elevation) movements() []geom.Interval {
	var out []geom.Interval
	for _, b := range e.breaks {
		if movement(e.wall, b) && e.inWindow(b.From) && e.inWindow(b.To) {
			out = append(out, b)
		}
	}
	return out
}

// movementEdges returns both edges of each movement joint, to be dimensioned.
func (e *elevation) movementEdges() []Length {
	var out []Length
	for _, b := range e.movements() {
		out = append(out, b.From, b.To)
	}
	return out
}

// labelMovement names movement joints along them, with their distance from the
// start of the track.
func (e *elevation) labelMovement(s *drawing.Scene, placer *drawing.Placer) {
	for _, b := range e.movements() {
		text := fmt.Sprintf("movement joint at %s", e.set.units.span(b.From-e.datum, b.To-e.datum))
		body := e.body().Inset(-1)
		var candidates []drawing.Text
		for _, share := range []float64{.5, .4, .6, .3, .7} {
			p := e.pt((b.From+b.To)/2, Length(share*float64(topAt(e.wall.Top, b.From))))
			for _, side := range []float64{-1, 1} {
				off := side * (e.scale.paper(b.Len())/2 + 0.9 + drawing.Small/2)
				t := drawing.Text{At: p.Add(off, 0), Text: text, Height: drawing.Small, Bold: true, Align: drawing.Centre, Turn: 90, Mask: true}.Middle()
				if body.Holds(t.Bounds()) {
					candidates = append(candidates, t)
				}
			}
		}
		if t, ok := placer.Place(candidates...); ok {
			s.Layer(drawing.Marks).Add(t)
			continue
		}
		e.onLeader(s, placer, []drawing.Point{e.pt((b.From+b.To)/2, topAt(e.wall.Top, b.From)/2)}, text, body)
	}
}
