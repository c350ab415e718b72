package sheets

import (
	"slices"

	"nogging/internal/drawing"
	"nogging/internal/layout"
)

// wording is one way to write a piece's mark and size.
type wording struct {
	lines []string
	turn  float64
}

// label writes a piece's mark and size into it where they clear its rim, the
// texts around it and, if they can, the studs behind it. Pieces too narrow for
// text have their mark over the wall; their size is in the list.
func (b *boards) label(s *drawing.Scene, p *layout.Piece) {
	shape := b.polygon(p.Outline)
	if shape == nil || b.scale.paper(p.Width) < labelMin {
		return
	}
	var holes [][]drawing.Point
	for _, h := range p.Holes {
		if hole := b.polygon(h); hole != nil {
			holes = append(holes, hole)
		}
	}
	mark, size := b.mark(p), b.set.units.by(p.Width, p.Height)
	for _, w := range []wording{
		{[]string{mark, size}, 0}, {[]string{mark, size}, 90},
		{[]string{mark + "  " + size}, 90}, {[]string{mark + "  " + size}, 0},
		{[]string{mark}, 0}, {[]string{mark}, 90},
	} {
		if texts := b.roomIn(shape, holes, w); texts != nil {
			b.placer.Take(texts...)
			for _, t := range texts {
				s.Layer(drawing.Marks).Add(t)
			}
			return
		}
	}
	b.onLeader(s, &b.placer, hearts(shape, holes), mark, b.around())
}

// hearts returns points within a shape and outside its holes, those near its
// middle first.
func hearts(shape []drawing.Point, holes [][]drawing.Point) []drawing.Point {
	box := boundsOf(shape)
	var out []drawing.Point
	for _, spot := range spots {
		p := drawing.Point{X: box.Min.X + spot[0]*box.Width(), Y: box.Min.Y + spot[1]*box.Height()}
		if contains(shape, p) && !slices.ContainsFunc(holes, func(h []drawing.Point) bool { return contains(h, p) }) {
			out = append(out, p)
		}
	}
	return out
}

// spots are the places in a shape's bounding rectangle that are tried for a
// label, the preferred ones first.
var spots = [][2]float64{
	{.5, .5}, {.25, .5}, {.75, .5}, {.5, .4}, {.5, .6}, {.5, .3}, {.5, .7},
	{.25, .3}, {.75, .3}, {.25, .7}, {.75, .7}, {.5, .15}, {.5, .85}, {.5, .07}, {.5, .93},
	{.12, .5}, {.88, .5}, {.12, .2}, {.88, .2}, {.12, .8}, {.88, .8},
	{.06, .5}, {.94, .5}, {.25, .07}, {.75, .07}, {.25, .93}, {.75, .93},
}

// roomIn returns the texts of a label at the best of the spots; nil if it fits
// at none.
func (b *boards) roomIn(shape []drawing.Point, holes [][]drawing.Point, w wording) []drawing.Text {
	box := boundsOf(shape)
	probe := textBlock(drawing.Point{}, w.turn, w.lines, true)
	need := hull(probe)
	if need.Width() > box.Width()-0.6 || need.Height() > box.Height()-0.6 {
		return nil
	}
	var best []drawing.Text
	fewest := -1
	for _, spot := range spots {
		c := drawing.Point{X: box.Min.X + spot[0]*box.Width(), Y: box.Min.Y + spot[1]*box.Height()}
		texts := textBlock(c, w.turn, w.lines, true)
		r := hull(texts)
		grown := r.Inset(-0.3)
		if !clearIn(grown, shape, holes) || !allFree(&b.placer, texts) {
			continue
		}
		if n := b.placer.Crossings(r); fewest < 0 || n < fewest {
			best, fewest = texts, n
		}
		if fewest == 0 {
			break
		}
	}
	return best
}

func hull(texts []drawing.Text) drawing.Rect {
	r := texts[0].Bounds()
	for _, t := range texts[1:] {
		o := t.Bounds()
		r.Min.X, r.Min.Y = min(r.Min.X, o.Min.X), min(r.Min.Y, o.Min.Y)
		r.Max.X, r.Max.Y = max(r.Max.X, o.Max.X), max(r.Max.Y, o.Max.Y)
	}
	return r
}

func boundsOf(poly []drawing.Point) drawing.Rect {
	r := drawing.Rect{Min: poly[0], Max: poly[0]}
	for _, p := range poly[1:] {
		r.Min.X, r.Min.Y = min(r.Min.X, p.X), min(r.Min.Y, p.Y)
		r.Max.X, r.Max.Y = max(r.Max.X, p.X), max(r.Max.Y, p.Y)
	}
	return r
}

// clearIn reports whether a rectangle lies in a shape and in none of its holes.
func clearIn(r drawing.Rect, shape []drawing.Point, holes [][]drawing.Point) bool {
	if !contains(shape, r.Centre()) || crosses(shape, r) {
		return false
	}
	for _, h := range holes {
		if contains(h, r.Centre()) || crosses(h, r) {
			return false
		}
	}
	return true
}

// crosses reports whether a side of the polygon runs through the rectangle.
func crosses(poly []drawing.Point, r drawing.Rect) bool {
	for i, a := range poly {
		if _, ok := drawing.ClipSegment(drawing.Segment{A: a, B: poly[(i+1)%len(poly)]}, r); ok {
			return true
		}
	}
	return false
}

// contains reports whether a point lies in a polygon, by the even-odd rule.
func contains(poly []drawing.Point, p drawing.Point) bool {
	in := false
	for i, a := range poly {
		c := poly[(i+1)%len(poly)]
		if (a.Y > p.Y) != (c.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(c.Y-a.Y)*(c.X-a.X) {
			in = !in
		}
	}
	return in
}
