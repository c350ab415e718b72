package sheet_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"nogging/internal/cut/bounded"
	"nogging/internal/cut/instances"
	"nogging/internal/cut/sheet"
)

// shared opens the public instances beside the repository.
func shared(t *testing.T) string {
	t.Helper()
	folder := filepath.Join("..", "..", "..", "..", "shared", "data", "gbp2d")
	if _, err := os.Stat(folder); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("the public cutting instances are missing: ", err)
		}
		t.Skip("the public cutting instances are not beside the repository")
	}
	return folder
}

// Instances: classes of 1987 and 1998; best-known values of
// three stages and lower bounds as their SOURCES file says.
func TestClasses(t *testing.T) {
	list, err := instances.ReadClasses(os.DirFS(shared(t)))
	if err != nil {
		t.Fatal(err)
	}
	if len(list) != 500 {
		t.Fatalf("%d instances where there are 500", len(list))
	}
	for i := 0; i < len(list); i += 17 {
		b := list[i]
		plan, err := sheet.Solve(context.Background(), b.Problem, 0)
		if err != nil {
			t.Fatal(err)
		}
		if err := sheet.Verify(b.Problem, plan); err != nil {
			t.Errorf("%s: %v", b.Name, err)
		}
		if plan.Bound > b.Best || plan.Cost < b.Bound || plan.Cost > b.Best+2+b.Best/15 {
			t.Errorf("%s: %d sheets with bound %d; known are %d and %d", b.Name, plan.Cost, plan.Bound, b.Best, b.Bound)
		}
	}
}

// Instances: cintra, 2008; best known of two stages. The bounds are those of
// the pattern programme, so ours have to be the same.
func TestSeveralSheets(t *testing.T) {
	list, err := instances.ReadSeveralSheets(os.DirFS(shared(t)))
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range list[:3] {
		plan, err := sheet.Solve(context.Background(), b.Problem, 1)
		if err != nil {
			t.Fatal(err)
		}
		if err := sheet.Verify(b.Problem, plan); err != nil {
			t.Errorf("%s: %v", b.Name, err)
		}
		if plan.Bound != b.Bound || plan.Cost < b.Bound || plan.Cost > b.Best+b.Best/100 {
			t.Errorf("%s: cost %d with bound %d; known are %d and %d", b.Name, plan.Cost, plan.Bound, b.Best, b.Bound)
		}
	}
}

// Instances: gcut, 1985, with unlimited copies; optima by the dynamic programme that
// their SOURCES file describes, made independently of this one.
func TestFillIsExact(t *testing.T) {
	list, err := instances.ReadValued(os.DirFS(shared(t)))
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range list {
		if v.Sheet.Width > 500 {
			continue // the large ones take seconds: see make bench-cut
		}
		for _, turn := range []bool{false, true} {
			best := v.Best
			for i := range v.Pieces {
				v.Pieces[i].Turn = turn
			}
			if turn {
				best = v.BestWhereTurned
			}
			root, worth, ok := sheet.Fill(v.Sheet, v.Pieces, v.Values)
			if !ok || worth != best {
				t.Errorf("%s, turned %t: %d, but %d is possible", v.Name, turn, worth, best)
				continue
			}
			cutAsSaid(t, v, root, worth)
		}
	}
}

// cutAsSaid checks the sheet of Fill as a plan that needs just the pieces that it makes.
func cutAsSaid(t *testing.T, v instances.Valued, root *sheet.Node, worth int64) {
	t.Helper()
	p := sheet.Problem{Stocks: []sheet.Stock{v.Sheet}, Stages: sheet.Free}
	for _, x := range v.Pieces {
		x.Count = 0
		p.Pieces = append(p.Pieces, x)
	}
	sum := int64(0)
	root.Walk(func(n *sheet.Node) {
		if n.Piece >= 0 {
			p.Pieces[n.Piece].Count++
			sum += v.Values[n.Piece]
		}
	})
	if err := sheet.Verify(p, sheet.Plan{Cuts: []sheet.Cut{{Root: root}}, Value: bounded.Value{Cost: 1, Bound: 1}}); err != nil || sum != worth {
		t.Errorf("%s: %v; the pieces are worth %d and said to be worth %d", v.Name, err, sum, worth)
	}
}
