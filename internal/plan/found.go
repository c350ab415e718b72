package plan

import (
	"fmt"
	"math"
	"slices"

	"nogging/internal/geom"
	"nogging/internal/quantity"
)

// How rooms are found from walls.
const (
	// foundGap is how far a wall may be drawn to stop short of what it meets: at the
	// face of a thick wall, or of a column.
	foundGap = 250 * quantity.Millimetre
	// leastRoom is the area, and leastAcross the width, below which what walls enclose
	// is a shaft for pipes, or the gap between two walls.
	leastRoom   = quantity.Area(0.5e6)
	leastAcross = 300 * quantity.Millimetre
	// foundCurve is how far the sides of an outline may lie off a curved wall.
	foundCurve = 10 * quantity.Millimetre
	// sharp is the sine of the angle between two walls' faces below which their
	// outlines are joined by a step.
	sharp = 0.05
)

// FindRooms returns the changes that give a level the rooms that its walls and its
// structure enclose, with outlines along their faces, for a person to accept. The
// function tells the finished thickness of a wall. Rooms that somebody drew stay as
// they are; those that were found before follow the walls, and go where nothing
// encloses them any more, unless they have got a name or a use. A room around
// another keeps its whole outline.
func (p *Plan) FindRooms(level string, thickness func(*Wall) Length) []Change {
	f := roomFinder{plan: p, level: level, thickness: thickness}
	f.gather()
	var rooms []geom.Polygon
	for _, face := range geom.Faces(f.lines, foundGap) {
		if outline, ok := f.outline(face); ok {
			rooms = append(rooms, outline)
		}
	}
	return f.changes(rooms)
}

// roomFinder finds the rooms of one level.
type roomFinder struct {
	plan      *Plan
	level     string
	thickness func(*Wall) Length
	lines     []geom.Segment
	walls     []*Wall // of each line; nil for structure
	bodies    []geom.Polygon
	rooms     []roomThere
}

// roomThere is a room of the level as it is in the plan.
type roomThere struct {
	*Room
	outline geom.Polygon
	in      geom.Point // inside it
}

// gather collects the lines of walls and the edges of structure.
func (f *roomFinder) gather() {
	add := func(s geom.Segment, w *Wall) { f.lines, f.walls = append(f.lines, s), append(f.walls, w) }
	for i := range f.plan.Walls {
		w := &f.plan.Walls[i]
		if w.Level != f.level || w.Length() < geom.Same {
			continue
		}
		points := []geom.Point{geom.Point(w.Line[0]), geom.Point(w.Line[1])}
		if arc, ok := w.Arc(); ok {
			points = arc.Points(geom.Interval{To: arc.Length()}, 0, foundCurve)
		}
		for k := 1; k < len(points); k++ {
			add(geom.Segment{A: points[k-1], B: points[k]}, w)
		}
	}
	for i := range f.plan.Rooms {
		if r := &f.plan.Rooms[i]; r.Level == f.level && len(r.Outline) > 2 {
			there := roomThere{Room: r, outline: polygon(r.Outline)}
			there.in, _ = within(there.outline)
			f.rooms = append(f.rooms, there)
		}
	}
	for i := range f.plan.Structure {
		if x := &f.plan.Structure[i]; x.Level == f.level {
			if m := massOf(x); m != nil {
				f.bodies = append(f.bodies, m.outline)
				m.outline.Edges(func(s geom.Segment) { add(s, nil) })
			}
		}
	}
}

// outline moves a face's sides to the faces of the walls; false for what is no room.
func (f *roomFinder) outline(face geom.Face) (geom.Polygon, bool) {
	if at, ok := within(face.Corners); !ok || slices.ContainsFunc(f.bodies, func(b geom.Polygon) bool { return b.Contains(at) }) {
		return nil, false
	}
	n := len(face.Corners)
	sides := make([]geom.Frame, n)
	for i, a := range face.Corners {
		frame := geom.FrameOf(geom.Segment{A: a, B: face.Corners[(i+1)%n]})
		frame.Origin = frame.Global(0, f.inset(f.walls[face.Lines[i]], frame.Dir))
		sides[i] = frame
	}
	var p geom.Polygon
	for i, corner := range face.Corners {
		p = append(p, meetingOf(sides[(i+n-1)%n], sides[i], corner)...)
	}
	for i := range p {
		p[i] = geom.Pt(p[i].X.Round(quantity.Millimetre), p[i].Y.Round(quantity.Millimetre))
	}
	p = polygon(points(p))
	if _, _, crosses := crossing(p); crosses || len(p) < 3 {
		return nil, false // walls are as thick as the space between them
	}
	round := Length(0)
	p.Edges(func(s geom.Segment) { round += s.Length() })
	across := quantity.Metres(2 * p.Area().SquareMetres() / round.Metres())
	return p, p.Area() >= leastRoom && across >= leastAcross
}

// inset returns how far a room's outline lies inside the line of a wall along which it
// runs in a direction, with the room on its left.
func (f *roomFinder) inset(w *Wall, dir geom.Vec) Length {
	if w == nil {
		return 0
	}
	t := f.thickness(w)
	along := geom.Segment{A: geom.Point(w.Line[0]), B: geom.Point(w.Line[1])}.Dir()
	onA := along.Dot(dir) >= 0
	switch {
	case w.Justify == OnFaceA && onA, w.Justify == OnFaceB && !onA:
		return 0
	case w.Justify == OnFaceA, w.Justify == OnFaceB:
		return t
	}
	return t / 2
}

