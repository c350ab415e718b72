package price

import (
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"nogging/internal/finding"
	"nogging/internal/words"
	"nogging/internal/yamlfile"
)

// Rates is what a firm reckons with, beside its price lists: hourly rates, plant,
// surcharges, and how the columns of its price lists are called.
type Rates struct {
	Currency   Currency    `json:"currency"`
	List       Columns     `json:"list,omitzero"`        // how its price lists are read
	Crew       []Worker    `json:"crew,omitempty"`       // the mean of their rates is an hour's price
	Night      bool        `json:"night,omitempty"`      // the work is done at night
	Plant      []Plant     `json:"plant,omitempty"`      // hired or brought
	Overhead   Number      `json:"overhead,omitzero"`    // per cent of direct cost
	Risk       Number      `json:"risk,omitzero"`        // per cent of direct cost
	Margin     Number      `json:"margin,omitzero"`      // per cent of cost with overhead and risk
	Tax        Tax         `json:"tax,omitzero"`         // on the net price
	LeaveOut   []string    `json:"leave_out,omitempty"`  // ids or kinds of products that others supply and fix
	Alternates []Alternate `json:"alternates,omitempty"` // offered beside the bid
	Exclusions []string    `json:"exclusions,omitempty"` // sentences of the user's own
	ValidUntil string      `json:"valid_until,omitempty"`
	Bidder     string      `json:"bidder,omitempty"`
}

// Worker is part of a crew.
type Worker struct {
	Name  string `json:"name"`
	Count int    `json:"count"`
	Rate  Number `json:"rate"` // of one, an hour
}

// Plant is a machine, platform or other means.
type Plant struct {
	Name  string `json:"name"`
	Cost  Number `json:"cost"`
	Per   string `json:"per"`             // job, hour of work, or m2 of wall
	Count int    `json:"count,omitempty"` // 1 if left out
}

// What plant may be priced by.
const (
	PerJob  = "job"
	PerHour = "hour"
	PerArea = "m2"
)

// Tax is the tax on sales.
type Tax struct {
	Name    string `json:"name"`
	Percent Number `json:"percent"`
}

// Alternate is other build-ups in place of some, priced beside the bid.
type Alternate struct {
	Name    string            `json:"name"`
	Replace map[string]string `json:"replace"` // build-up of the plan, and what takes its place
}

// Columns says how a price list is read: by which heads its columns go, which of
// the user's articles are which products, and how numbers are written.
type Columns struct {
	Code      string            `json:"code,omitempty"`
	Price     string            `json:"price,omitempty"`
	Unit      string            `json:"unit,omitempty"`
	Name      string            `json:"name,omitempty"`
	Supplier  string            `json:"supplier,omitempty"`
	Currency  string            `json:"currency,omitempty"`
	Sheet     string            `json:"sheet,omitempty"`     // of a workbook; the first if left out
	Separator string            `json:"separator,omitempty"` // of a CSV file; found by its head row if left out
	Decimal   string            `json:"decimal,omitempty"`   // point (default) or comma
	Articles  map[string]string `json:"articles,omitempty"`  // the user's article number, and the product's id
}

// ReadRates reads the file of a firm's rates. What cannot be read or makes no sense
// is a finding, and the rest is returned.
func ReadRates(file string, data []byte) (*Rates, finding.List) {
	r := &Rates{}
	places, found := yamlfile.Decode(file, data, r)
	wrong := r.check()
	places.Fill(wrong)
	found = append(found, wrong...)
	found.Sort()
	return r, found
}

// check looks for what cannot be meant.
func (r *Rates) check() finding.List {
	var found finding.List
	add := func(path string, what, fix words.Text) {
		found.Add(finding.Finding{Code: "rate-wrong", Severity: finding.Error, Path: path, What: what, Fix: fix})
	}
	if c := string(r.Currency); len(c) != 3 || strings.ToUpper(c) != c {
		add("currency", words.F("%q is no currency", c), "write its code of three letters, such as EUR")
	}
	for i, w := range r.Crew {
		if w.Count < 1 || !w.Rate.IsPositive() {
			add(fmt.Sprintf("crew[%d]", i), words.F("%s: count and rate have to be above 0", w.Name), "write how many there are and what an hour of one costs, such as {name: fitter, count: 2, rate: 44.50}")
		}
	}
	for i, p := range r.Plant {
		if p.Cost.IsNegative() || p.Count < 0 {
			add(fmt.Sprintf("plant[%d]", i), words.F("%s: cost and count cannot be below 0", p.Name), "write what it costs")
		}
		if !slices.Contains([]string{PerJob, PerHour, PerArea}, p.Per) {
			add(fmt.Sprintf("plant[%d].per", i), words.F("plant is not priced by %q", p.Per), "write one of: job, hour, m2")
		}
	}
	for _, p := range []struct {
		path string
		n    Number
	}{{"overhead", r.Overhead}, {"risk", r.Risk}, {"margin", r.Margin}, {"tax.percent", r.Tax.Percent}} {
		if p.n.IsNegative() || p.n.GreaterThan(decimal.New(100, 0)) {
			add(p.path, words.F("%s %% is outside 0 to 100 %%", p.n), "write per cent, such as 12 or 12.5")
		}
	}
	if d := r.List.Decimal; d != "" && d != "point" && d != "comma" {
		add("list.decimal", words.F("numbers are not written with a decimal %q", d), "write point or comma")
	}
	if len([]rune(r.List.Separator)) > 1 {
		add("list.separator", words.F("%q is more than one character", r.List.Separator), `write the one character between the columns, such as ";"`)
	}
	for i, a := range r.Alternates {
		if a.Name == "" || len(a.Replace) == 0 {
			add(fmt.Sprintf("alternates[%d]", i), "it does not say what takes the place of what", "write name and replace, such as {name: one layer less, replace: {W1: W2}}")
		}
	}
	return found
}

// hour returns what an hour of work costs: the mean of the crew's rates, not
// rounded; false where there is no crew.
func (r *Rates) hour() (decimal.Decimal, bool) {
	sum, n := decimal.Zero, 0
	for _, w := range r.Crew {
		sum = sum.Add(w.Rate.Mul(decimal.NewFromInt(int64(w.Count))))
		n += w.Count
	}
	if n <= 0 {
		return decimal.Zero, false
	}
	return sum.DivRound(decimal.NewFromInt(int64(n)), quantityDigits), true
}
