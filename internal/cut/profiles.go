// Package cut turns laid-out walls into cutting plans. It takes walls, the
// catalogue and what a yard has and wants (kerf, offcuts, lengths made to order),
// and gives for each profile the bars to buy, what is cut from each, what is left,
// and a proven lower bound beside the length bought. The methods are in linear.
package cut

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"nogging/internal/catalogue"
	"nogging/internal/cut/bounded"
	"nogging/internal/cut/linear"
	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// Length is a length of steel.
type Length = quantity.Length

// Yard is how and from what profiles are cut. The zero value is a yard without a
// kerf, offcuts or lengths made to order, which keeps nothing; its zones are levels.
type Yard struct {
	Zone     func(*layout.Wall) string // nil: the level
	Order    []string                  // zones in the order in which they are built; others follow as their walls come
	Kerf     Length                    // lost at each cut between two pieces
	Trim     Length                    // cut off each end of a bar before anything else
	Keep     Length                    // shortest rest that is kept for reuse; 0: none is
	Offcuts  []Offcut
	Made     map[string]Made // by product: lengths that can be ordered to measure
	Effort   int64           // of each profile's search; 0: UsualEffort
	Solve    Solver          // nil: linear.SolveMade
	Discount int             // of an offcut against a new bar of its length, per cent; 0: UsualDiscount
}

// Solver cuts bars as linear.SolveMade does.
type Solver func(ctx context.Context, p linear.Problem, made linear.Made, effort int64) (linear.MadePlan, error)

// UsualEffort is enough elementary steps for a second or so.
const UsualEffort = 1_150_000_000

// UsualDiscount makes an offcut worth half of a new bar, so that it is used where it
// fits but not wasted (common practice in sawing yards).
const UsualDiscount = 50

// Offcut is a rest of a bar that is in store.
type Offcut struct {
	Product string `json:"product"`
	Length  Length `json:"length"`
	Count   int    `json:"count"`

	of *Kept // the rest of a bar of an earlier zone; nil where somebody brought it
}

// Kept is a rest that is kept for reuse: where it comes from, and where it goes.
type Kept struct {
	Mark  string `json:"mark"`             // on the rest, unique among those of its product
	Zone  string `json:"zone"`             // in which it is left
	Bar   int    `json:"bar"`              // number of the bar there
	Stock Length `json:"stock"`            // the bar as it was bought
	To    string `json:"to,omitempty"`     // zone in which it is used; "" for none
	ToBar int    `json:"to_bar,omitempty"` // number of the bar there
}

// Made is an offer of bars to measure: all of one length between Shortest and
// Longest, a multiple of Step, from Minimum bars on, at Percent of what stock costs
// for its length.
type Made struct {
	Shortest, Longest, Step Length
	Minimum, Percent        int
}

// linear returns the offer in the terms of the method; bars lose their trims.
func (m Made) linear(trim Length) linear.Made {
	return linear.Made{Shortest: m.Shortest, Longest: m.Longest, Step: m.Step, Trim: 2 * trim,
		Price: max(1, int64(m.Step/costed)*int64(m.Percent)/100), Minimum: m.Minimum}
}

// Source says where a bar comes from.
type Source string

// The sources of bars.
const (
	FromStock  Source = "stock"
	FromOffcut Source = "offcut"
	ToMeasure  Source = "made to measure"
)

// Piece is one member to cut: its wall and its mark on it.
type Piece struct {
	Wall   string      `json:"wall"`
	Mark   string      `json:"mark"`
	Role   layout.Role `json:"role"`
	Length Length      `json:"length"`
}

// Bar is one bar with the pieces cut from it, longest first.
type Bar struct {
	Source Source  `json:"source"`
	Length Length  `json:"length"`
	Pieces []Piece `json:"pieces"`
	Rest   Length  `json:"rest"`
	Kept   *Kept   `json:"kept,omitempty"` // the rest is long enough for reuse
	From   *Kept   `json:"from,omitempty"` // the bar is the rest of one of an earlier zone
}

// Profile is the cutting plan of one product. Bars stand in the order in which the
// walls are built that their first pieces are for.
type Profile struct {
	Product       string `json:"product"`
	Name          string `json:"name"`
	Bars          []Bar  `json:"bars"`
	Spare         []Bar  `json:"spare,omitempty"` // bought only to reach a least quantity
	Needed        Length `json:"needed"`          // sum of the pieces
	Bought        Length `json:"bought"`          // new bars
	Reused        Length `json:"reused,omitempty"`
	Kept          Length `json:"kept,omitempty"` // rests for reuse
	Waste         Length `json:"waste"`          // neither a piece nor kept
	bounded.Value        // micrometres bought, an offcut at its discount
}

