package price_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"nogging/internal/catalogue"
	_ "nogging/internal/draws"
	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/order"
	"nogging/internal/plan"
	"nogging/internal/plantest"
	"nogging/internal/price"
	"nogging/internal/quantity"
	"nogging/internal/table"
	"nogging/internal/takeoff"
	"nogging/internal/words"
)

const mm = quantity.Millimetre

func dec(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// handbook sets the reference wall out as handbooks measure it.
var handbook = plan.Overrides{"stud_spacing": 625, "stud_shortfall": 0, "board_shortfall": 0, "board_floor_gap": 0}

// reference is a wall of 4.00 x 2.75 m with so many layers a face.
func reference(layers int) *plan.Plan {
	return &plan.Plan{
		Levels: []plan.Level{{ID: "L0", ClearHeight: 2750 * mm}},
		BuildUps: []plan.BuildUp{{ID: "plain", Frame: plan.FrameSpec{Kind: plan.Single, Stud: "CW75"}, FaceA: slices.Repeat([]string{"GKB-12.5x1250"}, layers),
			Insulation: []plan.Insulation{{Product: "MW-60"}}, Finish: "Q2"}},
		Walls: []plan.Wall{{ID: "L0-01", Level: "L0", BuildUp: "plain", Start: plan.ToStructure, End: plan.ToStructure, Line: []plan.Pt{{}, {X: 4000 * mm}}}},
	}
}

func input(p *plan.Plan, list *price.List, rates *price.Rates, overrides plan.Overrides) price.Input {
	cat := catalogue.Shipped()
	base, _ := cat.PracticeByID("metric")
	pr, _ := base.With(overrides)
	l := layout.Of(p, cat, &pr)
	t := takeoff.Of(p, l, cat, &pr)
	o := order.Of(order.Input{Plan: p, Layout: l, Takeoff: t, Catalogue: cat, Practice: &pr})
	return price.Input{Plan: p, Layout: l, Takeoff: t, Catalogue: cat, Order: o, List: list, Rates: rates}
}

func rates(t *testing.T, text string) *price.Rates {
	t.Helper()
	r, found := price.ReadRates("rates.yaml", []byte(text))
	if len(found) > 0 {
		t.Fatal(found)
	}
	return r
}

func list(text string, r *price.Rates) (*price.List, finding.List) {
	l := price.NewList()
	rows, err := table.CSV([]byte(text), r.List.Separator)
	if err != nil {
		return l, finding.List{{What: words.Of(err.Error())}}
	}
	return l, l.Read("prices.csv", rows, r, catalogue.Shipped())
}

// TestByHand: 9 studs of 2.75 m at 1.63 a metre are 40.3425, 40.34; 3 tracks of 4 m
// at 142 for 100 m are 17.04; 7 boards of 3.4375 m² at 3.24 are 77.9625, 77.96; one
// box of screws is 12.505, which rounds up to 12.51, half away from zero. Plant is
// 11 m² at 0.455, 5.005, 5.01. 10 % on the direct cost and 5 % on the sum of both.
func TestByHand(t *testing.T) {
	r := rates(t, "currency: EUR\nplant: [{name: skips, cost: 0.455, per: m2}]\noverhead: 10\nmargin: 5\ntax: {name: VAT, percent: 19}\ncrew: [{name: a, count: 1, rate: 52}, {name: b, count: 2, rate: 43}]")
	l, found := list("code,price,unit\nCW75,1.63,m\nUW75,142,100 m\nGKB-12.5x1250,3.24,m2\nSP-3.5x25,12.505,box\n", r)
	if len(found) > 0 {
		t.Fatal(found)
	}
	q := price.Of(input(reference(1), l, r, handbook))
	for product, want := range map[string]string{"CW75": "40.34", "UW75": "17.04", "GKB-12.5x1250": "77.96", "SP-3.5x25": "12.51"} {
		i := slices.IndexFunc(q.Materials, func(m price.MaterialLine) bool { return m.Product == product })
		if got := q.Materials[i].Amount; !got.Equal(dec(want)) {
			t.Errorf("%s: %s, want %s", product, got, want)
		}
	}
	if !q.Material.Equal(dec("147.85")) || !q.Plants.Equal(dec("5.01")) {
		t.Errorf("material %s, plant %s", q.Material, q.Plants)
	}
	if rate := q.Labour[0].Rate; !rate.Equal(dec("46")) { // (52 + 2 x 43) / 3
		t.Errorf("an hour costs %s", rate)
	}
	overhead := q.Direct.Mul(dec("0.1")).Round(2)
	margin := q.Direct.Add(overhead).Mul(dec("0.05")).Round(2)
	net := q.Direct.Add(overhead).Add(margin)
	if !q.Direct.Equal(q.Labours.Add(dec("152.86"))) || !q.Net.Equal(net) || !q.Total.Equal(net.Add(net.Mul(dec("0.19")).Round(2))) {
		t.Errorf("%+v", q.Totals)
	}
	if !q.Incomplete() || !slices.Contains(q.Missing, "Glass wool 60 mm") || !told(q.Findings, "price-missing", "Glass wool 60 mm has no price") {
		t.Errorf("missing %v", q.Missing)
	}
}

// TestNorms: the norms of frame, boards, fill and joints add up to what estimators
// remember (from memory): 0.55 to 0.75 h/m² with one layer a face, 0.80 to 1.05
// with two.
func TestNorms(t *testing.T) {
	for layers, want := range map[int][2]float64{1: {0.55, 0.75}, 2: {0.80, 1.05}} {
		in := input(reference(layers), nil, nil, handbook)
		w := price.WorkOn(in.Layout.Walls[0], in.Takeoff.Walls[0].Lines, in.Catalogue, false, func(p *catalogue.Product) bool { return p.ID == "PAINT" })
		if got := w.Hours() / 11; got < want[0] || got > want[1] {
			t.Errorf("%d layers a face: %.3f h/m², want %v", layers, got, want)
		}
	}
}

// TestTasks: what the work on the reference wall with three layers is counted from. The
// inner layers' joints are three upright ones a face, and those at both ends and the
// soffit.
func TestTasks(t *testing.T) {
	in := input(reference(3), nil, nil, handbook)
	w := price.WorkOn(in.Layout.Walls[0], in.Takeoff.Walls[0].Lines, in.Catalogue, false, func(*catalogue.Product) bool { return true })
	want := map[string]float64{
		catalogue.SetOut: 4, catalogue.FixTrack: 8, catalogue.StandStud: 8, catalogue.BoardInner: 44, catalogue.BoardOuter: 22,
		catalogue.FillJoint: 2 * 2 * (3*2.75 + 2*2.75 + 4), catalogue.SealFrame: 2 * (4 + 2.75),
	}
	for _, task := range w.Tasks {
		if v, ok := want[task.Operation]; ok && math.Abs(v-task.Quantity) > 0.02*v {
			t.Errorf("%s: %v, want %v", task.Operation, task.Quantity, v)
		}
		delete(want, task.Operation)
		if o, _ := in.Catalogue.OperationFor(task.Operation); math.Abs(task.Minutes-task.Quantity*o.Minutes) > 1e-9 {
			t.Errorf("%s takes %v min", task.Operation, task.Minutes)
		}
		if task.Operation == catalogue.PaintFace {
			t.Error("paint is left out and worked on")
		}
	}
	if len(want) > 0 {
		t.Errorf("no %v", want)
	}
}

// TestSlowness: a wall of 4.5 m height and 4 m² at night takes the factors of high
// walls, small walls and night work multiplied; of two heights the greater counts.
func TestSlowness(t *testing.T) {
	p := reference(1)
	p.Levels[0].ClearHeight = 4500 * mm
	p.Walls[0].Line[1].X = 900 * mm
	in := input(p, nil, nil, nil)
	w := price.WorkOn(in.Layout.Walls[0], in.Takeoff.Walls[0].Lines, in.Catalogue, true, func(*catalogue.Product) bool { return false })
	if want := 1.25 * 1.2 * 1.25; math.Abs(w.Factor-want) > 1e-9 || len(w.Slowed) != 3 {
		t.Errorf("factor %v for %v, want %v", w.Factor, w.Slowed, want)
	}
	p = reference(1)
	p.Walls[0].Via = &plan.Pt{X: 2000 * mm, Y: 500 * mm}
	in = input(p, nil, nil, nil)
	w = price.WorkOn(in.Layout.Walls[0], in.Takeoff.Walls[0].Lines, in.Catalogue, false, func(*catalogue.Product) bool { return false })
	if math.Abs(w.Factor-1.6) > 1e-9 {
		t.Errorf("a curved wall has factor %v for %v", w.Factor, w.Slowed)
	}
}

// TestSums: whatever walls and prices, the columns of the schedule sum to the
// totals to the last unit of the currency, and every sum is the sum of its lines.
func TestSums(t *testing.T) {
	cat := catalogue.Shipped()
	rapid.Check(t, func(t *rapid.T) {
		currency := rapid.SampledFrom([]string{"EUR", "JPY", "KWD"}).Draw(t, "currency")
		percent := func(name string) string { return rapid.StringMatching(`[0-9]{1,2}\.[0-9]{0,2}5`).Draw(t, name) }
		r, found := price.ReadRates("rates.yaml", []byte(fmt.Sprintf("currency: %s\ncrew: [{name: a, count: 3, rate: 44.57}]\nplant: [{name: p, cost: 7.77, per: hour}, {name: q, cost: 0.33, per: m2}]\noverhead: %s\nrisk: %s\nmargin: %s\ntax: {name: T, percent: %s}",
			currency, percent("overhead"), percent("risk"), percent("margin"), percent("tax"))))
		if len(found) > 0 {
			t.Fatal(found)
		}
		in := input(plantest.Offices(rapid.IntRange(1, 10).Draw(t, "walls")), price.NewList(), r, nil)
		text := "code,price,unit\n"
		for _, l := range in.Order.Lines {
			if !strings.Contains(text, "\n"+l.Product+",") {
				text += fmt.Sprintf("%s,%s,pack\n", l.Product, rapid.StringMatching(`[0-9]{1,3}\.[0-9]{4}`).Draw(t, l.Product))
			}
		}
		rows, _ := table.CSV([]byte(text), "")
		if found := in.List.Read("p.csv", rows, r, cat); len(found) > 0 {
			t.Fatal(found)
		}
		q := price.Of(in)
		var s price.Row
		for _, x := range q.Schedule {
			s.Material, s.Labour, s.Plant, s.Surcharge, s.Net = s.Material.Add(x.Material), s.Labour.Add(x.Labour), s.Plant.Add(x.Plant), s.Surcharge.Add(x.Surcharge), s.Net.Add(x.Net)
			s.Hours += x.Hours
		}
		if !s.Material.Equal(q.Material) || !s.Labour.Equal(q.Labours) || !s.Plant.Equal(q.Plants) || !s.Net.Equal(q.Net) || !s.Surcharge.Equal(q.Overhead.Add(q.Risk).Add(q.Margin)) {
			t.Fatalf("rows make %+v, totals are %+v", s, q.Totals)
		}
		material := decimal.Zero
		for _, m := range q.Materials {
			material = material.Add(m.Amount)
		}
		if hours, _ := q.Hours.Float64(); !material.Equal(q.Material) || q.Incomplete() || math.Abs(hours-s.Hours) > 0.01 {
			t.Fatalf("lines make %s, %s in all; hours %s and %v; missing %v", material, q.Material, q.Hours, s.Hours, q.Missing)
		}
		digits := price.Currency(currency).Digits()
		for _, d := range []decimal.Decimal{q.Net, q.Tax, q.Total, q.Overhead, q.Schedule[0].Net} {
			if !d.Equal(d.Round(digits)) {
				t.Fatalf("%s is no amount of %s", d, currency)
			}
		}
	})
}

// TestAllocate: parts sum to the whole, none is off its exact share by a unit or
// more, and equal weights differ by a unit at most.
func TestAllocate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		total := decimal.New(rapid.Int64Range(-1_000_000, 1_000_000).Draw(t, "cents"), -2)
		var weights []decimal.Decimal
		sum := decimal.Zero
		for range rapid.IntRange(1, 9).Draw(t, "n") {
			w := decimal.New(rapid.Int64Range(0, 10_000).Draw(t, "weight"), -3)
			weights, sum = append(weights, w), sum.Add(w)
		}
		parts := price.Currency("EUR").Allocate(total, weights)
		back := decimal.Zero
		for i, p := range parts {
			back = back.Add(p)
			if sum.IsPositive() && p.Sub(total.Mul(weights[i]).Div(sum)).Abs().GreaterThanOrEqual(dec("0.01")) {
				t.Fatalf("part %d of %s is %s", i, total, p)
			}
		}
		if !back.Equal(total) {
			t.Fatalf("parts of %s make %s", total, back)
		}
	})
	if got := price.Currency("EUR").Allocate(dec("100"), []decimal.Decimal{dec("1"), dec("1"), dec("1")}); !got[0].Equal(dec("33.34")) || !got[2].Equal(dec("33.33")) {
		t.Errorf("%v", got)
	}
}

