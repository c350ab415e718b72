package plan

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"nogging/internal/geom"
	"nogging/internal/quantity"
)

// How walls are found between rooms.
const (
	// thinnestBetween and thickestBetween bound the distance of two rooms between which
	// a partition may stand.
	thinnestBetween = 40 * quantity.Millimetre
	thickestBetween = 500 * quantity.Millimetre
	// leastBetween is the least length of a wall.
	leastBetween = 300 * quantity.Millimetre
	// oneLine is how far two stretches may lie from one line and still be one wall.
	oneLine = 5 * quantity.Millimetre
	// facing is the sine of the greatest angle between two edges that face each other.
	facing = 0.01
)

// WallsBetween returns the changes that put a wall wherever two rooms of a level face
// each other and neither a wall nor structure stands between them, for a person to
// accept. The walls are as thick as the rooms are apart and name no build-up. One that
// goes on along the same room is one wall, and walls are drawn on to the lines that
// they meet.
func (p *Plan) WallsBetween(level string) []Change {
	b := betweener{plan: p, level: level}
	b.face()
	b.join()
	for i := range b.list {
		b.list[i].drawn = b.drawnOn(i)
	}
	var changes []Change
	taken := map[string]bool{}
	for i := range b.list {
		x := &b.list[i]
		w := Wall{ID: p.freeMark(level, taken), Level: level, Line: []Pt{Pt(x.drawn.A), Pt(x.drawn.B)}, Thickness: x.thickness}
		taken[w.ID] = true
		changes = append(changes, Change{Kind: "walls", ID: w.ID, Value: written(w)})
	}
	return changes
}

// stretchBetween is a stretch between two rooms; line is in its middle.
type stretchBetween struct {
	line, drawn geom.Segment
	thickness   Length
	rooms       []*Room
}

type betweener struct {
	plan  *Plan
	level string
	list  []stretchBetween
}

// face collects the stretches over which edges of two rooms face each other.
func (b *betweener) face() {
	var rooms []*Room
	var outlines []geom.Polygon
	for i := range b.plan.Rooms {
		if r := &b.plan.Rooms[i]; r.Level == b.level && len(r.Outline) > 2 {
			rooms, outlines = append(rooms, r), append(outlines, polygon(r.Outline).CounterClockwise())
		}
	}
	for i := range rooms {
		for k := range i {
			if !boundsOf(rooms[i].Outline).Grow(thickestBetween).Overlaps(boundsOf(rooms[k].Outline)) {
				continue
			}
			outlines[k].Edges(func(e geom.Segment) {
				outlines[i].Edges(func(f geom.Segment) {
					if x, ok := facingEdges(e, f); ok && b.free(x) {
						x.rooms = []*Room{rooms[k], rooms[i]}
						b.list = append(b.list, x)
					}
				})
			})
		}
	}
}

// facingEdges returns the stretch between two edges that have their rooms on their
// left and face each other.
func facingEdges(e, f geom.Segment) (stretchBetween, bool) {
	d := e.Dir()
	if d.Dot(f.Dir()) > 0 || math.Abs(d.Cross(f.Dir())) > facing {
		return stretchBetween{}, false
	}
	frame := geom.FrameOf(e)
	a, c := frame.Local(f.B), frame.Local(f.A) // in the direction of e
	from, to, apart := max(a.X, 0), min(c.X, e.Length()), -(a.Y+c.Y)/2
	if to-from < leastBetween || apart < thinnestBetween || apart > thickestBetween {
		return stretchBetween{}, false
	}
	line := geom.Segment{A: frame.Global(from, -apart/2), B: frame.Global(to, -apart/2)}
	return stretchBetween{line: line, thickness: apart.Round(quantity.Millimetre)}, true
}

