// Package boards makes cutting plans for the boards of laid-out walls. It takes
// layouts in build order and gives, for each zone and board, the sheets with the tree
// of their cuts and the mark of every piece, the offcuts worth keeping, and the number
// of boards beside that of cutting each piece from a board of its own.
//
// Boards are scored and snapped: cuts run from edge to edge, without a kerf. A piece
// keeps the factory edges that its tapered and mixed joints want, lies along the grain
// of the paper, and gives the notches that it does not need to smaller pieces.
package boards

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"nogging/internal/catalogue"
	"nogging/internal/cut"
	"nogging/internal/cut/sheet"
	"nogging/internal/layout"
	"nogging/internal/quantity"
)

// Length is a length of a board.
type Length = quantity.Length

// Options say how boards are cut. The zero value cuts all walls of a level together,
// keeps offcuts from 300 mm on, and uses them in the levels that follow.
type Options struct {
	Kerf, Trim Length
	Stages     int                       // as of sheet.Problem
	Walls      int                       // walls that are cut together, in build order; 0 for all of a zone
	Offcut     Length                    // least width and height of an offcut that is kept; 0 for 300 mm
	Effort     int                       // as of sheet.Solve, for each board and group of walls
	Zone       func(*layout.Wall) string // nil: the level
	Order      []string                  // zones in the order in which they are built; others follow as their walls come
	Told       func(done, total int)     // is told after each product of each zone; may be nil
	Solve      Solver                    // nil: sheet.Solve
}

// Solver cuts sheets as sheet.Solve does; the plan is the caller's own.
type Solver func(ctx context.Context, p sheet.Problem, effort int) (sheet.Plan, error)

// Zone is the cutting plan of one zone: by default, of one level.
type Zone struct {
	ID     string
	Boards []Board
}

// Board is the cutting plan of one board product in a zone.
type Board struct {
	Product string
	Pieces  []Piece   // in build order
	Sheets  []Sheet   // in the order in which they are first needed
	Stocks  []Stock   // how many boards of each length are bought
	Plain   int       // boards, if every piece were cut from one of its own
	Bound   float64   // m² of boards that every plan takes at least
	Offcuts []*Offcut // that are kept, in the order in which they come off
	Used    []*Offcut // of earlier zones, that are cut up here
	Kept    float64   // m² in offcuts of this zone that nothing uses
	Unmade  []Piece   // that no board gives, such as pieces of a board that bends round a curve
}

// Stock is how many boards of one size are bought.
type Stock struct {
	Width, Length Length
	Count         int
}

// Bought returns the number of boards bought.
func (b *Board) Bought() int {
	n := 0
	for _, s := range b.Stocks {
		n += s.Count
	}
	return n
}

// Area returns the area of the boards bought in m².
func (b *Board) Area() float64 {
	a := 0.0
	for _, s := range b.Stocks {
		a += float64(s.Count) * s.Width.Metres() * s.Length.Metres()
	}
	return a
}

// Net returns the area of the pieces in m².
func (b *Board) Net() float64 {
	a := 0.0
	for i := range b.Pieces {
		a += b.Pieces[i].Net
	}
	return a
}

// Piece is one piece of board of a wall.
type Piece struct {
	Wall  string
	Mark  string // on its wall
	Shape sheet.Piece
	Net   float64 // m², without notches and holes
}

// Name returns the mark with its wall, as in L1-07/A1-03.
func (p *Piece) Name() string { return p.Wall + "/" + p.Mark }

// Sheet is one sheet as it is cut.
type Sheet struct {
	Number        int
	From          int     // number of the sheet whose offcut it is; 0 for a new board
	Offcut        *Offcut // which offcut of that sheet it is; nil for a new board
	Width, Length Length
	Root          *sheet.Node // its leaves name Board.Pieces
}

// Stock returns the board that the sheet is, or of which it once was a part, with Count
// 1.
func (s *Sheet) Stock() Stock {
	if s.Offcut != nil {
		return s.Offcut.Stock
	}
	return Stock{s.Width, s.Length, 1}
}

