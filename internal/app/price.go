package app

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"nogging/internal/document"
	"nogging/internal/exchange/xlsx"
	"nogging/internal/finding"
	"nogging/internal/order"
	"nogging/internal/plan"
	"nogging/internal/price"
	"nogging/internal/words"
)

// RatesFile is the name of the file of a firm's rates that is looked for beside its
// price lists.
const RatesFile = "rates.yaml"

// Prices is what a firm reckons with.
type Prices struct {
	List  *price.List
	Rates *price.Rates
}

// OpenPrices reads a firm's rates and its price lists, CSV files or workbooks, and
// adds what it finds to the job. The error says that a file could not be read.
func (j *Job) OpenPrices(rates string, lists []string, read ReadFile) (*Prices, error) {
	data, err := read(rates)
	if err != nil {
		return nil, err
	}
	p := &Prices{List: price.NewList()}
	var found finding.List
	p.Rates, found = price.ReadRates(rates, data)
	for _, name := range lists {
		data, err := read(name)
		if err != nil {
			return nil, err
		}
		rows, err := tableRows(name, data, p.Rates.List.Sheet, p.Rates.List.Separator)
		if err != nil {
			found.Add(finding.Finding{Code: "list-unread", Severity: finding.Error, Place: finding.Place{File: name}, What: words.F("the price list could not be read: %s", err.Error()), Fix: "give a CSV file or a workbook (.xlsx)"})
			continue
		}
		found = append(found, p.List.Read(name, rows, p.Rates, j.Catalogue)...)
	}
	p.List.AddOwn(j.Catalogue)
	j.Findings = append(j.Findings, found...)
	j.Findings.Sort()
	return p, nil
}

// Bid is a quote with what is offered beside it.
type Bid struct {
	*price.Quote
	Rates      *price.Rates `json:"-"`
	Alternates []Offer      `json:"alternates,omitempty"`
	Order      *order.Order `json:"-"`
}

// Offer is an alternate: what changes if build-ups take the place of others.
type Offer struct {
	Name       string          `json:"name"`
	What       string          `json:"what"`
	Net        decimal.Decimal `json:"net"`
	Difference decimal.Decimal `json:"difference"` // from the bid's net price
	Incomplete bool            `json:"incomplete,omitempty"`
}

// Price prices a built plan, with its alternates, and adds what it finds to the job.
func (j *Job) Price(p *Prices) *Bid {
	b, _ := j.PriceIn(context.Background(), p, j.Order())
	return b
}

// PriceIn is Price of an order that was made, which ends early, with an error, when
// ctx does.
func (j *Job) PriceIn(ctx context.Context, p *Prices, o *order.Order) (*Bid, error) {
	b := &Bid{Quote: j.quote(p, o), Rates: p.Rates, Order: o}
	j.Findings = append(j.Findings, b.Findings...)
	tell := teller(ctx)
	for i := range p.Rates.Alternates {
		a := &p.Rates.Alternates[i]
		tell("alternates", i, len(p.Rates.Alternates))
		other, unknown := j.with(a.Replace)
		if len(unknown) > 0 {
			j.Findings.Add(finding.Finding{Code: "alternate-unknown", Severity: finding.Error, Object: a.Name,
				What: words.F("the plan has no build-up %s", strings.Join(unknown, ", ")), Fix: "name build-ups of the plan; one that no wall has yet may stand there, too"})
			continue
		}
		ordered, err := other.OrderIn(ctx)
		if err != nil {
			return nil, err
		}
		q := other.quote(p, ordered)
		b.Alternates = append(b.Alternates, Offer{Name: a.Name, What: replaced(a.Replace), Net: q.Net, Difference: q.Net.Sub(b.Net), Incomplete: q.Incomplete()})
	}
	j.Findings.Sort()
	return b, nil
}

func (j *Job) quote(p *Prices, o *order.Order) *price.Quote {
	return price.Of(price.Input{Plan: j.Plan, Layout: j.Layout, Takeoff: j.Takeoff, Catalogue: j.Catalogue, Order: o, List: p.List, Rates: p.Rates})
}

func replaced(with map[string]string) string {
	var parts []string
	for _, id := range slices.Sorted(maps.Keys(with)) {
		parts = append(parts, with[id]+" in place of "+id)
	}
	return strings.Join(parts, ", ")
}

