package sheets

import (
	"slices"

	"nogging/internal/drawing"
)

// block is something of fixed size that is put somewhere on a sheet.
type block interface {
	size() (width, height float64)
	draw(s *drawing.Scene, at drawing.Point)
}

// air is what is left free to the right of and below each block, in mm.
const air = 5.0

// page is a sheet that is being filled: what stands where, and the largest
// rectangles that are still free.
type page struct {
	field  drawing.Rect
	free   []drawing.Rect
	placed []placement
}

type placement struct {
	block block
	at    drawing.Point
}

func newPage(field drawing.Rect) *page {
	return &page{field: field, free: []drawing.Rect{field}}
}

// fit returns the highest, then leftmost free rectangle that takes the size.
func (p *page) fit(w, h float64) (drawing.Rect, bool) {
	best, found := drawing.Rect{}, false
	for _, r := range p.free {
		if r.Width() < w-1e-9 || r.Height() < h-1e-9 {
			continue
		}
		if !found || r.Min.Y < best.Min.Y || (r.Min.Y == best.Min.Y && r.Min.X < best.Min.X) {
			best, found = r, true
		}
	}
	return best, found
}

// put places a block in the corner of a free rectangle: the left one, or the
// right one for blocks that line up along the sheet's right edge.
func (p *page) put(b block, in drawing.Rect, right bool) {
	w, h := b.size()
	at := in.Min
	if right {
		at.X = in.Max.X - w
	}
	p.placed = append(p.placed, placement{b, at})
	used := drawing.NewRect(at.X, at.Y, w, h)
	used.Max = used.Max.Add(air, air)
	if right {
		used.Min.X -= air
	}
	p.take(used)
}

// take cuts a rectangle out of the free ones.
func (p *page) take(used drawing.Rect) {
	var next []drawing.Rect
	for _, f := range p.free {
		if !f.Overlaps(used) {
			next = append(next, f)
			continue
		}
		parts := []drawing.Rect{f, f, f, f}
		parts[0].Max.X = used.Min.X
		parts[1].Min.X = used.Max.X
		parts[2].Max.Y = used.Min.Y
		parts[3].Min.Y = used.Max.Y
		for _, part := range parts {
			if part.Width() > 1 && part.Height() > 1 {
				next = append(next, part)
			}
		}
	}
	p.free = nil
	for i, f := range next {
		inside := slices.ContainsFunc(next[:i], func(o drawing.Rect) bool { return o.Holds(f) }) ||
			slices.ContainsFunc(next[i+1:], func(o drawing.Rect) bool { return o.Holds(f) && o != f })
		if !inside {
			p.free = append(p.free, f)
		}
	}
}

// pages is a run of sheets that are filled together.
type pages struct {
	field  drawing.Rect
	banner *banner // across the top of every sheet; may be nil
	list   []*page
	first  int // sheets before this one take nothing more
}

// fresh returns a sheet with nothing but the banner on it.
func (ps *pages) fresh() *page {
	p := newPage(ps.field)
	if ps.banner != nil {
		p.put(ps.banner, ps.field, false)
	}
	return p
}

// add places a block on the first sheet that has room, or on a new one. It
// reports false, and places nothing, if the block is larger than a sheet.
func (ps *pages) add(b block, right bool) bool {
	w, h := b.size()
	for _, p := range ps.list[ps.first:] {
		if r, ok := p.fitRight(w, h); right && ok {
			p.put(b, r, true)
			return true
		}
		if r, ok := p.fit(w, h); ok {
			p.put(b, r, false)
			return true
		}
	}
	p := ps.fresh()
	r, ok := p.fit(w, h)
	if !ok {
		return false
	}
	ps.list = append(ps.list, p)
	p.put(b, r, false)
	return true
}

// takes reports whether a sheet that is already there has room for a block.
func (ps *pages) takes(b block) bool {
	w, h := b.size()
	return slices.ContainsFunc(ps.list[ps.first:], func(p *page) bool {
		_, ok := p.fit(w, h)
		return ok
	})
}

