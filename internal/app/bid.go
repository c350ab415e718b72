package app

import (
	"cmp"
	"fmt"
	"strings"

	"github.com/shopspring/decimal"

	"nogging/internal/document"
	"nogging/internal/exchange/xlsx"
	"nogging/internal/plan"
	"nogging/internal/price"
	"nogging/internal/words"
)

// buildUpName describes a wall type for a schedule.
func (j *Job) buildUpName(id string) string {
	for i := range j.Plan.BuildUps {
		if b := &j.Plan.BuildUps[i]; b.ID == id && b.Name != "" {
			return b.Name
		}
	}
	return ""
}

func (j *Job) levelName(id string) string {
	if l := j.Plan.LevelByID(id); l != nil && l.Name != "" {
		return id + ", " + l.Name
	}
	return id
}

// byLevel returns the rows of the schedule on one level.
func byLevel(q *price.Quote, level plan.Level) []price.Row {
	var rows []price.Row
	for _, r := range q.Schedule {
		if r.Level == level.ID {
			rows = append(rows, r)
		}
	}
	return rows
}

// bidReport lays the bid out as a document to send.
func (j *Job) bidReport(b *Bid) *document.Report {
	c := b.Currency
	r := &document.Report{Title: "Bid for drylined partitions", Number: "B", Kind: "Bid", Caution: b.incomplete(), Notes: []string{
		"Amounts: " + b.Rounding + ". Rates by area are amounts divided by areas, and rounded; the amounts decide.",
		"Areas are those of one face with openings. Fire, sound and strength are proven by test evidence and by whoever is licensed to, not by this bid."}}
	head := document.Block{Heading: j.heading()}
	for _, x := range [][2]string{{"Bidder", b.Rates.Bidder}, {"For", j.Plan.Project.Client}, {"Place", j.Plan.Project.Address}, {"Valid until", b.Rates.ValidUntil}} {
		if x[1] != "" {
			head.Paragraphs = append(head.Paragraphs, x[0]+": "+x[1])
		}
	}
	if s := b.incomplete(); s != "" {
		head.Paragraphs = append(head.Paragraphs, s)
	}
	t := &document.Table{Title: "Schedule, " + string(c), Columns: []document.ReportColumn{{Head: "Wall type", Width: 40}, {Head: "Description"},
		{Head: "Walls", Width: 20, Right: true}, {Head: "Length, m", Width: 28, Right: true}, {Head: "Area, m²", Width: 28, Right: true}, {Head: "Rate per m²", Width: 32, Right: true}, {Head: "Net", Width: 40, Right: true}}}
	for _, level := range j.Plan.Levels {
		rows := byLevel(b.Quote, level)
		if len(rows) == 0 {
			continue
		}
		t.AddHeading(j.levelName(level.ID))
		sum := decimal.Zero
		for _, x := range rows {
			t.Add(x.BuildUp, j.buildUpName(x.BuildUp), fmt.Sprint(x.Walls), fmt.Sprintf("%.2f", x.Length), fmt.Sprintf("%.2f", x.Area), c.Amount(x.Rate), c.Amount(x.Net))
			sum = sum.Add(x.Net)
		}
		t.Add("", "Sum of "+level.ID, "", "", "", "", c.Amount(sum))
	}
	totals := &document.Table{Title: "Price", Columns: []document.ReportColumn{{Head: ""}, {Head: string(c), Width: 60, Right: true}}}
	totals.Add("Net price", c.Amount(b.Net))
	totals.Add(b.taxName(), c.Amount(b.Tax))
	totals.Add("Total"+j.short(b), c.Amount(b.Total))
	r.Blocks = []document.Block{head, {Table: t}, {Table: totals}}
	if len(b.Alternates) > 0 {
		r.Blocks = append(r.Blocks, document.Block{Table: alternates(b)})
	}
	r.Blocks = append(r.Blocks, document.Block{Heading: "Not included", List: b.exclusions()})
	if list := j.assumptions(); len(list) > 0 {
		r.Blocks = append(r.Blocks, document.Block{Heading: "Assumed; please confirm", List: texts(list)})
	}
	return r
}

// short marks totals that lack prices.
func (j *Job) short(b *Bid) string {
	if b.Incomplete() {
		return " (incomplete)"
	}
	return ""
}

func texts(list []words.Text) []string {
	said := make([]string, len(list))
	for i, t := range list {
		said[i] = t.String()
	}
	return said
}

