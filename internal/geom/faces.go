package geom

import (
	"cmp"
	"math"
	"slices"

	"nogging/internal/quantity"
)

// Face is an area that lines enclose and no line parts. Side i runs from corner i to
// the next, and the last to the first; the face lies to its left.
type Face struct {
	Corners Polygon
	Lines   []int // of each side: the line on which it lies
}

// Faces returns the areas enclosed by lines, from below upwards and from left to
// right by their lowest corners. Lines that cross part each other. An end that stops
// short of another line, within the gap, is drawn out to it: straight on where that
// meets it, else the nearest way. Ends that stand free, and lines that hang on a face
// or join one to another only, bound nothing. A face that lies within another one
// without touching it is a face of its own, and leaves the other as it is.
func Faces(lines []Segment, gap Length) []Face {
	n := newNet(lines, gap)
	_, side := n.walk()
	n.dropBridges(side)
	faces, _ := n.walk()
	list := make([]Face, 0, len(faces))
	for _, f := range faces {
		if x := n.face(f); len(x.Corners) > 2 && x.Corners.signedArea() > 0 {
			list = append(list, x)
		}
	}
	slices.SortStableFunc(list, func(a, b Face) int {
		p, q := lowest(a.Corners), lowest(b.Corners)
		return cmp.Or(cmp.Compare(p.Y, q.Y), cmp.Compare(p.X, q.X))
	})
	return list
}

func lowest(p Polygon) Point {
	return slices.MinFunc(p, func(a, b Point) int { return cmp.Or(cmp.Compare(a.Y, b.Y), cmp.Compare(a.X, b.X)) })
}

// net is lines parted where they meet.
type net struct {
	points []Point
	cells  map[[2]int64][]int // of points, by squares of Same
	edges  []netEdge
}

// netEdge joins two points of a net.
type netEdge struct {
	ends [2]int
	line int
	gone bool
}

// piece is a line of the net before it is parted; what draws an end out to another
// line belongs to the line that has the end.
type piece struct {
	Segment
	line int
	cuts []Point
}

func newNet(lines []Segment, gap Length) *net {
	var all []*piece
	for i, s := range lines {
		if s.Length() > Same {
			all = append(all, &piece{Segment: s, line: i})
		}
	}
	all = append(all, drawnOut(all, gap)...)
	part(all)
	n := &net{cells: map[[2]int64][]int{}}
	joined := map[[2]int]bool{}
	for _, p := range all {
		f := FrameOf(p.Segment)
		slices.SortFunc(p.cuts, func(a, b Point) int { return cmp.Compare(f.Local(a).X, f.Local(b).X) })
		last := n.point(p.A)
		for _, q := range append(p.cuts, p.B) {
			at := n.point(q)
			if pair := [2]int{min(last, at), max(last, at)}; at != last && !joined[pair] {
				joined[pair] = true
				n.edges = append(n.edges, netEdge{ends: [2]int{last, at}, line: p.line})
			}
			last = at
		}
	}
	return n
}

// point returns the number of a point, that of one as good as in its place.
func (n *net) point(p Point) int {
	x, y := floorDiv(p.X, Same), floorDiv(p.Y, Same)
	for dx := int64(-1); dx <= 1; dx++ {
		for dy := int64(-1); dy <= 1; dy++ {
			for _, i := range n.cells[[2]int64{x + dx, y + dy}] {
				if n.points[i].Dist(p) <= Same {
					return i
				}
			}
		}
	}
	n.points = append(n.points, p)
	n.cells[[2]int64{x, y}] = append(n.cells[[2]int64{x, y}], len(n.points)-1)
	return len(n.points) - 1
}

// netCell is the width of the squares by which lines that come near each other are
// found.
const netCell = 3 * quantity.Metre

func gridOf(all []*piece) *Grid[*piece] {
	grid := NewGrid[*piece](netCell)
	for _, p := range all {
		grid.Add(Bounds(p.A, p.B), p)
	}
	return grid
}

// drawnOut returns what joins ends to the lines that they narrowly miss: first those
// that need only go straight on, then, of the ends that still meet nothing, the nearest
// way.
func drawnOut(all []*piece, gap Length) []*piece {
	grid := gridOf(all)
	var list []*piece
	for _, to := range []func(*Grid[*piece], *piece, Segment, Length) (Point, bool){ahead, nearest} {
		var out []*piece
		for _, p := range all {
			for _, end := range []Segment{{A: p.B, B: p.A}, p.Segment} { // A is the end in question
				if at, ok := to(grid, p, end, gap); ok && at.Dist(end.A) > Same {
					out = append(out, &piece{Segment: Segment{A: end.A, B: at}, line: p.line})
				}
			}
		}
		for _, p := range out {
			grid.Add(Bounds(p.A, p.B), p)
		}
		list = append(list, out...)
	}
	return list
}

// ahead returns where a line that goes straight on beyond its end A first meets
// another.
func ahead(grid *Grid[*piece], own *piece, end Segment, gap Length) (to Point, found bool) {
	ray := Frame{Origin: end.A, Dir: Segment{A: end.B, B: end.A}.Dir()}
	grid.Each(Bounds(end.A).Grow(gap), func(o *piece) {
		if hit, ok := crossing(ray, o.Segment); ok && o != own && hit.Dist(end.A) <= gap && (!found || hit.Dist(end.A) < to.Dist(end.A)) {
			to, found = hit, true
		}
	})
	return to, found
}