// TestCurrency: halves go away from zero; yen have no decimals and dinars three
// (ISO 4217).
func TestCurrency(t *testing.T) {
	for _, c := range []struct{ currency, amount, want string }{
		{"EUR", "2.675", "2.68"}, {"EUR", "-2.675", "-2.68"}, {"EUR", "1234567.004", "1 234 567.00"}, {"JPY", "1234.5", "1 235"}, {"KWD", "0.0005", "0.001"}, {"EUR", "-999.994", "-999.99"},
	} {
		if got := price.Currency(c.currency).Amount(price.Currency(c.currency).Round(dec(c.amount))); got != c.want {
			t.Errorf("%s %s: %s, want %s", c.currency, c.amount, got, c.want)
		}
	}
}

// TestColumns: columns are found by usual heads below a list's address, or by those
// of the rates file, with its separator, its decimal comma and its article numbers.
func TestColumns(t *testing.T) {
	r := rates(t, "currency: EUR\nlist: {code: Art.-Nr., price: Preis, unit: ME, supplier: Lieferant, decimal: comma, articles: {\"4711\": CW75}}")
	l, found := list("\xef\xbb\xbfList of spring;;;\n\nArt.-Nr.;Preis;ME;Lieferant\n4711;1.234,50;100 lm;Quay\n", r)
	item, ok := l.Of("CW75")
	if len(found) > 0 || !ok || !item.Price.Equal(dec("1234.5")) || !item.Per.Equal(dec("100")) || item.Unit != "m" || l.SupplierOf("CW75") != "Quay" || item.Place.Line != 4 {
		t.Errorf("%+v %v", item, found)
	}
}

