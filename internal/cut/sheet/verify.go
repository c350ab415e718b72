package sheet

import (
	"fmt"

	"nogging/internal/geom"
)

// Verify checks a plan against its problem and trusts nothing that Solve says: that
// every cut runs from edge to edge and takes its kerf, that no part lies over
// another, that cuts change direction no more often than allowed, that every piece
// is made as often as needed, lies as it may, inside its sheet and at the factory
// edges it keeps, and that sheets, cost and bound are right.
func Verify(p Problem, plan Plan) error {
	made := make([]int, len(p.Pieces))
	used := make([]int, len(p.Stocks))
	var cost int64
	for i, c := range plan.Cuts {
		if c.Stock < 0 || c.Stock >= len(p.Stocks) {
			return fmt.Errorf("sheet %d is of no stock", i)
		}
		used[c.Stock]++
		cost += p.Stocks[c.Stock].Cost
		v := verifier{p: &p, stock: &p.Stocks[c.Stock], made: made}
		if err := v.sheet(c.Root); err != nil {
			return fmt.Errorf("sheet %d: %w", i, err)
		}
	}
	for i, x := range p.Pieces {
		if made[i] != x.Count {
			return fmt.Errorf("piece %d is made %d times and needed %d times", i, made[i], x.Count)
		}
	}
	for i, s := range p.Stocks {
		if s.Count > 0 && used[i] > s.Count {
			return fmt.Errorf("%d sheets of stock %d are used where there are %d", used[i], i, s.Count)
		}
	}
	if cost != plan.Cost || plan.Bound > plan.Cost {
		return fmt.Errorf("the sheets cost %d; the plan says %d, and at least %d", cost, plan.Cost, plan.Bound)
	}
	return nil
}

// verifier checks one sheet.
type verifier struct {
	p      *Problem
	stock  *Stock
	made   []int
	pieces []*Node
}

func (v *verifier) sheet(root *Node) error {
	t := v.p.Trim
	if want := (geom.Rect{Min: geom.Pt(t, t), Max: geom.Pt(v.stock.Width-t, v.stock.Height-t)}); root == nil || root.Rect != want {
		return fmt.Errorf("its cuts do not begin from the whole sheet")
	}
	limit := v.p.Stages
	if limit == 0 {
		limit = 3
	}
	n, err := v.node(root)
	if err != nil {
		return err
	}
	if f := v.p.First; f != Either && root.Upright != (f == Upright) {
		n++ // there is no first cut
	}
	if n > limit {
		return fmt.Errorf("%d stages of cuts where %d are allowed", n, limit)
	}
	for i, a := range v.pieces {
		for _, b := range v.pieces[:i] {
			if overlap(a.Rect, b.Rect) && !v.inNotch(a, b) && !v.inNotch(b, a) {
				return fmt.Errorf("pieces %d and %d lie over one another", a.Piece, b.Piece)
			}
		}
	}
	return nil
}

// node checks a node and returns the stages of cuts that it takes.
func (v *verifier) node(n *Node) (int, error) {
	if n.Piece >= 0 {
		return 0, v.piece(n)
	}
	if len(n.Parts) == 0 {
		return 0, nil
	}
	if err := v.parts(n); err != nil {
		return 0, err
	}
	most, cut, only := 0, 0, (*Node)(nil)
	for _, p := range n.Parts {
		s, err := v.node(p)
		if err != nil {
			return 0, err
		}
		if len(p.Parts) > 0 && p.Upright == n.Upright {
			s-- // goes on in the same direction
		}
		most = max(most, s)
		if p.Piece >= 0 || len(p.Parts) > 0 {
			cut++
			only = p
		}
	}
	if cut == 1 && only.Piece >= 0 {
		return 0, nil // parts a piece from waste
	}
	return most + 1, nil
}

