package shape

import (
	"cmp"
	"math"
	"slices"
)

// Span is a stretch of material in a strip. Its edges are straight: At[0] is z
// at the strip's left, At[1] at its right.
type Span struct{ Lo, Hi [2]float64 }

func (s Span) middle() (lo, hi float64) { return (s.Lo[0] + s.Lo[1]) / 2, (s.Hi[0] + s.Hi[1]) / 2 }

// Strip is an upright strip of a section, with its spans from the foot up.
type Strip struct {
	From, To float64
	Spans    []Span
}

// Section is a body cut by an upright plane: strips from left to right. There
// are gaps where there is no material.
type Section []Strip

// minStrip is the width under which a strip is noise.
const minStrip = 0.01

// maxSection bounds the number of edges in a section; no wall comes near.
const maxSection = 4000

// perPoint is how many comparisons of edges cost as much as a point.
const perPoint = 64

// Cut returns the section of the union of solids along a frame, at v to the
// left of its line. Along an arc it is cut by flat panels, one after the other.
func (m *Model) Cut(solids []*Solid, f Frame, v float64) (Section, error) {
	if !f.Curved() {
		return m.cut(solids, f, v, math.Inf(-1), math.Inf(1))
	}
	return m.cutPanels(solids, f, v, f.panels(solids))
}

// CutBetween is Cut for the stretch between two places only, whatever the
// extent of the solids.
func (m *Model) CutBetween(solids []*Solid, f Frame, v, from, to float64) (Section, error) {
	if !f.Curved() {
		return m.cut(solids, f, v, from, to)
	}
	var panels []float64
	for _, p := range f.Along(from, to, panelRise) {
		panels = append(panels, f.Local(p).X)
	}
	return m.cutPanels(solids, f, v, panels)
}

// panelRise is how far, in mm, a panel may lie off the arc that it stands for.
const panelRise = 5

func (m *Model) cutPanels(solids []*Solid, f Frame, v float64, panels []float64) (Section, error) {
	where := wedges{}
	for _, s := range solids {
		where.add(s, f)
	}
	var section Section
	for i := 1; i < len(panels); i++ {
		a, b := f.Global(panels[i-1], v, 0), f.Global(panels[i], v, 0)
		run := b.Sub(a)
		if run.Len() < minStrip {
			continue
		}
		flat := Frame{Origin: a, Dir: run.unit(Vec{X: 1})}
		var near []*Solid
		for _, s := range solids {
			near = append(near, where.between(s, panels[i-1], panels[i]))
		}
		part, err := m.cut(near, flat, 0, 0, run.Len())
		if err != nil {
			return nil, err
		}
		for _, s := range part {
			s.From, s.To = f.Local(flat.Global(s.From, 0, 0)).X, f.Local(flat.Global(s.To, 0, 0)).X
			section = append(section, s)
		}
	}
	return section, nil
}

// cut returns the section along a straight frame between two places.
func (m *Model) cut(solids []*Solid, f Frame, v, from, to float64) (Section, error) {
	c := cutter{frame: f, v: v}
	var roots []*node
	for _, s := range solids {
		roots = append(roots, c.node(s))
	}
	size := c.edges + len(c.halves)
	if err := m.spend(c.points/perPoint + size*min(size, len(c.leaves)+len(c.halves))/perPoint); err != nil || size > maxSection {
		return nil, ErrTooMuch
	}
	c.crossings()
	if err := m.spend(size * len(c.breaks) / perPoint); err != nil {
		return nil, err
	}
	if !math.IsInf(from, 0) {
		c.breaks = slices.DeleteFunc(append(c.breaks, from, to), func(u float64) bool { return u < from || u > to })
	}
	slices.Sort(c.breaks)
	var section Section
	for i := 0; i+1 < len(c.breaks); i++ {
		from, to := c.breaks[i], c.breaks[i+1]
		if to-from < minStrip {
			c.breaks[i+1] = from // so that narrow strips do not add up to a lost one
			continue
		}
		var spans []Span
		for _, n := range roots {
			spans = combine(spans, n.spans(from, to), union)
		}
		spans = slices.DeleteFunc(spans, func(s Span) bool { lo, hi := s.middle(); return hi-lo < minStrip })
		if len(spans) > 0 {
			section = append(section, Strip{from, to, spans})
		}
	}
	return section, nil
}