// meetingOf returns where an outline turns from one side into the next, near a corner:
// where the two meet, or a step between them.
func meetingOf(a, b geom.Frame, corner geom.Point) []geom.Point {
	den := a.Dir.Cross(b.Dir)
	if math.Abs(den) < sharp {
		return []geom.Point{a.Global(a.Local(corner).X, 0), b.Global(b.Local(corner).X, 0)}
	}
	d := geom.Vec{X: float64(b.Origin.X - a.Origin.X), Y: float64(b.Origin.Y - a.Origin.Y)}
	return []geom.Point{a.Global(Length(math.Round(d.Cross(b.Dir)/den)), 0)}
}

func points(p geom.Polygon) []Pt {
	list := make([]Pt, len(p))
	for i := range p {
		list[i] = Pt(p[i])
	}
	return list
}

// within returns a point inside an outline, as far from its sides as the widest
// stretch at half the height between two of its corners allows.
func within(p geom.Polygon) (geom.Point, bool) {
	var ys []Length
	for _, c := range p {
		ys = append(ys, c.Y)
	}
	slices.Sort(ys)
	var best geom.Point
	widest := Length(0)
	for i := 1; i < len(ys); i++ {
		y := (ys[i-1] + ys[i]) / 2
		if ys[i]-ys[i-1] <= geom.Same {
			continue
		}
		var xs []Length
		p.Edges(func(s geom.Segment) {
			if (s.A.Y > y) != (s.B.Y > y) {
				t := float64(y-s.A.Y) / float64(s.B.Y-s.A.Y)
				xs = append(xs, s.A.X+Length(math.Round(t*float64(s.B.X-s.A.X))))
			}
		})
		slices.Sort(xs)
		for k := 0; k+1 < len(xs); k += 2 {
			if room := min(xs[k+1]-xs[k], ys[i]-ys[i-1]); room > widest {
				widest, best = room, geom.Pt((xs[k]+xs[k+1])/2, y)
			}
		}
	}
	return best, widest > 0
}

// changes compares the outlines with the rooms of the level.
func (f *roomFinder) changes(outlines []geom.Polygon) []Change {
	var list []Change
	taken := map[string]bool{}
	for _, o := range outlines {
		r := f.roomAt(o, taken)
		switch {
		case r == nil:
			room := Room{ID: f.freeID(taken), Level: f.level, Outline: points(o), Found: true}
			taken[room.ID] = true
			list = append(list, Change{Kind: "rooms", ID: room.ID, Value: written(room)})
		case r.Found && !slices.Equal(r.Outline, points(o)):
			room := *r
			room.Outline = points(o)
			list = append(list, Change{Kind: "rooms", ID: r.ID, Value: written(room)})
		}
		if r != nil {
			taken[r.ID] = true
		}
	}
	for i := range f.plan.Rooms {
		if r := &f.plan.Rooms[i]; r.Level == f.level && r.Found && !taken[r.ID] && r.Name == "" && r.Use == "" && r.Wet == "" {
			list = append(list, Change{Kind: "rooms", ID: r.ID, Value: written(nil)})
		}
	}
	return list
}

// roomAt returns the room of the level that is where an outline is: one that somebody
// drew before one that was found; nil if there is none.
func (f *roomFinder) roomAt(o geom.Polygon, taken map[string]bool) *Room {
	at, _ := within(o)
	var found *Room
	for i := range f.rooms {
		r := &f.rooms[i]
		if taken[r.ID] && r.Found || !r.outline.Contains(at) && !o.Contains(r.in) {
			continue
		}
		if !r.Found {
			return r.Room
		}
		if found == nil {
			found = r.Room
		}
	}
	return found
}

// freeID returns a mark for a new room, such as L1-R03.
func (f *roomFinder) freeID(taken map[string]bool) string {
	for n := 1; ; n++ {
		id := fmt.Sprintf("%s-R%02d", f.level, n)
		if !taken[id] && !slices.ContainsFunc(f.plan.Rooms, func(r Room) bool { return r.ID == id }) {
			return id
		}
	}
}

// RoomPair is two rooms that walls part, and those walls.
type RoomPair struct {
	Rooms [2]string `json:"rooms"` // ids, that which stands first in the plan first; "" where there is no room
	Uses  [2]string `json:"uses"`  // of those rooms
	Walls []string  `json:"walls"`
	Area  float64   `json:"area"` // m² of wall between the two, under the level's clear height
}

// RoomPairs lists which rooms are parted by which walls, in the order of the plan's
// walls. A wall along several rooms stands in several pairs. By it what is asked
// between a bedroom and a corridor comes to the walls between them.
func (p *Plan) RoomPairs() []RoomPair {
	place := map[*Room]int{}
	for i := range p.Rooms {
		place[&p.Rooms[i]] = i
	}
	var list []RoomPair
	index := map[[2]*Room]int{}
	for i := range p.Walls {
		w := &p.Walls[i]
		level := p.LevelByID(w.Level)
		for _, s := range p.RoomsBeside(w) {
			pair := s.Rooms
			if (pair[0] == nil || pair[1] == nil) && s.Len() < roomReach {
				continue // there another wall stands against this one
			}
			if pair[0] == nil || pair[1] != nil && place[pair[1]] < place[pair[0]] {
				pair[0], pair[1] = pair[1], pair[0]
			}
			at, known := index[pair]
			if !known {
				at = len(list)
				index[pair] = at
				list = append(list, newPair(pair))
			}
			if x := &list[at]; !slices.Contains(x.Walls, w.ID) {
				x.Walls = append(x.Walls, w.ID)
			}
			if level != nil {
				list[at].Area += s.Len().Metres() * level.ClearHeight.Metres()
			}
		}
	}
	return list
}

func newPair(rooms [2]*Room) RoomPair {
	var x RoomPair
	for i, r := range rooms {
		if r != nil {
			x.Rooms[i], x.Uses[i] = r.ID, r.Use
		}
	}
	return x
}
