package price_test

import (
	"testing"

	"nogging/internal/catalogue"
	"nogging/internal/price"
	"nogging/internal/table"
)

// Lists and the catalogue's own prices are one source: a list goes before, each fills the
// other's gaps, per 100 m counts as a hundredth for one, and prices by the piece are not
// taken for prices by the metre. The hour is the crew's mean: (52 + 2 x 43) / 3 = 46.
func TestOnePrice(t *testing.T) {
	cat := *catalogue.Shipped()
	cat.Prices = []catalogue.Price{{ID: "CW75", Price: 9}, {ID: "UW75", Price: 1.5}, {ID: catalogue.LabourPrice, Price: 60}, {ID: "BLOCK-AAC-100", Price: 30}}
	rates, found := price.ReadRates("rates.yaml", []byte("currency: EUR\ncrew: [{name: foreman, count: 1, rate: 52}, {name: fitter, count: 2, rate: 43}]\n"))
	if len(found) > 0 {
		t.Fatal(found)
	}
	var rows []table.Row
	for i, cells := range [][]string{{"code", "price", "unit"}, {"CW75", "210", "100 m"}, {"GKB-12.5", "3.20", "m2"}, {"CW100", "12", "pcs"}} {
		rows = append(rows, table.Row{Number: i + 1, Cells: cells})
	}
	l := price.NewList()
	if found := l.Read("list.csv", rows, rates, &cat); len(found) > 0 {
		t.Fatal(found)
	}
	l.AddOwn(&cat)
	if i, ok := l.Of("UW75"); !ok || i.Price.String() != "1.5" || i.Unit != "m" {
		t.Errorf("UW75 of the catalogue: %+v", i)
	}
	if i, _ := l.Of("CW75"); i.Price.String() != "210" {
		t.Errorf("CW75 of the list: %+v", i)
	}
	own := l.Into(&cat, rates)
	for id, want := range map[string]float64{"CW75": 2.1, "UW75": 1.5, "GKB-12.5": 3.2, catalogue.LabourPrice: 46, "BLOCK-AAC-100": 30} {
		if got, ok := own.PriceOf(id); !ok || got != want {
			t.Errorf("%s: %v, want %v", id, got, want)
		}
	}
	if _, ok := own.PriceOf("CW100"); ok {
		t.Error("a price by the piece is taken for one by the metre")
	}
	if len(cat.Prices) != 4 || cat.Prices[0].Price != 9 {
		t.Errorf("the catalogue itself has changed: %v", cat.Prices)
	}
}
