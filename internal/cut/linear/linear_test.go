package linear

import (
	"context"
	"errors"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/cut/bounded"
	_ "nogging/internal/draws"
	"nogging/internal/quantity"
)

const effort = 50_000_000

func TestSolve(t *testing.T) {
	stock := []Stock{{Length: 6000, Cost: 6}, {Length: 4000, Cost: 4}}
	for _, c := range []struct {
		name string
		p    Problem
		cost int64
	}{
		{"one bar", Problem{Pieces: []Piece{{3000, 2}}, Stocks: stock}, 6},
		{"the kerf makes it two", Problem{Pieces: []Piece{{3000, 2}}, Stocks: stock, Kerf: 1}, 8},
		{"kerf between pieces only", Problem{Pieces: []Piece{{1998, 3}}, Stocks: stock, Kerf: 3}, 6},
		{"an offcut first", Problem{Pieces: []Piece{{3000, 3}}, Stocks: append(slices.Clone(stock), Stock{3100, 1, 1})}, 7},
		{"only one offcut", Problem{Pieces: []Piece{{3000, 4}}, Stocks: append(slices.Clone(stock), Stock{3100, 2, 1})}, 12},
		{"nothing needed", Problem{Stocks: stock}, 0},
		// The textbook example of column generation, from memory: rolls of 5600, best 73.
		{"paper rolls", Problem{Pieces: []Piece{{1380, 22}, {1520, 25}, {1560, 12}, {1710, 14}, {1820, 18}, {1880, 18}, {1930, 20},
			{2000, 10}, {2050, 12}, {2100, 14}, {2140, 16}, {2150, 18}, {2200, 20}}, Stocks: []Stock{{Length: 5600, Cost: 1}}}, 73},
	} {
		t.Run(c.name, func(t *testing.T) {
			plan, err := Solve(context.Background(), c.p, effort)
			if err == nil {
				err = Verify(c.p, plan)
			}
			if err != nil {
				t.Fatal(err)
			}
			if plan.Cost != c.cost || !plan.Proven() || plan.Gap() != 0 {
				t.Errorf("cost %d with bound %d, want %d and proven", plan.Cost, plan.Bound, c.cost)
			}
		})
	}
}

