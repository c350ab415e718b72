package sheet

import (
	"cmp"
	"fmt"
	"slices"

	"nogging/internal/cut/bounded"
	"nogging/internal/geom"
)

// instance is a problem without a kerf: equal pieces are one kind, and the kerf is
// part of every piece and sheet, which is the same as to lose it between parts.
type instance struct {
	problem    Problem
	stages     int
	directions []bool // of first cuts: whether upright
	kinds      []kind
	stocks     []stock
	notched    bool  // some kind has notches
	edged      bool  // some kind keeps a factory edge
	unit       int64 // costs are multiples of it
}

// kind is pieces that are alike.
type kind struct {
	w, h        Length // with kerf
	demand      int
	turn        bool
	left, right bool
	notches     []geom.Rect // as they are
	pieces      []int       // the problem's
}

func (k *kind) area() float64 { return float64(k.w) * float64(k.h) }

// edges counts the factory edges that the kind keeps.
func (k *kind) edges() int {
	n := 0
	if k.left {
		n++
	}
	if k.right {
		n++
	}
	return n
}

type stock struct {
	w, h        Length // with kerf, without trim
	cost        int64
	count       int
	left, right bool
}

func (s *stock) area() float64 { return float64(s.w) * float64(s.h) }

// takes reports whether a piece of the kind fits on the sheet in some way.
func (s *stock) takes(k *kind) bool {
	if k.w > s.w || k.h > s.h {
		return k.turn && k.h <= s.w && k.w <= s.h
	}
	switch k.edges() {
	case 1:
		return s.left || s.right
	case 2:
		return s.left && s.right && k.w == s.w
	}
	return true
}

func normalise(p Problem) (*instance, error) {
	in := &instance{problem: p, stages: p.Stages, directions: []bool{true, false}}
	switch p.First {
	case Across:
		in.directions = []bool{false}
	case Upright:
		in.directions = []bool{true}
	}
	if in.stages == 0 {
		in.stages = 3
	}
	for _, s := range p.Stocks {
		in.stocks = append(in.stocks, stock{
			s.Width - 2*p.Trim + p.Kerf, s.Height - 2*p.Trim + p.Kerf, s.Cost, s.Count,
			s.Left && p.Trim == 0, s.Right && p.Trim == 0,
		})
		in.unit = gcd(in.unit, s.Cost)
	}
	for i, x := range p.Pieces {
		if x.Count == 0 {
			continue
		}
		in.add(kind{
			w: x.Width + p.Kerf, h: x.Height + p.Kerf, demand: x.Count, turn: x.Turn && x.Width != x.Height,
			left: x.Left, right: x.Right, notches: x.Notches, pieces: []int{i},
		})
	}
	slices.SortStableFunc(in.kinds, func(a, b kind) int {
		return cmp.Or(cmp.Compare(b.area(), a.area()), cmp.Compare(b.h, a.h))
	})
	for i := range in.kinds {
		k := &in.kinds[i]
		in.notched = in.notched || len(k.notches) > 0
		in.edged = in.edged || k.edges() > 0
		if !slices.ContainsFunc(in.stocks, func(s stock) bool { return s.takes(k) }) {
			x := p.Pieces[k.pieces[0]]
			return nil, fmt.Errorf("%w: no sheet takes a piece of %s by %s mm", ErrNoStock, x.Width, x.Height)
		}
	}
	return in, nil
}

// add adds a kind, or its pieces to one that is like it.
func (in *instance) add(k kind) {
	for i := range in.kinds {
		o := &in.kinds[i]
		if o.w == k.w && o.h == k.h && o.turn == k.turn && o.left == k.left && o.right == k.right && slices.Equal(o.notches, k.notches) {
			o.demand += k.demand
			o.pieces = append(o.pieces, k.pieces...)
			return
		}
	}
	in.kinds = append(in.kinds, k)
}

func gcd[T ~int64](a, b T) T {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// plan writes the best sheets in terms of the problem: the kinds are dealt out to
// its pieces in their order, and what is more than needed is left over.
func (in *instance) plan(s *search) Plan {
	d := dealer{instance: in, left: make([]int, len(in.problem.Pieces))}
	for i, x := range in.problem.Pieces {
		d.left[i] = x.Count
	}
	out := Plan{Value: bounded.Value{Cost: s.bestCost, Bound: min(s.bound, s.bestCost)}}
	trim := in.problem.Trim
	for _, p := range s.best {
		root := p.root
		if root == nil {
			root = shift(p.tree(), geom.Pt(trim, trim))
		}
		out.Cuts = append(out.Cuts, Cut{p.stock, in.trimFirst(d.deal(root))})
	}
	return out
}

// dealer deals the pieces out to leaves that name kinds.
type dealer struct {
	*instance
	left []int // of the problem's pieces
}

// deal copies a tree of cells with leaves of kinds to one without kerf, with leaves
// of pieces.
func (d *dealer) deal(n *Node) *Node {
	kerf := d.problem.Kerf
	out := &Node{Rect: n.Rect, Upright: n.Upright, Piece: -1}
	out.Max = out.Max.Sub(geom.Pt(kerf, kerf))
	if n.Piece >= 0 {
		d.give(out, n)
		return out
	}
	used := false
	for _, p := range n.Parts {
		if c := d.deal(p); c.Width() > 0 && c.Height() > 0 {
			out.Parts = append(out.Parts, c)
			used = used || c.Piece >= 0 || len(c.Parts) > 0
		}
	}
	if !used {
		out.Parts = nil
	}
	return out
}

// give makes a leaf a piece if one is left of its kind.
func (d *dealer) give(out, n *Node) {
	k := &d.kinds[n.Piece]
	i := slices.IndexFunc(k.pieces, func(i int) bool { return d.left[i] > 0 })
	if i < 0 {
		return
	}
	out.Piece, out.Turns = k.pieces[i], k.turns(n.Turns)
	d.left[out.Piece]--
	for _, p := range n.Notches {
		if c := d.deal(p); c.Piece >= 0 || len(c.Parts) > 0 {
			out.Notches = append(out.Notches, c)
		}
	}
}
