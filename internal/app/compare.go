package app

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"nogging/internal/catalogue"
	"nogging/internal/document"
	"nogging/internal/price"
	"nogging/internal/variation"
	"nogging/internal/yamlfile"
)

// Variation is what changes between two plans.
type Variation struct {
	*variation.Report
	before, after *Job
}

// OpenDone reads the file of what was delivered and cut; what is wrong with it is
// added to the job's findings. The error says that it could not be read.
func (j *Job) OpenDone(name string, read ReadFile) (*variation.Done, yamlfile.Places, error) {
	data, err := read(name)
	if err != nil {
		return nil, yamlfile.Places{}, err
	}
	d, places, found := variation.ReadDone(name, data)
	j.Findings = append(j.Findings, found...)
	return d, places, nil
}

// Compare says what changes from an old plan to the job's; both have to be built.
// Prices and done may be nil. Places are those of the file of what was done.
func (j *Job) Compare(before *Job, prices *Prices, done *variation.Done, places yamlfile.Places) *Variation {
	v := &Variation{variation.Of(before.side(prices), j.side(prices), done), before, j}
	places.Fill(v.Findings)
	return v
}

// side gathers what is compared of a plan.
func (j *Job) side(prices *Prices) variation.Side {
	s := variation.Side{Plan: j.Plan, Layout: j.Layout, Order: j.Order()}
	if prices != nil {
		s.Quote = j.quote(prices, s.Order)
		s.Work = s.Quote.Work
		return s
	}
	for i, w := range j.Layout.Walls {
		s.Work = append(s.Work, price.WorkOn(w, j.Takeoff.Walls[i].Lines, j.Catalogue, false, func(*catalogue.Product) bool { return false }))
	}
	return s
}

// WriteVariation writes variation.json and variation.pdf.
func (v *Variation) WriteVariation(to Folder) (files int, err error) {
	w := &writer{job: v.after, to: to, progress: Quiet}
	w.file("variation.json", func(out io.Writer) error {
		e := json.NewEncoder(out)
		e.SetIndent("", "  ")
		return e.Encode(v.Report)
	})
	w.file("variation.pdf", func(out io.Writer) error { return document.WriteReport(out, v.after.Plan.Project, v.document()) })
	return w.files, w.err
}

// document lays the variation out to be sent.
func (v *Variation) document() *document.Report {
	r := &document.Report{Title: "Variation", Number: "V", Kind: "Variation", Notes: []string{
		"Parts of the same shape count as the same, whatever their marks. Hours are those of one person, by the norms of the catalogue."}}
	head := document.Block{Heading: "From " + v.before.heading(), Paragraphs: []string{"To " + v.after.heading()}}
	if v.Empty() {
		head.Paragraphs = append(head.Paragraphs, "Nothing changes.")
	}
	r.Blocks = []document.Block{head}
	for _, t := range v.tables(false) {
		r.Blocks = append(r.Blocks, document.Block{Table: t})
	}
	if len(v.Findings) > 0 {
		b := document.Block{Heading: "To be settled"}
		for _, f := range v.Findings {
			b.List = append(b.List, strings.TrimSuffix(fmt.Sprintf("%s: %s; %s", f.Object, f.What, f.Fix), "; "))
		}
		r.Blocks = append(r.Blocks, b)
	}
	return r
}

// Tables lays the variation out as tables; one without rows has nothing to say.
func (v *Variation) Tables() []*document.Table { return v.tables(true) }

// tables leaves the bidder's own figures out where they are not asked for.
func (v *Variation) tables(own bool) []*document.Table {
	return []*document.Table{v.priceTable(own), v.generalTable(), v.wallTable(), v.orderTable(), v.cutTable()}
}

// figure writes a figure before and after.
func figure(f variation.Figures, unit string) []string {
	return []string{fmt.Sprintf("%.1f %s", f.Old, unit), fmt.Sprintf("%.1f %s", f.New, unit), fmt.Sprintf("%+.1f %s", f.Difference(), unit)}
}

