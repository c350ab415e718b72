// Package price turns an order and the work on walls into what a job costs and what
// is asked for it.
//
// It takes a laid-out and measured plan with its order, the prices that a firm pays
// as its own lists give them, and the firm's rates; the norms of the work are the
// catalogue's. It gives every amount with its quantity and price, and a schedule by
// level and wall type whose columns sum to the totals exactly.
//
// Money is decimal, and rounded as Rounding says. A price that is missing is a
// finding, and the total is then said to be incomplete; nothing is guessed.
package price

import (
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/order"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/takeoff"
	"nogging/internal/words"
)

// Input is what a quote is made of.
type Input struct {
	Plan      *plan.Plan
	Layout    *layout.Project
	Takeoff   *takeoff.Project
	Catalogue *catalogue.Catalogue
	Order     *order.Order
	List      *List
	Rates     *Rates
}

// Quote is what a job costs and what is asked for it. Amounts are in Currency.
type Quote struct {
	Currency  Currency       `json:"currency"`
	Rounding  string         `json:"rounding"`
	Materials []MaterialLine `json:"materials"`
	Labour    []LabourLine   `json:"labour"`
	Plant     []PlantLine    `json:"plant"`
	Schedule  []Row          `json:"schedule"`
	Totals
	Missing  []string     `json:"missing,omitempty"` // what has no price
	LeftOut  []string     `json:"left_out,omitempty"`
	Work     []Work       `json:"work"`
	Findings finding.List `json:"findings,omitempty"`
}

// Incomplete reports whether something has no price, so that the totals are short.
func (q *Quote) Incomplete() bool { return len(q.Missing) > 0 }

// Totals are the sums of a quote.
type Totals struct {
	Hours    decimal.Decimal `json:"hours"`
	Material decimal.Decimal `json:"material_total"`
	Labours  decimal.Decimal `json:"labour_total"`
	Plants   decimal.Decimal `json:"plant_total"`
	Direct   decimal.Decimal `json:"direct_cost"`
	Overhead decimal.Decimal `json:"overhead"`
	Risk     decimal.Decimal `json:"risk"`
	Margin   decimal.Decimal `json:"margin"`
	Net      decimal.Decimal `json:"net"`
	Tax      decimal.Decimal `json:"tax"`
	Total    decimal.Decimal `json:"total"`
}

// MaterialLine is one line of the order with its price.
type MaterialLine struct {
	Product  string          `json:"product"`
	Name     string          `json:"name"`
	Size     string          `json:"size,omitempty"`
	Supplier string          `json:"supplier,omitempty"`
	Quantity decimal.Decimal `json:"quantity"` // in Unit
	Unit     string          `json:"unit"`
	Price    decimal.Decimal `json:"price"` // of Per units
	Per      decimal.Decimal `json:"per"`
	Amount   decimal.Decimal `json:"amount"`
}

// LabourLine is one step of the work over all walls.
type LabourLine struct {
	Operation string          `json:"operation"`
	Name      string          `json:"name"`
	Quantity  float64         `json:"quantity"`
	Unit      string          `json:"unit"`
	Norm      float64         `json:"norm"` // minutes a unit
	Status    quantity.Status `json:"status"`
	Hours     decimal.Decimal `json:"hours"` // with what makes walls slower
	Rate      decimal.Decimal `json:"rate"`
	Amount    decimal.Decimal `json:"amount"`
}

// PlantLine is plant with its price.
type PlantLine struct {
	Name     string          `json:"name"`
	Quantity decimal.Decimal `json:"quantity"`
	Unit     string          `json:"unit"`
	Cost     decimal.Decimal `json:"cost"`
	Amount   decimal.Decimal `json:"amount"`
}

// Row is the walls of one type on one level. Net is what is asked for them.
type Row struct {
	Level     string          `json:"level"`
	BuildUp   string          `json:"build_up"`
	Walls     int             `json:"walls"`
	Length    float64         `json:"length"` // m
	Area      float64         `json:"area"`   // m², with openings
	Hours     float64         `json:"hours"`
	Material  decimal.Decimal `json:"material"`
	Labour    decimal.Decimal `json:"labour"`
	Plant     decimal.Decimal `json:"plant"`
	Surcharge decimal.Decimal `json:"surcharge"` // overhead, risk and margin
	Net       decimal.Decimal `json:"net"`
	Rate      decimal.Decimal `json:"rate"` // Net by Area, rounded; the amount decides
}

// Of prices a job.
func Of(in Input) *Quote {
	q := &quoter{Input: in, Quote: &Quote{Currency: in.Rates.Currency, Rounding: Rounding}, amounts: map[string]decimal.Decimal{}}
	q.schedule()
	q.materials()
	q.labour()
	q.plant()
	q.sum()
	q.share()
	q.tell()
	return q.Quote
}

// quoter makes one quote.
type quoter struct {
	Input
	*Quote
	cells   []cell
	amounts map[string]decimal.Decimal // of materials by product
}

// cell is what a row of the schedule is reckoned from.
type cell struct {
	products map[string]float64
	minutes  map[string]float64
}

