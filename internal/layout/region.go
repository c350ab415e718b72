package layout

import (
	"slices"

	"nogging/internal/geom"
)

// slab is an upright slice of a face in which nothing begins or ends between
// its two sides. Its spans are the stretches of height that are boarded, from
// below upwards.
type slab struct {
	from, to Length
	spans    []span
}

// span is a trapezium: level at its foot, and with a top that may slope.
type span struct {
	bottom        Length
	topAt, topEnd Length // at the slab's two sides
}

// topOf returns the height of a span's top at u.
func (s slab) topOf(p span, u Length) Length {
	return between(geom.Pt(s.from, p.topAt), geom.Pt(s.to, p.topEnd), u)
}

// region cuts the part of a face between two joints into slabs. The levels are
// heights at which the region will be cut across; a sloping top gets a slab
// border where it passes one, or the head or sill of an opening.
func region(top Profile, bottom, from, to Length, openings []Opening, levels []Length) []slab {
	borders := []Length{from, to}
	levels = slices.Clone(levels)
	for _, o := range openings {
		if o.U.From < to && from < o.U.To {
			borders = append(borders, o.U.From, o.U.To)
			levels = append(levels, o.Sill, o.Head)
		}
	}
	for i, q := range top {
		borders = append(borders, q.X)
		if i > 0 {
			borders = append(borders, passes(top[i-1], q, levels)...)
		}
	}
	borders = slices.DeleteFunc(borders, func(u Length) bool { return u < from || u > to })
	slices.Sort(borders)
	borders = slices.Compact(borders)
	slabs := make([]slab, 0, len(borders)-1)
	for i := 1; i < len(borders); i++ {
		s := slab{from: borders[i-1], to: borders[i]}
		s.spans = boarded(s, top, bottom, openings)
		slabs = append(slabs, s)
	}
	return slabs
}

// boardHoles returns the openings as they are cut out of boards under an upper
// edge. Where one would leave a strip over it too low for a screw, it is cut up to
// that edge (common practice).
func (w *wallLayout) boardHoles(top Profile) []Opening {
	var list []Opening
	for i, o := range w.out.Openings {
		if high := top.Max(o.U.From, o.U.To); o.Head < high && high-o.Head < 2*w.pr.ScrewEdge.Value {
			if list == nil {
				list = slices.Clone(w.out.Openings)
			}
			list[i].Head = high
		}
	}
	if list == nil {
		return w.out.Openings
	}
	return list
}

// passes lists where the line through a and b reaches the levels.
func passes(a, b geom.Point, levels []Length) []Length {
	if a.X == b.X || a.Y == b.Y {
		return nil
	}
	var us []Length
	for _, z := range levels {
		us = append(us, a.X+Length(float64(b.X-a.X)*(float64(z-a.Y)/float64(b.Y-a.Y))))
	}
	return us
}

// boarded lists the spans of a slab around the openings that cross it.
func boarded(s slab, top Profile, bottom Length, openings []Opening) []span {
	var holes []Opening
	for _, o := range openings {
		if o.U.From <= s.from && s.to <= o.U.To {
			holes = append(holes, o)
		}
	}
	slices.SortFunc(holes, func(a, b Opening) int { return compare(a.Sill, b.Sill) })
	t0, t1 := top.After(s.from), top.Before(s.to)
	z := bottom
	var spans []span
	for _, o := range holes {
		if end0, end1 := min(o.Sill, t0), min(o.Sill, t1); end0 > z || end1 > z {
			spans = append(spans, span{z, max(end0, z), max(end1, z)})
		}
		z = max(z, o.Head)
	}
	if t0 > z || t1 > z {
		spans = append(spans, span{z, max(t0, z), max(t1, z)})
	}
	return spans
}

// cutAcross returns the part of the slabs between two heights.
func cutAcross(slabs []slab, low, high Length) []slab {
	var part []slab
	for _, s := range slabs {
		c := slab{from: s.from, to: s.to}
		for _, p := range s.spans {
			q := span{max(p.bottom, low), min(p.topAt, high), min(p.topEnd, high)}
			if q.topAt > q.bottom || q.topEnd > q.bottom {
				c.spans = append(c.spans, span{q.bottom, max(q.topAt, q.bottom), max(q.topEnd, q.bottom)})
			}
		}
		part = append(part, c)
	}
	return part
}

// node is one span of one slab.
type node struct{ slab, span int }

// connected groups the spans that hang together.
func connected(slabs []slab) [][]node {
	seen := map[node]bool{}
	var groups [][]node
	for i := range slabs {
		for j := range slabs[i].spans {
			if n := (node{i, j}); !seen[n] {
				groups = append(groups, gather(slabs, n, seen))
			}
		}
	}
	return groups
}

func gather(slabs []slab, start node, seen map[node]bool) []node {
	seen[start] = true
	group := []node{start}
	for i := 0; i < len(group); i++ {
		n := group[i]
		for _, d := range []int{-1, 1} {
			m := n.slab + d
			if m < 0 || m >= len(slabs) {
				continue
			}
			for j := range slabs[m].spans {
				next := node{m, j}
				if low, high := shared(slabs, n, next); !seen[next] && low < high {
					seen[next] = true
					group = append(group, next)
				}
			}
		}
	}
	return group
}