// node is a solid in the plane of the section.
type node struct {
	op            operation
	edges         []edge
	a, b, c       float64 // of a half space: a·u + b·z <= c
	first, second *node
}

// edge is where a face meets the plane, from left to right.
type edge struct{ u0, z0, u1, z1 float64 }

func (e edge) z(u float64) float64 { return e.z0 + (e.z1-e.z0)*(u-e.u0)/(e.u1-e.u0) }

// cutter turns solids into nodes and gathers the places where strips begin.
type cutter struct {
	frame  Frame
	v      float64
	leaves []*node
	halves []*node
	breaks []float64
	edges  int
	points int // looked at
}

func (c *cutter) node(s *Solid) *node {
	n := &node{op: s.op}
	switch s.op {
	case leaf:
		for _, f := range s.Faces {
			n.edges = c.face(f, n.edges)
		}
		if len(n.edges) > 0 {
			c.edges += len(n.edges)
			c.leaves = append(c.leaves, n)
		}
	case halfSpace:
		at, normal := c.frame.Local(s.point), c.frame.Local(s.normal.Add(c.frame.Origin))
		n.a, n.b = normal.X, s.normal.Z
		n.c = n.a*at.X + normal.Y*(at.Y-c.v) + n.b*at.Z
		c.halves = append(c.halves, n)
	default:
		n.first, n.second = c.node(s.first), c.node(s.second)
	}
	return n
}

// face adds the edges along which a face meets the plane.
func (c *cutter) face(f Face, edges []edge) []edge {
	var buffer [8]Vec
	meets := buffer[:0]
	for _, loop := range f {
		c.points += len(loop)
		for i := range loop {
			a, b := c.frame.Local(loop[i]), c.frame.Local(loop[(i+1)%len(loop)])
			da, db := a.Y-c.v, b.Y-c.v
			if (da >= 0) != (db >= 0) {
				meets = append(meets, a.Add(b.Sub(a).Times(da/(da-db))))
			}
		}
	}
	slices.SortFunc(meets, alongLine(meets))
	for i := 0; i+1 < len(meets); i += 2 {
		p, q := meets[i], meets[i+1]
		c.breaks = append(c.breaks, p.X, q.X)
		if p.X > q.X {
			p, q = q, p
		}
		if q.X-p.X >= minStrip/2 {
			edges = append(edges, edge{p.X, p.Z, q.X, q.Z})
		}
	}
	return edges
}

// alongLine orders points that lie in one line.
func alongLine(points []Vec) func(a, b Vec) int {
	du, dz := 0.0, 0.0
	for _, p := range points {
		du, dz = max(du, math.Abs(p.X-points[0].X)), max(dz, math.Abs(p.Z-points[0].Z))
	}
	if dz > du {
		return func(a, b Vec) int { return cmp.Or(cmp.Compare(a.Z, b.Z), cmp.Compare(a.X, b.X)) }
	}
	return func(a, b Vec) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Z, b.Z)) }
}

// flat is the factor of z under which a half space counts as upright.
const flat = 1e-6

// crossings adds the places where the edges of different solids cross.
func (c *cutter) crossings() {
	for i, h := range c.halves {
		if math.Abs(h.b) < flat {
			if math.Abs(h.a) > flat {
				c.breaks = append(c.breaks, h.c/h.a)
			}
			continue
		}
		for _, o := range c.halves[:i] {
			if det := h.a*o.b - o.a*h.b; math.Abs(det) > 1e-9 {
				c.breaks = append(c.breaks, (h.c*o.b-o.c*h.b)/det)
			}
		}
		for _, l := range c.leaves {
			for _, e := range l.edges {
				c.crossing(e, (h.c-h.a*e.u0)/h.b, (h.c-h.a*e.u1)/h.b)
			}
		}
	}
	for i, l := range c.leaves {
		for _, o := range c.leaves[:i] {
			if len(l.edges)*len(o.edges) > maxSection*10 {
				continue // two dense meshes: their strips are narrow anyway
			}
			for _, e := range l.edges {
				for _, x := range o.edges {
					if x.u0 < e.u1 && e.u0 < x.u1 {
						c.crossing(e, x.z(e.u0), x.z(e.u1))
					}
				}
			}
		}
	}
}

