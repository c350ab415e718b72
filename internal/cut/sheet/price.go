package sheet

import (
	"slices"

	"nogging/internal/geom"
)

// mostSteps bounds one run of an exact search.
const mostSteps = 100_000_000

// pricer finds the sheet of two or three stages that is worth most where every
// piece may be cut as often as one likes: by dynamic programming over the lengths to
// which extents of pieces add up.
type pricer struct {
	way    layingOut
	stages int
	list   []variant // thickest along p last
	p, q   points
}

// points are the lengths up to a size to which some lengths add up, from 0.
type points struct {
	at   []Length
	unit Length
	less []int32 // for each multiple of the unit, the last point up to it
}

// floor returns the last point up to a length.
func (p *points) floor(l Length) int { return int(p.less[l/p.unit]) }

func (p *points) last() int { return len(p.at) - 1 }

// mostUnits bounds the fineness of points.
const mostUnits = 100_000

// newPoints reports false where the lengths have too fine a common measure.
func newPoints(size Length, lengths []Length) (points, bool) {
	p := points{}
	for _, l := range lengths {
		p.unit = gcd(p.unit, l)
	}
	if p.unit == 0 || size/p.unit > mostUnits { // none, or too many
		return p, false
	}
	n := int(size / p.unit)
	reached := make([]bool, n+1)
	reached[0] = true
	for _, l := range lengths {
		step := int(l / p.unit)
		for i := step; i <= n; i++ {
			reached[i] = reached[i] || reached[i-step]
		}
	}
	p.less = make([]int32, n+1)
	for i, r := range reached {
		if r {
			p.at = append(p.at, Length(i)*p.unit)
		}
		p.less[i] = int32(len(p.at) - 1)
	}
	return p, true
}

// newPricer reports false where the search would take too long.
func (f *filler) newPricer(l layingOut) (*pricer, bool) {
	all, ones := make([]int, len(f.in.kinds)), make([]float64, len(f.in.kinds))
	for i := range all {
		all[i], ones[i] = 1, 1
	}
	x := &pricer{way: l, stages: f.in.stages, list: f.variants(l, all, ones)}
	slices.SortStableFunc(x.list, func(a, b variant) int { return int(max(-1, min(1, a.p-b.p))) })
	var ps, qs []Length
	for _, v := range x.list {
		ps, qs = append(ps, v.p), append(qs, v.q)
	}
	p, q := l.extents()
	var okP, okQ bool
	x.p, okP = newPoints(p, ps)
	x.q, okQ = newPoints(q, qs)
	if len(x.list) == 0 {
		return nil, true
	}
	return x, okP && okQ && x.steps() <= mostSteps
}

// steps is about how many elementary steps one search takes.
func (x *pricer) steps() int {
	n := len(x.list) * (len(x.p.at) + len(x.q.at))
	if x.stages == 3 {
		n += len(x.list) * len(x.p.at) * len(x.q.at)
	}
	return n
}

// best returns the most that one sheet can be worth, and the sheet.
func (x *pricer) best(number int, worth []float64) (*pattern, float64) {
	for i := range x.list {
		x.list[i].weight = worth[x.list[i].kind]
	}
	out := &pattern{stock: number, cost: x.way.stock.cost, way: x.way}
	if x.stages == 2 {
		out.value = x.two(out)
	} else {
		out.value = x.three(out)
	}
	return out, out.value
}

// row is an unbounded knapsack over points.
type row struct {
	points *points
	value  []float64
	choice []int32 // what is put in last at each point; -1 for what the point before has
}

func newRow(p *points) row {
	r := row{p, make([]float64, len(p.at)), make([]int32, len(p.at))}
	for i := range r.choice {
		r.choice[i] = -1
	}
	return r
}

func (r *row) clear() {
	clear(r.value)
	for i := range r.choice {
		r.choice[i] = -1
	}
}

// add lets items of a size be put in, over those that were added before.
func (r *row) add(size Length, worth float64, item int) {
	if worth <= 0 {
		return
	}
	for i, at := range r.points.at {
		if i > 0 && r.value[i-1] > r.value[i] {
			r.value[i], r.choice[i] = r.value[i-1], -1
		}
		if at < size {
			continue
		}
		if v := r.value[r.points.floor(at-size)] + worth; v > r.value[i]+1e-12 {
			r.value[i], r.choice[i] = v, int32(item)
		}
	}
}

