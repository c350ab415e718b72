package linear

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// Made is stock that is ordered to measure: one length between Shortest and
// Longest, at Price for each Step of it, at least Minimum bars of it. The zero value
// is none.
type Made struct {
	Shortest, Longest Length
	Step              Length // lengths are multiples of it
	Trim              Length // of each bar, of no use
	Price             int64  // of one step
	Minimum           int
}

// MadePlan is how everything is cut where a length may be ordered to measure: bars
// whose Stock is the number of the problem's stocks are of it.
type MadePlan struct {
	Plan
	Length Length // ordered to measure; 0 for none
}

// tried is how many lengths to measure are tried.
const tried = 24

// SolveMade solves the problem where one length may be ordered to measure as well:
// those lengths are tried that hold the most needed pieces, alone or some together,
// without a rest. Its bound holds for any choice of the length.
func SolveMade(ctx context.Context, p Problem, made Made, effort int64) (MadePlan, error) {
	plain, err := Solve(ctx, p, effort)
	if made.Longest <= 0 || made.Step <= 0 || made.Price <= 0 {
		return MadePlan{Plan: plain}, err
	}
	best, found := MadePlan{Plan: plain}, err == nil
	last := err
	for _, length := range made.lengths(p) {
		with := p
		with.Stocks = append(slices.Clone(p.Stocks), Stock{Length: length - made.Trim, Cost: int64(length/made.Step) * made.Price})
		plan, err := Solve(ctx, with, effort/tried)
		if err != nil {
			last = err
			continue
		}
		fill(&plan, len(p.Stocks), made.Minimum, with.Stocks[len(p.Stocks)].Cost)
		if !found || plan.Cost < best.Cost {
			best, found = MadePlan{plan, length}, true
		}
	}
	if !found {
		return MadePlan{}, last
	}
	best.Bound = min(best.Cost, max(made.bound(p), 0))
	return best, nil
}

// fill adds bars without pieces up to the least quantity.
func fill(plan *Plan, stock, minimum int, cost int64) {
	n := 0
	for _, b := range plan.Bars {
		if b.Stock == stock {
			n += b.Count
		}
	}
	if n > 0 && n < minimum {
		plan.Bars = append(plan.Bars, Bar{Stock: stock, Count: minimum - n})
		plan.Cost += int64(minimum-n) * cost
	}
}

// lengths lists lengths to try: those of one to three equal pieces and of two
// different ones, by how much length of pieces they can hold.
func (m Made) lengths(p Problem) []Length {
	held := map[Length]Length{}
	add := func(sum Length, pieces, bars int) {
		sum += Length(pieces-1) * p.Kerf
		l := max((sum+m.Trim+m.Step-1)/m.Step*m.Step, (m.Shortest+m.Step-1)/m.Step*m.Step)
		if l > m.Trim && l <= m.Longest {
			held[l] += Length(bars) * sum
		}
	}
	for i, a := range p.Pieces {
		for n := 1; n <= 3 && n <= a.Count; n++ {
			add(Length(n)*a.Length, n, a.Count/n)
		}
		for _, b := range p.Pieces[i+1:] {
			add(a.Length+b.Length, 2, min(a.Count, b.Count))
		}
	}
	list := make([]Length, 0, len(held))
	for l := range held {
		list = append(list, l)
	}
	slices.SortFunc(list, func(a, b Length) int { return cmp.Or(cmp.Compare(held[b], held[a]), cmp.Compare(a, b)) })
	return list[:min(tried, len(list))]
}

// bound is the length of all pieces at the least price per length there is.
func (m Made) bound(p Problem) int64 {
	least := float64(m.Price) / float64(m.Step)
	for _, s := range p.Stocks {
		least = min(least, float64(s.Cost)/float64(s.Length))
	}
	total := 0.0
	for _, x := range p.Pieces {
		total += float64(x.Length) * float64(x.Count)
	}
	return int64(math.Ceil(total*least*(1-1e-12) - 1e-6))
}
