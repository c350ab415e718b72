// Package variation says what changes between two plans of a job: which walls are
// new, gone or changed and how, which parts of them stay as they are, and what that
// does to the order, the hours and the price, and to what was cut and delivered
// already.
//
// It takes both plans as laid out and ordered, their quotes where there are prices,
// and what was done so far, and gives the changes as values.
package variation

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/shopspring/decimal"

	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/order"
	"nogging/internal/plan"
	"nogging/internal/price"
	"nogging/internal/words"
)

// Side is one of the two plans. Quote is nil where there are no prices.
type Side struct {
	Plan   *plan.Plan
	Layout *layout.Project
	Order  *order.Order
	Work   []price.Work
	Quote  *price.Quote
}

// Kind says what became of a wall.
type Kind string

// What may become of a wall.
const (
	Added    Kind = "added"
	Removed  Kind = "removed"
	Changed  Kind = "changed"
	Affected Kind = "affected" // as it was in the plan, and built otherwise for what changed about it
)

// Report is what changes.
type Report struct {
	General  []Object      `json:"general,omitempty"` // what is changed beside walls
	Walls    []Wall        `json:"walls,omitempty"`
	Order    []OrderChange `json:"order,omitempty"` // only what changes, or was delivered
	Hours    Figures       `json:"hours"`
	Mass     Figures       `json:"mass"` // kg, of what is bought
	Price    *Price        `json:"price,omitempty"`
	Cut      []CutPart     `json:"cut,omitempty"` // parts cut already that are no longer as they were
	Findings finding.List  `json:"findings,omitempty"`
}

// Empty reports whether nothing changes.
func (r *Report) Empty() bool { return len(r.General)+len(r.Walls)+len(r.Order) == 0 }

// Object is something of the plan with its changes.
type Object struct {
	Kind    string   `json:"kind"` // level, build-up, structure, plan
	ID      string   `json:"id,omitempty"`
	What    Kind     `json:"what"`
	Changes []Change `json:"changes,omitempty"`
}

// Change is one value that changes; Old or New is empty where it is new or gone.
type Change struct {
	What string `json:"what"`
	Old  string `json:"old,omitempty"`
	New  string `json:"new,omitempty"`
}

// Wall is what becomes of one wall. Gone and Made are the parts that are no longer
// needed and those that are to be made; parts of the same size count as the same,
// whatever their marks.
type Wall struct {
	Wall    string   `json:"wall"`
	Was     string   `json:"was,omitempty"` // its old mark, where it has another
	Level   string   `json:"level"`
	Kind    Kind     `json:"kind"`
	Changes []Change `json:"changes,omitempty"`
	Hours   Figures  `json:"hours"`
	Kept    int      `json:"parts_kept"`
	Gone    []string `json:"parts_gone,omitempty"` // by their old marks
	Made    []string `json:"parts_made,omitempty"` // by their new marks
}

// Figures are a figure before and after.
type Figures struct {
	Old float64 `json:"old"`
	New float64 `json:"new"`
}

// Difference returns by how much the figure grows.
func (f Figures) Difference() float64 { return f.New - f.Old }

// OrderChange is one product in one size, in packs.
type OrderChange struct {
	Product   string     `json:"product"`
	Name      string     `json:"name"`
	Size      order.Size `json:"size,omitzero"`
	Pack      string     `json:"pack"`
	Old       int        `json:"old"`
	New       int        `json:"new"`
	Delivered int        `json:"delivered"`
	ToBuy     int        `json:"to_buy"` // of the new order, beyond what was delivered
	Over      int        `json:"over"`   // delivered and no longer needed
}

// Price is the effect on the price.
type Price struct {
	Currency   price.Currency `json:"currency"`
	Lines      []Amounts      `json:"lines"`
	Incomplete bool           `json:"incomplete,omitempty"`
}

// Amounts are an amount before and after.
type Amounts struct {
	Name       string          `json:"name"`
	Old        decimal.Decimal `json:"old"`
	New        decimal.Decimal `json:"new"`
	Difference decimal.Decimal `json:"difference"`
	Own        bool            `json:"own,omitempty"` // cost, which the bidder keeps to himself
}

// Of compares two plans. Done may be nil.
func Of(before, after Side, done *Done) *Report {
	c := &comparer{old: before, new: after, done: done, report: &Report{}}
	c.general()
	c.walls()
	c.order()
	c.figures()
	c.cut()
	return c.report
}

// comparer makes one report.
type comparer struct {
	old, new Side
	done     *Done
	report   *Report
	pairs    []pair
}

