// Package linear cuts lengths from bars: profiles from stock of one or several
// lengths. It takes what is needed, what can be had at what cost, and the width
// of the saw's kerf, and gives bars with the pieces cut from each, what they cost,
// and a proven lower bound on what any plan must cost.
//
// The method is column generation on the pattern programme of cutting stock (1961),
// with a bounded knapsack as its pricing. Prices are whole numbers, so that bounds
// are exact. They tell which patterns a plan as cheap as the bound can hold, which
// are often few: branch and bound over them finds such a plan or proves that there is
// none, and raises the bound; cuts make its programme tighter. Where the patterns are
// too many, the same search over some of them, a local search for bins of one size and
// dives look for better plans: a dive fixes patterns one after another while columns
// are still generated for what is left. It is deterministic, ends when told to, and has its best plan at any time.
package linear

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"nogging/internal/cut/bounded"
	"nogging/internal/quantity"
)

// Length is a length of a piece or of stock.
type Length = quantity.Length

// Piece is a length that is needed so many times.
type Piece struct {
	Length Length
	Count  int
}

// Stock is a length that can be had: as many as wanted where Count is 0, such as
// from the merchant, or Count of them, such as offcuts.
type Stock struct {
	Length Length
	Cost   int64 // of one, in any unit; more than 0
	Count  int
}

// Problem is what is to be cut from what. Kerf is lost between two pieces, and not
// at a bar's ends.
type Problem struct {
	Pieces []Piece
	Stocks []Stock
	Kerf   Length
}

// Use is how often a piece is cut from a bar.
type Use struct {
	Piece int // index into Problem.Pieces
	Count int
}

// Bar is one way to cut a stock length, and how many are cut so.
type Bar struct {
	Stock int // index into Problem.Stocks
	Count int
	Uses  []Use // in the order of the pieces
}

// Plan is how everything is cut.
type Plan struct {
	Bars          []Bar
	bounded.Value // the costs of its stock
}

// ErrNoStock is given where the stock cannot give all pieces.
var ErrNoStock = errors.New("the stock cannot give all pieces")

// check says what is wrong with the problem.
func (p *Problem) check() error {
	if p.Kerf < 0 {
		return fmt.Errorf("a kerf of %s mm is not possible", p.Kerf)
	}
	longest := Length(0)
	for i, s := range p.Stocks {
		if s.Length <= 0 || s.Cost <= 0 || s.Count < 0 {
			return fmt.Errorf("stock %d: length and cost have to be above 0, and the count not below", i)
		}
		longest = max(longest, s.Length)
	}
	for i, x := range p.Pieces {
		if x.Length <= 0 || x.Count < 0 {
			return fmt.Errorf("piece %d: the length has to be above 0, and the count not below", i)
		}
		if x.Length > longest && x.Count > 0 {
			return fmt.Errorf("%w: a piece of %s mm is longer than the longest stock, %s mm", ErrNoStock, x.Length, longest)
		}
	}
	return nil
}

// Solve finds a plan. Effort bounds the search, in elementary steps of about a
// nanosecond; where the plan is proven earlier, it ends earlier. When ctx ends, the
// best plan so far is returned.
func Solve(ctx context.Context, p Problem, effort int64) (Plan, error) {
	if err := p.check(); err != nil {
		return Plan{}, err
	}
	in := normalise(p)
	if len(in.weight) == 0 {
		return Plan{}, nil
	}
	s := newSearch(ctx, in, effort)
	s.run()
	if s.best == nil {
		return Plan{}, ErrNoStock
	}
	return p.plan(in, s), nil
}

// instance is a problem in whole units without a kerf: equal pieces are one kind,
// the heaviest first.
type instance struct {
	weight  []int   // of each kind
	demand  []int   // of each kind
	pieces  [][]int // of each kind, the problem's pieces
	size    []int   // of each stock
	cost    []int64
	count   []int // 0: as many as wanted
	unit    int64 // costs are multiples of it
	dearest int64 // cost
}

// normalise adds the kerf to pieces and stock, which is the same as to lose it
// between neighbours, and divides all lengths by what divides them all.
func normalise(p Problem) *instance {
	in := &instance{}
	by := Length(0)
	order := make([]int, 0, len(p.Pieces))
	total := 0
	for i, x := range p.Pieces {
		if x.Count > 0 {
			by = gcd(by, x.Length+p.Kerf)
			order = append(order, i)
		}
	}
	if len(order) == 0 {
		return in
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p.Pieces[b].Length, p.Pieces[a].Length) })
	for _, i := range order {
		x := p.Pieces[i]
		w := int((x.Length + p.Kerf) / by)
		if n := len(in.weight) - 1; n < 0 || in.weight[n] != w {
			in.weight, in.demand, in.pieces = append(in.weight, w), append(in.demand, 0), append(in.pieces, nil)
		}
		n := len(in.weight) - 1
		in.demand[n] += x.Count
		total += x.Count
		in.pieces[n] = append(in.pieces[n], i)
	}
	for _, s := range p.Stocks {
		in.size = append(in.size, int((s.Length+p.Kerf)/by)) // a rest below the unit is of no use
		in.cost = append(in.cost, s.Cost)
		count := s.Count
		if count >= total { // more than pieces is as many as wanted
			count = 0
		}
		in.count = append(in.count, count)
		in.unit = gcd(in.unit, s.Cost)
		in.dearest = max(in.dearest, s.Cost)
	}
	return in
}

func gcd[T ~int64](a, b T) T {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// plan writes the best bars in terms of the problem: the kinds are dealt out to
// its pieces in their order.
func (p *Problem) plan(in *instance, s *search) Plan {
	left := make([]int, len(p.Pieces))
	for i, x := range p.Pieces {
		left[i] = x.Count
	}
	out := Plan{Value: bounded.Value{Cost: s.bestCost, Bound: min(s.bound, s.bestCost)}}
	for _, b := range s.best {
		bar := Bar{Stock: b.stock, Count: 1}
		for _, u := range b.uses {
			bar.Uses = append(bar.Uses, deal(in.pieces[u.kind], left, u.count)...)
		}
		slices.SortFunc(bar.Uses, func(a, b Use) int { return cmp.Compare(a.Piece, b.Piece) })
		if n := len(out.Bars) - 1; n >= 0 && out.Bars[n].Stock == bar.Stock && slices.Equal(out.Bars[n].Uses, bar.Uses) {
			out.Bars[n].Count++
			continue
		}
		out.Bars = append(out.Bars, bar)
	}
	return out
}

// deal takes so many pieces of one kind.
func deal(pieces, left []int, count int) []Use {
	var uses []Use
	for _, i := range pieces {
		n := min(left[i], count)
		if n > 0 {
			left[i] -= n
			count -= n
			uses = append(uses, Use{i, n})
		}
	}
	return uses
}