// priceTable shows hours, mass and price before and after.
func (v *Variation) priceTable(own bool) *document.Table {
	t := &document.Table{Title: "Effect", Columns: []document.ReportColumn{{Head: ""}, {Head: "Before", Width: 50, Right: true}, {Head: "After", Width: 50, Right: true}, {Head: "Difference", Width: 50, Right: true}}}
	t.Add(append([]string{"Hours"}, figure(v.Hours, "h")...)...)
	t.Add(append([]string{"Mass of what is bought"}, figure(v.Mass, "kg")...)...)
	if v.Price == nil {
		return t
	}
	c := v.Price.Currency
	for _, l := range v.Price.Lines {
		if l.Own && !own {
			continue
		}
		name := l.Name + ", " + string(c)
		if v.Price.Incomplete {
			name += " (incomplete)"
		}
		t.Add(name, c.Amount(l.Old), c.Amount(l.New), signed(c, l.Difference))
	}
	return t
}

var changeColumns = []document.ReportColumn{{Head: "What", Width: 62}, {Head: "Before", Width: 110}, {Head: "After"}}

// generalTable lists what changes beside walls.
func (v *Variation) generalTable() *document.Table {
	t := &document.Table{Title: "Levels, build-ups, structure and rules", Columns: changeColumns}
	for _, o := range v.General {
		t.AddHeading(strings.TrimSpace(o.Kind+" "+o.ID) + ": " + string(o.What))
		addChanges(t, o.Changes)
	}
	return t
}

func addChanges(t *document.Table, list []variation.Change) {
	for _, c := range list {
		t.Add(c.What, orNone(c.Old), orNone(c.New))
	}
}

func orNone(s string) string {
	if s == "" {
		return "–"
	}
	return s
}

// wallTable lists what becomes of each wall.
func (v *Variation) wallTable() *document.Table {
	t := &document.Table{Title: "Walls", Columns: changeColumns}
	for i := range v.Walls {
		w := &v.Walls[i]
		t.AddHeading(wallHeading(w))
		addChanges(t, w.Changes)
		t.Add("hours", fmt.Sprintf("%.1f", w.Hours.Old), fmt.Sprintf("%.1f (%+.1f)", w.Hours.New, w.Hours.Difference()))
		t.Add(fmt.Sprintf("parts, %d as they were", w.Kept), partList(w.Gone, "no longer needed"), partList(w.Made, "to be made"))
	}
	return t
}

// wallHeading says what becomes of a wall.
func wallHeading(w *variation.Wall) string {
	s := w.Wall + ": " + string(w.Kind)
	if w.Kind == variation.Affected {
		s += " by what changes about it"
	}
	if w.Was != "" {
		s += ", was " + w.Was
	}
	return s
}

// partList lists marks, the first of many.
func partList(marks []string, what string) string {
	const most = 24
	if len(marks) == 0 {
		return "–"
	}
	text := fmt.Sprintf("%d %s: %s", len(marks), what, strings.Join(marks[:min(len(marks), most)], ", "))
	if len(marks) > most {
		text += fmt.Sprintf(" and %d more", len(marks)-most)
	}
	return text
}

// orderTable shows the order before and after, and what was delivered of it.
func (v *Variation) orderTable() *document.Table {
	t := &document.Table{Title: "Order, in packs", Columns: []document.ReportColumn{{Head: "Product", Width: 50}, {Head: "Name"}, {Head: "Size, mm", Width: 34}, {Head: "Pack", Width: 24},
		{Head: "Before", Width: 22, Right: true}, {Head: "After", Width: 22, Right: true}, {Head: "Delivered", Width: 24, Right: true}, {Head: "To buy", Width: 22, Right: true}, {Head: "Over", Width: 22, Right: true}}}
	for i := range v.Order {
		x := &v.Order[i]
		t.Add(x.Product, x.Name, x.Size.String(), x.Pack, fmt.Sprint(x.Old), fmt.Sprint(x.New), fmt.Sprint(x.Delivered), fmt.Sprint(x.ToBuy), fmt.Sprint(x.Over))
	}
	return t
}

// cutTable says where parts go that were cut already.
func (v *Variation) cutTable() *document.Table {
	t := &document.Table{Title: "Parts cut already", Columns: []document.ReportColumn{{Head: "Cut for", Width: 62}, {Head: "Part", Width: 62}, {Head: "Goes to"}}}
	for _, x := range v.Cut {
		to := x.Goes
		if to == "" {
			to = "nowhere"
		}
		t.Add(x.Wall, x.Part, to)
	}
	return t
}
