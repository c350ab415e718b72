package sheet

import (
	"slices"

	"nogging/internal/geom"
)

// restWidth is the width of the search in notches and in what is left over.
const restWidth = 3

// sheet fills a sheet; then notches, and what is left over where cuts may change
// direction as often as they like, as sheets of their own.
func (f *filler) sheet(l layingOut, number int, left []int, worth []float64, width int) *pattern {
	p := f.fill(l, number, left, worth, width)
	if p == nil || f.in.stages != Free && !f.in.notched {
		return p
	}
	r := rest{f, p, slices.Clone(left), worth}
	for _, u := range p.uses {
		r.left[u.kind] -= u.count
	}
	trim := f.in.problem.Trim
	p.root = r.use(shift(p.tree(), geom.Pt(trim, trim)))
	return p
}

// rest fills what a pattern leaves.
type rest struct {
	*filler
	pattern *pattern
	left    []int
	worth   []float64
}

// use goes through a tree and returns it with its rests filled.
func (r *rest) use(n *Node) *Node {
	if n.Piece >= 0 {
		k := &r.in.kinds[n.Piece]
		for _, o := range k.lie(n, r.in.problem.Kerf) {
			if more := r.inside(o); more != nil {
				n.Notches = append(n.Notches, more)
			}
		}
		return n
	}
	if len(n.Parts) == 0 && r.in.stages == Free {
		if more := r.inside(n.Rect); more != nil {
			return more
		}
	}
	for i, p := range n.Parts {
		n.Parts[i] = r.use(p)
	}
	return n
}

// inside fills a cell as a sheet of its own.
func (r *rest) inside(c geom.Rect) *Node {
	size := c.Max.Sub(c.Min)
	if !slices.ContainsFunc(r.in.kinds, func(k kind) bool { return min(k.w, k.h) <= min(size.X, size.Y) }) {
		return nil
	}
	var best *pattern
	for _, upright := range []bool{true, false} {
		l := layingOut{stock{w: size.X, h: size.Y, cost: 1}, upright}
		if p := r.fill(l, 0, r.left, r.worth, restWidth); p != nil && (best == nil || p.value > best.value) {
			best = p
		}
	}
	if best == nil {
		return nil
	}
	for _, u := range best.uses {
		r.left[u.kind] -= u.count
		for range u.count {
			r.pattern.use(u.kind)
		}
	}
	r.pattern.value += best.value
	r.pattern.area += best.area
	return r.use(shift(best.tree(), c.Min))
}

// shift moves a tree.
func shift(n *Node, by geom.Point) *Node {
	n.Walk(func(x *Node) { x.Min, x.Max = x.Min.Add(by), x.Max.Add(by) })
	return n
}

// lie returns the cells of the notches of a piece as it lies. What cuts them out
// takes a kerf on every side.
func (k *kind) lie(n *Node, kerf Length) []geom.Rect {
	turns := k.turns(n.Turns)
	size := geom.Pt(k.w-kerf, k.h-kerf)
	var list []geom.Rect
	for _, o := range k.notches {
		r := turned(o, size, turns)
		r.Min, r.Max = r.Min.Add(n.Min).Add(geom.Pt(kerf, kerf)), r.Max.Add(n.Min)
		if r.Max.X-kerf > r.Min.X && r.Max.Y-kerf > r.Min.Y {
			list = append(list, r)
		}
	}
	return list
}

// turns returns the quarter turns by which a piece lies as a leaf says.
func (k *kind) turns(mark int) int {
	switch {
	case mark == atRight && !k.right, mark == 0 && k.right && !k.left:
		return 2
	case mark == atRight:
		return 0
	}
	return mark
}

// turned returns where a rectangle of a piece of the size lies after counter-
// clockwise quarter turns, from the lower left corner of the piece as it then lies.
func turned(r geom.Rect, size geom.Point, turns int) geom.Rect {
	for range turns {
		r = geom.Rect{Min: geom.Pt(size.Y-r.Max.Y, r.Min.X), Max: geom.Pt(size.Y-r.Min.Y, r.Max.X)}
		size = geom.Pt(size.Y, size.X)
	}
	return r
}