// Zone is the cutting plans of one zone.
type Zone struct {
	ID       string       `json:"zone"`
	Profiles []Profile    `json:"profiles"`
	Findings finding.List `json:"-"`
}

// Zones cuts zone after zone in build order, each in the order of its walls. What one
// zone leaves for reuse, the next ones may use.
func Zones(ctx context.Context, walls []*layout.Wall, cat *catalogue.Catalogue, yard Yard) []Zone {
	ids, of := InZones(walls, yard.Zone, yard.Order)
	var out []Zone
	marks := map[string]int{}
	for _, id := range ids {
		z := Zone{ID: id}
		z.Profiles, z.Findings = Profiles(ctx, of[id], cat, yard)
		for j := range z.Profiles {
			yard.Offcuts = z.Profiles[j].left(id, yard.Offcuts, marks)
		}
		out = append(out, z)
	}
	return out
}

// InZones parts walls by zone. The ids stand in build order, as far as that is given,
// and then as the walls come.
func InZones(walls []*layout.Wall, zone func(*layout.Wall) string, order []string) (ids []string, of map[string][]*layout.Wall) {
	if zone == nil {
		zone = func(w *layout.Wall) string { return w.Level }
	}
	of = map[string][]*layout.Wall{}
	for _, w := range walls {
		id := zone(w)
		if of[id] == nil {
			ids = append(ids, id)
		}
		of[id] = append(of[id], w)
	}
	place := func(id string) int {
		if i := slices.Index(order, id); i >= 0 {
			return i
		}
		return len(order)
	}
	slices.SortStableFunc(ids, func(a, b string) int { return cmp.Compare(place(a), place(b)) })
	return ids, of
}

// left returns the offcuts in store after a plan was carried out in a zone; it marks
// those that it adds, and tells those that it used where they went.
func (p *Profile) left(zone string, store []Offcut, marks map[string]int) []Offcut {
	store = slices.Clone(store)
	all := slices.Concat(p.Bars, p.Spare)
	for i := range all {
		b := &all[i]
		if b.Source == FromOffcut {
			at := slices.IndexFunc(store, func(o Offcut) bool { return o.Product == p.Product && o.Length == b.Length && o.Count > 0 })
			store[at].Count--
			if b.From = store[at].of; b.From != nil {
				b.From.To, b.From.ToBar = zone, i+1
			}
		}
		if b.Kept != nil {
			marks[p.Product]++
			stock := b.Length
			if b.From != nil {
				stock = b.From.Stock
			}
			*b.Kept = Kept{Mark: fmt.Sprintf("R%02d", marks[p.Product]), Zone: zone, Bar: i + 1, Stock: stock}
			store = append(store, Offcut{p.Product, b.Rest, 1, b.Kept})
		}
	}
	p.Bars, p.Spare = all[:len(p.Bars):len(p.Bars)], all[len(p.Bars):]
	return slices.DeleteFunc(store, func(o Offcut) bool { return o.Count == 0 })
}

// exact is what lengths are rounded up to before they are laid on bars: finer cannot
// be cut.
const exact = quantity.Millimetre / 10

// costed is the length that costs one.
const costed = quantity.Millimetre / 1000

// Profiles cuts every member of the walls, which stand in build order. A product that
// cannot be cut is a finding, and the others are still planned. When ctx ends, the
// best plans so far are given.
func Profiles(ctx context.Context, walls []*layout.Wall, cat *catalogue.Catalogue, yard Yard) ([]Profile, finding.List) {
	needed := map[string][]Piece{}
	for _, w := range walls {
		for i := range w.Members {
			m := &w.Members[i]
			needed[m.Product] = append(needed[m.Product], Piece{w.ID, m.Mark(), m.Role, m.Cut})
		}
	}
	products := make([]string, 0, len(needed))
	for id := range needed {
		products = append(products, id)
	}
	slices.Sort(products)
	var plans []Profile
	var found finding.List
	for _, id := range products {
		product, ok := cat.Profile(id)
		if !ok {
			continue // the layout says so
		}
		plan, err := yard.cut(ctx, product, needed[id])
		if err != nil {
			found = append(found, unable(product, err))
			continue
		}
		plans = append(plans, plan)
	}
	return plans, found
}

func unable(product *catalogue.Profile, err error) finding.Finding {
	f := finding.Finding{Severity: finding.Error, Code: "cut-impossible", What: words.F("%s cannot be cut: %v", product.ID, err)}
	if errors.Is(err, linear.ErrNoStock) {
		f.Fix = "give the profile a longer stock length in the catalogue"
	}
	return f
}