func alternates(b *Bid) *document.Table {
	c := b.Currency
	t := &document.Table{Title: "Alternates, net", Columns: []document.ReportColumn{{Head: "Alternate", Width: 90}, {Head: "What changes"}, {Head: "Net, " + string(c), Width: 44, Right: true}, {Head: "Difference", Width: 44, Right: true}}}
	for _, a := range b.Alternates {
		name := a.Name
		if a.Incomplete {
			name += " (incomplete)"
		}
		t.Add(name, a.What, c.Amount(a.Net), signed(c, a.Difference))
	}
	return t
}

// signed writes an amount with its sign.
func signed(c price.Currency, d decimal.Decimal) string {
	if d.IsPositive() {
		return "+" + c.Amount(d)
	}
	return c.Amount(d)
}

// money returns a cell of an amount.
func money(c price.Currency, d decimal.Decimal) xlsx.Cell {
	return xlsx.Number(d.StringFixed(c.Digits()))
}

// bidBook lays the bid out as a workbook to send.
func (j *Job) bidBook(b *Bid) *xlsx.Book {
	c := b.Currency
	s := &xlsx.Sheet{Name: "Schedule", Heading: []string{"Bid for drylined partitions, " + string(c), j.heading(), cmp.Or(b.incomplete(), "Amounts: "+b.Rounding)}, Columns: []xlsx.Column{
		{Head: "Level", Width: 12}, {Head: "Wall type", Width: 18}, {Head: "Description", Width: 46}, {Head: "Walls", Width: 8, Format: xlsx.Whole},
		{Head: "Length, m", Width: 12, Format: xlsx.Two}, {Head: "Area, m²", Width: 12, Format: xlsx.Two}, {Head: "Rate per m²", Width: 12, Format: xlsx.Two}, {Head: "Net", Width: 16, Format: xlsx.Two},
	}}
	from := s.Next()
	for _, x := range b.Schedule {
		r := s.Next()
		rate := money(c, x.Rate)
		if x.Area > 0 {
			rate = xlsx.Formula(fmt.Sprintf("ROUND(%s/%s,%d)", xlsx.At(7, r), xlsx.At(5, r), c.Digits()), rate)
		}
		s.Add(xlsx.Text(x.Level), xlsx.Text(x.BuildUp), xlsx.Text(j.buildUpName(x.BuildUp)), xlsx.Int(x.Walls), xlsx.Float(x.Length, 4), xlsx.Float(x.Area, 4), rate, money(c, x.Net))
	}
	blank := func(text string, last xlsx.Cell) {
		s.AddBold(xlsx.Cell{}, xlsx.Cell{}, xlsx.Text(text), xlsx.Cell{}, xlsx.Cell{}, xlsx.Cell{}, xlsx.Cell{}, last)
	}
	net, tax := s.Next(), s.Next()+1
	sum := money(c, b.Net)
	if net > from {
		sum = xlsx.Formula(xlsx.Sum(7, from, net-1), sum)
	}
	blank("Net price", sum)
	blank(b.taxName(), xlsx.Formula(fmt.Sprintf("ROUND(%s*%s/100,%d)", xlsx.At(7, net), b.Rates.Tax.Percent, c.Digits()), money(c, b.Tax)))
	blank("Total"+j.short(b), xlsx.Formula(xlsx.At(7, net)+"+"+xlsx.At(7, tax), money(c, b.Total)))
	book := &xlsx.Book{Title: "Bid " + j.title(), Sheets: []*xlsx.Sheet{s}}
	if len(b.Alternates) > 0 {
		book.Sheets = append(book.Sheets, alternateSheet(b))
	}
	return &xlsx.Book{Title: book.Title, Sheets: append(book.Sheets, j.termsSheet(b))}
}

func alternateSheet(b *Bid) *xlsx.Sheet {
	s := &xlsx.Sheet{Name: "Alternates", Heading: []string{"Alternates, net, " + string(b.Currency)}, Columns: []xlsx.Column{{Head: "Alternate", Width: 40}, {Head: "What changes", Width: 50}, {Head: "Net", Width: 16, Format: xlsx.Two}, {Head: "Difference", Width: 16, Format: xlsx.Two}}}
	for _, a := range b.Alternates {
		s.Add(xlsx.Text(a.Name), xlsx.Text(a.What), money(b.Currency, a.Net), money(b.Currency, a.Difference))
	}
	return s
}

func (j *Job) termsSheet(b *Bid) *xlsx.Sheet {
	s := &xlsx.Sheet{Name: "Terms", Heading: []string{"Not included, and assumed"}, Columns: []xlsx.Column{{Head: "Kind", Width: 16}, {Head: "What", Width: 120}}}
	for _, x := range b.exclusions() {
		s.Add(xlsx.Text("not included"), xlsx.Text(x))
	}
	for _, x := range j.assumptions() {
		s.Add(xlsx.Text("assumed"), xlsx.Text(x.String()))
	}
	return s
}