// with builds the plan with other build-ups in place of some; unknown lists those
// that the plan does not have.
func (j *Job) with(replace map[string]string) (built *Job, unknown []string) {
	for _, id := range slices.Sorted(maps.Keys(replace)) {
		for _, id := range []string{id, replace[id]} {
			if !slices.ContainsFunc(j.Plan.BuildUps, func(b plan.BuildUp) bool { return b.ID == id }) {
				unknown = append(unknown, id)
			}
		}
	}
	if len(unknown) > 0 {
		return nil, unknown
	}
	changed := *j.Plan
	changed.Walls = slices.Clone(j.Plan.Walls)
	for i := range changed.Walls {
		if other, ok := replace[changed.Walls[i].BuildUp]; ok {
			changed.Walls[i].BuildUp = other
		}
	}
	built = &Job{Plan: &changed, Catalogue: j.Catalogue, Practice: j.Practice, said: map[about]bool{}}
	built.Build(Quiet)
	return built, nil
}

// WriteBid writes what is sent, bid.pdf and bid.xlsx, and what stays with the bidder:
// cost.xlsx and price.json.
func (j *Job) WriteBid(b *Bid, to Folder) (files int, err error) {
	w := &writer{job: j, to: to, progress: Quiet}
	w.file("price.json", func(out io.Writer) error {
		e := json.NewEncoder(out)
		e.SetIndent("", "  ")
		return e.Encode(b)
	})
	w.file("bid.xlsx", func(out io.Writer) error { return xlsx.Write(out, j.bidBook(b)) })
	w.file("cost.xlsx", func(out io.Writer) error { return xlsx.Write(out, j.costBook(b)) })
	w.file("bid.pdf", func(out io.Writer) error { return document.WriteReport(out, j.Plan.Project, j.bidReport(b)) })
	return w.files, w.err
}

// reckoned marks what a bidder assumes for himself, and tells nobody.
var reckoned = []string{"norms-assumed", "waste-assumed", "pack-unknown"}

// assumptions lists what was assumed of the plan, once each.
func (j *Job) assumptions() []words.Text {
	var list []words.Text
	for _, f := range j.Findings {
		text := f.What
		if f.Object != "" {
			text = words.F("%s: %s", f.Object, text)
		}
		if f.Severity == finding.Assumed && !slices.Contains(reckoned, f.Code) && !slices.Contains(list, text) {
			list = append(list, text)
		}
	}
	return list
}

// exclusions lists what the bid is without.
func (b *Bid) exclusions() []string {
	list := slices.Clone(b.Rates.Exclusions)
	if len(b.LeftOut) > 0 {
		list = append(list, "Supplied and fixed by others: "+strings.Join(b.LeftOut, ", ")+".")
	}
	return append(list, "Door leaves and frames, glazing, and the services in and through walls.")
}

// incomplete says so where the totals are short.
func (b *Bid) incomplete() string {
	if !b.Incomplete() {
		return ""
	}
	return "INCOMPLETE: without prices of " + strings.Join(b.Missing, ", ") + "."
}

// taxName names the tax with its rate.
func (b *Bid) taxName() string {
	return fmt.Sprintf("%s %s %%", cmp.Or(b.Rates.Tax.Name, "Tax"), b.Rates.Tax.Percent)
}

// Sum is one line of the way from cost to price.
type Sum struct {
	Name   string
	Amount decimal.Decimal
}

// Sums lists the way from cost to price.
func (b *Bid) Sums() []Sum {
	r := b.Rates
	return []Sum{
		{"Material", b.Material}, {fmt.Sprintf("Labour, %s h", b.Hours.StringFixed(1)), b.Labours}, {"Plant", b.Plants}, {"Direct cost", b.Direct},
		{fmt.Sprintf("Overhead %s %%", r.Overhead), b.Overhead}, {fmt.Sprintf("Risk %s %%", r.Risk), b.Risk}, {fmt.Sprintf("Margin %s %%", r.Margin), b.Margin},
		{"Net price", b.Net}, {b.taxName(), b.Tax}, {"Total", b.Total},
	}
}

// UsePrices makes price lists what build-ups are chosen and block walls compared by.
func (j *Job) UsePrices(p *Prices) { j.Catalogue = p.List.Into(j.Catalogue, p.Rates) }