func TestSolveRefuses(t *testing.T) {
	for _, c := range []struct {
		name string
		p    Problem
		none bool
	}{
		{"longer than any stock", Problem{Pieces: []Piece{{7, 1}}, Stocks: []Stock{{6, 1, 0}}}, true},
		{"not enough stock", Problem{Pieces: []Piece{{4, 3}}, Stocks: []Stock{{6, 1, 2}}}, true},
		{"no cost", Problem{Pieces: []Piece{{4, 3}}, Stocks: []Stock{{6, 0, 2}}}, false},
		{"no length", Problem{Pieces: []Piece{{0, 3}}, Stocks: []Stock{{6, 1, 2}}}, false},
		{"kerf below 0", Problem{Kerf: -1}, false},
	} {
		if _, err := Solve(context.Background(), c.p, effort); err == nil || errors.Is(err, ErrNoStock) != c.none {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// TestAnytime holds that a search that is told to end at once has a plan.
func TestAnytime(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	p := Problem{Pieces: []Piece{{31, 20}, {27, 30}, {19, 25}}, Stocks: []Stock{{100, 1, 0}}}
	plan, err := Solve(ctx, p, effort)
	if err == nil {
		err = Verify(p, plan)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// problems draws small problems with several stocks, limited ones and a kerf.
func problems(t *rapid.T) Problem {
	p := Problem{Kerf: Length(rapid.IntRange(0, 3).Draw(t, "kerf"))}
	for range rapid.IntRange(1, 3).Draw(t, "stocks") {
		p.Stocks = append(p.Stocks, Stock{
			Length: Length(rapid.IntRange(20, 60).Draw(t, "stock")), Cost: int64(rapid.IntRange(1, 9).Draw(t, "cost")), Count: rapid.IntRange(0, 2).Draw(t, "there")})
	}
	for range rapid.IntRange(1, 5).Draw(t, "pieces") {
		p.Pieces = append(p.Pieces, Piece{Length(rapid.IntRange(5, 40).Draw(t, "length")), rapid.IntRange(0, 2).Draw(t, "count")})
	}
	return p
}

// TestOptimum holds small problems against a search of every plan.
func TestOptimum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := problems(t)
		least, possible := cheapest(p)
		plan, err := Solve(context.Background(), p, effort)
		if !possible {
			if !errors.Is(err, ErrNoStock) && err == nil {
				t.Fatal("a plan where there is none")
			}
			return
		}
		if err == nil {
			err = Verify(p, plan)
		}
		if errors.Is(err, ErrNoStock) {
			t.Skip("only limited stock, and the search did not find the one way")
		}
		if err != nil {
			t.Fatal(err)
		}
		if plan.Bound > least || plan.Cost < least {
			t.Fatalf("cost %d with bound %d, but the least is %d", plan.Cost, plan.Bound, least)
		}
		if plan.Cost > least {
			t.Fatalf("cost %d, but %d is possible", plan.Cost, least)
		}
	})
}

// cheapest tries every way to put pieces, one by one, onto bars that are open or new.
func cheapest(p Problem) (int64, bool) {
	var pieces []Length
	for _, x := range p.Pieces {
		for range x.Count {
			pieces = append(pieces, x.Length)
		}
	}
	slices.Sort(pieces)
	slices.Reverse(pieces)
	best, found := int64(1<<62), false
	var rooms []Length
	used := make([]int, len(p.Stocks))
	var try func(i int, cost int64)
	try = func(i int, cost int64) {
		if cost >= best {
			return
		}
		if i == len(pieces) {
			best, found = cost, true
			return
		}
		for b := range rooms {
			if need := pieces[i] + p.Kerf; need <= rooms[b] {
				rooms[b] -= need
				try(i+1, cost)
				rooms[b] += need
			}
		}
		for t, s := range p.Stocks {
			if pieces[i] > s.Length || s.Count > 0 && used[t] == s.Count {
				continue
			}
			used[t]++
			rooms = append(rooms, s.Length-pieces[i])
			try(i+1, cost+s.Cost)
			rooms = rooms[:len(rooms)-1]
			used[t]--
		}
	}
	try(0, 0)
	return best, found
}

// TestVerify holds that each kind of fault is seen.
func TestVerify(t *testing.T) {
	p := Problem{Pieces: []Piece{{30, 2}}, Stocks: []Stock{{60, 2, 2}, {30, 1, 1}}}
	good := Plan{Bars: []Bar{{0, 1, []Use{{0, 2}}}}, Value: bounded.Value{Cost: 2, Bound: 2}}
	if err := Verify(p, good); err != nil {
		t.Fatal(err)
	}
	for name, bad := range map[string]Plan{
		"missing":     {Bars: []Bar{{0, 1, []Use{{0, 1}}}}, Value: bounded.Value{Cost: 2}},
		"too many":    {Bars: []Bar{{0, 2, []Use{{0, 2}}}}, Value: bounded.Value{Cost: 4}},
		"too long":    {Bars: []Bar{{1, 1, []Use{{0, 2}}}}, Value: bounded.Value{Cost: 1}},
		"not there":   {Bars: []Bar{{1, 2, []Use{{0, 1}}}}, Value: bounded.Value{Cost: 2}},
		"wrong cost":  {Bars: good.Bars, Value: bounded.Value{Cost: 1}},
		"wrong bound": {Bars: good.Bars, Value: bounded.Value{Cost: 2, Bound: 3}},
		"no pieces":   {Bars: append(slices.Clone(good.Bars), Bar{1, 1, nil}), Value: bounded.Value{Cost: 3}},
		"no stock":    {Bars: []Bar{{7, 1, []Use{{0, 2}}}}, Value: bounded.Value{Cost: 2}},
	} {
		if Verify(p, bad) == nil {
			t.Errorf("%s: not seen", name)
		}
	}
	p.Kerf = 1
	if Verify(p, good) == nil {
		t.Error("kerf: not seen")
	}
}

func TestSolveMade(t *testing.T) {
	p := Problem{Pieces: []Piece{{2685, 40}, {900, 3}}, Stocks: []Stock{{3000, 3000, 0}, {4000, 4000, 0}}}
	plain, err := Solve(context.Background(), p, effort)
	if err != nil {
		t.Fatal(err)
	}
	made := Made{Shortest: 2000, Longest: 6000, Step: 5, Price: 5, Minimum: 30}
	plan, err := SolveMade(context.Background(), p, made, effort)
	if err != nil {
		t.Fatal(err)
	}
	if plan.Length == 0 || plan.Cost >= plain.Cost || plan.Bound > plan.Cost || plan.Bound < 40*2685+3*900 {
		t.Errorf("ordered %v at cost %d with bound %d, plain %d", plan.Length, plan.Cost, plan.Bound, plain.Cost)
	}
	n := 0
	for _, b := range plan.Bars {
		if b.Stock == len(p.Stocks) {
			n += b.Count
		}
	}
	if n < made.Minimum {
		t.Errorf("%d bars to measure, at least %d are sold", n, made.Minimum)
	}
	made.Minimum = 500
	if plan, _ = SolveMade(context.Background(), p, made, effort); plan.Length != 0 || plan.Cost != plain.Cost {
		t.Errorf("a least quantity of 500 is worth nothing, yet %v is ordered", plan.Length)
	}
}

func TestOrderOfWork(t *testing.T) {
	// Large weights take the way of searching instead of the table.
	p := Problem{Stocks: []Stock{{1_000_003, 1, 0}}}
	for i := range 40 {
		p.Pieces = append(p.Pieces, Piece{Length(200_003 + 7919*i), 1})
	}
	a, err := Solve(context.Background(), p, effort)
	if err == nil {
		err = Verify(p, a)
	}
	if err != nil {
		t.Fatal(err)
	}
	b, _ := Solve(context.Background(), p, effort)
	if a.Cost != b.Cost || !slices.EqualFunc(a.Bars, b.Bars, func(x, y Bar) bool { return x.Stock == y.Stock && slices.Equal(x.Uses, y.Uses) }) {
		t.Error("two runs differ")
	}
	if a.Gap() > 0.1 {
		t.Errorf("cost %d, bound %d", a.Cost, a.Bound)
	}
}

// TestSearches holds each of the searches that prove, on its own and from a poor plan,
// against a search of every plan: what it finds is the least, and what it says is
// proven is.
func TestSearches(t *testing.T) {
	for name, run := range map[string]func(*search, *state){
		"all patterns": func(s *search, _ *state) { s.enumerate() },
		"pool":         func(s *search, st *state) { s.climb(st) },
	} {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				p := problems(t)
				least, possible := cheapest(p)
				in := normalise(p)
				if !possible || len(in.weight) == 0 {
					t.Skip("nothing to cut")
				}
				s := newSearch(context.Background(), in, effort)
				start := s.start()
				s.offer(nil, least+in.unit*rapid.Int64Range(1, 20).Draw(t, "above"))
				s.root(start)
				s.bound = s.bounded(start)
				if s.bound > least {
					t.Fatalf("bound %d of the programme, but the least is %d", s.bound, least)
				}
				if run(s, start); s.bestCost != least || s.bound > least {
					t.Fatalf("cost %d with bound %d, but the least is %d", s.bestCost, s.bound, least)
				}
			})
		})
	}
}

