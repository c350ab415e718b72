package sheet_test

import (
	"context"
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"nogging/internal/cut/bounded"
	"nogging/internal/cut/sheet"
	_ "nogging/internal/draws"
	"nogging/internal/geom"
	"nogging/internal/quantity"
)

const mm = quantity.Millimetre

// problem draws a problem with everything that a problem can have.
func problem(t *rapid.T) sheet.Problem {
	p := sheet.Problem{First: sheet.First(rapid.IntRange(0, 2).Draw(t, "first")), Stages: rapid.SampledFrom([]int{0, 2, 3, sheet.Free}).Draw(t, "stages")}
	if rapid.Bool().Draw(t, "sawn") {
		p.Kerf = quantity.Length(rapid.IntRange(0, 9).Draw(t, "kerf"))
		p.Trim = quantity.Length(rapid.IntRange(0, 3).Draw(t, "trim"))
	}
	length := func(from, to int, label string) quantity.Length {
		return quantity.Length(rapid.IntRange(from, to).Draw(t, label))
	}
	p.Stocks = append(p.Stocks, sheet.Stock{Width: 120, Height: 300, Cost: 36, Left: true, Right: true})
	for range rapid.IntRange(0, 2).Draw(t, "more stocks") {
		p.Stocks = append(p.Stocks, sheet.Stock{
			Width: length(40, 125, "width"), Height: length(40, 250, "height"), Cost: int64(length(1, 40, "cost")),
			Count: rapid.IntRange(0, 2).Draw(t, "count"), Left: rapid.Bool().Draw(t, "left"), Right: rapid.Bool().Draw(t, "right"),
		})
	}
	for range rapid.IntRange(1, 12).Draw(t, "pieces") {
		p.Pieces = append(p.Pieces, piece(t, p.Trim > 0))
	}
	return p
}

// piece draws a piece that a sheet of 120 by 300 takes.
func piece(t *rapid.T, trimmed bool) sheet.Piece {
	length := func(from, to int, label string) quantity.Length {
		return quantity.Length(rapid.IntRange(from, to).Draw(t, label))
	}
	x := sheet.Piece{Width: length(5, 114, "width"), Height: length(5, 290, "height"), Count: rapid.IntRange(0, 3).Draw(t, "count")}
	switch rapid.IntRange(0, 4).Draw(t, "kind") {
	case 0:
		x.Turn = true
	case 1:
		x.Left = !trimmed
	case 2:
		x.Right = !trimmed
	case 3:
		if x.Left, x.Right = !trimmed, !trimmed; !trimmed {
			x.Width = 120
		}
	}
	if x.Width > 30 && x.Height > 30 && rapid.Bool().Draw(t, "notched") {
		w, h := length(1, int(x.Width)-1, "notch width"), length(1, int(x.Height)-1, "notch height")
		from := geom.Pt(length(0, int(x.Width-w), "notch from"), length(0, int(x.Height-h), "notch up"))
		x.Notches = []geom.Rect{{Min: from, Max: from.Add(geom.Pt(w, h))}}
	}
	return x
}

func TestPlansHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := problem(t)
		plan, err := sheet.Solve(context.Background(), p, rapid.IntRange(0, 9).Draw(t, "effort")/9)
		if err != nil {
			t.Fatal(err)
		}
		if err := sheet.Verify(p, plan); err != nil {
			t.Fatal(err)
		}
	})
}

func TestSolveIsDeterministic(t *testing.T) {
	p := sheet.Problem{Stocks: []sheet.Stock{{Width: 100, Height: 100, Cost: 1}}}
	for i := range quantity.Length(30) {
		p.Pieces = append(p.Pieces, sheet.Piece{Width: 10 + i*37%60, Height: 10 + i*53%70, Count: 1})
	}
	a, err := sheet.Solve(context.Background(), p, 1)
	if err != nil {
		t.Fatal(err)
	}
	b, _ := sheet.Solve(context.Background(), p, 1)
	if d := cmp.Diff(a, b); d != "" {
		t.Error(d)
	}
}

