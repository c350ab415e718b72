package sheet

import (
	"cmp"
	"math"
	"slices"
)

// joint fills all sheets of one kind at once by beam search: a piece goes into the
// slot, strip or sheet that was begun last, or begins a new one. It finds plans with
// few, tightly filled sheets, where filling one sheet as well as possible spoils the
// next.
type joint struct {
	*filler
	stock   stock
	ways    [2]layingOut
	lists   [2][]variant // of each way; empty where first cuts may not run so
	demand  []int
	total   float64 // area of all pieces, in sheets
	power   float64 // how much larger pieces are preferred
	sheets  int     // at most
	sheet   []int16 // of each state
	upright []uint8 // way of each state's sheet
}

// newJoint returns nil where sheets differ, or pieces ask for more than room.
func newJoint(s *search) *joint {
	if len(s.in.stocks) != 1 || s.in.stocks[0].count > 0 || s.in.edged || s.in.notched {
		return nil
	}
	j := &joint{filler: s.fill, stock: s.in.stocks[0]}
	areas := make([]float64, len(s.in.kinds))
	for i := range s.in.kinds {
		k := &s.in.kinds[i]
		areas[i] = k.area() / j.stock.area()
		j.demand = append(j.demand, k.demand)
		j.total += areas[i] * float64(k.demand)
	}
	for _, upright := range s.in.directions {
		d := 0
		if upright {
			d = 1
		}
		j.ways[d] = layingOut{j.stock, upright}
		j.lists[d] = j.variants(j.ways[d], j.demand, areas)
	}
	return j
}

// newSheet is a way beyond those of one sheet: in a new one with first cuts that run
// across; the next is one with upright first cuts.
const newSheet = newStrip + 1

// pack looks for a plan of a number of sheets at most; it returns nil where it finds
// none. Power 0 takes what wastes least, more prefers large pieces.
func (j *joint) pack(sheets, width int, power float64, ended func() bool) []*pattern {
	j.sheets, j.power = sheets, power
	j.nodes = append(j.nodes[:0], state{parent: -1, variant: -1, strip: -1})
	j.sheet, j.upright = append(j.sheet[:0], -1), append(j.upright[:0], 0)
	j.level = append(j.level[:0], 0)
	pieces := 0
	for _, n := range j.demand {
		pieces += n
	}
	for range pieces {
		if ended() {
			return nil
		}
		j.widen(width)
		j.level = j.level[:0]
		clear(j.seen)
		for _, c := range j.found {
			j.enter(c)
			if len(j.level) == width {
				break
			}
		}
		if len(j.level) == 0 {
			return nil
		}
	}
	return j.patterns(j.level[0])
}

// widen finds the candidates of the level, the best first.
func (j *joint) widen(width int) {
	j.found = j.found[:0]
	keep, floor := 2*width, 0.0
	for _, at := range j.level {
		n := &j.nodes[at]
		j.use(at)
		for how := beside; how <= newSheet+1; how++ {
			d := j.upright[at]
			begins := how >= newSheet
			if begins {
				d = uint8(how - newSheet)
				if int(j.sheet[at])+1 >= j.sheets {
					continue
				}
			} else if n.variant < 0 {
				continue
			}
			from := n
			done := float64(max(j.sheet[at], 0))
			if begins {
				from = &state{variant: -1, strip: -1, value: n.value}
				done = float64(j.sheet[at] + 1)
			}
			p, q := j.ways[d].extents()
			size := float64(p) * float64(q)
			list := j.lists[d]
			for i := range list {
				v := &list[i]
				if j.left[v.kind] == 0 || how < newStrip && (int32(i) < n.variant && (how == beside || j.in.stages == 2) || how == beside && j.in.stages == 2) {
					continue
				}
				j.work++
				g := front(from, v, min(how, newStrip))
				if g.at > p || g.q1 > q {
					continue
				}
				used := done + (float64(g.p0)*float64(q)+float64(g.p1-g.p0)*float64(g.q0)+float64(g.at-g.p0)*float64(g.q1-g.q0))/size
				value := n.value + v.weight
				if used-value > float64(j.sheets)-j.total+1e-9 {
					continue // the rest cannot fit any more
				}
				score := value / used
				if j.power > 0 {
					score *= math.Pow(value, j.power)
				}
				if score <= floor {
					continue
				}
				j.found = append(j.found, candidate{score, at, int32(i), how})
				if len(j.found) == 3*keep {
					j.cull(keep)
					floor = j.found[keep-1].score
				}
			}
		}
	}
	j.cull(keep)
}

// use finds what is left of each kind behind a state.
func (j *joint) use(at int32) {
	copy(j.left, j.demand)
	for at > 0 {
		n := &j.nodes[at]
		j.left[j.lists[j.upright[at]][n.variant].kind]--
		at = n.parent
	}
}

// enter makes a candidate a state of the next level, unless one like it is there.
func (j *joint) enter(c candidate) {
	parent := j.nodes[c.parent]
	d, sheet := j.upright[c.parent], j.sheet[c.parent]
	from := &parent
	if c.how >= newSheet {
		d, sheet = uint8(c.how-newSheet), sheet+1
		from = &state{variant: -1, strip: -1}
	}
	v := &j.lists[d][c.variant]
	g := front(from, v, min(c.how, newStrip))
	s := state{parent: c.parent, variant: c.variant, how: c.how, p0: g.p0, p1: g.p1, q0: g.q0, q1: g.q1, at: g.at, value: parent.value + v.weight}
	s.pieces = parent.pieces + j.marks[v.kind]
	s.hash = mix(s.pieces^uint64(g.p0)) ^ mix(uint64(g.p1)+uint64(sheet)<<50) + 3*mix(uint64(g.q0)+uint64(d)<<50) + 5*mix(uint64(g.q1)) + 7*mix(uint64(g.at))
	if j.seen[s.hash] {
		return
	}
	j.seen[s.hash] = true
	j.nodes = append(j.nodes, s)
	j.sheet, j.upright = append(j.sheet, sheet), append(j.upright, d)
	j.level = append(j.level, int32(len(j.nodes)-1))
}

// patterns reads the sheets that end in a state.
func (j *joint) patterns(at int32) []*pattern {
	var list []*pattern
	for ; at > 0; at = j.nodes[at].parent {
		n := &j.nodes[at]
		d := j.upright[at]
		if k := int(j.sheet[at]); k >= len(list) {
			list = append(list, make([]*pattern, k+1-len(list))...)
		}
		p := &list[j.sheet[at]]
		if *p == nil {
			*p = &pattern{cost: j.stock.cost, way: j.ways[d]}
		}
		v := j.lists[d][n.variant]
		(*p).steps = append((*p).steps, step{v, min(n.how, newStrip)})
		(*p).use(v.kind)
		(*p).area += j.in.kinds[v.kind].area()
	}
	for _, p := range list {
		slices.Reverse(p.steps)
		slices.SortFunc(p.uses, func(a, b use) int { return cmp.Compare(a.kind, b.kind) })
	}
	return list
}