// TestCeilings holds the grid's table above the worth of any pattern.
func TestCeilings(t *testing.T) {
	in := &instance{weight: []int{50_021, 30_011, 20_007}, demand: []int{1, 2, 3}, size: []int{100_049}}
	c := newCeilings(in)
	c.grid = 1000
	price := []int64{7, 4, 3}
	c.fill(in, price, in.demand)
	for a := range 2 {
		for b := range 3 {
			for d := range 4 {
				if room := a*in.weight[0] + b*in.weight[1] + d*in.weight[2]; room <= in.size[0] {
					if worth := int64(a)*price[0] + int64(b)*price[1] + int64(d)*price[2]; c.of(0, room) < worth {
						t.Errorf("%d, %d and %d pieces are worth %d, at most %d by the table", a, b, d, worth, c.of(0, room))
					}
				}
			}
		}
	}
}

// TestPlanted holds that plans without any rest are found where bars were cut up at
// random, and that no bound is above them.
func TestPlanted(t *testing.T) {
	const bars, length = 40, 1000
	for seed := range 6 {
		c := chance(seed)
		p := Problem{Stocks: []Stock{{Length: length, Cost: 1}}}
		for range bars {
			left := Length(length)
			for range 1 + c.below(3) {
				x := 10 + Length(c.below(int(left)*3/4))
				if x >= left {
					break
				}
				p.Pieces = append(p.Pieces, Piece{x, 1})
				left -= x
			}
			p.Pieces = append(p.Pieces, Piece{left, 1})
		}
		plan, err := Solve(context.Background(), p, 20*effort)
		if err == nil {
			err = Verify(p, plan)
		}
		if err != nil || plan.Cost != bars || plan.Bound != bars {
			t.Errorf("seed %d: %d bars with bound %d, and %d are enough: %v", seed, plan.Cost, plan.Bound, bars, err)
		}
	}
}

// Many pieces of few lengths, from fifteen stock lengths in steps of 250 mm: optima
// that HiGHS 1.15.3 found and proved on the arc-flow programme (`make bench-cut-mip`).
func TestFewLengths(t *testing.T) {
	var stocks []Stock
	for l := Length(2500); l <= 6000; l += 250 {
		stocks = append(stocks, Stock{Length: l * quantity.Millimetre, Cost: int64(l)})
	}
	for _, c := range []struct {
		pieces []Piece
		want   int64
	}{
		{[]Piece{{2985 * quantity.Millimetre, 393}, {855 * quantity.Millimetre, 72}}, 1_240_750},
		{[]Piece{{2985 * quantity.Millimetre, 276}, {1100 * quantity.Millimetre, 14}, {885 * quantity.Millimetre, 14}}, 856_000},
	} {
		p := Problem{Pieces: c.pieces, Stocks: stocks}
		plan, err := Solve(context.Background(), p, 20_000_000)
		if err == nil {
			err = Verify(p, plan)
		}
		if err != nil || plan.Cost != c.want || !plan.Proven() {
			t.Errorf("%v: cost %d with bound %d, want %d: %v", c.pieces, plan.Cost, plan.Bound, c.want, err)
		}
	}
}
