package sheets

import (
	"fmt"
	"slices"
	"strings"

	"nogging/internal/geom"
	"nogging/internal/layout"
)

// cutText says how a piece differs from a plain rectangle, in the sizes that it
// is cut by: notches, holes, and heights where the head slopes. Mirrored pieces
// are described as they are seen where the wall runs from right to left.
func (u units) cutText(p *layout.Piece, mirrored bool) string {
	c := newCutting(p, mirrored)
	var parts []string
	if head := c.slope(); head != nil {
		parts = append(parts, u.slopeText(head))
	}
	for _, v := range c.voids() {
		parts = append(parts, c.voidText(u, v))
	}
	return strings.Join(parts, "; ")
}

// cutting is a piece cut into upright strips at the corners of its outline, from
// its lower left corner as seen.
type cutting struct {
	size   geom.Point
	strips []strip
	holes  []geom.Rect
}

// strip is the stretch between two neighbouring corners: where the piece begins
// and ends over each of its ends, from below.
type strip struct {
	from, to Length
	spans    []span
}

// span is a stretch of board within a strip; its edges may slope.
type span struct{ lo, hi [2]Length } // at the left and at the right

func newCutting(p *layout.Piece, mirrored bool) cutting {
	b := p.Outline.Bounds()
	local := func(q geom.Point) geom.Point {
		if mirrored {
			return geom.Pt(b.Max.X-q.X, q.Y-b.Min.Y)
		}
		return q.Sub(b.Min)
	}
	c := cutting{size: b.Max.Sub(b.Min)}
	outline := make(geom.Polygon, len(p.Outline))
	var xs []Length
	for i, q := range p.Outline {
		outline[i] = local(q)
		xs = append(xs, outline[i].X)
	}
	for _, h := range p.Holes {
		r := h.Bounds()
		c.holes = append(c.holes, geom.Bounds(local(r.Min), local(r.Max)))
	}
	slices.Sort(xs)
	xs = slices.Compact(xs)
	for i := 1; i < len(xs); i++ {
		c.strips = append(c.strips, stripOf(outline, xs[i-1], xs[i]))
	}
	return c
}

// stripOf pairs the edges that run through a strip, from below.
func stripOf(outline geom.Polygon, from, to Length) strip {
	var edges [][2]Length
	outline.Edges(func(e geom.Segment) {
		if min(e.A.X, e.B.X) <= from && max(e.A.X, e.B.X) >= to {
			edges = append(edges, [2]Length{heightOn(e, from), heightOn(e, to)})
		}
	})
	slices.SortFunc(edges, func(a, b [2]Length) int { return int(max(-1, min(1, a[0]+a[1]-b[0]-b[1]))) })
	s := strip{from: from, to: to}
	for i := 1; i < len(edges); i += 2 {
		s.spans = append(s.spans, span{edges[i-1], edges[i]})
	}
	return s
}

// heightOn returns the height of an edge that is not upright at x.
func heightOn(e geom.Segment, x Length) Length {
	t := float64(x-e.A.X) / float64(e.B.X-e.A.X)
	return e.A.Y + Length(t*float64(e.B.Y-e.A.Y))
}

// slope returns the corners of a sloping head from left to right; nil if the
// head is level, with or without notches.
func (c cutting) slope() []geom.Point {
	var head []geom.Point
	sloping := false
	for _, s := range c.strips {
		if len(s.spans) == 0 {
			return nil
		}
		top := s.spans[len(s.spans)-1].hi
		sloping = sloping || (top[0]-top[1]).Abs() > geom.Same
		head = append(head, geom.Pt(s.from, top[0]), geom.Pt(s.to, top[1]))
	}
	if !sloping {
		return nil
	}
	return straightened(slices.Compact(head))
}

// straightened leaves out corners that lie on the line between their neighbours.
func straightened(line []geom.Point) []geom.Point {
	out := line[:0:0]
	for i, p := range line {
		if i > 0 && i+1 < len(line) {
			a, b := out[len(out)-1], line[i+1]
			if a.X < p.X && p.X < b.X && (heightOn(geom.Segment{A: a, B: b}, p.X)-p.Y).Abs() <= geom.Same {
				continue
			}
		}
		out = append(out, p)
	}
	return out
}

func (u units) slopeText(head []geom.Point) string {
	parts := []string{"left " + u.dim(head[0].Y)}
	for _, p := range head[1 : len(head)-1] {
		parts = append(parts, fmt.Sprintf("%s at %s", u.dim(p.Y), u.dim(p.X)))
	}
	return strings.Join(append(parts, "right "+u.dim(head[len(head)-1].Y)), ", ")
}

// voids returns what is cut out of the piece: notches from left to right, then
// holes. Below a sloping head, what lies above it is no notch.
func (c cutting) voids() []geom.Rect {
	var done, open []geom.Rect
	level := c.slope() == nil
	for _, s := range c.strips {
		var next []geom.Rect
		for _, gap := range c.gaps(s, level) {
			i := slices.IndexFunc(open, func(r geom.Rect) bool {
				return r.Max.X == s.from && r.Min.Y == gap.From && r.Max.Y == gap.To
			})
			r := geom.Rect{Min: geom.Pt(s.from, gap.From), Max: geom.Pt(s.to, gap.To)}
			if i >= 0 {
				r.Min.X = open[i].Min.X
				open = slices.Delete(open, i, i+1)
			}
			next = append(next, r)
		}
		done = append(done, open...)
		open = next
	}
	return append(append(done, open...), c.holes...)
}

// gaps returns the heights in a strip that no board covers.
func (c cutting) gaps(s strip, level bool) []geom.Interval {
	var out []geom.Interval
	at := Length(0)
	for _, p := range s.spans {
		if lo := min(p.lo[0], p.lo[1]); lo-at > geom.Same {
			out = append(out, geom.Interval{From: at, To: lo})
		}
		at = max(p.hi[0], p.hi[1])
	}
	if level && c.size.Y-at > geom.Same {
		out = append(out, geom.Interval{From: at, To: c.size.Y})
	}
	return out
}

// voidText says what is cut out and where: notches by the side or corner they
// lie at, holes by their lower left corner.
func (c cutting) voidText(u units, r geom.Rect) string {
	size := u.by(r.Max.X-r.Min.X, r.Max.Y-r.Min.Y)
	left, right := r.Min.X <= geom.Same, c.size.X-r.Max.X <= geom.Same
	foot, head := r.Min.Y <= geom.Same, c.size.Y-r.Max.Y <= geom.Same
	side, height := "", ""
	switch {
	case left:
		side = "left"
	case right:
		side = "right"
	}
	switch {
	case foot:
		height = "lower"
	case head:
		height = "upper"
	}
	switch {
	case side != "" && height != "":
		return fmt.Sprintf("notch %s %s %s", size, height, side)
	case side != "":
		return fmt.Sprintf("notch %s %s, %s up", size, side, u.dim(r.Min.Y))
	case height != "":
		return fmt.Sprintf("notch %s at %s edge, %s from left", size, height, u.dim(r.Min.X))
	}
	return fmt.Sprintf("hole %s, %s from left, %s up", size, u.dim(r.Min.X), u.dim(r.Min.Y))
}