// leaves reports whether others supply a product.
func (q *quoter) leaves(p *catalogue.Product) bool {
	return slices.Contains(q.Rates.LeaveOut, p.ID) || slices.ContainsFunc(p.Kinds, func(k string) bool { return slices.Contains(q.Rates.LeaveOut, k) })
}

// schedule parts walls by level and type, in the order of the plan, and reckons the
// work on each.
func (q *quoter) schedule() {
	type key struct{ level, buildUp string }
	at := map[key]int{}
	for i, w := range q.Layout.Walls {
		k := key{w.Level, w.BuildUp}
		n, ok := at[k]
		if !ok {
			n = len(q.cells)
			at[k] = n
			q.cells = append(q.cells, cell{products: map[string]float64{}, minutes: map[string]float64{}})
			q.Schedule = append(q.Schedule, Row{Level: w.Level, BuildUp: w.BuildUp})
		}
		c, row := &q.cells[n], &q.Schedule[n]
		lines := q.Takeoff.Walls[i].Lines
		work := WorkOn(w, lines, q.Catalogue, q.Rates.Night, q.leaves)
		q.Work = append(q.Work, work)
		row.Walls++
		row.Hours += work.Hours()
		for _, t := range work.Tasks {
			c.minutes[t.Operation] += t.Minutes
		}
		for _, l := range lines {
			switch {
			case l.Group == takeoff.Walls && l.Unit == takeoff.Metre:
				row.Length += l.Quantity
			case l.Group == takeoff.Walls && strings.HasSuffix(l.Code, " gross"):
				row.Area += l.Quantity
			default:
				c.products[l.Code] += l.Quantity
			}
		}
	}
	q.sortRows()
}

// sortRows puts the schedule, and what it is reckoned from, in the order of the
// plan's levels and build-ups.
func (q *quoter) sortRows() {
	levels, builds := map[string]int{}, map[string]int{}
	for i := range q.Plan.Levels {
		levels[q.Plan.Levels[i].ID] = i
	}
	for i := range q.Plan.BuildUps {
		builds[q.Plan.BuildUps[i].ID] = i
	}
	order := make([]int, len(q.Schedule))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		x, y := &q.Schedule[a], &q.Schedule[b]
		if d := levels[x.Level] - levels[y.Level]; d != 0 {
			return d
		}
		return builds[x.BuildUp] - builds[y.BuildUp]
	})
	rows, cells := make([]Row, len(order)), make([]cell, len(order))
	for i, k := range order {
		rows[i], cells[i] = q.Schedule[k], q.cells[k]
	}
	q.Schedule, q.cells = rows, cells
}

// materials prices the order.
func (q *quoter) materials() {
	for i := range q.Order.Lines {
		l := &q.Order.Lines[i]
		p, _ := q.Catalogue.Product(l.Product)
		if q.leaves(&p) {
			if !slices.Contains(q.LeftOut, l.Name) {
				q.LeftOut = append(q.LeftOut, l.Name)
			}
			continue
		}
		m := MaterialLine{Product: l.Product, Name: l.Name, Size: l.Size.String()}
		item, ok := q.List.Of(l.Product)
		if !ok {
			q.noPrice(l.Product, l.Name, "no price list has it")
			q.Materials = append(q.Materials, m)
			continue
		}
		n, ok := quantityFor(l, item.Unit)
		if !ok {
			q.noPrice(l.Product, l.Name, fmt.Sprintf("its price in %s is for %s, and it is bought by %s or pack", item.Place, item.Unit, plain(l.Unit)))
		}
		m.Supplier, m.Quantity, m.Unit, m.Price, m.Per = item.Supplier, n, item.Unit, item.Price, item.Per
		m.Amount = q.Currency.Round(n.Mul(item.Price).DivRound(item.Per, 16))
		q.amounts[l.Product] = q.amounts[l.Product].Add(m.Amount)
		q.Material = q.Material.Add(m.Amount)
		q.Materials = append(q.Materials, m)
	}
}

func plain(unit string) string { return strings.ReplaceAll(unit, "²", "2") }

// quantityFor returns how much is bought in the unit of a price.
func quantityFor(l *order.Line, unit string) (decimal.Decimal, bool) {
	switch {
	case unit == plain(l.Unit):
		return amountOf(l.Bought), true
	case unit == "pack":
		return decimal.NewFromInt(int64(l.Packs)), true
	case unit == takeoff.Pieces && l.In == takeoff.Pieces:
		return amountOf(l.Pieces()), true
	}
	return decimal.Zero, false
}

// noPrice says once for each product that it has no price.
func (q *quoter) noPrice(product, name, why string) {
	if slices.Contains(q.Missing, name) {
		return
	}
	q.Missing = append(q.Missing, name)
	q.Findings.Add(finding.Finding{Code: "price-missing", Severity: finding.Warning, Object: product,
		What: words.F("%s has no price: %s; the total is incomplete", name, why), Fix: "add it to a price list, or leave it out of the bid with leave_out in the rates file"})
}

