package price

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
)

// List is the prices that a firm pays, by product.
type List struct {
	items map[string]*Item
}

// Item is one price.
type Item struct {
	Product  string          `json:"product"`
	Article  string          `json:"article"` // as the list calls it
	Supplier string          `json:"supplier,omitempty"`
	Price    decimal.Decimal `json:"price"`
	Per      decimal.Decimal `json:"per"`  // so many units
	Unit     string          `json:"unit"` // m, m2, pcs, kg, l or pack
	Place    finding.Place   `json:"place"`
}

// NewList returns a list without prices.
func NewList() *List { return &List{items: map[string]*Item{}} }

// Of returns the price of a product.
func (l *List) Of(product string) (*Item, bool) {
	i, ok := l.items[product]
	return i, ok
}

// SupplierOf returns who supplies a product; nothing where nobody is named.
func (l *List) SupplierOf(product string) string {
	if i, ok := l.items[product]; ok {
		return i.Supplier
	}
	return ""
}

// usual heads of columns, by which they are known where nothing else is said.
var usual = map[string][]string{
	"code":     {"code", "product", "article", "item", "id", "article number", "item code"},
	"price":    {"price", "unit price", "net price"},
	"unit":     {"unit", "per", "uom", "price unit"},
	"name":     {"name", "description"},
	"supplier": {"supplier", "merchant", "vendor"},
	"currency": {"currency", "cur"},
}

// field is a column that lists may have.
type field struct {
	key    string
	head   func(*Columns) string
	needed bool
}

var listFields = []field{
	{"code", func(c *Columns) string { return c.Code }, true},
	{"price", func(c *Columns) string { return c.Price }, true},
	{"unit", func(c *Columns) string { return c.Unit }, true},
	{"supplier", func(c *Columns) string { return c.Supplier }, false},
	{"currency", func(c *Columns) string { return c.Currency }, false},
}

// ListRow is one row of a price list with its number in the file.
type ListRow struct {
	Number int
	Cells  []string
}

// CSVRows reads a CSV file as rows; the separator is what the head row has most of
// unless it is given.
func CSVRows(data []byte, separator string) ([]ListRow, error) {
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	r := csv.NewReader(bytes.NewReader(data))
	r.FieldsPerRecord, r.LazyQuotes, r.ReuseRecord = -1, true, false
	r.Comma = ','
	head, _, _ := bytes.Cut(data, []byte("\n"))
	for _, c := range ";\t|" {
		if bytes.Count(head, []byte(string(c))) > bytes.Count(head, []byte(string(r.Comma))) {
			r.Comma = c
		}
	}
	if separator != "" {
		r.Comma = []rune(separator)[0]
	}
	var rows []ListRow
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			return rows, nil
		}
		if err != nil {
			return rows, err
		}
		line, _ := r.FieldPos(0)
		rows = append(rows, ListRow{line, cells})
	}
}

// Read adds the prices of a file, given as rows, to the list. The first row that
// has the heads is the head row. Rows of articles that are no product of the
// catalogue are counted in a note; whatever else is wrong with a row is an error
// finding with file, row and column, and the row is left out.
func (l *List) Read(file string, rows []ListRow, r *Rates, cat *catalogue.Catalogue) finding.List {
	in := &reader{list: l, file: file, rates: r, cat: cat, at: map[string]int{}}
	rows = in.head(rows)
	for _, row := range rows {
		in.row(row)
	}
	if in.strange > 0 {
		in.found.Add(finding.Finding{Code: "price-of-nothing", Severity: finding.Note, Place: finding.Place{File: file},
			What: fmt.Sprintf("%d articles are no products of the catalogue and are passed over, such as %s", in.strange, strings.Join(in.examples, ", ")),
			Fix:  "say which product an article is, in the rates file: list: {articles: {ARTICLE: PRODUCT}}"})
	}
	return in.found
}

// reader reads one file.
type reader struct {
	list     *List
	file     string
	rates    *Rates
	cat      *catalogue.Catalogue
	at       map[string]int // columns by key
	found    finding.List
	strange  int
	examples []string
}

// head finds the columns and returns the rows below their heads.
func (in *reader) head(rows []ListRow) []ListRow {
	const searched = 20 // rows for the heads: lists begin with addresses and titles
	most, best := 0, 0
	for i := range min(len(rows), searched) {
		if n := len(in.columns(rows[i].Cells)); n > most {
			most, best = n, i
		}
	}
	if len(rows) == 0 {
		in.found.Add(finding.Finding{Code: "list-empty", Severity: finding.Error, Place: finding.Place{File: in.file}, What: "the price list has no rows", Fix: "give a list with a head row and a row for each article"})
		return nil
	}
	in.at = in.columns(rows[best].Cells)
	ok := true
	for _, f := range listFields {
		if _, has := in.at[f.key]; !has && (f.needed || f.head(&in.rates.List) != "") {
			ok = false
			in.noColumn(f, rows[best])
		}
	}
	if !ok {
		return nil
	}
	return rows[best+1:]
}

// noColumn says that no column was found for a field.
func (in *reader) noColumn(f field, row ListRow) {
	what := "no column is called " + strings.Join(usual[f.key], ", ")
	if h := f.head(&in.rates.List); h != "" {
		what = fmt.Sprintf("no column is called %q, as the rates file has it", h)
	}
	heads := strings.Join(slices.DeleteFunc(slices.Clone(row.Cells), func(s string) bool { return strings.TrimSpace(s) == "" }), ", ")
	in.found.Add(finding.Finding{Code: "list-column", Severity: finding.Error, Place: finding.Place{File: in.file, Line: row.Number, Column: 1, Text: strings.Join(row.Cells, " | ")},
		What: fmt.Sprintf("%s: %s", f.key, what),
		Fix:  fmt.Sprintf("name it once in the rates file: list: {%s: HEAD}, where HEAD is one of: %.200s", f.key, heads)})
}