// Plan cuts the boards of walls, given in build order. The error is that of
// ctx.
func Plan(ctx context.Context, walls []*layout.Wall, cat *catalogue.Catalogue, pr *catalogue.Practice, o Options) ([]Zone, error) {
	if o.Offcut == 0 {
		o.Offcut = leastOffcut
	}
	if o.Solve == nil {
		o.Solve = sheet.Solve
	}
	ids, of := cut.InZones(walls, o.Zone, o.Order)
	zones, chains := inChains(ids, of, cat)
	told := teller{told: o.Told, total: countProducts(ids, of)}
	errs := make([]error, len(chains))
	each(len(chains), func(n int) {
		var store stock
		for _, l := range chains[n] {
			z := &zones[l.zone]
			c := cutter{ctx: ctx, o: &o, zone: z.ID, product: l.product, limit: pr.BoardMaxLength.Value, store: &store}
			if z.Boards[l.place], errs[n] = c.cut(of[z.ID]); errs[n] != nil {
				errs[n] = fmt.Errorf("%s, %s: %w", z.ID, l.product.ID, errs[n])
				return
			}
			told.one()
		}
	})
	if err := cmp.Or(errs...); err != nil {
		return nil, err
	}
	for i := range zones {
		for k := range zones[i].Boards {
			zones[i].Boards[k].sumKept()
		}
	}
	return zones, nil
}

// sumKept sums what is kept and not used.
func (b *Board) sumKept() {
	for _, f := range b.Offcuts {
		if f.To == "" {
			b.Kept += f.Area()
		}
	}
}

// countProducts counts the products of each zone.
func countProducts(ids []string, of map[string][]*layout.Wall) (n int) {
	for _, id := range ids {
		n += len(products(of[id]))
	}
	return n
}

// products lists the boards of walls as they first occur.
func products(walls []*layout.Wall) []string {
	var list []string
	for _, w := range walls {
		eachPiece(w, func(board string, _ Piece) {
			if !slices.Contains(list, board) {
				list = append(list, board)
			}
		})
	}
	return list
}

// cutter cuts one board product in one zone.
type cutter struct {
	ctx     context.Context
	o       *Options
	zone    string
	product *catalogue.Board
	limit   Length // longest board that may be used; 0 for any
	store   *stock
	out     Board
}

func (c *cutter) cut(walls []*layout.Wall) (Board, error) {
	c.out.Product = c.product.ID
	before := slices.Clone(c.store.list)
	size := c.o.Walls
	if size <= 0 {
		size = len(walls)
	}
	for group := range slices.Chunk(walls, size) {
		from := len(c.out.Pieces)
		for _, w := range group {
			eachPiece(w, func(board string, p Piece) {
				switch {
				case board != c.product.ID:
				case c.fits(&p):
					c.out.Pieces = append(c.out.Pieces, p)
				default:
					c.out.Unmade = append(c.out.Unmade, p)
				}
			})
		}
		if err := c.group(from); err != nil {
			return Board{}, err
		}
	}
	c.out.Plain = len(c.out.Pieces)
	return c.out, c.bound(before)
}

// bound sets the area that every plan buys at least, with the offcuts that lay ready.
func (c *cutter) bound(store []*Offcut) error {
	var ready []*Offcut
	for _, f := range store {
		if c.gives(f, 0) {
			ready = append(ready, f)
		}
	}
	p := c.problem(0, ready)
	least, err := sheet.Bound(p)
	for _, s := range p.Stocks[len(p.Stocks)-len(ready):] {
		least -= s.Cost
	}
	c.out.Bound = float64(max(least, 0)) / costOfMetre
	return err
}

// slack is by how much a piece may be narrower than a board and still be a whole one.
const slack = quantity.Millimetre

// fits reports whether some board gives a piece. One that keeps both edges is a whole
// board.
func (c *cutter) fits(p *Piece) bool {
	s, width := &p.Shape, c.product.Width
	if s.Left && s.Right {
		if width-s.Width >= slack {
			return false
		}
		s.Width = max(s.Width, width)
	}
	longest := Length(0)
	for i, l := range c.product.Lengths {
		if c.limit == 0 || l <= c.limit || i == 0 {
			longest = l
		}
	}
	trim := 2 * c.o.Trim
	return s.Width <= width-trim && s.Height <= longest-trim
}

