package price

import (
	"cmp"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/table"
	"nogging/internal/words"
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

// Read adds the prices of a file, given as rows, to the list. The first row that
// has the heads is the head row. Rows of articles that are no product of the
// catalogue are counted in a note; whatever else is wrong with a row is an error
// finding with file, row and column, and the row is left out.
func (l *List) Read(file string, rows []table.Row, r *Rates, cat *catalogue.Catalogue) finding.List {
	in := &reader{Table: table.Find(file, rows, columns(&r.List)), list: l, rates: r, cat: cat}
	for _, row := range in.Rows {
		in.row(row)
	}
	if in.strange > 0 {
		in.Found.Add(finding.Finding{Code: "price-of-nothing", Severity: finding.Note, Place: finding.Place{File: file},
			What: words.F("%d articles are no products of the catalogue and are passed over, such as %s", in.strange, strings.Join(in.examples, ", ")),
			Fix:  "say which product an article is, in the rates file: list: {articles: {ARTICLE: PRODUCT}}"})
	}
	return in.Found
}

// reader reads one file.
type reader struct {
	*table.Table
	list     *List
	rates    *Rates
	cat      *catalogue.Catalogue
	strange  int
	examples []string
}

// columns are the fields with the heads by which the rates file knows them, or the
// usual ones.
func columns(c *Columns) []table.Field {
	var list []table.Field
	for _, f := range listFields {
		t := table.Field{Key: f.key, Heads: usual[f.key], Needed: f.needed,
			Fix: words.F("name it once in the rates file: list: {%s: HEAD}", f.key)}
		if h := strings.TrimSpace(f.head(c)); h != "" {
			t.Heads, t.Needed = []string{strings.ToLower(h)}, true
		}
		list = append(list, t)
	}
	return list
}

// row reads one article.
func (in *reader) row(row table.Row) {
	article := in.Cell(row, "code")
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
		in.Wrong(row, "code", article, "price-twice", words.F("%s is priced already in %s; that price counts", id, other.Place), "take one of the two rows out")
		return
	}
	item := &Item{Product: id, Article: article, Supplier: in.Cell(row, "supplier"), Place: in.Place(row, "price")}
	if in.price(row, item) && in.unit(row, item) && in.currency(row, item) {
		in.list.items[id] = item
	}
}

// price reads what the article costs. Numbers of workbooks are stored as binary
// fractions, so six decimals are kept.
func (in *reader) price(row table.Row, item *Item) bool {
	const kept = 6
	text := strings.NewReplacer(" ", "", "\u00a0", "", "'", "").Replace(in.Cell(row, "price"))
	if in.rates.List.Decimal == "comma" {
		text = strings.ReplaceAll(strings.ReplaceAll(text, ".", ""), ",", ".")
	}
	d, err := parse(text)
	switch {
	case text == "":
		in.Wrong(row, "price", item.Article, "price-missing", "it has no price", "write its price, or take the row out")
	case err != nil && strings.Contains(text, ","):
		in.Wrong(row, "price", item.Article, "price-no-number", words.F("%q is no price", in.Cell(row, "price")), "if this list writes a decimal comma, say so in the rates file: list: {decimal: comma}")
	case err != nil:
		in.Wrong(row, "price", item.Article, "price-no-number", words.F("%q is no price", in.Cell(row, "price")), "write a number such as 12.50")
	case d.IsNegative():
		in.Wrong(row, "price", item.Article, "price-negative", words.F("the price %s is below zero", d), "write the price without the sign; discounts belong into the price")
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
func (in *reader) unit(row table.Row, item *Item) bool {
	text := strings.ToLower(in.Cell(row, "unit"))
	digits := len(text) - len(strings.TrimLeft(text, "0123456789"))
	item.Per = decimal.New(1, 0)
	if n, err := strconv.Atoi(text[:digits]); err == nil && n > 0 {
		item.Per = decimal.NewFromInt(int64(n))
	}
	item.Unit = units[strings.TrimSpace(text[digits:])]
	if item.Unit == "" {
		in.Wrong(row, "unit", item.Article, "price-unit", words.F("%q is no unit that prices are for", in.Cell(row, "unit")), "write one of m, m2, pcs, kg, l or pack, or so many as in 100 m")
		return false
	}
	return true
}

func (in *reader) currency(row table.Row, item *Item) bool {
	text := in.Cell(row, "currency")
	if text == "" || strings.EqualFold(text, string(in.rates.Currency)) {
		return true
	}
	in.Wrong(row, "currency", item.Article, "price-currency", words.F("the price is in %s, the rates are in %s", text, in.rates.Currency), words.F("give the price in %s; nothing is converted", string(in.rates.Currency)))
	return false
}
