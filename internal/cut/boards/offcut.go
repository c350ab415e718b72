package boards

import (
	"cmp"
	"fmt"
	"slices"

	"nogging/internal/cut/sheet"
	"nogging/internal/quantity"
)

// OffcutsOf lists the offcuts of a sheet that are kept.
func (b *Board) OffcutsOf(sheet int) []*Offcut {
	var list []*Offcut
	for _, f := range b.Offcuts {
		if f.Sheet == sheet {
			list = append(list, f)
		}
	}
	return list
}

// Offcut is what is left of a sheet and kept: where it comes from, and where it goes.
type Offcut struct {
	Mark          string // on the offcut, unique among those of its product
	Zone          string // in which it is left
	Sheet         int    // number of the sheet there
	Width, Length Length
	Stock         Stock       // the board of which it once was, with Count 1
	To            string      // zone in which it is used; "" for none
	ToSheet       int         // number of the sheet there that it then is
	Node          *sheet.Node // of its sheet
	left, right   bool        // factory edges
}

// Origin says where the offcut comes from, as in R03 of L0, sheet 12.
func (f *Offcut) Origin() string { return fmt.Sprintf("%s of %s, sheet %d", f.Mark, f.Zone, f.Sheet) }

// Goal says where it goes, as in R03 to L1, sheet 7.
func (f *Offcut) Goal() string {
	if f.To == "" {
		return f.Mark + " to store"
	}
	return fmt.Sprintf("%s to %s, sheet %d", f.Mark, f.To, f.ToSheet)
}

// Area returns the area of the offcut in m².
func (f *Offcut) Area() float64 { return f.Width.Metres() * f.Length.Metres() }

// leastOffcut is the least side of an offcut that is kept where nothing else is said.
const leastOffcut = 300 * quantity.Millimetre

// stock is the offcuts of one product that lie ready.
type stock struct {
	list  []*Offcut
	marks int // given so far
}

// mostOffcuts bounds the offcuts among which is looked: the largest that give a piece.
const mostOffcuts = 40

// ready lists the offcuts that give a piece from one number on, the largest of them.
func (c *cutter) ready(from int) []*Offcut {
	var list []*Offcut
	for _, f := range c.store.list {
		if c.gives(f, from) {
			list = append(list, f)
		}
	}
	slices.SortStableFunc(list, func(a, b *Offcut) int { return cmp.Compare(b.Area(), a.Area()) })
	return list[:min(len(list), mostOffcuts)]
}

// gives reports whether an offcut gives some piece from one number on.
func (c *cutter) gives(f *Offcut, from int) bool {
	w, l := f.Width-2*c.o.Trim, f.Length-2*c.o.Trim
	return slices.ContainsFunc(c.out.Pieces[from:], func(x Piece) bool {
		p := &x.Shape
		return p.Width <= w && p.Height <= l && (!p.Left && !p.Right || f.left || f.right)
	})
}

// use takes an offcut from the store for a sheet.
func (c *cutter) use(s *Sheet, f *Offcut) {
	s.From, s.Offcut = f.Sheet, f
	f.To, f.ToSheet = c.zone, s.Number
	if f.Zone != c.zone {
		c.out.Used = append(c.out.Used, f)
	}
	c.store.list = slices.DeleteFunc(c.store.list, func(o *Offcut) bool { return o == f })
}

// keep puts the offcuts of a sheet aside.
func (c *cutter) keep(s *Sheet, from *sheet.Stock) {
	s.Root.Walk(func(n *sheet.Node) {
		if !c.o.Keeps(n) {
			return
		}
		c.store.marks++
		f := &Offcut{
			Mark: fmt.Sprintf("R%02d", c.store.marks), Zone: c.zone, Sheet: s.Number, Width: n.Width(), Length: n.Height(), Stock: s.Stock(), Node: n,
			left: from.Left && n.Min.X == 0, right: from.Right && n.Max.X == from.Width,
		}
		c.out.Offcuts = append(c.out.Offcuts, f)
		c.store.list = append(c.store.list, f)
	})
}

// Keeps reports whether a part of a sheet is an offcut worth keeping.
func (o *Options) Keeps(n *sheet.Node) bool {
	least := o.Offcut
	if least == 0 {
		least = leastOffcut
	}
	return n.Piece < 0 && len(n.Parts) == 0 && n.Width() >= least && n.Height() >= least
}
