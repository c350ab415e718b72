package boards_test

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"

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
	walls, cat, pr := offices(t, 20)
	for _, o := range []boards.Options{{}, {Effort: 10}, {Walls: 3}, {Stages: sheet.Free, Walls: 8}} {
		zones, err := boards.Plan(context.Background(), walls, cat, pr, o)
		if err != nil {
			t.Fatal(err)
		}
		for _, z := range zones {
			for _, b := range z.Boards {
				check(t, b)
				if b.Area() < b.Bound-1e-6 || b.Area() < b.Net() || b.Bought() > b.Plain || b.Bought() == 0 || len(b.Unmade) > 0 {
					t.Errorf("%s: %d boards of %g m² with bound %g, net %g, plain %d, %d not made", b.Product, b.Bought(), b.Area(), b.Bound, b.Net(), b.Plain, len(b.Unmade))
				}
				if d := b.Net() - takenOff(walls, z.ID, b.Product); math.Abs(d) > 1e-6 {
					t.Errorf("%s: pieces differ from those laid out by %g m²", b.Product, d)
				}
			}
		}
	}
}

// takenOff sums the boards of a level as the layout has them.
func takenOff(walls []*layout.Wall, level, product string) float64 {
	sum := 0.0
	for _, w := range walls {
		if w.Level != level {
			continue
		}
		for _, f := range w.Faces {
			for _, l := range f.Layers {
				for i := range l.Pieces {
					if l.Pieces[i].Board == product {
						sum += l.Pieces[i].Area().SquareMetres()
					}
				}
			}
		}
		for i := range w.Caps {
			if w.Caps[i].Board == product {
				sum += w.Caps[i].Area().SquareMetres()
			}
		}
		for _, g := range w.Gussets {
			if g.Board == product {
				sum += g.Width.Metres() * g.Height.Metres()
			}
		}
	}
	return sum
}

func check(t interface{ Errorf(string, ...any) }, b boards.Board) {
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

// Offcuts go on to the walls that are built later, and only to those.
func TestOffcutsGoOn(t *testing.T) {
	walls, cat, pr := offices(t, 20)
	zones, err := boards.Plan(context.Background(), walls, cat, pr, boards.Options{Walls: 1})
	if err != nil {
		t.Fatal(err)
	}
	reused := 0
	for _, z := range zones {
		for _, b := range z.Boards {
			for _, s := range b.Sheets {
				if s.From == 0 {
					continue
				}
				reused++
				if s.From >= s.Number {
					t.Errorf("sheet %d is cut from the offcut of %d", s.Number, s.From)
				}
			}
		}
	}
	if reused == 0 {
		t.Error("no offcut is used")
	}
}

// A wall with a door: the piece over it keeps the edge that its tapered joint wants,
// and what the door leaves free of a piece is a notch.
func TestShapes(t *testing.T) {
	walls, cat, pr := offices(t, 20)
	zones, err := boards.Plan(context.Background(), walls, cat, pr, boards.Options{})
	if err != nil {
		t.Fatal(err)
	}
	notched, kept := 0, 0
	for _, b := range zones[0].Boards {
		for _, p := range b.Pieces {
			notches := 0.0
			for _, n := range p.Shape.Notches {
				notches += (n.Max.X - n.Min.X).Metres() * (n.Max.Y - n.Min.Y).Metres()
				notched++
			}
			if box := p.Shape.Width.Metres() * p.Shape.Height.Metres(); p.Net+notches > box+1e-6 {
				t.Errorf("%s: %g m² with notches of %g in a rectangle of %g", p.Name(), p.Net, notches, box)
			}
			if p.Shape.Left != p.Shape.Right {
				kept++
			}
		}
	}
	if notched == 0 || kept == 0 {
		t.Errorf("%d notches, %d pieces that keep one edge", notched, kept)
	}
}

// Whatever walls a plan has, its boards can be cut: Plan checks each cutting plan, and
// every piece is in it or said not to be made.
func TestRandomWalls(t *testing.T) {
	cat := catalogue.Shipped()
	rapid.Check(t, func(t *rapid.T) {
		p := plantest.Random(t)
		p.Practice = rapid.SampledFrom([]string{"metric", "us"}).Draw(t, "practice")
		pr, _ := cat.PracticeByID(p.Practice)
		walls := layout.Of(p, cat, pr).Walls
		zones, err := boards.Plan(context.Background(), walls, cat, pr, boards.Options{Walls: rapid.IntRange(0, 2).Draw(t, "walls together")})
		if err != nil {
			t.Fatal(err)
		}
		for _, z := range zones {
			for _, b := range z.Boards {
				check(t, b)
				net := b.Net()
				for i := range b.Unmade {
					net += b.Unmade[i].Net
				}
				if d := net - takenOff(walls, z.ID, b.Product); math.Abs(d) > 1e-6 {
					t.Fatalf("%s: pieces differ from those laid out by %g m²", b.Product, d)
				}
			}
		}
	})
}
