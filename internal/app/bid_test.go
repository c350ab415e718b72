package app_test

import (
	"bytes"
	"errors"
	"io/fs"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/xuri/excelize/v2"

	"nogging/internal/app"
	"nogging/internal/exchange/xlsx"
	"nogging/internal/takeoff"
	"nogging/internal/yamlfile"
)

// clinicBid prices the demo with its own prices and rates, and writes everything.
func clinicBid(t *testing.T) (*app.Job, *app.Bid, map[string]*bytes.Buffer) {
	t.Helper()
	clinic.Do(func() { clinic.job, clinic.bid, clinic.files = priceClinic(t) })
	return clinic.job, clinic.bid, clinic.files
}

// clinic is the demo, priced once for all tests.
var clinic struct {
	sync.Once
	job   *app.Job
	bid   *app.Bid
	files map[string]*bytes.Buffer
}

func priceClinic(t *testing.T) (*app.Job, *app.Bid, map[string]*bytes.Buffer) {
	j, err := app.Open("../../demo/clinic.yaml", os.ReadFile)
	if err != nil {
		t.Fatal(err)
	}
	prices, err := j.OpenPrices("../../demo/prices/rates.yaml", []string{"../../demo/prices/prices.csv"}, os.ReadFile)
	if err != nil {
		t.Fatal(err)
	}
	j.Build(app.Quiet)
	b := j.Price(prices)
	files := &memory{made: map[string]*bytes.Buffer{}}
	if _, err := j.WriteBid(b, files); err != nil {
		t.Fatal(err)
	}
	if _, err := j.WriteOrder(b.Order, prices.List.SupplierOf, files); err != nil {
		t.Fatal(err)
	}
	return j, b, files.made
}

// TestDemoIsPriced: the demo's list has every price that its order needs.
func TestDemoIsPriced(t *testing.T) {
	j, b, files := clinicBid(t)
	if b.Incomplete() || j.Findings.NeedsPerson() || len(b.Alternates) != 2 {
		t.Errorf("missing %v, %d alternates, %v", b.Missing, len(b.Alternates), j.Findings)
	}
	for _, name := range []string{"purchase/Harbour-Boards.csv", "purchase/Quayside-Metals.csv", "purchase/Fixings-Jetty.csv"} {
		if files[name] == nil {
			t.Errorf("no %s", name)
		}
	}
	again := &memory{made: map[string]*bytes.Buffer{}}
	if _, err := j.WriteBid(b, again); err != nil || !bytes.Equal(again.made["bid.pdf"].Bytes(), files["bid.pdf"].Bytes()) || !bytes.Equal(again.made["cost.xlsx"].Bytes(), files["cost.xlsx"].Bytes()) {
		t.Errorf("two writings differ: %v", err)
	}
}

// TestFormulas: another library reckons every formula of every workbook to the
// result that is stored with it, and the bid's total is that of the quote.
func TestFormulas(t *testing.T) {
	_, b, files := clinicBid(t)
	for _, name := range []string{"order.xlsx", "bid.xlsx", "cost.xlsx"} {
		f, err := excelize.OpenReader(bytes.NewReader(files[name].Bytes()))
		if err != nil {
			t.Fatal(name, err)
		}
		raw := excelize.Options{RawCellValue: true}
		formulas := 0
		for _, sheet := range f.GetSheetList() {
			rows, err := f.GetRows(sheet, raw)
			if err != nil {
				t.Fatal(err)
			}
			for r := range rows {
				for c := range rows[r] {
					cell, _ := excelize.CoordinatesToCellName(c+1, r+1)
					formula, _ := f.GetCellFormula(sheet, cell)
					if formula == "" {
						continue
					}
					formulas++
					stored, _ := strconv.ParseFloat(rows[r][c], 64)
					text, err := f.CalcCellValue(sheet, cell, raw)
					got, _ := strconv.ParseFloat(text, 64)
					if err != nil || math.Abs(got-stored) > 2e-3 || strings.Contains(formula, "ROUND") && math.Abs(got-stored) > 1e-9 {
						t.Errorf("%s %s!%s: =%s is %s, stored %v (%v)", name, sheet, cell, formula, text, stored, err)
					}
				}
			}
		}
		if formulas < 20 {
			t.Errorf("%s has only %d formulas", name, formulas)
		}
		if name == "bid.xlsx" {
			rows, _ := f.GetRows("Schedule", raw)
			if got := rows[len(rows)-1][7]; got != b.Total.StringFixed(2) {
				t.Errorf("the bid's total is %s, the quote's %s", got, b.Total)
			}
		}
	}
}

// TestBidDocument: the PDF says the total, the alternates and what is not included.
func TestBidDocument(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		missing(t, "pdftotext is not installed")
	}
	_, b, files := clinicBid(t)
	text := pdfText(t, files["bid.pdf"].Bytes())
	for _, want := range []string{b.Currency.Amount(b.Total), "L0, Ground floor", "Corridor walls as those between consulting rooms", "Not included", "Interior emulsion paint"} {
		if !strings.Contains(text, want) {
			t.Errorf("the bid does not say %q", want)
		}
	}
	if strings.Contains(text, "Overhead") || strings.Contains(text, "norms") {
		t.Error("the bid tells what is the bidder's own")
	}
}

