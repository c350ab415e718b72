package boards_test

import (
	"context"
	"fmt"
	"testing"

	"nogging/internal/catalogue"
	"nogging/internal/cut/boards"
	"nogging/internal/cut/sheet"
	"nogging/internal/layout"
	"nogging/internal/plantest"
)

func offices(t testing.TB, walls int) ([]*layout.Wall, *catalogue.Catalogue, *catalogue.Practice) {
	t.Helper()
	p := plantest.Offices(walls)
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID(p.Practice)
	return layout.Of(p, cat, pr).Walls, cat, pr
}

func TestEveryPieceOnce(t *testing.T) {
	walls, cat, pr := offices(t, 100)
	for _, o := range []boards.Options{{}, {Effort: 10}, {Walls: 3}, {Stages: sheet.Free, Walls: 8}} {
		zones, err := boards.Plan(context.Background(), walls, cat, pr, o)
		if err != nil {
			t.Fatal(err)
		}
		for _, z := range zones {
			for _, b := range z.Boards {
				check(t, b)
				fmt.Println(o.Walls, z.ID, b.Product, len(b.Pieces), b.Bought(), b.Area(), b.Bound, b.Net(), b.Kept, len(b.Unmade))
			}
		}
	}
}

func check(t *testing.T, b boards.Board) {
	made := make([]int, len(b.Pieces))
	for _, s := range b.Sheets {
		s.Root.Walk(func(n *sheet.Node) {
			if n.Piece >= 0 {
				made[n.Piece]++
			}
		})
	}
	for i, n := range made {
		if n != 1 {
			t.Errorf("%s is made %d times", b.Pieces[i].Name(), n)
		}
	}
}
