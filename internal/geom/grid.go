package geom

import "slices"

// Grid finds things by place: each is filed under every cell that its bounds
// touch. Looking up visits each thing once, in the order in which it was
// added, so results do not depend on chance.
type Grid[T comparable] struct {
	cell  Length
	cells map[[2]int64][]int
	items []T
	boxes []Rect
}

// NewGrid returns an empty grid of square cells.
func NewGrid[T comparable](cell Length) *Grid[T] {
	return &Grid[T]{cell: cell, cells: map[[2]int64][]int{}}
}

// maxCells bounds the cells under which one thing is filed; what is larger is
// filed in a list that every look-up visits.
const maxCells = 4096

// everywhere is the cell of things too large for cells.
var everywhere = [2]int64{1 << 62, 1 << 62}

// Add files x under its bounds.
func (g *Grid[T]) Add(bounds Rect, x T) {
	i := len(g.items)
	g.items = append(g.items, x)
	g.boxes = append(g.boxes, bounds)
	file := func(c [2]int64) { g.cells[c] = append(g.cells[c], i) }
	if !g.each(bounds, file) {
		file(everywhere)
	}
}

// Each calls f for everything whose bounds touch r.
func (g *Grid[T]) Each(r Rect, f func(T)) {
	var hits []int
	visit := func(c [2]int64) {
		for _, i := range g.cells[c] {
			if g.boxes[i].Overlaps(r) {
				hits = append(hits, i)
			}
		}
	}
	if !g.each(r, visit) {
		for i, box := range g.boxes {
			if box.Overlaps(r) {
				f(g.items[i])
			}
		}
		return
	}
	visit(everywhere)
	slices.Sort(hits)
	for _, i := range slices.Compact(hits) {
		f(g.items[i])
	}
}

// each calls f for every cell that r touches; it reports false, having called
// nothing, when they are too many.
func (g *Grid[T]) each(r Rect, f func([2]int64)) bool {
	x0, x1 := floorDiv(r.Min.X, g.cell), floorDiv(r.Max.X, g.cell)
	y0, y1 := floorDiv(r.Min.Y, g.cell), floorDiv(r.Max.Y, g.cell)
	if (x1-x0+1) > maxCells || (y1-y0+1) > maxCells || (x1-x0+1)*(y1-y0+1) > maxCells {
		return false
	}
	for x := x0; x <= x1; x++ {
		for y := y0; y <= y1; y++ {
			f([2]int64{x, y})
		}
	}
	return true
}

func floorDiv(a, b Length) int64 {
	q := int64(a) / int64(b)
	if int64(a)%int64(b) < 0 {
		q--
	}
	return q
}