// cut plans one product.
func (y *Yard) cut(ctx context.Context, product *catalogue.Profile, pieces []Piece) (Profile, error) {
	p, sources := y.problem(product, pieces)
	solve := y.Solve
	if solve == nil {
		solve = linear.SolveMade
	}
	plan, err := solve(ctx, p, y.Made[product.ID].linear(y.Trim), cmp.Or(y.Effort, UsualEffort))
	if err != nil {
		return Profile{}, err
	}
	out := Profile{Product: product.ID, Name: product.Name, Value: plan.Value}
	groups := byLength(pieces)
	for _, b := range plan.Bars {
		length, source := plan.Length, ToMeasure
		if b.Stock < len(p.Stocks) {
			length, source = p.Stocks[b.Stock].Length+2*y.Trim, sources[b.Stock]
		}
		for range b.Count {
			bar := Bar{Source: source, Length: length, Rest: length - 2*y.Trim}
			for _, u := range b.Uses {
				for range u.Count {
					bar.Pieces = append(bar.Pieces, groups[u.Piece][0])
					groups[u.Piece] = groups[u.Piece][1:]
				}
			}
			out.add(bar, y)
		}
	}
	order(out.Bars, pieces)
	return out, nil
}

// problem is what linear is asked; sources tells where each stock comes from.
func (y *Yard) problem(product *catalogue.Profile, pieces []Piece) (linear.Problem, []Source) {
	p := linear.Problem{Kerf: y.Kerf}
	for _, g := range byLength(pieces) {
		p.Pieces = append(p.Pieces, linear.Piece{Length: g[0].rounded(), Count: len(g)})
	}
	var sources []Source
	add := func(length Length, count, percent int, source Source) {
		if usable := length - 2*y.Trim; usable > 0 {
			cost := max(1, int64(length/costed)*int64(percent)/100)
			p.Stocks = append(p.Stocks, linear.Stock{Length: usable, Cost: cost, Count: count})
			sources = append(sources, source)
		}
	}
	for _, o := range y.Offcuts {
		if o.Product == product.ID && o.Count > 0 {
			add(o.Length, o.Count, 100-cmp.Or(y.Discount, UsualDiscount), FromOffcut)
		}
	}
	for _, l := range product.Lengths {
		add(l, 0, 100, FromStock)
	}
	return p, sources
}

func (p Piece) rounded() Length { return (p.Length + exact - 1) / exact * exact }

// byLength groups pieces that are cut alike, the longest first, each group in the
// order of the pieces.
func byLength(pieces []Piece) [][]Piece {
	sorted := slices.Clone(pieces)
	slices.SortStableFunc(sorted, func(a, b Piece) int { return cmp.Compare(b.rounded(), a.rounded()) })
	var groups [][]Piece
	for _, p := range sorted {
		if n := len(groups) - 1; n >= 0 && groups[n][0].rounded() == p.rounded() {
			groups[n] = append(groups[n], p)
			continue
		}
		groups = append(groups, []Piece{p})
	}
	return groups
}

// add takes a bar into the plan and its sums. The cut that frees a kept rest costs
// a kerf too.
func (p *Profile) add(b Bar, y *Yard) {
	cut := Length(0)
	for _, x := range b.Pieces {
		cut += x.Length
	}
	b.Rest -= cut + Length(max(len(b.Pieces)-1, 0))*y.Kerf
	p.Needed += cut
	if b.Source == FromOffcut {
		p.Reused += b.Length
	} else {
		p.Bought += b.Length
	}
	p.Waste += b.Length - cut
	if y.Keep > 0 && b.Rest-y.Kerf >= y.Keep {
		b.Kept = &Kept{}
		b.Rest -= y.Kerf
		p.Kept += b.Rest
		p.Waste -= b.Rest
	}
	if len(b.Pieces) == 0 {
		p.Spare = append(p.Spare, b)
		return
	}
	p.Bars = append(p.Bars, b)
}

// order sorts bars by when the first of their pieces is built.
func order(bars []Bar, pieces []Piece) {
	at := map[Piece]int{}
	for i, p := range pieces {
		at[p] = i
	}
	first := func(b Bar) int {
		n := len(pieces)
		for _, p := range b.Pieces {
			n = min(n, at[p])
		}
		return n
	}
	slices.SortStableFunc(bars, func(a, b Bar) int { return cmp.Compare(first(a), first(b)) })
}
