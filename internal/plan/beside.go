package plan

import (
	"cmp"
	"math"
	"slices"

	"nogging/internal/geom"
	"nogging/internal/quantity"
)

// Stretch is a part of a wall's length with the rooms along it: at face A and at
// face B, nil where no room's outline runs along that face.
type Stretch struct {
	geom.Interval // along the wall's line from its start
	Rooms         [2]*Room
}

// How far the edge of a room may lie from a wall's line for the room to be at
// that wall: outlines are drawn to finished faces or to axes, and a wall's line
// may be either.
const (
	roomReach   = 400 * quantity.Millimetre // on the room's own side
	roomOverlap = 50 * quantity.Millimetre  // on the other
	leastAlong  = 100 * quantity.Millimetre // stretches below it are slips of drawing
	askew       = 0.02                      // sine of the greatest angle between edge and line
)

// RoomsBeside returns which rooms a wall separates, from its start to its end,
// by the rooms' outlines. Stretches without any room are left out. A curved wall
// has none: outlines have straight edges.
func (p *Plan) RoomsBeside(w *Wall) []Stretch {
	if len(w.Line) != 2 || w.Via != nil || w.Length() < geom.Same {
		return nil
	}
	var edges []roomEdge
	near := geom.Bounds(geom.Point(w.Line[0]), geom.Point(w.Line[1])).Grow(roomReach)
	for i := range p.Rooms {
		if r := &p.Rooms[i]; r.Level == w.Level && len(r.Outline) > 2 && boundsOf(r.Outline).Overlaps(near) {
			edges = append(edges, w.edgesOf(r)...)
		}
	}
	stops := []Length{0, w.Length()}
	for _, e := range edges {
		stops = append(stops, e.From, e.To)
	}
	slices.Sort(stops)
	var all []Stretch
	for i, to := range stops[1:] {
		s := Stretch{Interval: geom.Interval{From: stops[i], To: to}}
		if s.Len() < leastAlong {
			continue
		}
		for side := range s.Rooms {
			s.Rooms[side] = nearestRoom(edges, side, s.Interval)
		}
		if last := len(all) - 1; last >= 0 && all[last].Rooms == s.Rooms {
			all[last].To = s.To
		} else if s.Rooms != [2]*Room{} {
			all = append(all, s)
		}
	}
	return all
}

// boundsOf returns the least rectangle around points, one or more.
func boundsOf(points []Pt) geom.Rect {
	r := geom.Rect{Min: geom.Point(points[0]), Max: geom.Point(points[0])}
	for _, q := range points[1:] {
		r.Min.X, r.Min.Y = min(r.Min.X, q.X), min(r.Min.Y, q.Y)
		r.Max.X, r.Max.Y = max(r.Max.X, q.X), max(r.Max.Y, q.Y)
	}
	return r
}

// roomEdge is an edge of a room's outline that runs along a wall.
type roomEdge struct {
	geom.Interval // along the wall, within its length
	room          *Room
	side          int    // of the wall on which the room lies: 0 for A
	off           Length // from the wall's line
}

// edgesOf returns the edges of a room that run along the wall.
func (w *Wall) edgesOf(r *Room) []roomEdge {
	outline := make(geom.Polygon, len(r.Outline))
	for i, pt := range r.Outline {
		outline[i] = geom.Point(pt)
	}
	frame := geom.FrameOf(geom.Segment{A: geom.Point(w.Line[0]), B: geom.Point(w.Line[1])})
	var found []roomEdge
	outline.Edges(func(s geom.Segment) {
		a, b := frame.Local(s.A), frame.Local(s.B)
		along := geom.Interval{From: max(min(a.X, b.X), 0), To: min(max(a.X, b.X), w.Length())}
		if along.Len() < leastAlong || math.Abs(float64(a.Y-b.Y)) > askew*float64((a.X-b.X).Abs()) {
			return
		}
		middle, v := (along.From+along.To)/2, (a.Y+b.Y)/2
		e := roomEdge{Interval: along, room: r, off: v.Abs()}
		if !outline.Contains(frame.Global(middle, v+leastAlong/10)) {
			e.side, v = 1, -v
		}
		if v >= -roomOverlap && v <= roomReach {
			found = append(found, e)
		}
	})
	return found
}

// nearestRoom returns the room whose edge is nearest to a wall's line all along
// a stretch, the first of equals, or nil.
func nearestRoom(edges []roomEdge, side int, along geom.Interval) *Room {
	var best *roomEdge
	for i := range edges {
		e := &edges[i]
		if e.side == side && e.From <= along.From && e.To >= along.To && (best == nil || cmp.Less(e.off, best.off)) {
			best = e
		}
	}
	if best == nil {
		return nil
	}
	return best.room
}

// Volume returns the volume of a room under the clear height of its level, or 0
// where its level is not known.
func (p *Plan) Volume(r *Room) quantity.Volume {
	level := p.LevelByID(r.Level)
	if level == nil {
		return 0
	}
	return quantity.Volume(r.Area().SquareMetres() * level.ClearHeight.Metres())
}

// Area returns the area inside a room's outline.
func (r *Room) Area() quantity.Area {
	outline := make(geom.Polygon, len(r.Outline))
	for i, pt := range r.Outline {
		outline[i] = geom.Point(pt)
	}
	return outline.Area()
}