// crossing adds the place where an edge crosses a line that has the heights
// z0 and z1 at the edge's ends.
func (c *cutter) crossing(e edge, z0, z1 float64) {
	d0, d1 := e.z0-z0, e.z1-z1
	if d0*d1 < 0 {
		c.breaks = append(c.breaks, e.u0+(e.u1-e.u0)*d0/(d0-d1))
	}
}

// spans returns the material of a node between two places, between which no
// edges begin, end or cross.
func (n *node) spans(from, to float64) []Span {
	switch n.op {
	case leaf:
		return n.leafSpans(from, to)
	case halfSpace:
		return n.halfSpans(from, to)
	}
	return combine(n.first.spans(from, to), n.second.spans(from, to), n.op)
}

func (n *node) leafSpans(from, to float64) []Span {
	middle := (from + to) / 2
	var buffer [8][2]float64
	zs := buffer[:0]
	for _, e := range n.edges {
		if e.u0 <= middle && middle < e.u1 {
			zs = append(zs, [2]float64{e.z(from), e.z(to)})
		}
	}
	slices.SortFunc(zs, func(a, b [2]float64) int { return cmp.Compare(a[0]+a[1], b[0]+b[1]) })
	if len(zs)%2 == 1 && len(zs) > 2 {
		zs = [][2]float64{zs[0], zs[len(zs)-1]} // an open shell: its lowest and its highest face
	}
	var spans []Span
	for i := 0; i+1 < len(zs); i += 2 {
		spans = append(spans, Span{Lo: zs[i], Hi: zs[i+1]})
	}
	return spans
}

// halfSpans cuts off at reach, so that all numbers stay finite.
func (n *node) halfSpans(from, to float64) []Span {
	all := Span{Lo: [2]float64{-reach, -reach}, Hi: [2]float64{reach, reach}}
	if math.Abs(n.b) < flat {
		if n.a*(from+to)/2 <= n.c {
			return []Span{all}
		}
		return nil
	}
	z := [2]float64{(n.c - n.a*from) / n.b, (n.c - n.a*to) / n.b}
	if n.b > 0 {
		all.Hi = z
	} else {
		all.Lo = z
	}
	return []Span{all}
}

// combine joins two lists of spans of one strip.
func combine(a, b []Span, op operation) []Span {
	switch {
	case len(b) == 0 && op == intersection, len(a) == 0 && op != union:
		return nil
	case len(b) == 0:
		return a
	case len(a) == 0:
		return b
	}
	bounds := make([]bound, 0, 2*(len(a)+len(b)))
	for _, s := range a {
		bounds = append(bounds, bound{s.Lo, 0, 1}, bound{s.Hi, 0, -1})
	}
	for _, s := range b {
		bounds = append(bounds, bound{s.Lo, 1, 1}, bound{s.Hi, 1, -1})
	}
	slices.SortStableFunc(bounds, func(x, y bound) int {
		return cmp.Or(cmp.Compare(x.z[0]+x.z[1], y.z[0]+y.z[1]), cmp.Compare(y.step, x.step))
	})
	var joined []Span
	var depth [2]int
	inside := false
	for _, x := range bounds {
		depth[x.of] += x.step
		now := op.holds(depth[0] > 0, depth[1] > 0)
		switch {
		case now && !inside:
			joined = append(joined, Span{Lo: x.z})
		case !now && inside:
			joined[len(joined)-1].Hi = x.z
		}
		inside = now
	}
	return joined
}

// bound is where a span of the first or second list begins or ends.
type bound struct {
	z    [2]float64
	of   int
	step int
}

// holds reports whether there is material where there is some of a, or of b.
func (op operation) holds(a, b bool) bool {
	switch op {
	case union:
		return a || b
	case intersection:
		return a && b
	}
	return a && !b
}
