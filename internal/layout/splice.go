package layout

import (
	"slices"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// splice cuts every upright that is longer than its profile is sold into pieces
// that lap each other by the practice's lap. The first splice of a line lies
// high, the next low, and so on by turns, so that neighbours are not weak at one
// height (common practice); of two boxed studs one is spliced high and one low.
func (w *wallLayout) splice() {
	if !w.anyTooLong() {
		return
	}
	w.sortMembers()
	var list []Member
	var low bool
	line := -1
	for _, m := range w.out.Members {
		stock := w.stock(&m)
		if m.Line != line {
			line, low = m.Line, false
		}
		if !m.Upright() || m.Cut <= stock || !w.maySplice(&m, stock) {
			list = append(list, m)
			continue
		}
		list = append(list, spliced(m, pieces(m.Cut, stock, w.lapOf(m.Product)), w.lapOf(m.Product), low)...)
		low = !low
	}
	w.out.Members = list
}

func (w *wallLayout) anyTooLong() bool {
	for i := range w.out.Members {
		if m := &w.out.Members[i]; m.Upright() && m.Cut > w.stock(m) {
			return true
		}
	}
	return false
}

// stock returns the greatest length in which a member's profile is sold.
func (w *wallLayout) stock(m *Member) Length {
	p := w.profile(m.Product)
	return p.Lengths[len(p.Lengths)-1]
}

// profile returns a profile of the wall's frame; its studs' where the catalogue
// does not know it.
func (w *wallLayout) profile(product string) *catalogue.Profile {
	if product != w.spec.Stud.ID {
		if p, ok := w.cat.Profile(product); ok {
			return p
		}
	}
	return w.spec.Stud
}

// lapOf returns the lap of the pieces of a spliced stud.
func (w *wallLayout) lapOf(product string) Length {
	p := w.profile(product)
	return max(w.pr.SpliceLap.Value, Length(w.pr.SpliceDepths.Value*float64(p.NominalDepth())))
}

// maySplice reports whether the practice lets the upright be spliced, and tells
// of those that it does not.
func (w *wallLayout) maySplice(m *Member, stock Length) bool {
	stiff := w.profile(m.Product).Kind == catalogue.OpeningStud
	lap := w.lapOf(m.Product)
	switch {
	case stiff && !w.pr.SpliceOpeningStuds.Value:
		w.findOnce(finding.Warning, "stud-longer-than-stock",
			words.F("needs %s %s mm long, %s mm longer than the longest that is sold, and the practice does not let stiff profiles be spliced", m.Product, mm(m.Cut), mm(m.Cut-stock)),
			"order it made to length, or set splice_opening_studs where the proof allows it")
		return false
	case 4*lap > stock:
		w.findOnce(finding.Warning, "stud-longer-than-stock",
			words.F("needs %s %s mm long; a lap of %s mm leaves too little of the longest that is sold, %s mm, to splice it", m.Product, mm(m.Cut), mm(lap), mm(stock)),
			"order it made to length, or add a longer stock length to the catalogue")
		return false
	}
	return true
}

// findOnce tells of something only the first time.
func (w *wallLayout) findOnce(s finding.Severity, code string, what, fix words.Text) {
	if !w.told(code) {
		w.find(s, code, what, fix)
	}
}

// toldOf reports whether something of a code has been told of an opening.
func (w *wallLayout) toldOf(code, opening string) bool {
	return slices.ContainsFunc(w.out.Findings, func(f finding.Finding) bool { return f.Code == code && f.Object == opening })
}

// told reports whether something of a code has been told of the wall.
func (w *wallLayout) told(code string) bool {
	for _, f := range w.out.Findings {
		if f.Code == code {
			return true
		}
	}
	return false
}

// pieces returns the lengths of the pieces of a spliced stud, from the end where
// the long pieces stand: as few as the stock allows, all but the last alike. The
// last piece is two laps long or more, and shorter than the others by a lap or
// more: turned over, the stud then has its laps clear of those of its neighbour.
func pieces(total, stock, lap Length) []Length {
	n := (total - lap + stock - lap - 1) / (stock - lap)
	long, last := stock, total-(n-1)*(stock-lap)
	if last > stock-lap {
		n++
		last = total - (n-1)*(stock-lap)
	}
	if last < 2*lap {
		// Rounded down, so that no piece exceeds the stock and the last takes the rest.
		step := (total - 2*lap) / (n - 1) / quantity.Millimetre * quantity.Millimetre
		long, last = step+lap, total-(n-1)*step
	}
	list := make([]Length, n)
	for i := range list {
		list[i] = long
	}
	list[n-1] = last
	return list
}

// spliced cuts an upright into pieces of the given lengths, the long ones at its
// foot so that the odd splice lies high, or at its head so that it lies low.
func spliced(m Member, lengths []Length, lap Length, low bool) []Member {
	n := len(lengths)
	list := make([]Member, n)
	z := m.From.Y
	for i := range list {
		l := lengths[i]
		if low {
			l = lengths[n-1-i]
		}
		p := m
		p.From.Y, p.To.Y, p.Cut = z, z+l, l
		if i > 0 {
			p.Lap = lap
		}
		p.Spliced = true
		list[i] = p
		z += l - lap
	}
	return list
}