// labour prices the work, step by step.
func (q *quoter) labour() {
	rate, ok := q.Rates.hour()
	if !ok {
		q.Missing = append(q.Missing, "labour")
		q.Findings.Add(finding.Finding{Code: "price-missing", Severity: finding.Warning, Object: "labour",
			What: "an hour of work has no price; the total is incomplete", Fix: "write a crew in the rates file, such as crew: [{name: fitter, count: 2, rate: 44.50}]"})
	}
	quantities, minutes := map[string]float64{}, map[string]float64{}
	for _, w := range q.Work {
		for _, t := range w.Tasks {
			quantities[t.Operation] += t.Quantity
			minutes[t.Operation] += t.Minutes
		}
	}
	for _, id := range catalogue.Operations() {
		o, ok := q.Catalogue.OperationFor(id)
		if !ok || quantities[id] <= 0 {
			continue
		}
		l := LabourLine{Operation: id, Name: o.Name, Quantity: quantities[id], Unit: o.Unit, Norm: o.Minutes, Status: o.Status, Hours: amountOf(minutes[id] / 60), Rate: rate}
		l.Amount = q.Currency.Round(l.Hours.Mul(rate))
		q.Labour = append(q.Labour, l)
		q.Hours = q.Hours.Add(l.Hours)
		q.Labours = q.Labours.Add(l.Amount)
	}
}

// plant prices plant.
func (q *quoter) plant() {
	area := 0.0
	for i := range q.Schedule {
		area += q.Schedule[i].Area
	}
	for _, p := range q.Rates.Plant {
		l := PlantLine{Name: p.Name, Cost: p.Cost.Decimal, Unit: p.Per, Quantity: decimal.NewFromInt(int64(max(p.Count, 1)))}
		switch p.Per {
		case PerHour:
			l.Quantity = l.Quantity.Mul(q.Hours)
		case PerArea:
			l.Quantity = l.Quantity.Mul(amountOf(area))
		}
		l.Amount = q.Currency.Round(l.Quantity.Mul(l.Cost))
		q.Plant = append(q.Plant, l)
		q.Plants = q.Plants.Add(l.Amount)
	}
}

// sum adds the surcharges and the tax.
func (q *quoter) sum() {
	c, r := q.Currency, q.Rates
	q.Direct = q.Material.Add(q.Labours).Add(q.Plants)
	q.Overhead = c.percent(q.Direct, r.Overhead.Decimal)
	q.Risk = c.percent(q.Direct, r.Risk.Decimal)
	cost := q.Direct.Add(q.Overhead).Add(q.Risk)
	q.Margin = c.percent(cost, r.Margin.Decimal)
	q.Net = cost.Add(q.Margin)
	q.Tax = c.percent(q.Net, r.Tax.Percent.Decimal)
	q.Total = q.Net.Add(q.Tax)
}

// share parts the amounts among the rows of the schedule: materials by what each
// row takes of them, work by its minutes, plant by area, surcharges by direct cost.
func (q *quoter) share() {
	if len(q.cells) == 0 {
		return
	}
	part := func(total decimal.Decimal, weight func(i int) decimal.Decimal, put func(*Row, decimal.Decimal)) {
		weights := make([]decimal.Decimal, len(q.cells))
		for i := range weights {
			weights[i] = weight(i)
		}
		for i, a := range q.Currency.Allocate(total, weights) {
			put(&q.Schedule[i], a)
		}
	}
	told := map[string]bool{}
	for _, m := range q.Materials {
		if !told[m.Product] {
			told[m.Product] = true
			part(q.amounts[m.Product], func(i int) decimal.Decimal { return amountOf(q.cells[i].products[m.Product]) }, func(r *Row, a decimal.Decimal) { r.Material = r.Material.Add(a) })
		}
	}
	for _, l := range q.Labour {
		part(l.Amount, func(i int) decimal.Decimal { return amountOf(q.cells[i].minutes[l.Operation]) }, func(r *Row, a decimal.Decimal) { r.Labour = r.Labour.Add(a) })
	}
	part(q.Plants, func(i int) decimal.Decimal { return amountOf(q.Schedule[i].Area) }, func(r *Row, a decimal.Decimal) { r.Plant = a })
	part(q.Net.Sub(q.Direct), func(i int) decimal.Decimal { return q.Schedule[i].direct() }, func(r *Row, a decimal.Decimal) { r.Surcharge = a })
	for i := range q.Schedule {
		r := &q.Schedule[i]
		r.Net = r.direct().Add(r.Surcharge)
		if r.Area > 0 {
			r.Rate = r.Net.DivRound(amountOf(r.Area), q.Currency.Digits())
		}
	}
}

func (r *Row) direct() decimal.Decimal { return r.Material.Add(r.Labour).Add(r.Plant) }

// tell says what the hours rest on.
func (q *quoter) tell() {
	estimated := 0
	for _, l := range q.Labour {
		if l.Status != quantity.Entered && l.Status != quantity.Published {
			estimated++
		}
	}
	if estimated > 0 {
		q.Findings.Add(finding.Finding{Code: "norms-assumed", Severity: finding.Assumed,
			What: words.F("%d of %d steps of the work are reckoned by norms that no source proves", estimated, len(q.Labour)),
			Fix:  "put your own minutes into a catalogue of your own under operations"})
	}
}