// shared returns the stretch of height over which two spans of neighbouring
// slabs touch.
func shared(slabs []slab, a, b node) (low, high Length) {
	if a.slab > b.slab {
		a, b = b, a
	}
	p, q := slabs[a.slab].spans[a.span], slabs[b.slab].spans[b.span]
	return max(p.bottom, q.bottom), min(p.topEnd, q.topAt)
}

// outlines traces the border of a group of spans: the outline counter-
// clockwise, and the holes in it.
func outlines(slabs []slab, group []node) (outline geom.Polygon, holes []geom.Polygon) {
	if len(group) == 1 {
		return trapezium(slabs, group[0]), nil
	}
	next := map[geom.Point][]geom.Point{}
	var starts []geom.Point
	edge := func(a, b geom.Point) {
		if a != b {
			next[a] = append(next[a], b)
			starts = append(starts, a)
		}
	}
	for _, n := range group {
		border(slabs, group, n, edge)
	}
	slices.SortFunc(starts, func(a, b geom.Point) int {
		if a.X != b.X {
			return compare(a.X, b.X)
		}
		return compare(a.Y, b.Y)
	})
	for _, s := range starts {
		for len(next[s]) > 0 {
			loop := trace(next, s)
			if outline == nil { // the first start is the leftmost lowest corner, so on the outline
				outline = loop
			} else {
				holes = append(holes, loop)
			}
		}
	}
	return outline, holes
}

func trapezium(slabs []slab, n node) geom.Polygon {
	s := slabs[n.slab]
	p := s.spans[n.span]
	return tidy(geom.Polygon{geom.Pt(s.from, p.bottom), geom.Pt(s.to, p.bottom), geom.Pt(s.to, p.topEnd), geom.Pt(s.from, p.topAt)})
}

// border reports the edges of a span that no neighbour shares, running
// counter-clockwise round it.
func border(slabs []slab, group []node, n node, edge func(a, b geom.Point)) {
	s := slabs[n.slab]
	p := s.spans[n.span]
	edge(geom.Pt(s.from, p.bottom), geom.Pt(s.to, p.bottom))
	edge(geom.Pt(s.to, p.topEnd), geom.Pt(s.from, p.topAt))
	free(slabs, group, n, 1, geom.Interval{From: p.bottom, To: p.topEnd}, func(i geom.Interval) {
		edge(geom.Pt(s.to, i.From), geom.Pt(s.to, i.To))
	})
	free(slabs, group, n, -1, geom.Interval{From: p.bottom, To: p.topAt}, func(i geom.Interval) {
		edge(geom.Pt(s.from, i.To), geom.Pt(s.from, i.From))
	})
}

// free reports the parts of a span's side that no span of the neighbouring
// slab touches.
func free(slabs []slab, group []node, n node, d int, side geom.Interval, f func(geom.Interval)) {
	z := side.From
	var touches []geom.Interval
	for _, m := range group {
		if m.slab == n.slab+d {
			if low, high := shared(slabs, n, m); low < high {
				touches = append(touches, geom.Interval{From: low, To: high})
			}
		}
	}
	slices.SortFunc(touches, func(a, b geom.Interval) int { return compare(a.From, b.From) })
	for _, t := range touches {
		if t.From > z {
			f(geom.Interval{From: z, To: t.From})
		}
		z = t.To
	}
	if side.To > z {
		f(geom.Interval{From: z, To: side.To})
	}
}

// trace follows edges from a start until they close, using them up.
func trace(next map[geom.Point][]geom.Point, start geom.Point) geom.Polygon {
	var loop geom.Polygon
	at := start
	for {
		loop = append(loop, at)
		to := next[at]
		if len(to) == 0 {
			return tidy(loop)
		}
		next[at] = to[:len(to)-1]
		if at = to[len(to)-1]; at == start {
			return tidy(loop)
		}
	}
}

// tidy removes repeated corners and corners on a straight side.
func tidy(p geom.Polygon) geom.Polygon {
	for i := 0; i < len(p) && len(p) > 3; {
		a, b, c := p[(i+len(p)-1)%len(p)], p[i], p[(i+1)%len(p)]
		if b == c || straight(a, b, c) {
			p = slices.Delete(p, i, i+1)
			i = max(i-1, 0)
			continue
		}
		i++
	}
	return p
}

// straight reports whether b lies exactly on the level or upright line, or
// within a rounding of the sloping line, from a to c.
func straight(a, b, c geom.Point) bool {
	if a.X == b.X && b.X == c.X || a.Y == b.Y && b.Y == c.Y {
		return true
	}
	if a.X == b.X || b.X == c.X || a.Y == b.Y || b.Y == c.Y || a.X == c.X {
		return false
	}
	d := b.Y - a.Y - Length(float64(c.Y-a.Y)*(float64(b.X-a.X)/float64(c.X-a.X)))
	return d.Abs() <= 2
}