// items lists what is put in up to a point.
func (r *row) items(i int, size func(int) Length, each func(int)) {
	for i > 0 {
		c := int(r.choice[i])
		if c < 0 {
			i--
			continue
		}
		each(c)
		i = r.points.floor(r.points.at[i] - size(c))
	}
}

// two fills strips across q, and the sheet with strips.
func (x *pricer) two(out *pattern) float64 {
	strip, sheet := newRow(&x.q), newRow(&x.p)
	for i, v := range x.list {
		strip.add(v.q, v.weight, i)
		if i+1 == len(x.list) || x.list[i+1].p > v.p {
			sheet.add(v.p, strip.value[x.q.last()], i)
		}
	}
	sheet.items(x.p.last(), func(i int) Length { return x.list[i].p }, func(i int) {
		s := newRow(&x.q)
		for k, v := range x.list[:i+1] {
			s.add(v.q, v.weight, k)
		}
		how := newStrip
		s.items(x.q.last(), func(k int) Length { return x.list[k].q }, func(k int) {
			out.steps = append(out.steps, step{x.list[k], how})
			how = newSlot
		})
	})
	return sheet.value[x.p.last()]
}

// three fills slots of each thickness along p, strips of each length with slots, and
// the sheet with strips.
func (x *pricer) three(out *pattern) float64 {
	byQ := slices.Clone(x.list)
	slices.SortStableFunc(byQ, func(a, b variant) int { return int(max(-1, min(1, a.q-b.q))) })
	var slots []row
	var thick []Length
	r := newRow(&x.p)
	for i, v := range byQ {
		r.add(v.p, v.weight, i)
		if i+1 == len(byQ) || byQ[i+1].q > v.q {
			slots = append(slots, row{r.points, slices.Clone(r.value), slices.Clone(r.choice)})
			thick = append(thick, v.q)
		}
	}
	strip := newRow(&x.q)
	fill := func(at int) {
		strip.clear()
		for k := range slots {
			strip.add(thick[k], slots[k].value[at], k)
		}
	}
	sheet := newRow(&x.p)
	for i := 1; i < len(x.p.at); i++ {
		fill(i)
		sheet.add(x.p.at[i], strip.value[x.q.last()], i)
	}
	sheet.items(x.p.last(), func(i int) Length { return x.p.at[i] }, func(i int) {
		fill(i)
		how := newStrip
		strip.items(x.q.last(), func(k int) Length { return thick[k] }, func(k int) {
			slots[k].items(i, func(n int) Length { return byQ[n].p }, func(n int) {
				out.steps = append(out.steps, step{byQ[n], how})
				how = beside
			})
			how = newSlot
		})
	})
	return sheet.value[x.p.last()]
}

// Fill returns the cuts of one sheet whose pieces are worth most, where each may be
// cut as often as one likes and cuts may change direction as often as they like, and
// what they are worth. It is exact: the recursion over the lengths to which
// extents of pieces add up. It reports false where these are too many.
func Fill(s Stock, pieces []Piece, worth []int64) (*Node, int64, bool) {
	g := grid{stock: s}
	var ws, hs []Length
	for i, x := range pieces {
		for turns, size := range []geom.Point{geom.Pt(x.Width, x.Height), geom.Pt(x.Height, x.Width)} {
			if turns == 1 && !x.Turn || size.X > s.Width || size.Y > s.Height {
				continue
			}
			g.lies = append(g.lies, lying{size, i, turns, worth[i]})
			ws, hs = append(ws, size.X), append(hs, size.Y)
		}
	}
	var okX, okY bool
	g.x, okX = newPoints(s.Width, ws)
	g.y, okY = newPoints(s.Height, hs)
	if !okX || !okY || len(g.x.at)*len(g.y.at) > mostCells {
		return nil, 0, false
	}
	g.run()
	nx, ny := g.x.last(), g.y.last()
	root := g.node(geom.Rect{Max: geom.Pt(s.Width, s.Height)}, nx, ny)
	return root, g.value[nx*len(g.y.at)+ny], true
}

// mostCells bounds the table of Fill.
const mostCells = 1 << 24