// parts checks that the parts of a node follow one another, a kerf apart, from edge
// to edge; a rest no thicker than a kerf may be lost beside each cut.
func (v *verifier) parts(n *Node) error {
	along := func(r geom.Rect) (from, to, side0, side1 Length) {
		if n.Upright {
			return r.Min.X, r.Max.X, r.Min.Y, r.Max.Y
		}
		return r.Min.Y, r.Max.Y, r.Min.X, r.Max.X
	}
	at, end, side0, side1 := along(n.Rect)
	for _, p := range n.Parts {
		from, to, s0, s1 := along(p.Rect)
		if from < at || from > at+v.p.Kerf || to <= from || s0 != side0 || s1 != side1 {
			return fmt.Errorf("a cut at %v does not run from edge to edge", p.Rect)
		}
		at = to + v.p.Kerf
	}
	if at-v.p.Kerf > end || at < end {
		return fmt.Errorf("the parts of %v do not fill it", n.Rect)
	}
	return nil
}

func (v *verifier) piece(n *Node) error {
	if n.Piece >= len(v.p.Pieces) || len(n.Parts) > 0 || n.Turns < 0 || n.Turns > 3 {
		return fmt.Errorf("%v is no piece", n.Rect)
	}
	x := &v.p.Pieces[n.Piece]
	v.made[n.Piece]++
	v.pieces = append(v.pieces, n)
	w, h := x.Width, x.Height
	if n.Turns%2 == 1 {
		if w, h = h, w; !x.Turn {
			return fmt.Errorf("piece %d may not be turned", n.Piece)
		}
	}
	if n.Width() != w || n.Height() != h {
		return fmt.Errorf("piece %d is %s by %s mm", n.Piece, n.Width(), n.Height())
	}
	left, right := x.Left, x.Right
	if n.Turns == 2 {
		left, right = right, left
	}
	if left && (n.Min.X != 0 || !v.stock.Left) || right && (n.Max.X != v.stock.Width || !v.stock.Right) {
		return fmt.Errorf("piece %d does not keep its factory edge", n.Piece)
	}
	for i, o := range n.Notches {
		if err := v.notch(n, o); err != nil {
			return err
		}
		for _, other := range n.Notches[:i] {
			if overlap(o.Rect, other.Rect) {
				return fmt.Errorf("two parts lie in one notch of piece %d", n.Piece)
			}
		}
	}
	return nil
}

// notch checks what is cut from a piece's notch: it lies in it, a kerf from its
// sides.
func (v *verifier) notch(n, o *Node) error {
	for _, r := range v.notches(n) {
		if k := v.p.Kerf; r.Min.X+k <= o.Min.X && r.Min.Y+k <= o.Min.Y && o.Max.X <= r.Max.X-k && o.Max.Y <= r.Max.Y-k {
			_, err := v.node(o)
			return err
		}
	}
	return fmt.Errorf("a part at %v lies in no notch of piece %d", o.Rect, n.Piece)
}

// notches returns where a piece's notches lie on the sheet.
func (v *verifier) notches(n *Node) []geom.Rect {
	x := &v.p.Pieces[n.Piece]
	var list []geom.Rect
	for _, r := range x.Notches {
		switch n.Turns {
		case 1:
			r = geom.Bounds(geom.Pt(x.Height-r.Min.Y, r.Min.X), geom.Pt(x.Height-r.Max.Y, r.Max.X))
		case 2:
			r = geom.Bounds(geom.Pt(x.Width-r.Min.X, x.Height-r.Min.Y), geom.Pt(x.Width-r.Max.X, x.Height-r.Max.Y))
		case 3:
			r = geom.Bounds(geom.Pt(r.Min.Y, x.Width-r.Min.X), geom.Pt(r.Max.Y, x.Width-r.Max.X))
		}
		list = append(list, geom.Rect{Min: r.Min.Add(n.Min), Max: r.Max.Add(n.Min)})
	}
	return list
}

// inNotch reports whether one piece lies in a notch of another.
func (v *verifier) inNotch(small, large *Node) bool {
	for _, r := range v.notches(large) {
		if r.Min.X <= small.Min.X && r.Min.Y <= small.Min.Y && small.Max.X <= r.Max.X && small.Max.Y <= r.Max.Y {
			return true
		}
	}
	return false
}

// overlap reports whether two rectangles share any area.
func overlap(a, b geom.Rect) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}