// TestBadLists: every mistake in a list is told with file, row, column and what
// would mend it, and the other rows are read.
func TestBadLists(t *testing.T) {
	r := rates(t, "currency: EUR")
	for _, c := range []struct {
		rows, code, place, what string
		severity                finding.Severity
	}{
		{"article,cost,per\nCW75,1,m", "list-column", "prices.csv:1:1", "price: no column is called price, unit price, net price", finding.Error},
		{"code,price,unit\nCW75,1,m\nUW75,2,m\nCW75,3,m", "price-twice", "prices.csv:4:1", "CW75 is priced already in prices.csv:2:2", finding.Error},
		{"code,price,unit\nCW75,-1.20,m", "price-negative", "prices.csv:2:2", "-1.2 is below zero", finding.Error},
		{"code,price,unit,currency\nCW75,1.20,m,CHF", "price-currency", "prices.csv:2:4", "in CHF, the rates are in EUR", finding.Error},
		{"code,price,unit\nCW75,\"1,20\",m", "price-no-number", "prices.csv:2:2", `"1,20" is no price`, finding.Error},
		{"code,price,unit\nCW75,1e9,m", "price-no-number", "prices.csv:2:2", "is no price", finding.Error},
		{"code,price,unit\nCW75,,m", "price-missing", "prices.csv:2:2", "no price", finding.Error},
		{"code,price,unit\nCW75,1.20,furlong", "price-unit", "prices.csv:2:3", "furlong", finding.Error},
		{"code,price,unit\nX-99,1.20,m", "price-of-nothing", "prices.csv", "1 articles are no products", finding.Note},
		{"", "list-empty", "prices.csv", "no rows", finding.Error},
	} {
		_, found := list(c.rows, r)
		if len(found) != 1 || found[0].Code != c.code || found[0].Place.String() != c.place || !strings.Contains(found[0].What.String(), c.what) || found[0].Fix == "" || found[0].Severity != c.severity {
			t.Errorf("%q: %+v", c.rows, found)
		}
	}
	l, _ := list("code,price,unit\nCW75,-1.20,m\nUW75,1.25,m", r)
	if _, ok := l.Of("UW75"); !ok {
		t.Error("a wrong row stops those after it")
	}
}