// nearest returns the point of another line nearest to a line's end A.
func nearest(grid *Grid[*piece], own *piece, end Segment, gap Length) (to Point, found bool) {
	grid.Each(Bounds(end.A).Grow(gap), func(o *piece) {
		if foot := o.Nearest(end.A); o != own && foot.Dist(end.A) <= gap && (!found || foot.Dist(end.A) < to.Dist(end.A)) {
			to, found = foot, true
		}
	})
	return to, found
}

// crossing returns where the ray of a frame's axis meets a segment, its ends included.
func crossing(ray Frame, s Segment) (Point, bool) {
	a, b := ray.Local(s.A), ray.Local(s.B)
	if min(a.Y, b.Y) > Same || max(a.Y, b.Y) < -Same || (a.Y-b.Y).Abs() <= Same {
		return Point{}, false
	}
	t := min(max(float64(a.Y)/float64(a.Y-b.Y), 0), 1)
	u := float64(a.X) + t*float64(b.X-a.X)
	if u < 0 {
		return Point{}, false
	}
	return ray.Global(Length(math.Round(u)), 0), true
}

// Nearest returns the point of the segment nearest to p.
func (s Segment) Nearest(p Point) Point {
	f, l := FrameOf(s), s.Length()
	switch u := f.Local(p).X; {
	case u <= 0:
		return s.A
	case u >= l:
		return s.B
	default:
		return f.Global(u, 0)
	}
}

// part notes on each line where others cross it or end on it.
func part(all []*piece) {
	grid := gridOf(all)
	for _, p := range all {
		grid.Each(Bounds(p.A, p.B).Grow(Same), func(o *piece) {
			if o == p {
				return
			}
			for _, q := range []Point{o.A, o.B} {
				if foot := p.Nearest(q); foot.Dist(q) <= Same {
					p.cuts = append(p.cuts, q)
				}
			}
			if u, _, ok := p.Crossing(o.Segment); ok {
				p.cuts = append(p.cuts, FrameOf(p.Segment).Global(u, 0))
			}
		})
	}
}

// half is an edge in one direction: edge number and the end at which it begins.
type half struct{ edge, from int }

// walk goes round every face, the unbounded ones included, with the face on the left.
// It returns the faces as their sides, and of each half edge the face.
func (n *net) walk() (faces [][]half, side map[half]int) {
	out := make([][]half, len(n.points)) // of each point, counter-clockwise
	for i, e := range n.edges {
		if !e.gone {
			out[e.ends[0]] = append(out[e.ends[0]], half{i, 0})
			out[e.ends[1]] = append(out[e.ends[1]], half{i, 1})
		}
	}
	for p := range out {
		slices.SortFunc(out[p], func(a, b half) int { return cmp.Or(cmp.Compare(n.angle(a), n.angle(b)), cmp.Compare(a.edge, b.edge)) })
	}
	next := func(h half) half {
		turn := half{h.edge, 1 - h.from}
		around := out[n.edges[h.edge].ends[turn.from]]
		i := slices.Index(around, turn)
		return around[(i+len(around)-1)%len(around)] // the first one clockwise
	}
	side = map[half]int{}
	for i := range n.edges {
		for from := range 2 {
			h := half{i, from}
			if _, done := side[h]; done || n.edges[i].gone {
				continue
			}
			var face []half
			for _, seen := side[h]; !seen; _, seen = side[h] {
				side[h] = len(faces)
				face = append(face, h)
				h = next(h)
			}
			faces = append(faces, face)
		}
	}
	return faces, side
}

func (n *net) angle(h half) float64 {
	e := n.edges[h.edge]
	d := n.points[e.ends[1-h.from]].Sub(n.points[e.ends[h.from]])
	return math.Atan2(float64(d.Y), float64(d.X))
}

// dropBridges takes edges out that have one face on both sides: they stand free, hang
// on a face, or join one to another.
func (n *net) dropBridges(side map[half]int) {
	for i := range n.edges {
		if e := &n.edges[i]; !e.gone && side[half{i, 0}] == side[half{i, 1}] {
			e.gone = true
		}
	}
}

// face returns the corners of a face, without those at which a line only goes on.
func (n *net) face(sides []half) Face {
	var f Face
	count := len(sides)
	for i, h := range sides {
		before := sides[(i+count-1)%count]
		if n.edges[before.edge].line == n.edges[h.edge].line && math.Abs(turn(n.angle(before), n.angle(h))) < straightOn {
			continue
		}
		f.Corners = append(f.Corners, n.points[n.edges[h.edge].ends[h.from]])
		f.Lines = append(f.Lines, n.edges[h.edge].line)
	}
	return f
}

// straightOn is the turn, in radians, below which a line goes straight on.
const straightOn = 1e-3

// turn returns the change of direction from one angle to another, within ±π.
func turn(from, to float64) float64 { return math.Remainder(to-from, 2*math.Pi) }
