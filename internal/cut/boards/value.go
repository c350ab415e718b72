package boards

import (
	"context"

	"nogging/internal/catalogue"
	"nogging/internal/cut/sheet"
	"nogging/internal/layout"
)

// Need is what a wall takes of one board.
type Need struct {
	Board  string
	Pieces []sheet.Piece
}

// NeedsOf lists what a wall takes of each board that can be cut at all, in the order in
// which the boards first occur on it.
func NeedsOf(w *layout.Wall, cat *catalogue.Catalogue, pr *catalogue.Practice, o Options) []Need {
	var list []Need
	cutters := map[string]*cutter{}
	at := map[string]int{}
	eachPiece(w, func(board string, p Piece) {
		c := cutters[board]
		if c == nil {
			product, ok := cat.Board(board)
			if !ok {
				return // the layout has said so
			}
			c = &cutter{o: &o, product: product, limit: pr.BoardMaxLength.Value}
			cutters[board], at[board] = c, len(list)
			list = append(list, Need{Board: board})
		}
		if c.fits(&p) {
			n := &list[at[board]]
			n.Pieces = append(n.Pieces, p.Shape)
		}
	})
	return list
}

// Value returns the area of the boards, in square millimetres, that a first plan for
// pieces of one board takes. It is quick: for comparing many sets of pieces, and never
// less than what the best plan takes.
func Value(ctx context.Context, board string, pieces []sheet.Piece, cat *catalogue.Catalogue, pr *catalogue.Practice, o Options) (int64, error) {
	product, ok := cat.Board(board)
	if !ok || len(pieces) == 0 {
		return 0, nil
	}
	c := &cutter{o: &o, product: product, limit: pr.BoardMaxLength.Value}
	p := c.problem(0, nil)
	p.Pieces = pieces
	return sheet.Quick(ctx, p)
}