// TestBadRates: mistakes in the rates file are told with their place.
func TestBadRates(t *testing.T) {
	for text, path := range map[string]string{
		"currency: Euro": "currency", "currency: EUR\noverhead: 120": "overhead", "currency: EUR\nmargin: -1": "margin", "currency: EUR\nrisk: lots": "risk",
		"currency: EUR\ncrew: [{name: a, count: 0, rate: 40}]": "crew[0]", "currency: EUR\ncrew: [{name: a, count: 1, rate: -4}]": "crew[0]",
		"currency: EUR\nplant: [{name: p, cost: 1, per: moon}]": "plant[0].per", "currency: EUR\nlist: {decimal: dot}": "list.decimal", "currency: EUR\nlist: {separator: ab}": "list.separator",
		"currency: EUR\nalternates: [{name: a, replace: {}}]": "alternates[0]", "currency: EUR\ntax: {name: T, percent: 200}": "tax.percent",
	} {
		_, found := price.ReadRates("rates.yaml", []byte(text))
		if len(found) != 1 || !strings.HasPrefix(found[0].Path, path) || found[0].Place.Line == 0 || found[0].Fix == "" {
			t.Errorf("%q: %+v", text, found)
		}
	}
}

// TestWrongUnit: a price by a unit that nothing is bought by counts as missing.
func TestWrongUnit(t *testing.T) {
	r := rates(t, "currency: EUR")
	l, _ := list("code,price,unit\nCW75,1.63,kg\n", r)
	q := price.Of(input(reference(1), l, r, handbook))
	if !told(q.Findings, "price-missing", "its price in prices.csv:2:2 is for kg, and it is bought by m or pack") {
		t.Errorf("%v", q.Findings)
	}
	if !told(q.Findings, "price-missing", "an hour of work has no price") || !told(q.Findings, "norms-assumed", "no source proves") {
		t.Errorf("%v", q.Findings)
	}
}

func told(found finding.List, code, words string) bool {
	return slices.ContainsFunc(found, func(f finding.Finding) bool { return f.Code == code && strings.Contains(f.What.String(), words) })
}
