// Package sheet cuts rectangles from sheets edge to edge, as boards are scored and
// snapped: every cut runs from one side of what is being cut to the other. It takes
// the pieces that are needed, the sheets and offcuts that can be had at what cost,
// and gives for each sheet the tree of its cuts, what all sheets cost, and a proven
// lower bound on what any plan must cost.
//
// One sheet is filled by a beam search over patterns of two or three stages (fill),
// for pieces that are worth something each. What pieces are worth is corrected from
// one plan to the next (sequential value correction), and taken from a linear
// programme over all sheets seen so far (column generation), which also picks whole
// sheets for plans. Bounds are products of dual feasible functions
// (arXiv cs/0402044). It is deterministic, ends when told to, and has its
// best plan at any time.
package sheet

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"nogging/internal/cut/bounded"
	"nogging/internal/geom"
	"nogging/internal/quantity"
)

// Length is a length of a piece or of a sheet.
type Length = quantity.Length

// Piece is a rectangle that is needed so many times. Width lies across the sheet,
// Height along its factory edges.
type Piece struct {
	Width, Height Length
	Count         int
	Turn          bool        // it may lie across the sheet's grain
	Left, Right   bool        // that long edge of the piece has to be the sheet's factory edge
	Notches       []geom.Rect // parts of the rectangle that the piece does not need, from its lower left corner; none overlaps another
}

// Stock is a sheet that can be had: as many as wanted where Count is 0, or Count of
// them, such as offcuts.
type Stock struct {
	Width, Height Length
	Cost          int64 // of one, in any unit; more than 0
	Count         int
	Left, Right   bool // that long edge is the factory's
}

// Free is the number of stages where cuts may change direction as often as they like.
const Free = 1 << 20

// First says which cuts of a sheet come first.
type First int

// The directions of first cuts.
const (
	Either  First = iota // as each sheet is cut best
	Across               // across the sheet
	Upright              // along the sheet's factory edges
)

// Problem is what is to be cut from what.
type Problem struct {
	Pieces []Piece
	Stocks []Stock
	Kerf   Length // lost between two parts; 0 where boards are snapped
	Trim   Length // cut off all four sides first; then no factory edge is left
	First  First  // how sheets are cut first
	Stages int    // directions of cuts one after another: 2, 3 (also where it is 0) or Free; what only parts a piece from waste is not counted
}

// Node is a rectangle of a sheet: cut into parts, or a piece, or left over.
// Coordinates are from the sheet's lower left corner.
type Node struct {
	geom.Rect
	Upright bool    // how it is cut: parts lie from left to right; otherwise from the foot up
	Parts   []*Node // what it is cut into; none for a piece and for what is left over
	Piece   int     // index into Problem.Pieces; -1 for none
	Turns   int     // quarter turns of the piece, counter-clockwise
	Notches []*Node // what is cut from the piece's notches
}

// Width returns the extent across the sheet.
func (n *Node) Width() Length { return n.Max.X - n.Min.X }

// Height returns the extent along the sheet.
func (n *Node) Height() Length { return n.Max.Y - n.Min.Y }

// Walk calls f for the node and all that is cut from it, in the order of cutting.
func (n *Node) Walk(f func(*Node)) {
	f(n)
	for _, p := range n.Parts {
		p.Walk(f)
	}
	for _, p := range n.Notches {
		p.Walk(f)
	}
}

// Cut is one sheet as it is cut.
type Cut struct {
	Stock int // index into Problem.Stocks
	Root  *Node
}

// Plan is how everything is cut.
type Plan struct {
	Cuts          []Cut
	bounded.Value // the costs of its stock
}

// Clone returns a copy that shares nothing with the plan.
func (p *Plan) Clone() Plan {
	c := *p
	c.Cuts = slices.Clone(p.Cuts)
	for i := range c.Cuts {
		c.Cuts[i].Root = c.Cuts[i].Root.clone()
	}
	return c
}

func (n *Node) clone() *Node {
	c := *n
	c.Parts, c.Notches = cloned(n.Parts), cloned(n.Notches)
	return &c
}

func cloned(nodes []*Node) []*Node {
	list := slices.Clone(nodes)
	for i, n := range list {
		list[i] = n.clone()
	}
	return list
}

// ErrNoStock is given where the sheets cannot give all pieces.
var ErrNoStock = errors.New("the sheets cannot give all pieces")

// check says what is wrong with the problem.
func (p *Problem) check() error {
	if p.Kerf < 0 || p.Trim < 0 {
		return fmt.Errorf("a kerf of %s mm and a trim of %s mm are not possible", p.Kerf, p.Trim)
	}
	if p.Stages < 0 || p.Stages == 1 || p.Stages > 3 && p.Stages != Free {
		return fmt.Errorf("%d stages are not possible: 2, 3 or free", p.Stages)
	}
	for i, s := range p.Stocks {
		if s.Width <= 0 || s.Height <= 0 || s.Cost <= 0 || s.Count < 0 {
			return fmt.Errorf("sheet %d: sizes and cost have to be above 0, and the count not below", i)
		}
	}
	for i := range p.Pieces {
		if err := p.Pieces[i].check(); err != nil {
			return fmt.Errorf("piece %d: %w", i, err)
		}
	}
	return nil
}

func (x *Piece) check() error {
	if x.Width <= 0 || x.Height <= 0 || x.Count < 0 {
		return errors.New("sizes have to be above 0, and the count not below")
	}
	if x.Turn && (x.Left || x.Right) {
		return errors.New("a piece that keeps a factory edge cannot be turned")
	}
	for i, n := range x.Notches {
		if n.Min.X < 0 || n.Min.Y < 0 || n.Max.X > x.Width || n.Max.Y > x.Height || n.Min.X >= n.Max.X || n.Min.Y >= n.Max.Y {
			return errors.New("a notch lies outside it or is empty")
		}
		for _, o := range x.Notches[:i] {
			if overlap(n, o) {
				return errors.New("two notches overlap")
			}
		}
	}
	return nil
}

// Solve finds a plan. Effort bounds the search where the plan is not proven: about
// so many tenths of a second of work; 10 is enough for most orders, and with 0 the
// first plan is taken. When ctx ends,
// the best plan so far is returned, and an error only where there is none yet.
func Solve(ctx context.Context, p Problem, effort int) (Plan, error) {
	if err := p.check(); err != nil {
		return Plan{}, err
	}
	in, err := normalise(p)
	if err != nil {
		return Plan{}, err
	}
	if len(in.kinds) == 0 {
		return Plan{}, nil
	}
	s := newSearch(ctx, in, effort)
	s.bound = in.bound()
	s.run()
	if s.best == nil {
		if err := ctx.Err(); err != nil {
			return Plan{}, err
		}
		return Plan{}, ErrNoStock
	}
	return in.plan(s), nil
}

// Quick returns what the plan costs that Solve takes without effort. It is quick: it
// seeks no bound.
func Quick(ctx context.Context, p Problem) (int64, error) {
	if err := p.check(); err != nil {
		return 0, err
	}
	in, err := normalise(p)
	if err != nil || len(in.kinds) == 0 {
		return 0, err
	}
	s := newSearch(ctx, in, 0)
	s.run()
	if s.best == nil {
		return 0, cmp.Or(ctx.Err(), ErrNoStock)
	}
	return s.bestCost, nil
}