// pdfText reads the text of a PDF with another program.
func pdfText(t *testing.T, pdf []byte) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "x.pdf")
	if err := os.WriteFile(name, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftotext", "-layout", name, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// TestVariationDocument: a wall less is said with what it does to the price, without
// the bidder's own figures.
func TestVariationDocument(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		missing(t, "pdftotext is not installed")
	}
	before, _, _ := clinicBid(t)
	after, err := app.Open("../../demo/clinic.yaml", os.ReadFile)
	if err != nil {
		t.Fatal(err)
	}
	prices, err := after.OpenPrices("../../demo/prices/rates.yaml", []string{"../../demo/prices/prices.csv"}, os.ReadFile)
	if err != nil {
		t.Fatal(err)
	}
	gone := after.Plan.Walls[len(after.Plan.Walls)-1].ID
	after.Plan.Walls = after.Plan.Walls[:len(after.Plan.Walls)-1]
	after.Build(app.Quiet)
	v := after.Compare(before, prices, nil, yamlfile.Places{})
	out := &memory{made: map[string]*bytes.Buffer{}}
	if _, err := v.WriteVariation(out); err != nil {
		t.Fatal(err)
	}
	text := pdfText(t, out.made["variation.pdf"].Bytes())
	net := v.Price.Lines[4]
	for _, want := range []string{gone + ": removed", "Net price, EUR", v.Price.Currency.Amount(net.New), "Order, in packs"} {
		if !strings.Contains(text, want) {
			t.Errorf("the variation does not say %q", want)
		}
	}
	if strings.Contains(text, "margin") || !net.Difference.IsNegative() || !net.Difference.Equal(net.New.Sub(net.Old)) {
		t.Errorf("%+v", net)
	}
}

// TestOrderFollowsCuttingPlans: the order of the demo takes its bars and boards from
// cutting plans, which leave out nothing that the take-off measures.
func TestOrderFollowsCuttingPlans(t *testing.T) {
	j, b, _ := clinicBid(t)
	net, planned := map[string]float64{}, 0
	for _, l := range b.Order.Lines {
		net[l.Product] += l.Net
		if strings.Contains(l.Rule, "cutting plan") || strings.Contains(l.Rule, "call-offs") {
			planned++
		}
	}
	for _, l := range j.Takeoff.Total {
		if _, ok := j.Catalogue.Product(l.Code); ok && math.Abs(net[l.Code]-l.Quantity) > 1e-3 {
			t.Errorf("%s: take-off %v, order %v", l.Code, l.Quantity, net[l.Code])
		}
	}
	if planned < 40 {
		t.Errorf("%d lines follow cutting plans", planned)
	}
	for _, z := range b.Order.Zones {
		for _, l := range z.Lines {
			if (l.Group == takeoff.Profiles || l.Group == takeoff.Boards) && l.Gross < l.Net-1e-6 {
				t.Errorf("%s in %s: %v bought of %v", l.Product, z.ID, l.Gross, l.Net)
			}
		}
	}
}

// TestListFromWorkbook: prices are read from a workbook as from a CSV file, with the
// row and column of what is wrong; a file that is neither is told.
func TestListFromWorkbook(t *testing.T) {
	s := &xlsx.Sheet{Name: "Prices", Heading: []string{"List of spring"}, Columns: []xlsx.Column{{Head: "Code", Width: 9}, {Head: "Price", Width: 9}, {Head: "Unit", Width: 9}}}
	s.Add(xlsx.Text("CW75"), xlsx.Number("1.63"), xlsx.Text("m"))
	s.Add(xlsx.Text("UW75"), xlsx.Number("-1.42"), xlsx.Text("m"))
	var book bytes.Buffer
	if err := xlsx.Write(&book, &xlsx.Book{Sheets: []*xlsx.Sheet{s}}); err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{"rates.yaml": []byte("currency: EUR"), "prices.xlsx": book.Bytes(), "broken.xlsx": []byte("PK\x03\x04")}
	read := func(name string) ([]byte, error) {
		if data, ok := files[name]; ok {
			return data, nil
		}
		return nil, fs.ErrNotExist
	}
	j, err := app.Open("../../demo/clinic.yaml", os.ReadFile)
	if err != nil {
		t.Fatal(err)
	}
	p, err := j.OpenPrices("rates.yaml", []string{"prices.xlsx", "broken.xlsx"}, read)
	if err != nil {
		t.Fatal(err)
	}
	if item, ok := p.List.Of("CW75"); !ok || item.Price.String() != "1.63" {
		t.Errorf("%+v", item)
	}
	var told []string
	for _, f := range j.Findings {
		told = append(told, f.Code+" "+f.Place.String())
	}
	if !slices.Contains(told, "price-negative prices.xlsx:4:2") || !slices.Contains(told, "list-unread broken.xlsx") {
		t.Errorf("%v", told)
	}
	if _, err := j.OpenPrices("rates.yaml", []string{"none.csv"}, read); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%v", err)
	}
}