// pair is a wall before and after; either may be missing.
type pair struct{ old, new *plan.Wall }

// general compares what stands beside walls in the plans.
func (c *comparer) general() {
	c.object("plan", "", general(c.old.Plan), general(c.new.Plan))
	eachPair(c.old.Plan.Levels, c.new.Plan.Levels, func(l *plan.Level) string { return l.ID }, func(id string, a, b any) { c.object("level", id, a, b) })
	eachPair(c.old.Plan.BuildUps, c.new.Plan.BuildUps, func(l *plan.BuildUp) string { return l.ID }, func(id string, a, b any) { c.object("build-up", id, a, b) })
	eachPair(c.old.Plan.Structure, c.new.Plan.Structure, func(l *plan.Structure) string { return l.ID }, func(id string, a, b any) { c.object("structure", id, a, b) })
}

// general is what a plan says of all its walls.
func general(p *plan.Plan) any {
	return struct {
		Revision  string          `json:"revision"`
		Practice  string          `json:"practice"`
		Overrides plan.Overrides  `json:"overrides"`
		Catalogue []string        `json:"catalogue"`
		Junctions []plan.Junction `json:"junctions"`
	}{p.Project.Revision, p.Practice, p.Overrides, p.Catalogue, p.Junctions}
}

// object adds what changes of one object; a or b is nil where it is new or gone.
func (c *comparer) object(kind, id string, a, b any) {
	o := Object{Kind: kind, ID: id, What: Changed}
	switch {
	case a == nil:
		o.What = Added
	case b == nil:
		o.What = Removed
	default:
		if o.Changes = changes(a, b); len(o.Changes) == 0 {
			return
		}
	}
	c.report.General = append(c.report.General, o)
}

// eachPair visits the objects of two lists by their ids, the old ones first.
func eachPair[E any](before, after []E, id func(*E) string, visit func(id string, a, b any)) {
	at := map[string]*E{}
	for i := range after {
		at[id(&after[i])] = &after[i]
	}
	seen := map[string]bool{}
	for i := range before {
		key := id(&before[i])
		seen[key] = true
		if b := at[key]; b != nil {
			visit(key, &before[i], b)
		} else {
			visit(key, &before[i], nil)
		}
	}
	for i := range after {
		if key := id(&after[i]); !seen[key] {
			visit(key, nil, &after[i])
		}
	}
}

// match pairs the walls of both plans by their marks, and then those left by where
// they stand: a wall that only has another mark is the same wall.
func (c *comparer) match() {
	at := map[string]*plan.Wall{}
	for i := range c.new.Plan.Walls {
		at[c.new.Plan.Walls[i].ID] = &c.new.Plan.Walls[i]
	}
	taken := map[*plan.Wall]bool{}
	for i := range c.old.Plan.Walls {
		w := &c.old.Plan.Walls[i]
		c.pairs = append(c.pairs, pair{w, at[w.ID]})
		taken[at[w.ID]] = true
	}
	for i := range c.new.Plan.Walls {
		w := &c.new.Plan.Walls[i]
		if taken[w] {
			continue
		}
		k := slices.IndexFunc(c.pairs, func(p pair) bool {
			return p.new == nil && p.old != nil && p.old.Level == w.Level && slices.Equal(p.old.Line, w.Line)
		})
		if k < 0 {
			c.pairs = append(c.pairs, pair{nil, w})
			continue
		}
		c.pairs[k].new = w
	}
}

// walls says what becomes of every wall.
func (c *comparer) walls() {
	c.match()
	before, after := c.old.parts(), c.new.parts()
	hours := [2]map[string]float64{hoursOf(c.old.Work), hoursOf(c.new.Work)}
	for _, p := range c.pairs {
		var w Wall
		switch {
		case p.old == nil:
			w = Wall{Wall: p.new.ID, Level: p.new.Level, Kind: Added}
		case p.new == nil:
			w = Wall{Wall: p.old.ID, Level: p.old.Level, Kind: Removed}
		default:
			w = Wall{Wall: p.new.ID, Level: p.new.Level, Kind: Changed, Changes: wallChanges(p.old, p.new)}
			if p.old.ID != p.new.ID {
				w.Was = p.old.ID
			}
		}
		var a, b []part
		if p.old != nil {
			a, w.Hours.Old = before[p.old.ID], hours[0][p.old.ID]
		}
		if p.new != nil {
			b, w.Hours.New = after[p.new.ID], hours[1][p.new.ID]
		}
		w.Kept, w.Gone, w.Made = differ(a, b)
		if w.Kind == Changed && len(w.Changes) == 0 {
			if len(w.Gone)+len(w.Made) == 0 && w.Was == "" {
				continue
			}
			if w.Was == "" {
				w.Kind = Affected
			}
		}
		c.report.Walls = append(c.report.Walls, w)
	}
}