// free reports whether neither a wall nor structure stands in a stretch.
func (b *betweener) free(x stretchBetween) bool {
	frame := geom.FrameOf(x.line)
	middle := frame.Global(x.line.Length()/2, 0)
	for i := range b.plan.Walls {
		w := &b.plan.Walls[i]
		if w.Level != b.level || w.Length() < geom.Same {
			continue
		}
		if arc, ok := w.Arc(); ok {
			if at := arc.Local(middle); at.Y.Abs() <= x.thickness/2+roomOverlap && at.X >= 0 && at.X <= arc.Length() {
				return false
			}
			continue
		}
		from, to := frame.Local(geom.Point(w.Line[0])), frame.Local(geom.Point(w.Line[1]))
		low, high := max(min(from.X, to.X), 0), min(max(from.X, to.X), x.line.Length())
		if near := x.thickness/2 + roomOverlap; from.Y.Abs() <= near && to.Y.Abs() <= near && 2*(high-low) > x.line.Length() {
			return false
		}
	}
	for i := range b.plan.Structure {
		if s := &b.plan.Structure[i]; s.Level == b.level {
			if m := massOf(s); m != nil && m.outline.Contains(middle) {
				return false
			}
		}
	}
	return true
}

// join makes one wall of stretches in one line, of one thickness, that go on along the
// same room.
func (b *betweener) join() {
	for i := 0; i < len(b.list); i++ {
		for k := i + 1; k < len(b.list); k++ {
			if b.list[i].takes(&b.list[k]) {
				b.list = slices.Delete(b.list, k, k+1)
				k = i // the longer one may take those that it did not before
			}
		}
	}
}

// takes adds another stretch to this one, if the two are one wall.
func (x *stretchBetween) takes(o *stretchBetween) bool {
	f := geom.FrameOf(x.line)
	a, c := f.Local(o.line.A), f.Local(o.line.B)
	gap := max(min(a.X, c.X)-x.line.Length(), -max(a.X, c.X))
	shared := slices.ContainsFunc(x.rooms, func(r *Room) bool { return slices.Contains(o.rooms, r) })
	if !shared || a.Y.Abs() > oneLine || c.Y.Abs() > oneLine || gap > thickestBetween || (x.thickness-o.thickness).Abs() > oneLine {
		return false
	}
	x.line = geom.Segment{A: f.Global(min(a.X, c.X, 0), 0), B: f.Global(max(a.X, c.X, x.line.Length()), 0)}
	x.rooms = append(x.rooms, o.rooms...)
	return true
}

// drawnOn returns the line of a stretch with its ends on the lines that they come near.
func (b *betweener) drawnOn(i int) geom.Segment {
	var lines []geom.Segment
	for k := range b.list {
		if k != i {
			lines = append(lines, b.list[k].line)
		}
	}
	for k := range b.plan.Walls {
		if w := &b.plan.Walls[k]; w.Level == b.level && w.Length() >= geom.Same && w.Via == nil {
			lines = append(lines, geom.Segment{A: geom.Point(w.Line[0]), B: geom.Point(w.Line[1])})
		}
	}
	s := b.list[i].line
	return geom.Segment{A: drawnTo(geom.Segment{A: s.B, B: s.A}, lines), B: drawnTo(s, lines)}
}

// drawnTo returns where a line that goes on beyond its end B, or ends a little before,
// meets the first of others that reach so far.
func drawnTo(s geom.Segment, lines []geom.Segment) geom.Point {
	f, length := geom.FrameOf(s), s.Length()
	best, at := thickestBetween, s.B
	for _, o := range lines {
		a, c := f.Local(o.A), f.Local(o.B)
		if min(a.Y, c.Y) > thickestBetween || max(a.Y, c.Y) < -thickestBetween || math.Abs(f.Dir.Cross(o.Dir())) < sharp {
			continue
		}
		u := a.X + Length(math.Round(float64(-a.Y)/float64(c.Y-a.Y)*float64(c.X-a.X)))
		if u >= length && u-length < best {
			best, at = u-length, f.Global(u, 0)
		}
	}
	return at
}

// freeMark returns the next mark of a wall on a level, such as L1-07.
func (p *Plan) freeMark(level string, taken map[string]bool) string {
	last := 0
	note := func(id string) {
		if rest, ok := strings.CutPrefix(id, level+"-"); ok {
			if n, err := strconv.Atoi(rest); err == nil {
				last = max(last, n)
			}
		}
	}
	for i := range p.Walls {
		note(p.Walls[i].ID)
	}
	for id := range taken {
		note(id)
	}
	return fmt.Sprintf("%s-%02d", level, last+1)
}
