package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"nogging/internal/app"
)

type priceCommand struct {
	Plan    string `arg:"" help:"Plan file; - for standard input."`
	Output  string `short:"o" required:"" placeholder:"DIR" help:"Folder to write to; it is made if need be."`
	JSON    bool   `name:"json" help:"Print the priced bid as JSON."`
	pricing `embed:""`
	saving  `embed:""`
}

func (k *priceCommand) Run(c *console) error {
	if len(k.Prices) == 0 {
		return errors.New("no price list is named\n  hint: name one with --prices, CSV or XLSX")
	}
	j, err := open(c, k.Plan)
	if err != nil {
		return err
	}
	prices, err := openPrices(j, k.Rates, k.Prices)
	if err != nil {
		return err
	}
	progress := newProgress(c, k.JSON)
	if err := k.build(j, progress.report); err != nil {
		return err
	}
	progress.end()
	b := j.Price(prices)
	files, err := j.WriteBid(b, folder(k.Output))
	if err != nil {
		return err
	}
	if k.JSON {
		if err := printJSON(c.out, b); err != nil {
			return err
		}
	} else {
		printFindings(c, j.Findings)
		printBid(c.out, b)
		fmt.Fprintf(c.err, "%s in %s: bid.pdf and bid.xlsx to send; cost.xlsx and price.json\n", count(files, "file"), k.Output)
	}
	return verdict(j.Findings)
}

// openPrices reads price lists and the rates that go with them.
func openPrices(j *app.Job, rates string, lists []string) (*app.Prices, error) {
	for _, name := range lists {
		if info, err := os.Stat(name); err == nil && info.IsDir() {
			return nil, fmt.Errorf("%s is a folder\n  hint: name the price list in it, such as %s", name, filepath.Join(name, "prices.csv"))
		}
	}
	if rates == "" {
		rates = filepath.Join(filepath.Dir(lists[0]), app.RatesFile)
		if _, err := os.Stat(rates); errors.Is(err, fs.ErrNotExist) {
			return nil, fmt.Errorf("there is no file %s\n  hint: write one beside the price list, such as `currency: EUR` and `crew: [{name: fitter, count: 2, rate: 44.50}]`, or name one with --rates", rates)
		}
	}
	p, err := j.OpenPrices(filepath.ToSlash(rates), slashed(lists), func(name string) ([]byte, error) {
		data, err := os.ReadFile(filepath.FromSlash(name))
		if err != nil {
			err = readError(name, err)
		}
		return data, err
	})
	return p, err
}

// pricing are the options of commands that price, compare by cost or name suppliers.
type pricing struct {
	Prices []string `placeholder:"FILE" help:"Price list, CSV or XLSX, with suppliers where an order is to be parted by them; prices of the plan's catalogues count where no list has one. May be repeated."`
	Rates  string   `placeholder:"FILE" help:"Rates file: currency, crew, plant, surcharges, columns of price lists. rates.yaml beside the first price list if left out."`
}

// use has a job reckon with the lists that are named.
func (p *pricing) use(j *app.Job) error {
	prices, err := p.quietly(j)
	if prices != nil {
		j.UsePrices(prices)
	}
	return err
}

// quietly reads the lists that are named; nil where none is. What is wrong with them is
// for nogging price to tell.
func (p *pricing) quietly(j *app.Job) (*app.Prices, error) {
	if len(p.Prices) == 0 {
		return nil, nil
	}
	found := j.Findings
	prices, err := openPrices(j, p.Rates, p.Prices)
	j.Findings = found
	return prices, err
}

func slashed(names []string) []string {
	list := make([]string, len(names))
	for i, n := range names {
		list[i] = filepath.ToSlash(n)
	}
	return list
}

// printBid writes the schedule and the sums.
func printBid(out io.Writer, b *app.Bid) {
	c := b.Currency
	rows := [][]string{{"level", "wall type", "m²", "hours", "net per m²", "net " + string(c)}}
	for _, r := range b.Schedule {
		rows = append(rows, []string{r.Level, r.BuildUp, fmt.Sprintf("%.2f", r.Area), fmt.Sprintf("%.1f", r.Hours), c.Amount(r.Rate), c.Amount(r.Net)})
	}
	printColumns(out, rows, 2, 3, 4, 5)
	fmt.Fprintln(out)
	rows = nil
	for _, t := range b.Sums() {
		rows = append(rows, []string{t.Name, c.Amount(t.Amount), string(c)})
	}
	printColumns(out, rows, 1)
	for _, a := range b.Alternates {
		fmt.Fprintf(out, "\nAlternate %s (%s): net %s, difference %s\n", a.Name, a.What, c.Format(a.Net), c.Format(a.Difference))
	}
	if b.Incomplete() {
		fmt.Fprintln(out, "\nINCOMPLETE: without prices of", strings.Join(b.Missing, ", "))
	}
}
