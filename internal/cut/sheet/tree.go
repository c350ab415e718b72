package sheet

import (
	"slices"

	"nogging/internal/geom"
)

// cell is a rectangle in the directions of a pattern, the kerf behind it included.
type cell struct{ p0, p1, q0, q1 Length }

// part is a stretch of a cell and what becomes of it.
type part struct {
	size Length
	node func(cell) *Node
}

// tree makes the tree of a pattern's cuts.
func (p *pattern) tree() *Node {
	t := tree{p.way.upright}
	var strips [][][]variant
	for _, s := range p.steps {
		if s.how == newStrip {
			strips = append(strips, nil)
		}
		last := &strips[len(strips)-1]
		if s.how != beside {
			*last = append(*last, nil)
		}
		slot := &(*last)[len(*last)-1]
		*slot = append(*slot, s.variant)
	}
	ends := p.way.upright && len(strips) > 1 && keepsEdge(strips[1]...)
	var parts []part
	for i, s := range strips {
		mirrored := ends && i == 1
		parts = append(parts, part{widest(s), func(c cell) *Node { return t.strip(c, s, mirrored) }})
	}
	pe, qe := p.way.extents()
	return t.split(cell{0, pe, 0, qe}, true, parts, ends)
}

// tree builds the tree of a pattern.
type tree struct{ upright bool }

// strip cuts a strip into its slots.
func (t tree) strip(c cell, slots [][]variant, mirrored bool) *Node {
	ends := !t.upright && len(slots) > 1 && keepsEdge(slots[1])
	var parts []part
	for i, s := range slots {
		last := ends && i == 1
		parts = append(parts, part{thickest(s), func(c cell) *Node { return t.slot(c, s, mirrored, last) }})
	}
	return t.split(c, false, parts, ends)
}

// slot cuts a slot into its pieces. In the last strip of upright cuts they are
// mirrored along p, in the last slot of a strip along q.
func (t tree) slot(c cell, pieces []variant, mirrored, last bool) *Node {
	var parts []part
	for _, v := range pieces {
		parts = append(parts, part{v.p, func(c cell) *Node {
			return t.trim(c, v, last, mirrored || last)
		}})
	}
	if mirrored {
		slices.Reverse(parts)
		return t.pushed(c, true, parts)
	}
	return t.split(c, true, parts, false)
}

// trim cuts a piece from its cell; pushed, it lies at the far end of it.
func (t tree) trim(c cell, v variant, pushed, right bool) *Node {
	leaf := part{v.q, func(c cell) *Node {
		n := t.node(c)
		n.Piece = v.kind
		if v.turned {
			n.Turns = 1
		}
		if right && v.edges > 0 {
			n.Turns = atRight
		}
		return n
	}}
	if pushed {
		return t.pushed(c, false, []part{leaf})
	}
	return t.split(c, false, []part{leaf}, false)
}

// atRight marks a piece that lies at the sheet's right edge, until it is known on
// which side it keeps the factory's.
const atRight = -1

// split cuts a cell along p or q into parts, and what is left over. Where ends is
// set, the second part lies at the far end.
func (t tree) split(c cell, alongP bool, parts []part, ends bool) *Node {
	if !ends {
		return t.cut(c, alongP, parts, len(parts))
	}
	parts = append(append(slices.Clone(parts[:1]), parts[2:]...), parts[1])
	return t.cut(c, alongP, parts, len(parts)-1)
}

// pushed cuts a cell so that what is left over comes first.
func (t tree) pushed(c cell, alongP bool, parts []part) *Node { return t.cut(c, alongP, parts, 0) }

// cut cuts a cell into parts, with what is left over before the part numbered rest.
func (t tree) cut(c cell, alongP bool, parts []part, rest int) *Node {
	from, to := c.q0, c.q1
	if alongP {
		from, to = c.p0, c.p1
	}
	over := to - from
	for _, p := range parts {
		over -= p.size
	}
	if over > 0 {
		parts = slices.Insert(slices.Clone(parts), rest, part{over, t.node})
	}
	if len(parts) == 1 {
		return parts[0].node(c)
	}
	n := t.node(c)
	n.Upright = alongP == t.upright
	for _, p := range parts {
		sub := c
		if alongP {
			sub.p0, sub.p1 = from, from+p.size
		} else {
			sub.q0, sub.q1 = from, from+p.size
		}
		n.Parts = append(n.Parts, p.node(sub))
		from += p.size
	}
	return n
}

// node returns what is left over of a cell until it becomes something else.
func (t tree) node(c cell) *Node {
	r := geom.Rect{Min: geom.Pt(c.q0, c.p0), Max: geom.Pt(c.q1, c.p1)}
	if t.upright {
		r = geom.Rect{Min: geom.Pt(c.p0, c.q0), Max: geom.Pt(c.p1, c.q1)}
	}
	return &Node{Rect: r, Piece: -1}
}

func keepsEdge(slots ...[]variant) bool {
	return slices.ContainsFunc(slots, func(s []variant) bool {
		return slices.ContainsFunc(s, func(v variant) bool { return v.edges > 0 })
	})
}

func thickest(slot []variant) (q Length) {
	for _, v := range slot {
		q = max(q, v.q)
	}
	return q
}

func widest(strip [][]variant) (p Length) {
	for _, s := range strip {
		var along Length
		for _, v := range s {
			along += v.p
		}
		p = max(p, along)
	}
	return p
}
