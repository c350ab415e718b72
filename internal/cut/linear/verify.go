package linear

import "fmt"

// Verify checks a plan against its problem and trusts nothing: every piece is cut
// as often as it is needed, every bar holds its pieces with the kerfs between them,
// no stock is used that is not there, and the cost is that of the bars.
func Verify(p Problem, plan Plan) error {
	made := make([]int, len(p.Pieces))
	used := make([]int, len(p.Stocks))
	var cost int64
	for i, b := range plan.Bars {
		if b.Stock < 0 || b.Stock >= len(p.Stocks) || b.Count <= 0 {
			return fmt.Errorf("bar %d is cut %d times from stock %d", i, b.Count, b.Stock)
		}
		var length Length
		pieces := 0
		for _, u := range b.Uses {
			if u.Piece < 0 || u.Piece >= len(p.Pieces) || u.Count <= 0 {
				return fmt.Errorf("bar %d cuts piece %d %d times", i, u.Piece, u.Count)
			}
			made[u.Piece] += u.Count * b.Count
			pieces += u.Count
			length += Length(u.Count) * p.Pieces[u.Piece].Length
		}
		if pieces == 0 {
			return fmt.Errorf("bar %d cuts nothing", i)
		}
		if length += Length(pieces-1) * p.Kerf; length > p.Stocks[b.Stock].Length {
			return fmt.Errorf("bar %d needs %s of %s mm", i, length, p.Stocks[b.Stock].Length)
		}
		used[b.Stock] += b.Count
		cost += int64(b.Count) * p.Stocks[b.Stock].Cost
	}
	for i, x := range p.Pieces {
		if made[i] != x.Count {
			return fmt.Errorf("piece %d is cut %d times and needed %d times", i, made[i], x.Count)
		}
	}
	for t, s := range p.Stocks {
		if s.Count > 0 && used[t] > s.Count {
			return fmt.Errorf("stock %d is used %d times and there %d times", t, used[t], s.Count)
		}
	}
	if cost != plan.Cost {
		return fmt.Errorf("the bars cost %d and not %d", cost, plan.Cost)
	}
	if plan.Bound > plan.Cost {
		return fmt.Errorf("the plan costs %d, which is below its bound of %d", plan.Cost, plan.Bound)
	}
	return nil
}
