package sheet

import (
	"cmp"
	"slices"
)

// filler fills single sheets by beam search. A pattern is built by putting in one
// piece after another: strips lie across the sheet's first direction of cuts, slots
// along each strip, and within a slot pieces lie side by side. Places along the
// first direction are called p, along the second q. Strips and slots grow with what
// is put in last; what is behind the front stays as it is.
type filler struct {
	in    *instance
	work  int // pieces tried
	marks []uint64
	nodes []state
	level []int32
	found []candidate
	seen  map[uint64]bool
	left  []int
	list  []variant // of the last search
}

// way is how a piece is put in.
type way uint8

const (
	beside   way = iota // in the slot, beside the last
	newSlot             // in a new slot of the strip
	newStrip            // in a new strip
)

// variant is a kind as it lies: its extents along p and q.
type variant struct {
	kind   int
	p, q   Length
	turned bool
	edges  int
	weight float64
}

// state is a pattern in the making.
type state struct {
	parent      int32
	variant     int32
	how         way
	strip, slot int16 // number of the strip, and of the slot in it
	edged       bool  // the last piece keeps an edge, so any may follow it
	p0, p1      Length
	q0, q1      Length // of the slot
	at          Length // p behind the last piece
	value       float64
	pieces      uint64 // sum of the marks of its pieces
	hash        uint64
}

// candidate is a state not made yet.
type candidate struct {
	score   float64
	parent  int32
	variant int32
	how     way
}

// pattern is a sheet filled.
type pattern struct {
	stock int
	uses  []use
	cost  int64
	value float64 // when it was made
	area  float64 // of its pieces
	root  *Node   // its leaves name kinds, its cells have the kerf in them
	steps []step  // root, before it is made
	way   layingOut
}

// use is how often a kind is cut from a sheet.
type use struct{ kind, count int }

// step is one piece put in.
type step struct {
	variant variant
	how     way
}

// layingOut is a sheet and the direction of its first cuts.
type layingOut struct {
	stock   stock
	upright bool // the first cuts are upright
}

func (l layingOut) extents() (p, q Length) {
	if l.upright {
		return l.stock.w, l.stock.h
	}
	return l.stock.h, l.stock.w
}

func newFiller(in *instance) *filler {
	f := &filler{in: in, seen: map[uint64]bool{}, left: make([]int, len(in.kinds))}
	r := random(1)
	for range in.kinds {
		f.marks = append(f.marks, r.next())
	}
	return f
}

// random is a splitmix64 sequence.
type random uint64

func (r *random) next() uint64 {
	*r += 0x9e3779b97f4a7c15
	return mix(uint64(*r))
}