// columns maps the keys of fields to the columns of a head row.
func (in *reader) columns(cells []string) map[string]int {
	at := map[string]int{}
	for i, cell := range cells {
		name := strings.ToLower(strings.TrimSpace(cell))
		for _, f := range listFields {
			h := f.head(&in.rates.List)
			is := h != "" && strings.EqualFold(name, strings.TrimSpace(h)) || h == "" && slices.Contains(usual[f.key], name)
			if _, taken := at[f.key]; is && !taken {
				at[f.key] = i
			}
		}
	}
	return at
}

// cell returns a row's cell by its column's key.
func (in *reader) cell(row ListRow, key string) string {
	if i, ok := in.at[key]; ok && i < len(row.Cells) {
		return strings.TrimSpace(row.Cells[i])
	}
	return ""
}

// wrong tells what is wrong with a cell.
func (in *reader) wrong(row ListRow, key, object, code, what, fix string) {
	in.found.Add(finding.Finding{Code: code, Severity: finding.Error, Object: object, What: what, Fix: fix,
		Place: finding.Place{File: in.file, Line: row.Number, Column: in.at[key] + 1, Text: in.cell(row, key)}})
}

// row reads one article.
func (in *reader) row(row ListRow) {
	article := in.cell(row, "code")
	if article == "" {
		return // an empty row or a heading
	}
	id := cmp.Or(in.rates.List.Articles[article], article)
	if _, ok := in.cat.Product(id); !ok {
		in.strange++
		if len(in.examples) < 3 {
			in.examples = append(in.examples, article)
		}
		return
	}
	if other, ok := in.list.items[id]; ok {
		in.wrong(row, "code", article, "price-twice", fmt.Sprintf("%s is priced already in %s; that price counts", id, other.Place), "take one of the two rows out")
		return
	}
	item := &Item{Product: id, Article: article, Supplier: in.cell(row, "supplier"), Place: finding.Place{File: in.file, Line: row.Number, Column: in.at["price"] + 1}}
	if in.price(row, item) && in.unit(row, item) && in.currency(row, item) {
		in.list.items[id] = item
	}
}

// price reads what the article costs. Numbers of workbooks are stored as binary
// fractions, so six decimals are kept.
func (in *reader) price(row ListRow, item *Item) bool {
	const kept = 6
	text := strings.NewReplacer(" ", "", "\u00a0", "", "'", "").Replace(in.cell(row, "price"))
	if in.rates.List.Decimal == "comma" {
		text = strings.ReplaceAll(strings.ReplaceAll(text, ".", ""), ",", ".")
	}
	d, err := parse(text)
	switch {
	case text == "":
		in.wrong(row, "price", item.Article, "price-missing", "it has no price", "write its price, or take the row out")
	case err != nil && strings.Contains(text, ","):
		in.wrong(row, "price", item.Article, "price-no-number", fmt.Sprintf("%q is no price", in.cell(row, "price")), "if this list writes a decimal comma, say so in the rates file: list: {decimal: comma}")
	case err != nil:
		in.wrong(row, "price", item.Article, "price-no-number", fmt.Sprintf("%q is no price", in.cell(row, "price")), "write a number such as 12.50")
	case d.IsNegative():
		in.wrong(row, "price", item.Article, "price-negative", fmt.Sprintf("the price %s is below zero", d), "write the price without the sign; discounts belong into the price")
	default:
		item.Price = d.Round(kept)
		return true
	}
	return false
}

// units by the ways in which lists write them.
var units = map[string]string{
	"m": "m", "lm": "m", "rm": "m", "metre": "m", "meter": "m", "m2": "m2", "m²": "m2", "sqm": "m2", "pcs": "pcs", "pc": "pcs", "piece": "pcs", "each": "pcs", "ea": "pcs",
	"kg": "kg", "l": "l", "litre": "l", "pack": "pack", "box": "pack", "roll": "pack", "bag": "pack", "bucket": "pack", "cartridge": "pack",
}

// unit reads what the price is for: a unit, or so many of it as in "100 m".
func (in *reader) unit(row ListRow, item *Item) bool {
	text := strings.ToLower(in.cell(row, "unit"))
	digits := len(text) - len(strings.TrimLeft(text, "0123456789"))
	item.Per = decimal.New(1, 0)
	if n, err := strconv.Atoi(text[:digits]); err == nil && n > 0 {
		item.Per = decimal.NewFromInt(int64(n))
	}
	item.Unit = units[strings.TrimSpace(text[digits:])]
	if item.Unit == "" {
		in.wrong(row, "unit", item.Article, "price-unit", fmt.Sprintf("%q is no unit that prices are for", in.cell(row, "unit")), "write one of m, m2, pcs, kg, l or pack, or so many as in 100 m")
		return false
	}
	return true
}

func (in *reader) currency(row ListRow, item *Item) bool {
	text := in.cell(row, "currency")
	if text == "" || strings.EqualFold(text, string(in.rates.Currency)) {
		return true
	}
	in.wrong(row, "currency", item.Article, "price-currency", fmt.Sprintf("the price is in %s, the rates are in %s", text, in.rates.Currency), "give the price in "+string(in.rates.Currency)+"; nothing is converted")
	return false
}
