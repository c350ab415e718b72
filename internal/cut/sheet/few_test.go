package sheet

import (
	"context"
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/geom"
)

// What is left over on sheets counts where pieces are few: costs by hand.
func TestFewBound(t *testing.T) {
	stocks := []Stock{{Width: 1200, Height: 2000, Cost: 240}, {Width: 1200, Height: 3000, Cost: 359}}
	for _, c := range []struct {
		name   string
		pieces []Piece
		want   int64
	}{
		{"a small piece takes a whole sheet", []Piece{{Width: 300, Height: 300, Count: 1}}, 240},
		{"a long piece takes a long sheet", []Piece{{Width: 300, Height: 2500, Count: 1}}, 359},
		{"two take one long sheet", []Piece{{Width: 1200, Height: 1500, Count: 2}}, 359},
		{"two take two short ones", []Piece{{Width: 1200, Height: 1600, Count: 2}}, 480},
		{"the third takes a sheet of its own", []Piece{{Width: 1200, Height: 1500, Count: 3}}, 599},
		{"a piece that may lie in a notch counts nothing", []Piece{
			{Width: 1200, Height: 2000, Count: 1, Notches: []geom.Rect{{Max: geom.Pt(400, 400)}}}, {Width: 300, Height: 300, Count: 1}}, 240},
	} {
		in, err := normalise(Problem{Pieces: c.pieces, Stocks: stocks})
		if err != nil {
			t.Fatal(err)
		}
		if got := in.fewBound(); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}

// No bound is above the cost of sheets that were cut up into the pieces.
func TestBoundOfCutUpSheets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Problem{Stocks: []Stock{{Width: 120, Height: 300, Cost: 36}, {Width: 125, Height: 200, Cost: 25}, {Width: 60, Height: 300, Cost: 19}}}
		paid := int64(0)
		for range rapid.IntRange(1, 4).Draw(t, "sheets") {
			s := rapid.SampledFrom(p.Stocks).Draw(t, "stock")
			paid += s.Cost
			parts := [][2]Length{{s.Width, s.Height}}
			for range rapid.IntRange(0, 3).Draw(t, "cuts") {
				i := rapid.IntRange(0, len(parts)-1).Draw(t, "part")
				side := rapid.IntRange(0, 1).Draw(t, "side")
				rest := parts[i]
				at := Length(rapid.IntRange(1, int(rest[side])).Draw(t, "at"))
				if at == rest[side] {
					continue
				}
				parts[i][side] = at
				rest[side] -= at
				parts = append(parts, rest)
			}
			for _, x := range parts {
				p.Pieces = append(p.Pieces, Piece{Width: x[0], Height: x[1], Count: 1, Turn: x[1] <= 120 && rapid.Bool().Draw(t, "turn")})
			}
		}
		if bound, err := Bound(p); err != nil || bound > paid {
			t.Fatalf("bound %d, but sheets for %d were cut up: %v", bound, paid, err)
		}
	})
}

// The quick cost is that of the plan without effort.
func TestQuick(t *testing.T) {
	p := Problem{Stocks: []Stock{{Width: 1200, Height: 2000, Cost: 240}, {Width: 1200, Height: 3000, Cost: 359}}}
	for i := range Length(12) {
		p.Pieces = append(p.Pieces, Piece{Width: 300 + i*70, Height: 2900 - i*180, Count: 1 + int(i)%3})
		plan, err := Solve(context.Background(), p, 0)
		if err != nil {
			t.Fatal(err)
		}
		if cost, err := Quick(context.Background(), p); err != nil || cost != plan.Cost {
			t.Errorf("%d pieces: %d, want %d: %v", len(p.Pieces), cost, plan.Cost, err)
		}
	}
}
