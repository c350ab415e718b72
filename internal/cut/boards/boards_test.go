package boards_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/catalogue"
	"nogging/internal/cut/boards"
	"nogging/internal/cut/sheet"
	_ "nogging/internal/draws"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/plantest"
	"nogging/internal/quantity"
)

const mm = quantity.Millimetre

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

// panel is a wall of one face with pieces of these widths in millimetres, 2585 high.
func panel(id string, widths ...quantity.Length) *layout.Wall {
	w := &layout.Wall{ID: id, Level: "L0"}
	l := layout.Layer{Board: "GKB-12.5"}
	at := quantity.Length(0)
	for i, x := range widths {
		low, high := geom.Pt(at*mm, 0), geom.Pt((at+x)*mm, 2585*mm)
		l.Pieces = append(l.Pieces, layout.Piece{
			Number: i + 1, Board: l.Board, Outline: geom.Polygon{low, geom.Pt(high.X, 0), high, geom.Pt(low.X, high.Y)}, At: low, Width: x * mm, Height: 2585 * mm,
		})
		at += x
	}
	w.Faces = []layout.FaceLayout{{Face: plan.FaceA, Layers: []layout.Layer{l}}}
	return w
}

// By hand: the first zone takes a board of 1200 and one of which 500 are left; the
// second, of two pieces of 450, needs a board for one and that rest for the other, or
// one board for both: nothing is saved, so the rest stays. The third needs 450 and
// 800: with the rest, one board; without, two.
func TestOffcutsGoOnToZones(t *testing.T) {
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID("metric")
	walls := []*layout.Wall{panel("W3", 450, 800), panel("W2", 450, 450), panel("W1", 1200, 700)}
	zones, err := boards.Plan(context.Background(), walls, cat, pr, boards.Options{
		Zone: func(w *layout.Wall) string { return w.ID }, Order: []string{"W1", "W2", "W3"},
	})
	if err != nil {
		t.Fatal(err)
	}
	var bought []int
	for _, z := range zones {
		bought = append(bought, z.Boards[0].Bought())
		check(t, z.Boards[0])
	}
	if !slices.Equal(bought, []int{2, 1, 1}) {
		t.Fatalf("boards bought by zone: %v", bought)
	}
	first, third := zones[0].Boards[0], zones[2].Boards[0]
	if len(first.Offcuts) == 0 || len(third.Used) != 1 {
		t.Fatalf("%d offcuts are kept, %d used", len(first.Offcuts), len(third.Used))
	}
	f := third.Used[0]
	if f.Zone != "W1" || f.To != "W3" || f.Width != 500*mm || f.Stock.Width != 1200*mm || third.Sheets[f.ToSheet-1].Offcut != f || first.Sheets[f.Sheet-1].Offcut != nil {
		t.Errorf("used is %+v", f)
	}
	if third.Bound > third.Area()+1e-9 {
		t.Errorf("bound %g above what is bought, %g", third.Bound, third.Area())
	}
}

// Whatever goes on from zone to zone: an offcut is used once, later than it came off,
// whole as it was left; what is bought and used is what pieces, rests and waste make up.
func TestOffcutsAreUsedOnce(t *testing.T) {
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID("metric")
	rapid.Check(t, func(t *rapid.T) {
		var walls []*layout.Wall
		for i := range rapid.IntRange(2, 5).Draw(t, "zones") {
			widths := rapid.SliceOfN(rapid.SampledFrom([]quantity.Length{200, 300, 450, 500, 600, 700, 800, 1200}), 1, 6).Draw(t, "widths")
			walls = append(walls, panel(fmt.Sprint("W", i), widths...))
		}
		zones, err := boards.Plan(context.Background(), walls, cat, pr, boards.Options{Zone: func(w *layout.Wall) string { return w.ID }})
		if err != nil {
			t.Fatal(err)
		}
		at := map[*boards.Offcut]int{}
		marks := map[string]bool{}
		used := map[*boards.Offcut]bool{}
		for i, z := range zones {
			b := z.Boards[0]
			check(t, b)
			if b.Bound > b.Area()+1e-9 {
				t.Fatalf("%s: bound %g above what is bought, %g", z.ID, b.Bound, b.Area())
			}
			for _, f := range b.Offcuts {
				at[f] = i
				if marks[f.Mark] || f.Node.Width() != f.Width || f.Node.Height() != f.Length || f.Node.Piece >= 0 || len(f.Node.Parts) > 0 {
					t.Fatalf("%s: %+v", z.ID, f)
				}
				marks[f.Mark] = true
			}
			for k := range b.Sheets {
				f := b.Sheets[k].Offcut
				if f == nil {
					continue
				}
				if used[f] || at[f] >= i || f.To != z.ID || f.ToSheet != k+1 || b.Sheets[k].Width != f.Width || b.Sheets[k].Length != f.Length {
					t.Fatalf("%s: %+v is used for sheet %d", z.ID, f, k+1)
				}
				used[f] = true
			}
		}
		for f := range at {
			if used[f] != (f.To != "") {
				t.Fatalf("%+v", f)
			}
		}
	})
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