// lying is a piece as it lies.
type lying struct {
	size  geom.Point
	piece int
	turns int
	worth int64
}

// grid is the table of Fill: for each pair of points what a rectangle of these
// extents is worth, and what is done with it.
type grid struct {
	stock Stock
	lies  []lying
	x, y  points
	value []int64
	does  []int32 // 0: nothing; up to len(lies): that piece; further up: cut upright at a point, then across at one
}

func (g *grid) run() {
	nx, ny := len(g.x.at), len(g.y.at)
	g.value, g.does = make([]int64, nx*ny), make([]int32, nx*ny)
	for k, l := range g.lies {
		for i := g.x.floor(l.size.X); i < nx; i++ {
			for j := g.y.floor(l.size.Y); j < ny; j++ {
				if c := i*ny + j; l.worth > g.value[c] {
					g.value[c], g.does[c] = l.worth, int32(k+1)
				}
			}
		}
	}
	for i := range nx {
		for j := range ny {
			g.cell(i, j)
		}
	}
}

// cell tries every cut of one rectangle up to its middle.
func (g *grid) cell(i, j int) {
	ny := len(g.y.at)
	c := i*ny + j
	best, does := g.value[c], g.does[c]
	for a := 1; a < i && 2*g.x.at[a] <= g.x.at[i]; a++ {
		if v := g.value[a*ny+j] + g.value[g.x.floor(g.x.at[i]-g.x.at[a])*ny+j]; v > best {
			best, does = v, int32(len(g.lies)+1+a)
		}
	}
	row := g.value[i*ny : (i+1)*ny]
	for b := 1; b < j && 2*g.y.at[b] <= g.y.at[j]; b++ {
		if v := row[b] + row[g.y.floor(g.y.at[j]-g.y.at[b])]; v > best {
			best, does = v, int32(len(g.lies)+1+len(g.x.at)+b)
		}
	}
	g.value[c], g.does[c] = best, does
}

// node cuts a rectangle as the table says.
func (g *grid) node(r geom.Rect, i, j int) *Node {
	n := &Node{Rect: r, Piece: -1}
	does := int(g.does[i*len(g.y.at)+j]) - 1
	switch {
	case does < 0:
		return n
	case does < len(g.lies):
		l := g.lies[does]
		return parted(n, l)
	case does < len(g.lies)+len(g.x.at):
		a := does - len(g.lies)
		x := r.Min.X + g.x.at[a]
		n.Upright = true
		n.Parts = []*Node{
			g.node(geom.Rect{Min: r.Min, Max: geom.Pt(x, r.Max.Y)}, a, j),
			g.node(geom.Rect{Min: geom.Pt(x, r.Min.Y), Max: r.Max}, g.x.floor(g.x.at[i]-g.x.at[a]), j),
		}
	default:
		b := does - len(g.lies) - len(g.x.at)
		y := r.Min.Y + g.y.at[b]
		n.Parts = []*Node{
			g.node(geom.Rect{Min: r.Min, Max: geom.Pt(r.Max.X, y)}, i, b),
			g.node(geom.Rect{Min: geom.Pt(r.Min.X, y), Max: r.Max}, i, g.y.floor(g.y.at[j]-g.y.at[b])),
		}
	}
	return n
}

// parted cuts a piece from the lower left of a rectangle.
func parted(n *Node, l lying) *Node {
	leaf := &Node{Rect: geom.Rect{Min: n.Min, Max: n.Min.Add(l.size)}, Piece: l.piece, Turns: l.turns}
	if leaf.Rect == n.Rect {
		return leaf
	}
	inner := leaf
	if leaf.Max.Y < n.Max.Y {
		inner = &Node{Rect: geom.Rect{Min: n.Min, Max: geom.Pt(leaf.Max.X, n.Max.Y)}, Piece: -1, Parts: []*Node{
			leaf, {Rect: geom.Rect{Min: geom.Pt(n.Min.X, leaf.Max.Y), Max: geom.Pt(leaf.Max.X, n.Max.Y)}, Piece: -1},
		}}
	}
	if leaf.Max.X == n.Max.X {
		return inner
	}
	n.Upright = true
	n.Parts = []*Node{inner, {Rect: geom.Rect{Min: geom.Pt(leaf.Max.X, n.Min.Y), Max: n.Max}, Piece: -1}}
	return n
}
