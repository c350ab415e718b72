package sheets

import (
	"cmp"
	"math"
	"slices"

	"nogging/internal/drawing"
)

// placedDetail is where a detail stands on its sheet, and at which scale.
type placedDetail struct {
	detail *detail
	at     drawing.Point
	scale  scale
}

// sizedDetail is a detail before it has a number: only its size counts.
type sizedDetail struct {
	placedDetail
	w, h float64
}

func (d *sizedDetail) size() (float64, float64)           { return d.w, d.h }
func (d *sizedDetail) draw(*drawing.Scene, drawing.Point) {}

// anyNumber is as wide as the widest number of a detail.
const anyNumber = 888

// arrangeDetails gives every detail its place: kind by kind, each on as few sheets as
// can be found. On every sheet they stand in reading order, in which they are numbered
// then.
func (s *Set) arrangeDetails(list []*detail) [][]placedDetail {
	ps := &pages{field: drawing.A3.Field()}
	for from := 0; from < len(list); {
		to := from
		for to < len(list) && list[to].kind == list[from].kind {
			to++
		}
		ps = fullest(ps, s.sized(list[from:to], ps.field))
		from = to
	}
	var sheets [][]placedDetail
	for _, p := range ps.list {
		var on []placedDetail
		for _, pl := range p.placed {
			d := pl.block.(*sizedDetail).placedDetail
			d.at = pl.at
			on = append(on, d)
		}
		slices.SortFunc(on, func(a, b placedDetail) int {
			return cmp.Or(cmp.Compare(math.Round(a.at.Y), math.Round(b.at.Y)), cmp.Compare(a.at.X, b.at.X))
		})
		sheets = append(sheets, on)
	}
	return sheets
}

// sized measures details, at the smallest scale where a sheet takes no larger one.
func (s *Set) sized(list []*detail, field drawing.Rect) []*sizedDetail {
	var out []*sizedDetail
	for _, d := range list {
		d.number = anyNumber
		v := s.newDetailView(d, d.title(), d.subtitle(), 0)
		w, h := v.size()
		if w > field.Width() || h > field.Height() {
			v = s.newDetailView(d, d.title(), d.subtitle(), 4*s.units.detailScales()[1])
			w, h = v.size()
		}
		d.leads = map[scale][]lead{v.scale: v.leads}
		out = append(out, &sizedDetail{placedDetail{detail: d, scale: v.scale}, w, h})
	}
	return out
}

// openSheets is how many sheets back gaps are filled by the kinds that follow: far
// enough to fill them, and near enough that kinds stay together.
const openSheets = 6

// fullest adds details to sheets in several orders, and returns the fewest sheets, of
// equal ones those whose last is emptiest.
func fullest(ps *pages, list []*sizedDetail) *pages {
	var best *pages
	least := math.Inf(1)
	for _, by := range []func(a, b *sizedDetail) int{
		func(a, b *sizedDetail) int { return 0 },
		func(a, b *sizedDetail) int { return cmp.Or(cmp.Compare(b.h, a.h), cmp.Compare(b.w, a.w)) },
		func(a, b *sizedDetail) int { return cmp.Or(cmp.Compare(b.w, a.w), cmp.Compare(b.h, a.h)) },
		func(a, b *sizedDetail) int { return cmp.Compare(b.w*b.h, a.w*a.h) },
	} {
		sorted := slices.Clone(list)
		slices.SortStableFunc(sorted, by)
		try := ps.clone()
		try.first = max(0, len(try.list)-openSheets)
		for _, d := range sorted {
			try.add(d, false)
		}
		if used := float64(len(try.list)) + try.list[len(try.list)-1].depth(); used < least-1e-9 {
			best, least = try, used
		}
	}
	return best
}

// clone returns pages that can be filled without filling these.
func (ps *pages) clone() *pages {
	c := *ps
	c.list = nil
	for _, p := range ps.list {
		c.list = append(c.list, &page{p.field, slices.Clone(p.free), slices.Clone(p.placed)})
	}
	return &c
}

// depth returns the part of the sheet's height down to which blocks stand.
func (p *page) depth() float64 {
	low := p.field.Min.Y
	for _, pl := range p.placed {
		_, h := pl.block.size()
		low = max(low, pl.at.Y+h)
	}
	return (low - p.field.Min.Y) / p.field.Height()
}

// detailSheet puts the details of a sheet in their places.
func (s *Set) detailSheet(list []placedDetail) *page {
	p := newPage(drawing.A3.Field())
	for _, pl := range list {
		p.placed = append(p.placed, placement{s.newDetailView(pl.detail, pl.detail.title(), pl.detail.subtitle(), pl.scale), pl.at})
	}
	return p
}