func TestSolveEndsWhenTold(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	p := sheet.Problem{Stocks: []sheet.Stock{{Width: 100, Height: 100, Cost: 1}}, Pieces: []sheet.Piece{{Width: 60, Height: 60, Count: 5}}}
	if plan, err := sheet.Solve(ctx, p, 1); err == nil {
		err = sheet.Verify(p, plan)
		if err != nil {
			t.Error(err)
		}
	} else if !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

// Each case has its optimum by hand.
func TestByHand(t *testing.T) {
	board := sheet.Stock{Width: 1200 * mm, Height: 3000 * mm, Cost: 1, Left: true, Right: true}
	corner := []geom.Rect{{Min: geom.Pt(600*mm, 0), Max: geom.Pt(1200*mm, 2100*mm)}}
	for name, c := range map[string]struct {
		p    sheet.Problem
		cost int64
	}{
		"two halves keep an edge each": {sheet.Problem{Stocks: []sheet.Stock{board}, Pieces: []sheet.Piece{
			{Width: 600 * mm, Height: 3000 * mm, Count: 4, Left: true}}}, 2},
		"three thirds, one keeps no edge": {sheet.Problem{Stocks: []sheet.Stock{board}, Pieces: []sheet.Piece{
			{Width: 400 * mm, Height: 3000 * mm, Count: 1, Left: true}, {Width: 400 * mm, Height: 3000 * mm, Count: 1, Right: true},
			{Width: 400 * mm, Height: 3000 * mm, Count: 1}}}, 1},
		"three thirds that keep an edge": {sheet.Problem{Stocks: []sheet.Stock{board}, Pieces: []sheet.Piece{
			{Width: 400 * mm, Height: 3000 * mm, Count: 3, Left: true}}}, 2},
		"edges over one another": {sheet.Problem{Stocks: []sheet.Stock{board}, Pieces: []sheet.Piece{
			{Width: 600 * mm, Height: 1000 * mm, Count: 6, Right: true}}}, 1},
		"a kerf spoils halves": {sheet.Problem{Stocks: []sheet.Stock{board}, Kerf: 3 * mm, Pieces: []sheet.Piece{
			{Width: 600 * mm, Height: 3000 * mm, Count: 2}}}, 2},
		"a kerf between exact parts": {sheet.Problem{Stocks: []sheet.Stock{board}, Kerf: 10 * mm, Pieces: []sheet.Piece{
			{Width: 595 * mm, Height: 3000 * mm, Count: 2}}}, 1},
		"trimmed": {sheet.Problem{Stocks: []sheet.Stock{board}, Trim: 1 * mm, Pieces: []sheet.Piece{
			{Width: 600 * mm, Height: 2900 * mm, Count: 2}}}, 2},
		"grain": {sheet.Problem{Stocks: []sheet.Stock{board}, Pieces: []sheet.Piece{
			{Width: 1200 * mm, Height: 600 * mm, Count: 5}, {Width: 1000 * mm, Height: 700 * mm, Count: 1}}}, 2},
		"turned": {sheet.Problem{Stocks: []sheet.Stock{{Width: 1200 * mm, Height: 3000 * mm, Cost: 1}}, Pieces: []sheet.Piece{
			{Width: 3000 * mm, Height: 1200 * mm, Count: 1, Turn: true}}}, 1},
		"a piece in a notch": {sheet.Problem{Stocks: []sheet.Stock{board}, Pieces: []sheet.Piece{
			{Width: 1200 * mm, Height: 3000 * mm, Count: 1, Left: true, Right: true, Notches: corner}, {Width: 300 * mm, Height: 2000 * mm, Count: 2}}}, 1},
		"a kerf round a notch": {sheet.Problem{Stocks: []sheet.Stock{board}, Kerf: 10 * mm, Pieces: []sheet.Piece{
			{Width: 1200 * mm, Height: 3000 * mm, Count: 1, Notches: corner}, {Width: 580 * mm, Height: 2080 * mm, Count: 1}}}, 1},
		"a kerf spoils a notch": {sheet.Problem{Stocks: []sheet.Stock{board}, Kerf: 10 * mm, Pieces: []sheet.Piece{
			{Width: 1200 * mm, Height: 3000 * mm, Count: 1, Notches: corner}, {Width: 581 * mm, Height: 2080 * mm, Count: 1}}}, 2},
		"the cheaper sheet": {sheet.Problem{Stocks: []sheet.Stock{{Width: 1200 * mm, Height: 3000 * mm, Cost: 30}, {Width: 1200 * mm, Height: 2500 * mm, Cost: 25}},
			Pieces: []sheet.Piece{{Width: 1200 * mm, Height: 2400 * mm, Count: 3}}}, 75},
		"offcuts first": {sheet.Problem{Stocks: []sheet.Stock{{Width: 1200 * mm, Height: 3000 * mm, Cost: 30}, {Width: 700 * mm, Height: 1000 * mm, Cost: 1, Count: 1}},
			Pieces: []sheet.Piece{{Width: 700 * mm, Height: 900 * mm, Count: 4}}}, 31},
		// A pinwheel of four 2 by 1 pieces round a unit square has no edge-to-edge cut.
		"a pinwheel cannot be cut": {sheet.Problem{Stages: sheet.Free, Stocks: []sheet.Stock{{Width: 3, Height: 3, Cost: 1}}, Pieces: []sheet.Piece{
			{Width: 2, Height: 1, Count: 2}, {Width: 1, Height: 2, Count: 2}, {Width: 1, Height: 1, Count: 1}}}, 2},
	} {
		t.Run(name, func(t *testing.T) {
			plan, err := sheet.Solve(context.Background(), c.p, 1)
			if err != nil {
				t.Fatal(err)
			}
			if err := sheet.Verify(c.p, plan); err != nil {
				t.Fatal(err)
			}
			if plan.Cost != c.cost {
				t.Errorf("costs %d, but %d would do", plan.Cost, c.cost)
			}
		})
	}
}

func TestWrongProblems(t *testing.T) {
	board := []sheet.Stock{{Width: 1200, Height: 3000, Cost: 1}}
	for name, p := range map[string]sheet.Problem{
		"too large":            {Stocks: board, Pieces: []sheet.Piece{{Width: 1201, Height: 10, Count: 1}}},
		"no such edge":         {Stocks: board, Pieces: []sheet.Piece{{Width: 12, Height: 10, Count: 1, Left: true}}},
		"an edge trimmed away": {Stocks: []sheet.Stock{{Width: 1200, Height: 3000, Cost: 1, Left: true}}, Trim: 1, Pieces: []sheet.Piece{{Width: 12, Height: 10, Count: 1, Left: true}}},
		"nothing":              {Stocks: board, Pieces: []sheet.Piece{{Width: 0, Height: 10, Count: 1}}},
		"a notch outside":      {Stocks: board, Pieces: []sheet.Piece{{Width: 20, Height: 10, Count: 1, Notches: []geom.Rect{{Max: geom.Pt(21, 5)}}}}},
		"free sheets":          {Stocks: []sheet.Stock{{Width: 12, Height: 30}}},
		"one stage":            {Stocks: board, Stages: 1},
		"turned off its edge":  {Stocks: board, Pieces: []sheet.Piece{{Width: 20, Height: 10, Count: 1, Left: true, Turn: true}}},
		"a kerf below nothing": {Stocks: board, Kerf: -1},
	} {
		if _, err := sheet.Solve(context.Background(), p, 1); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}

// The verifier finds every way in which a good plan is spoilt.
func TestVerifyFindsFaults(t *testing.T) {
	p := sheet.Problem{
		Stocks: []sheet.Stock{{Width: 100, Height: 100, Cost: 7, Count: 1, Left: true, Right: true}},
		Pieces: []sheet.Piece{{Width: 40, Height: 100, Count: 1, Left: true}, {Width: 60, Height: 50, Count: 2}},
	}
	good := func() sheet.Plan {
		leaf := func(piece int, x0, y0, x1, y1 quantity.Length) *sheet.Node {
			return &sheet.Node{Rect: geom.Rect{Min: geom.Pt(x0, y0), Max: geom.Pt(x1, y1)}, Piece: piece}
		}
		root, right := leaf(-1, 0, 0, 100, 100), leaf(-1, 40, 0, 100, 100)
		right.Parts = []*sheet.Node{leaf(1, 40, 0, 100, 50), leaf(1, 40, 50, 100, 100)}
		root.Upright, root.Parts = true, []*sheet.Node{leaf(0, 0, 0, 40, 100), right}
		return sheet.Plan{Cuts: []sheet.Cut{{Root: root}}, Value: bounded.Value{Cost: 7, Bound: 7}}
	}
	if err := sheet.Verify(p, good()); err != nil {
		t.Fatal(err)
	}
	for name, spoil := range map[string]func(*sheet.Problem, *sheet.Plan){
		"cost":           func(_ *sheet.Problem, x *sheet.Plan) { x.Cost = 6 },
		"bound":          func(_ *sheet.Problem, x *sheet.Plan) { x.Bound = 8 },
		"stock":          func(_ *sheet.Problem, x *sheet.Plan) { x.Cuts[0].Stock = 1 },
		"too many":       func(_ *sheet.Problem, x *sheet.Plan) { x.Cuts, x.Cost = append(x.Cuts, x.Cuts[0]), 14 },
		"missing":        func(_ *sheet.Problem, x *sheet.Plan) { x.Cuts[0].Root.Parts[0].Piece = -1 },
		"size":           func(_ *sheet.Problem, x *sheet.Plan) { x.Cuts[0].Root.Parts[0].Piece = 1 },
		"turned":         func(_ *sheet.Problem, x *sheet.Plan) { x.Cuts[0].Root.Parts[0].Turns = 1 },
		"edge":           func(_ *sheet.Problem, x *sheet.Plan) { x.Cuts[0].Root.Parts[0].Turns = 2 },
		"not the sheet":  func(_ *sheet.Problem, x *sheet.Plan) { x.Cuts[0].Root.Max.X = 99 },
		"not to edge":    func(_ *sheet.Problem, x *sheet.Plan) { x.Cuts[0].Root.Parts[1].Parts[0].Max.X = 99 },
		"not filled":     func(_ *sheet.Problem, x *sheet.Plan) { x.Cuts[0].Root.Parts = x.Cuts[0].Root.Parts[:1] },
		"overlap":        func(_ *sheet.Problem, x *sheet.Plan) { x.Cuts[0].Root.Parts[1].Min.X = 39 },
		"kerf":           func(p *sheet.Problem, _ *sheet.Plan) { p.Kerf = 1 },
		"trim":           func(p *sheet.Problem, _ *sheet.Plan) { p.Trim = 1 },
		"sheet's edge":   func(p *sheet.Problem, _ *sheet.Plan) { p.Stocks[0].Left = false },
		"part of a part": func(_ *sheet.Problem, x *sheet.Plan) { x.Cuts[0].Root.Parts[0].Notches = []*sheet.Node{{Piece: 1}} },
		"stages": func(p *sheet.Problem, x *sheet.Plan) {
			p.Stages = 2
			r := x.Cuts[0].Root.Parts[1]
			r.Parts[0].Piece, r.Parts[0].Upright = -1, true
			r.Parts[0].Parts = []*sheet.Node{{Rect: geom.Bounds(geom.Pt(40, 0), geom.Pt(70, 50)), Piece: 1}, {Rect: geom.Bounds(geom.Pt(70, 0), geom.Pt(100, 50)), Piece: 1}}
			p.Pieces[1] = sheet.Piece{Width: 30, Height: 50, Count: 2}
			r.Parts[1].Piece = -1
		},
	} {
		q, x := p, good()
		q.Stocks, q.Pieces = append([]sheet.Stock(nil), p.Stocks...), append([]sheet.Piece(nil), p.Pieces...)
		spoil(&q, &x)
		if sheet.Verify(q, x) == nil {
			t.Errorf("%s: not found", name)
		}
	}
}