// costBook lays out what the bid is reckoned from, for the bidder.
func (j *Job) costBook(b *Bid) *xlsx.Book {
	return &xlsx.Book{Title: "Cost " + j.title(), Sheets: []*xlsx.Sheet{j.summarySheet(b), j.costSheet(b), materialSheet(b), labourSheet(b), plantSheet(b)}}
}

func (j *Job) summarySheet(b *Bid) *xlsx.Sheet {
	s := &xlsx.Sheet{Name: "Summary", Heading: []string{"From cost to price, " + string(b.Currency), j.heading(), cmp.Or(b.incomplete(), "Amounts: "+b.Rounding)}, Columns: []xlsx.Column{{Head: "What", Width: 40}, {Head: "Amount", Width: 18, Format: xlsx.Two}}}
	first := s.Next()
	for i, t := range b.Sums() {
		s.Add(xlsx.Text(t.Name), b.step(i, first, money(b.Currency, t.Amount)))
	}
	return s
}

// step is an amount of the summary: what follows from those above it is a formula. They
// stand in the order of Sums, from the given row on.
func (b *Bid) step(i, first int, amount xlsx.Cell) xlsx.Cell {
	at := func(n int) string { return xlsx.At(1, first+n) }
	share := func(of, percent string) xlsx.Cell {
		return xlsx.Formula(fmt.Sprintf("ROUND((%s)*%s/100,%d)", of, percent, b.Currency.Digits()), amount)
	}
	const material, plant, direct, overhead, risk, margin, net, tax, total = 0, 2, 3, 4, 5, 6, 7, 8, 9
	switch i {
	case direct:
		return xlsx.Formula(xlsx.Sum(1, first+material, first+plant), amount)
	case overhead:
		return share(at(direct), b.Rates.Overhead.String())
	case risk:
		return share(at(direct), b.Rates.Risk.String())
	case margin:
		return share("SUM("+at(direct)+":"+at(risk)+")", b.Rates.Margin.String())
	case net:
		return xlsx.Formula(xlsx.Sum(1, first+direct, first+margin), amount)
	case tax:
		return share(at(net), b.Rates.Tax.Percent.String())
	case total:
		return xlsx.Formula(at(net)+"+"+at(tax), amount)
	}
	return amount
}

// costSheet is the schedule with what it is made of.
func (j *Job) costSheet(b *Bid) *xlsx.Sheet {
	c := b.Currency
	s := &xlsx.Sheet{Name: "By wall type", Heading: []string{"Cost by level and wall type, " + string(c), j.heading()}, Columns: []xlsx.Column{
		{Head: "Level", Width: 12}, {Head: "Wall type", Width: 18}, {Head: "Area, m²", Width: 12, Format: xlsx.Two}, {Head: "Hours", Width: 10, Format: xlsx.Two}, {Head: "Material", Width: 14, Format: xlsx.Two},
		{Head: "Labour", Width: 14, Format: xlsx.Two}, {Head: "Plant", Width: 14, Format: xlsx.Two}, {Head: "Surcharges", Width: 14, Format: xlsx.Two}, {Head: "Net", Width: 14, Format: xlsx.Two},
	}}
	from := s.Next()
	for _, x := range b.Schedule {
		r := s.Next()
		s.Add(xlsx.Text(x.Level), xlsx.Text(x.BuildUp), xlsx.Float(x.Area, 4), xlsx.Float(x.Hours, 4), money(c, x.Material), money(c, x.Labour), money(c, x.Plant), money(c, x.Surcharge),
			xlsx.Formula(fmt.Sprintf("SUM(%s:%s)", xlsx.At(4, r), xlsx.At(7, r)), money(c, x.Net)))
	}
	if last := s.Next() - 1; last >= from {
		total := func(column int, d decimal.Decimal) xlsx.Cell {
			return xlsx.Formula(xlsx.Sum(column, from, last), money(c, d))
		}
		s.AddBold(xlsx.Text("Total"), xlsx.Cell{}, xlsx.Cell{}, xlsx.Cell{}, total(4, b.Material), total(5, b.Labours), total(6, b.Plants), total(7, b.Net.Sub(b.Direct)), total(8, b.Net))
	}
	return s
}

// sizeCell is a number where there is only a length, else text such as 1200 x 2500.
func sizeCell(size string) xlsx.Cell {
	if size != "" && strings.Trim(size, ".0123456789") == "" {
		return xlsx.Number(size)
	}
	return xlsx.Text(size)
}

