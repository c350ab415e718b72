package app

import (
	"context"
	"errors"
	"testing"

	"nogging/internal/cut/sheet"
)

// What was asked is not worked out again for a few runs; what failed or was cut short
// is.
func TestAnswers(t *testing.T) {
	var m answers[int]
	worked := 0
	ask := func(ctx context.Context, question string, err error) {
		t.Helper()
		if n, got := m.to(ctx, question, func() (int, error) { worked++; return len(question), err }); n != len(question) || got != err {
			t.Errorf("%s: %d, %v", question, n, got)
		}
	}
	expect := func(want int) {
		t.Helper()
		if worked != want {
			t.Errorf("worked %d times, want %d", worked, want)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	m.turn()
	ask(ctx, "one", nil)
	ask(ctx, "one", nil)
	ask(ctx, "three", errors.New("not this time"))
	expect(2)
	ask(ctx, "three", nil)
	m.turn()
	ask(ctx, "three", nil)
	expect(3)
	for range runsKept {
		m.turn()
	}
	ask(ctx, "three", nil)
	expect(3)
	ask(ctx, "one", nil)
	expect(4)
	cancel()
	ask(ctx, "four", nil)
	ask(ctx, "four", nil)
	expect(6)
}

// Whoever asks for a plan of boards has one of his own.
func TestPlansAreOnesOwn(t *testing.T) {
	var m cutMemory
	p := sheet.Problem{Pieces: []sheet.Piece{{Width: 3, Height: 4, Count: 1}}, Stocks: []sheet.Stock{{Width: 10, Height: 10, Cost: 1}}}
	number := func() (pieces []int) {
		plan, err := m.solveBoards(context.Background(), p, 1)
		if err != nil {
			t.Fatal(err)
		}
		plan.Cuts[0].Root.Walk(func(n *sheet.Node) {
			if n.Piece >= 0 {
				pieces = append(pieces, n.Piece)
				n.Piece += 7
			}
		})
		return pieces
	}
	for range 2 {
		if got := number(); len(got) != 1 || got[0] != 0 {
			t.Errorf("pieces %v", got)
		}
	}
}