func mix(z uint64) uint64 {
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// unit returns a number from 0 up to 1.
func (r *random) unit() float64 { return float64(r.next()>>11) / (1 << 53) }

// variants lists how the kinds that are left may lie, the thickest first.
func (f *filler) variants(l layingOut, left []int, worth []float64) []variant {
	var list []variant
	p, q := l.extents()
	add := func(v variant, w, h Length) {
		v.p, v.q = w, h
		if !l.upright {
			v.p, v.q = h, w
		}
		if v.p <= p && v.q <= q {
			list = append(list, v)
		}
	}
	for i := range f.in.kinds {
		k := &f.in.kinds[i]
		if left[i] == 0 || worth[i] <= 0 || k.edges() > 0 && !l.stock.takes(k) {
			continue
		}
		v := variant{kind: i, edges: k.edges(), weight: worth[i]}
		add(v, k.w, k.h)
		if k.turn {
			v.turned = true
			add(v, k.h, k.w)
		}
	}
	thick := func(v variant) Length { return v.q }
	if f.in.stages == 2 {
		thick = func(v variant) Length { return v.p }
	}
	slices.SortStableFunc(list, func(a, b variant) int { return cmp.Compare(thick(b), thick(a)) })
	return list
}

// fill fills a sheet with pieces of the greatest worth that it finds; width is how
// many patterns are followed at a time. It returns nil where nothing fits.
func (f *filler) fill(l layingOut, number int, left []int, worth []float64, width int) *pattern {
	list := f.variants(l, left, worth)
	if len(list) == 0 {
		return nil
	}
	f.nodes = append(f.nodes[:0], state{parent: -1, variant: -1, strip: -1})
	f.level = append(f.level[:0], 0)
	best := int32(0)
	for len(f.level) > 0 {
		f.expand(l, list, left, width)
		f.level = f.level[:0]
		clear(f.seen)
		for _, c := range f.found {
			n := f.make(list, c)
			if f.seen[n.hash] {
				continue
			}
			f.seen[n.hash] = true
			f.nodes = append(f.nodes, n)
			at := int32(len(f.nodes) - 1)
			f.level = append(f.level, at)
			if n.value > f.nodes[best].value {
				best = at
			}
			if len(f.level) == width {
				break
			}
		}
	}
	if best == 0 {
		return nil
	}
	f.list = list
	return f.pattern(l, number, list, best)
}

// others returns further patterns of the last search that are worth more than so
// much, the best first.
func (f *filler) others(l layingOut, number, most int, worth float64) []*pattern {
	var good []int32
	for i := range f.nodes {
		if f.nodes[i].value > worth {
			good = append(good, int32(i))
		}
	}
	slices.SortFunc(good, func(a, b int32) int {
		return cmp.Or(cmp.Compare(f.nodes[b].value, f.nodes[a].value), cmp.Compare(a, b))
	})
	good = slices.CompactFunc(good, func(a, b int32) bool { return f.nodes[a].pieces == f.nodes[b].pieces })
	var list []*pattern
	for _, i := range good[min(1, len(good)):] {
		if len(list) == most {
			break
		}
		list = append(list, f.pattern(l, number, f.list, i))
	}
	return list
}

// expand finds the candidates of the level, the best first.
func (f *filler) expand(l layingOut, list []variant, left []int, width int) {
	f.found = f.found[:0]
	keep, floor := 3*width, -1.0
	p, q := l.extents()
	size := float64(p) * float64(q)
	for _, at := range f.level {
		n := &f.nodes[at]
		f.remaining(n, list, left)
		for i := range list {
			v := &list[i]
			if f.left[v.kind] == 0 {
				continue
			}
			for how := beside; how <= newStrip; how++ {
				if !f.allowed(l, n, v, int32(i), how) {
					continue
				}
				f.work++
				g := front(n, v, how)
				if g.at > p || g.q1 > q {
					continue
				}
				used := float64(g.p0)*float64(q) + float64(g.p1-g.p0)*float64(g.q0) + float64(g.at-g.p0)*float64(g.q1-g.q0)
				score := (n.value + v.weight) / used * size
				if score <= floor {
					continue
				}
				f.found = append(f.found, candidate{score, at, int32(i), how})
				if len(f.found) == 2*keep {
					f.cull(keep)
					floor = f.found[keep-1].score
				}
			}
		}
	}
	f.cull(keep)
}

// cull keeps the best candidates, in order.
func (f *filler) cull(keep int) {
	slices.SortFunc(f.found, func(a, b candidate) int {
		return cmp.Or(cmp.Compare(b.score, a.score), cmp.Compare(a.parent, b.parent), cmp.Compare(a.variant, b.variant), cmp.Compare(a.how, b.how))
	})
	f.found = f.found[:min(keep, len(f.found))]
}

// remaining finds what is left of each kind once the state's pieces are taken.
func (f *filler) remaining(n *state, list []variant, left []int) {
	copy(f.left, left)
	for n.variant >= 0 {
		f.left[list[n.variant].kind]--
		n = &f.nodes[n.parent]
	}
}

// allowed says whether a piece may be put in so: in one of several orders that make
// the same pattern, and with its factory edge on one of the sheet's. The first two
// strips of upright first cuts, or else the first two slots of each strip, lie at
// the left and right edge.
func (f *filler) allowed(l layingOut, n *state, v *variant, i int32, how way) bool {
	inOrder := i >= n.variant || n.edged
	switch {
	case how != newStrip && n.variant < 0:
		return false
	case how == beside && (f.in.stages == 2 || !inOrder):
		return false
	case how == newSlot && f.in.stages == 2 && !inOrder:
		return false
	}
	if v.edges == 0 {
		return true
	}
	strip, slot := n.place(how)
	where := slot
	if l.upright {
		where = strip
		if how == beside {
			return false
		}
	}
	if v.edges == 2 {
		return where == 0
	}
	return where == 0 && l.stock.left || where == 1 && l.stock.right
}

// place returns strip and slot of what is put in next.
func (n *state) place(how way) (strip, slot int16) {
	switch how {
	case newStrip:
		return n.strip + 1, 0
	case newSlot:
		return n.strip, n.slot + 1
	}
	return n.strip, n.slot
}

// reach is the front of a pattern.
type reach struct{ p0, p1, q0, q1, at Length }

func front(n *state, v *variant, how way) reach {
	switch how {
	case beside:
		at := n.at + v.p
		return reach{n.p0, max(n.p1, at), n.q0, max(n.q1, n.q0+v.q), at}
	case newSlot:
		at := n.p0 + v.p
		return reach{n.p0, max(n.p1, at), n.q1, n.q1 + v.q, at}
	}
	return reach{n.p1, n.p1 + v.p, 0, v.q, n.p1 + v.p}
}

func (f *filler) make(list []variant, c candidate) state {
	n, v := &f.nodes[c.parent], &list[c.variant]
	g := front(n, v, c.how)
	s := state{parent: c.parent, variant: c.variant, how: c.how, edged: v.edges > 0, p0: g.p0, p1: g.p1, q0: g.q0, q1: g.q1, at: g.at, value: n.value + v.weight}
	s.strip, s.slot = n.place(c.how)
	set := n.pieces + f.marks[v.kind]
	s.hash = mix(set^uint64(g.p0)) ^ mix(uint64(g.p1)+uint64(s.strip)<<50) + 3*mix(uint64(g.q0)+uint64(s.slot)<<50) + 5*mix(uint64(g.q1)) + 7*mix(uint64(g.at))
	s.pieces = set
	return s
}

// pattern reads the pattern that ends in a state.
func (f *filler) pattern(l layingOut, number int, list []variant, at int32) *pattern {
	p := &pattern{stock: number, cost: l.stock.cost, value: f.nodes[at].value, way: l}
	for ; at > 0; at = f.nodes[at].parent {
		n := &f.nodes[at]
		p.steps = append(p.steps, step{list[n.variant], n.how})
	}
	slices.Reverse(p.steps)
	for _, s := range p.steps {
		p.use(s.variant.kind)
		p.area += f.in.kinds[s.variant.kind].area()
	}
	return p
}

// use adds one piece of a kind.
func (p *pattern) use(kind int) {
	i, ok := slices.BinarySearchFunc(p.uses, kind, func(u use, k int) int { return cmp.Compare(u.kind, k) })
	if !ok {
		p.uses = slices.Insert(p.uses, i, use{kind: kind})
	}
	p.uses[i].count++
}