func materialSheet(b *Bid) *xlsx.Sheet {
	c := b.Currency
	s := &xlsx.Sheet{Name: "Material", Heading: []string{"Material as ordered, " + string(c)}, Columns: []xlsx.Column{
		{Head: "Product", Width: 18}, {Head: "Name", Width: 40}, {Head: "Size, mm", Width: 13}, {Head: "Supplier", Width: 20}, {Head: "Quantity", Width: 12, Format: xlsx.Two}, {Head: "Unit", Width: 7},
		{Head: "Price", Width: 12, Format: xlsx.Four}, {Head: "Per", Width: 8, Format: xlsx.Whole}, {Head: "Amount", Width: 14, Format: xlsx.Two},
	}}
	from := s.Next()
	for _, m := range b.Materials {
		r := s.Next()
		if m.Unit == "" {
			s.Add(xlsx.Text(m.Product), xlsx.Text(m.Name), sizeCell(m.Size), xlsx.Text("no price"))
			continue
		}
		s.Add(xlsx.Text(m.Product), xlsx.Text(m.Name), sizeCell(m.Size), xlsx.Text(m.Supplier), xlsx.Number(m.Quantity.String()), xlsx.Text(m.Unit), xlsx.Number(m.Price.String()), xlsx.Number(m.Per.String()),
			xlsx.Formula(fmt.Sprintf("ROUND(%s*%s/%s,%d)", xlsx.At(4, r), xlsx.At(6, r), xlsx.At(7, r), c.Digits()), money(c, m.Amount)))
	}
	totalRow(s, 8, from, money(c, b.Material))
	return s
}

func labourSheet(b *Bid) *xlsx.Sheet {
	c := b.Currency
	s := &xlsx.Sheet{Name: "Labour", Heading: []string{"Work, " + string(c), "Hours are quantity times norm, with what makes walls slower."}, Columns: []xlsx.Column{
		{Head: "Step", Width: 36}, {Head: "Quantity", Width: 12, Format: xlsx.Two}, {Head: "Unit", Width: 7}, {Head: "Minutes a unit", Width: 10, Format: xlsx.Two}, {Head: "Norm is", Width: 18},
		{Head: "Hours", Width: 12, Format: xlsx.Two}, {Head: "Rate", Width: 12, Format: xlsx.Four}, {Head: "Amount", Width: 14, Format: xlsx.Two},
	}}
	from := s.Next()
	for _, l := range b.Labour {
		r := s.Next()
		s.Add(xlsx.Text(l.Name), xlsx.Float(l.Quantity, 4), xlsx.Text(l.Unit), xlsx.Float(l.Norm, 3), xlsx.Text(string(l.Status)), xlsx.Number(l.Hours.String()), xlsx.Number(l.Rate.String()),
			xlsx.Formula(fmt.Sprintf("ROUND(%s*%s,%d)", xlsx.At(5, r), xlsx.At(6, r), c.Digits()), money(c, l.Amount)))
	}
	totalRow(s, 7, from, money(c, b.Labours))
	return s
}

func plantSheet(b *Bid) *xlsx.Sheet {
	c := b.Currency
	s := &xlsx.Sheet{Name: "Plant", Heading: []string{"Plant, " + string(c)}, Columns: []xlsx.Column{
		{Head: "What", Width: 40}, {Head: "Quantity", Width: 12, Format: xlsx.Two}, {Head: "Unit", Width: 8}, {Head: "Cost", Width: 12, Format: xlsx.Four}, {Head: "Amount", Width: 14, Format: xlsx.Two},
	}}
	from := s.Next()
	for _, p := range b.Plant {
		r := s.Next()
		s.Add(xlsx.Text(p.Name), xlsx.Number(p.Quantity.String()), xlsx.Text(p.Unit), xlsx.Number(p.Cost.String()),
			xlsx.Formula(fmt.Sprintf("ROUND(%s*%s,%d)", xlsx.At(1, r), xlsx.At(3, r), c.Digits()), money(c, p.Amount)))
	}
	totalRow(s, 4, from, money(c, b.Plants))
	return s
}

// totalRow adds the sum of a column from a row on.
func totalRow(s *xlsx.Sheet, column, from int, result xlsx.Cell) {
	cells := make([]xlsx.Cell, column+1)
	cells[0] = xlsx.Text("Total")
	cells[column] = result
	if last := s.Next() - 1; last >= from {
		cells[column] = xlsx.Formula(xlsx.Sum(column, from, last), result)
	}
	s.AddBold(cells...)
}
