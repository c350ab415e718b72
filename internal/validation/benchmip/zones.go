//go:build unix

package main

import (
	"fmt"
	"os"
	"slices"

	"pgregory.net/rapid"

	"nogging/internal/catalogue"
	"nogging/internal/cut/boards"
	"nogging/internal/cut/linear"
	"nogging/internal/cut/sheet"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/plantest"
	"nogging/internal/quantity"
)

// zone is what one zone needs, product by product.
type zone struct {
	name   string
	walls  int
	bars   []linear.Problem
	sheets []sheet.Problem
}

// seeds of the random storeys that are cut; each has a hundred pieces of board or more.
var seeds = []int{1, 2, 3, 5, 8, 13}

// zones lists ten: both levels of the demo, two floors of offices, random storeys.
func zones(demo string) ([]zone, error) {
	data, err := os.ReadFile(demo)
	if err != nil {
		return nil, err
	}
	p, _, _ := plan.Read(demo, data)
	p.Practice = "metric"
	list := zonesOf("clinic", p)
	list = append(list, zonesOf("offices", plantest.Offices(30))...)
	list = append(list, zonesOf("offices, larger", plantest.Offices(60))...)
	draw := rapid.Custom(plantest.Random)
	for i, seed := range seeds {
		p := draw.Example(seed)
		p.Practice = []string{"metric", "us"}[i%2]
		list = append(list, zonesOf(fmt.Sprintf("random %d", seed), p)...)
	}
	return list, nil
}

// zonesOf parts a plan's problems by level.
func zonesOf(name string, p *plan.Plan) []zone {
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID(p.Practice)
	laid := layout.Of(p, cat, pr)
	var list []zone
	for i := range p.Levels {
		var walls []*layout.Wall
		for _, w := range laid.Walls {
			if w.Level == p.Levels[i].ID {
				walls = append(walls, w)
			}
		}
		z := zone{name: name, walls: len(walls), bars: barProblems(walls, cat), sheets: sheetProblems(walls, cat, pr)}
		if len(p.Levels) > 1 {
			z.name += " " + p.Levels[i].ID
		}
		list = append(list, z)
	}
	return list
}

// barProblems are those of `nogging cut`: the members of each profile, from stock.
func barProblems(walls []*layout.Wall, cat *catalogue.Catalogue) []linear.Problem {
	var products []string
	needed := map[string]map[linear.Length]int{}
	for _, w := range walls {
		for i := range w.Members {
			m := &w.Members[i]
			if needed[m.Product] == nil {
				products = append(products, m.Product)
				needed[m.Product] = map[linear.Length]int{}
			}
			needed[m.Product][up(m.Cut)]++
		}
	}
	var list []linear.Problem
	for _, id := range products {
		product, ok := cat.Profile(id)
		if !ok {
			continue
		}
		var p linear.Problem
		for l, n := range needed[id] {
			p.Pieces = append(p.Pieces, linear.Piece{Length: l, Count: n})
		}
		slices.SortFunc(p.Pieces, func(a, b linear.Piece) int { return int(b.Length/unit - a.Length/unit) })
		for _, l := range product.Lengths {
			p.Stocks = append(p.Stocks, linear.Stock{Length: l, Cost: int64(l / quantity.Millimetre)})
		}
		list = append(list, p)
	}
	return list
}

// up rounds up to what both sides count in.
func up(l quantity.Length) quantity.Length { return (l + unit - 1) / unit * unit }

// sheetProblems are what both sides model alike: each piece as a rectangle that keeps
// its direction, without notches and factory edges, in two stages, first along the
// boards.
func sheetProblems(walls []*layout.Wall, cat *catalogue.Catalogue, pr *catalogue.Practice) []sheet.Problem {
	var products []string
	needed := map[string]map[[2]quantity.Length]int{}
	for _, w := range walls {
		for _, n := range boards.NeedsOf(w, cat, pr, boards.Options{}) {
			if needed[n.Board] == nil {
				products = append(products, n.Board)
				needed[n.Board] = map[[2]quantity.Length]int{}
			}
			for _, x := range n.Pieces {
				needed[n.Board][[2]quantity.Length{up(x.Width), up(x.Height)}]++
			}
		}
	}
	var list []sheet.Problem
	for _, id := range products {
		board, _ := cat.Board(id)
		p := sheet.Problem{Stages: 2, First: sheet.Upright}
		for size, n := range needed[id] {
			p.Pieces = append(p.Pieces, sheet.Piece{Width: size[0], Height: size[1], Count: n})
		}
		slices.SortFunc(p.Pieces, func(a, b sheet.Piece) int {
			if a.Height != b.Height {
				return int((b.Height - a.Height) / unit)
			}
			return int((b.Width - a.Width) / unit)
		})
		for i, l := range board.Lengths {
			if limit := pr.BoardMaxLength.Value; limit > 0 && l > limit && i > 0 {
				break
			}
			p.Stocks = append(p.Stocks, sheet.Stock{Width: board.Width, Height: l, Cost: int64(board.Width.Metres()*l.Metres()*10000 + 0.5)})
		}
		list = append(list, p)
	}
	return list
}