// addNotes places remarks: in a column's width, or wider and so lower where only
// that saves a sheet.
func (ps *pages) addNotes(title string, items []string, right bool) bool {
	for _, width := range []float64{column, 1.5 * column, 2*column + air} {
		if n := newNotes(title, items, width); ps.takes(n) {
			return ps.add(n, right)
		}
	}
	return ps.add(newNotes(title, items, column), right)
}

// fitRight returns the highest free rectangle at the sheet's right edge that
// takes the size.
func (p *page) fitRight(w, h float64) (drawing.Rect, bool) {
	best, found := drawing.Rect{}, false
	for _, r := range p.free {
		if r.Width() < w-1e-9 || r.Height() < h-1e-9 || r.Max.X < p.field.Max.X-1e-9 {
			continue
		}
		if !found || r.Min.Y < best.Min.Y {
			best, found = r, true
		}
	}
	return best, found
}

// fewRows is the least number of rows with which a table is begun on a sheet.
const fewRows = 3

// addTable flows a table over the free places, starting a new sheet where no
// place takes even a few rows. What is continued stands to the right of, or
// below, what went before.
func (ps *pages) addTable(t *drawing.Table, right bool) {
	last := spot{page: ps.first}
	for from := 0; from < len(t.Rows); {
		at, n := ps.roomFor(t, from, right, last)
		if n == 0 {
			p := ps.fresh()
			at = spot{page: len(ps.list), rect: p.free[len(p.free)-1]}
			n = t.Fitting(from, at.rect.Height())
			if n == 0 || at.rect.Width() < t.Width() {
				return // the table is wider than the sheet: no caller makes one
			}
			ps.list = append(ps.list, p)
		}
		p := ps.list[at.page]
		p.put(&tablePart{t, from, n}, at.rect, right && len(p.placed) > 0)
		last = at
		from += n
	}
}

// mostly is the share of a table's rows that has to fit on the sheets that are
// there for the table to begin on them.
const mostly = 0.7

// addWhole flows a table like addTable, but on new sheets unless most of it fits
// on those that are there.
func (ps *pages) addWhole(t *drawing.Table) {
	if _, n := ps.roomFor(t, 0, false, spot{page: ps.first}); float64(n) < mostly*float64(len(t.Rows)) {
		ps.first = len(ps.list)
	}
	ps.addTable(t, false)
}

// spot is a free place on one of the sheets.
type spot struct {
	page int
	rect drawing.Rect
}

// follows reports whether one reads a spot after another.
func (s spot) follows(o spot) bool {
	switch {
	case s.page != o.page:
		return s.page > o.page
	case s.rect.Min.X != o.rect.Min.X:
		return s.rect.Min.X > o.rect.Min.X
	}
	return s.rect.Min.Y >= o.rect.Min.Y
}

// roomFor returns the place that takes most rows, on the earliest sheet that
// takes a few.
func (ps *pages) roomFor(t *drawing.Table, from int, right bool, after spot) (spot, int) {
	few := min(fewRows, len(t.Rows)-from)
	for i := after.page; i < len(ps.list); i++ {
		var best drawing.Rect
		most := 0
		for _, r := range ps.list[i].free {
			if r.Width() < t.Width() {
				continue
			}
			if right {
				r.Min.X = r.Max.X - t.Width()
			}
			if !(spot{i, r}).follows(after) {
				continue
			}
			n := t.Fitting(from, r.Height())
			better := r.Min.X < best.Min.X
			if right {
				better = r.Max.X > best.Max.X
			}
			if n > most || (n == most && n > 0 && better) {
				best, most = r, n
			}
		}
		if most >= few {
			return spot{i, best}, most
		}
	}
	return spot{}, 0
}

// since leaves the sheets before the first that holds a block alone, so that
// what explains the block stands with it or after it.
func (ps *pages) since(b block) {
	for i, p := range ps.list {
		if slices.ContainsFunc(p.placed, func(pl placement) bool { return pl.block == b }) {
			ps.first = i
			return
		}
	}
}

// tablePart is some rows of a table.
type tablePart struct {
	table   *drawing.Table
	from, n int
}

func (t *tablePart) size() (float64, float64) {
	return t.table.Width(), t.table.Reach(t.n)
}

func (t *tablePart) draw(s *drawing.Scene, at drawing.Point) {
	t.table.Draw(s.Layer(drawing.Notes), at, t.from, t.n)
}