func hoursOf(work []price.Work) map[string]float64 {
	hours := map[string]float64{}
	for i := range work {
		hours[work[i].Wall] = work[i].Hours()
	}
	return hours
}

// order compares the orders and sets what was delivered against the new one.
func (c *comparer) order() {
	at := map[order.Key]int{}
	var list []OrderChange
	entry := func(l *order.Line) *OrderChange {
		i, ok := at[l.Key()]
		if !ok {
			i = len(list)
			at[l.Key()] = i
			list = append(list, OrderChange{Product: l.Product, Name: l.Name, Size: l.Size, Pack: l.Pack})
		}
		return &list[i]
	}
	for i := range c.old.Order.Lines {
		entry(&c.old.Order.Lines[i]).Old = c.old.Order.Lines[i].Packs
	}
	for i := range c.new.Order.Lines {
		entry(&c.new.Order.Lines[i]).New = c.new.Order.Lines[i].Packs
	}
	if c.done != nil {
		for i, d := range c.done.Delivered {
			if d.Packs < 1 {
				continue // told when it was read
			}
			if x := delivered(list, &d); x != nil {
				x.Delivered += d.Packs
				continue
			}
			c.report.Findings.Add(finding.Finding{Code: "delivered-unknown", Severity: finding.Warning, Object: d.Product, Path: fmt.Sprintf("delivered[%d]", i),
				What: "what was delivered stands in neither order", Fix: "write product, and length of bars and boards, as the order has them"})
		}
	}
	for _, x := range list {
		x.ToBuy, x.Over = max(x.New-x.Delivered, 0), max(x.Delivered-x.New, 0)
		if x.Old != x.New || x.Delivered > 0 {
			c.report.Order = append(c.report.Order, x)
		}
		if x.Over > 0 {
			c.report.Findings.Add(finding.Finding{Code: "delivered-over", Severity: finding.Warning, Object: x.Product,
				What: words.F("%d of %d packs delivered are no longer needed: %s %s", x.Over, x.Delivered, x.Name, x.Size), Fix: "send them back, or use them elsewhere"})
		}
	}
	slices.SortStableFunc(c.report.Order, func(a, b OrderChange) int {
		return cmp.Or(cmp.Compare(a.Product, b.Product), cmp.Compare(a.Size.Length, b.Size.Length))
	})
}

// delivered returns the line of which something was delivered; without a length
// there has to be only one of the product.
func delivered(list []OrderChange, d *Delivered) *OrderChange {
	var found *OrderChange
	for i := range list {
		x := &list[i]
		if x.Product != d.Product || d.Length != 0 && d.Length != x.Size.Length {
			continue
		}
		if found != nil {
			return nil
		}
		found = x
	}
	return found
}

// figures compares hours, mass and price.
func (c *comparer) figures() {
	r := c.report
	for i := range c.old.Work {
		r.Hours.Old += c.old.Work[i].Hours()
	}
	for i := range c.new.Work {
		r.Hours.New += c.new.Work[i].Hours()
	}
	r.Mass = Figures{c.old.Order.Mass, c.new.Order.Mass}
	a, b := c.old.Quote, c.new.Quote
	if a == nil || b == nil {
		return
	}
	r.Price = &Price{Currency: b.Currency, Incomplete: a.Incomplete() || b.Incomplete()}
	for _, x := range []struct {
		name     string
		old, new decimal.Decimal
		own      bool
	}{
		{"Material", a.Material, b.Material, true}, {"Labour", a.Labours, b.Labours, true}, {"Plant", a.Plants, b.Plants, true},
		{"Overhead, risk and margin", a.Net.Sub(a.Direct), b.Net.Sub(b.Direct), true},
		{"Net price", a.Net, b.Net, false}, {"Tax", a.Tax, b.Tax, false}, {"Total", a.Total, b.Total, false},
	} {
		r.Price.Lines = append(r.Price.Lines, Amounts{x.name, x.old, x.new, x.new.Sub(x.old), x.own})
	}
}

// Same reports whether the figure stays.
func (f Figures) Same() bool { return math.Abs(f.Difference()) < 0.005 }
