package price

import (
	"maps"
	"slices"

	"github.com/shopspring/decimal"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
)

// AddOwn takes over the prices of a user's catalogue for products of which no list has
// one, so that bids know what build-ups are chosen by.
func (l *List) AddOwn(cat *catalogue.Catalogue) {
	for i := range cat.Prices {
		p := &cat.Prices[i]
		product, ok := cat.Product(p.ID)
		if _, listed := l.items[p.ID]; !ok || listed {
			continue // labour and block walls, which no bid buys
		}
		l.items[p.ID] = &Item{Product: p.ID, Article: p.ID, Price: decimal.NewFromFloat(p.Price), Per: decimal.New(1, 0), Unit: plain(product.Unit), Place: finding.Place{File: "prices of the catalogue"}}
	}
}

// Into returns the catalogue with the list's prices as its own, so that build-ups are
// chosen and block walls compared by what bids are reckoned by: prices for the unit in
// which a product is measured, and an hour of the crew. A list goes before what the
// catalogue says.
func (l *List) Into(cat *catalogue.Catalogue, r *Rates) *catalogue.Catalogue {
	out := *cat
	out.Prices = slices.Clone(cat.Prices)
	set := func(id string, v decimal.Decimal) {
		out.Prices = slices.DeleteFunc(out.Prices, func(p catalogue.Price) bool { return p.ID == id })
		out.Prices = append(out.Prices, catalogue.Price{ID: id, Price: v.InexactFloat64()})
	}
	for _, id := range slices.Sorted(maps.Keys(l.items)) {
		i := l.items[id]
		if product, ok := cat.Product(id); ok && plain(product.Unit) == i.Unit {
			set(id, i.Price.DivRound(i.Per, quantityDigits))
		}
	}
	if hour, ok := r.hour(); ok {
		set(catalogue.LabourPrice, hour)
	}
	return &out
}