// costOfMetre is the cost of a square metre of new board; offcuts cost little, so
// that they are used first.
const costOfMetre = 1_000_000

// problem states the pieces from one number on, and what they may be cut from.
func (c *cutter) problem(from int, offcuts []*Offcut) sheet.Problem {
	p := sheet.Problem{Kerf: c.o.Kerf, Trim: c.o.Trim, Stages: c.o.Stages}
	for i := range c.out.Pieces[from:] {
		p.Pieces = append(p.Pieces, c.out.Pieces[from+i].Shape)
	}
	for i, l := range c.product.Lengths {
		if c.limit > 0 && l > c.limit && i > 0 {
			break
		}
		p.Stocks = append(p.Stocks, sheet.Stock{Width: c.product.Width, Height: l, Left: true, Right: true, Cost: cost(c.product.Width, l)})
	}
	for _, f := range offcuts {
		p.Stocks = append(p.Stocks, sheet.Stock{Width: f.Width, Height: f.Length, Left: f.left, Right: f.right, Count: 1, Cost: max(1, cost(f.Width, f.Length)/20)})
	}
	return p
}

func cost(w, h Length) int64 { return max(1, int64(w.Metres()*h.Metres()*costOfMetre+0.5)) }

// group cuts the pieces from one number on, from new boards, and from offcuts where
// they save any.
func (c *cutter) group(from int) error {
	fresh, err := c.solved(c.problem(from, nil))
	if err != nil {
		return err
	}
	ready := c.ready(from)
	if len(ready) > 0 {
		p := c.problem(from, ready)
		plan, err := c.solved(p)
		if err != nil {
			return err
		}
		if n := len(p.Stocks) - len(ready); bought(p, plan, n) < fresh.Cost {
			c.take(from, p, plan, ready)
			return nil
		}
	}
	c.take(from, c.problem(from, nil), fresh, nil)
	return nil
}

// solved finds a plan, and checks it: nobody cuts by one that has not been.
func (c *cutter) solved(p sheet.Problem) (sheet.Plan, error) {
	plan, err := c.o.Solve(c.ctx, p, c.o.Effort)
	if err == nil {
		err = sheet.Verify(p, plan)
	}
	return plan, err
}

// bought returns what the new boards of a plan cost, which are the first stocks.
func bought(p sheet.Problem, plan sheet.Plan, fresh int) int64 {
	sum := int64(0)
	for _, x := range plan.Cuts {
		if x.Stock < fresh {
			sum += p.Stocks[x.Stock].Cost
		}
	}
	return sum
}

// take carries a plan out: sheets in the order in which they are first needed.
func (c *cutter) take(from int, p sheet.Problem, plan sheet.Plan, ready []*Offcut) {
	first := func(n *sheet.Node) int { // the first piece made of a sheet
		least := len(p.Pieces)
		n.Walk(func(n *sheet.Node) {
			if n.Piece >= 0 {
				least = min(least, n.Piece)
			}
		})
		return least
	}
	slices.SortStableFunc(plan.Cuts, func(a, b sheet.Cut) int { return first(a.Root) - first(b.Root) })
	fresh := len(p.Stocks) - len(ready)
	for _, x := range plan.Cuts {
		t := &p.Stocks[x.Stock]
		s := Sheet{Number: len(c.out.Sheets) + 1, Width: t.Width, Length: t.Height, Root: x.Root}
		s.Root.Walk(func(n *sheet.Node) {
			if n.Piece >= 0 {
				n.Piece += from
			}
		})
		if i := x.Stock - fresh; i >= 0 {
			c.use(&s, ready[i])
		} else {
			c.buy(s)
		}
		c.out.Sheets = append(c.out.Sheets, s)
		c.keep(&s, t)
	}
}

// buy counts a new board.
func (c *cutter) buy(s Sheet) {
	for i := range c.out.Stocks {
		if x := &c.out.Stocks[i]; x.Width == s.Width && x.Length == s.Length {
			x.Count++
			return
		}
	}
	c.out.Stocks = append(c.out.Stocks, Stock{s.Width, s.Length, 1})
}
