package price_test

import (
	"testing"

	"nogging/internal/catalogue"
	"nogging/internal/price"
	"nogging/internal/table"
)

// FuzzList: whatever a price list holds, it is read without a panic, and every price
// that is taken is one that can be reckoned with.
func FuzzList(f *testing.F) {
	for _, seed := range []string{"code,price,unit\nCW75,1.63,m\n", "code;price;unit;currency\nCW75;1,63;100 m;EUR", "\xef\xbb\xbfcode\tprice\tunit\nUW75\t-1\tpack", "code,price,unit\n\"CW75,1"} {
		f.Add([]byte(seed), "")
	}
	r, _ := price.ReadRates("rates.yaml", []byte("currency: EUR"))
	cat := catalogue.Shipped()
	f.Fuzz(func(t *testing.T, data []byte, separator string) {
		rows, err := table.CSV(data, separator)
		if err != nil {
			return
		}
		l := price.NewList()
		l.Read("prices.csv", rows, r, cat)
		for _, id := range cat.IDs(catalogue.KindProfile) {
			if item, ok := l.Of(id); ok && (item.Price.IsNegative() || !item.Per.IsPositive() || item.Unit == "") {
				t.Fatalf("%+v", item)
			}
		}
	})
}

// FuzzRates: whatever a file of rates holds, a list can be read by it.
func FuzzRates(f *testing.F) {
	f.Add([]byte("currency: EUR\ncrew: [{name: fitter, count: 2, rate: 44.50}]\nlist: {decimal: comma, separator: \";\", articles: {\"4711\": CW75}}\n"), []byte("code;price;unit\n4711;1,63;m\n"))
	f.Add([]byte("currency: JPY\nmargin: -200\nplant: [{name: lift, cost: 1e999, per: week}]\n"), []byte("code,price,unit\nCW75,1e999,m\n"))
	cat := catalogue.Shipped()
	f.Fuzz(func(t *testing.T, rates, list []byte) {
		r, _ := price.ReadRates("rates.yaml", rates)
		rows, err := table.CSV(list, r.List.Separator)
		if err != nil {
			return
		}
		price.NewList().Read("prices.csv", rows, r, cat)
	})
}
