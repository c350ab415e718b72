package app

import (
	"cmp"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"nogging/internal/exchange/xlsx"
	"nogging/internal/order"
	"nogging/internal/takeoff"
)

// Order makes the order of a built plan and adds its findings to the job's.
func (j *Job) Order() *order.Order {
	o, _ := j.OrderIn(context.Background())
	return o
}

// OrderIn is Order that ends early, with an error, when ctx does.
func (j *Job) OrderIn(ctx context.Context) (*order.Order, error) {
	zones, err := j.cutZones(ctx)
	if err != nil {
		return nil, err
	}
	o := order.Of(order.Input{Plan: j.Plan, Layout: j.Layout, Takeoff: j.Takeoff, Catalogue: j.Catalogue, Practice: j.Practice, Cuts: cuts(zones)})
	o.Saved = j.Saved()
	j.add(o.Findings)
	j.Findings.Sort()
	return o, nil
}

// noSupplier names the purchase list of products of which no price list says who
// supplies them.
const noSupplier = "no supplier named"

// WriteOrder writes an order: order.json, order.xlsx with a sheet for each
// supplier, each call-off, carbon and waste, a purchase list as CSV for each supplier,
// and call-offs.csv. supplierOf tells who supplies a product; it may be nil.
func (j *Job) WriteOrder(o *order.Order, supplierOf func(product string) string, to Folder) (files int, err error) {
	lists := bySupplier(o, supplierOf)
	w := &writer{job: j, to: to, progress: Quiet}
	w.file("order.json", func(out io.Writer) error {
		e := json.NewEncoder(out)
		e.SetIndent("", "  ")
		return e.Encode(o)
	})
	if o.Saved != nil {
		w.file("boards-saved.csv", func(out io.Writer) error { return writeSaved(out, o.Saved) })
	}
	w.file("order.xlsx", func(out io.Writer) error { return xlsx.Write(out, j.orderBook(o, lists)) })
	for _, l := range lists {
		w.file("purchase/"+fileName(l.supplier)+".csv", func(out io.Writer) error { return writeLines(out, nil, [][]order.Line{l.lines}) })
	}
	w.file("call-offs.csv", func(out io.Writer) error {
		var zones []string
		var lines [][]order.Line
		for _, z := range o.Zones {
			zones, lines = append(zones, z.ID), append(lines, z.Lines)
		}
		return writeLines(out, zones, lines)
	})
	return w.files, w.err
}

// purchase is what is bought of one supplier.
type purchase struct {
	supplier string
	lines    []order.Line
}

// bySupplier parts an order by supplier, in the order of their names.
func bySupplier(o *order.Order, supplierOf func(string) string) []purchase {
	var lists []purchase
	for _, l := range o.Lines {
		name := ""
		if supplierOf != nil {
			name = supplierOf(l.Product)
		}
		name = cmp.Or(name, noSupplier)
		i := slices.IndexFunc(lists, func(p purchase) bool { return p.supplier == name })
		if i < 0 {
			i = len(lists)
			lists = append(lists, purchase{supplier: name})
		}
		lists[i].lines = append(lists[i].lines, l)
	}
	slices.SortFunc(lists, func(a, b purchase) int { return cmp.Compare(a.supplier, b.supplier) })
	return lists
}

// fileName makes a supplier's name fit for a file.
func fileName(s string) string {
	return strings.Map(func(r rune) rune {
		if r <= ' ' || strings.ContainsRune(`/\:*?"<>|`, r) {
			return '-'
		}
		return r
	}, s)
}

// writeLines writes order lines as comma-separated values with a header row;
// behind a column of the zone where there are zones.
func writeLines(out io.Writer, zones []string, lists [][]order.Line) error {
	head := []string{"product", "name", "size_mm", "packs", "pack", "per_pack", "per_pack_unit", "bought", "needed", "left", "unit", "mass_kg", "pallets", "waste"}
	if zones != nil {
		head = slices.Insert(head, 0, "zone")
	}
	rows := [][]string{head}
	for i, lines := range lists {
		for k := range lines {
			l := &lines[k]
			row := []string{l.Product, l.Name, l.Size.String(), strconv.Itoa(l.Packs), l.Pack, fmt.Sprintf("%g", l.Amount), plainUnit(l.In),
				takeoff.Format(l.Bought, l.Unit), takeoff.Format(l.Gross, l.Unit), takeoff.Format(l.Surplus, l.Unit), plainUnit(l.Unit), fmt.Sprintf("%.1f", l.Mass), strconv.Itoa(l.Pallets), l.Rule}
			if zones != nil {
				row = slices.Insert(row, 0, zones[i])
			}
			rows = append(rows, row)
		}
	}
	return csv.NewWriter(out).WriteAll(rows)
}

// plainUnit writes a unit in letters that every spreadsheet reads right.
func plainUnit(unit string) string {
	return strings.NewReplacer("²", "2", "³", "3").Replace(unit)
}

// orderBook lays an order out as a workbook.
func (j *Job) orderBook(o *order.Order, lists []purchase) *xlsx.Book {
	b := &xlsx.Book{Title: strings.TrimSpace("Order " + j.title())}
	for _, l := range lists {
		b.Sheets = append(b.Sheets, linesSheet("Order "+l.supplier, []string{"Purchase list: " + l.supplier, j.heading()}, l.lines))
	}
	for _, z := range o.Zones {
		s := linesSheet("Call-off "+z.ID, []string{"Call-off " + z.ID, j.heading(), "Walls: " + strings.Join(z.Walls, ", ")}, z.Lines)
		b.Sheets = append(b.Sheets, s)
	}
	if o.Saved != nil {
		b.Sheets = append(b.Sheets, savedSheet(o.Saved, j))
	}
	return &xlsx.Book{Title: b.Title, Sheets: append(b.Sheets, stackSheet(o, j), carbonSheet(o, j), wasteSheet(o, j))}
}

// title names the project.
func (j *Job) title() string { return cmp.Or(j.Plan.Project.Name, "partitions") }

// heading names the project with its revision and date.
func (j *Job) heading() string {
	p := j.Plan.Project
	parts := []string{j.title()}
	for _, x := range [][2]string{{"job ", p.Number}, {"revision ", p.Revision}, {"", p.Date}} {
		if x[1] != "" {
			parts = append(parts, x[0]+x[1])
		}
	}
	return strings.Join(parts, ", ")
}

// linesSheet lays order lines out: what is bought is reckoned from packs, and
// masses are summed, by formulas.
func linesSheet(name string, heading []string, lines []order.Line) *xlsx.Sheet {
	s := &xlsx.Sheet{Name: name, Heading: heading, Columns: []xlsx.Column{
		{Head: "Product", Width: 18}, {Head: "Name", Width: 40}, {Head: "Size, mm", Width: 13}, {Head: "Packs", Width: 8, Format: xlsx.Whole}, {Head: "Pack", Width: 10},
		{Head: "Units a pack", Width: 11, Format: xlsx.Two}, {Head: "Bought", Width: 11, Format: xlsx.Two}, {Head: "Needed with waste", Width: 11, Format: xlsx.Two},
		{Head: "Left", Width: 10, Format: xlsx.Two}, {Head: "Unit", Width: 6}, {Head: "Mass, kg", Width: 11, Format: xlsx.Two}, {Head: "Pallets", Width: 8, Format: xlsx.Whole}, {Head: "Waste", Width: 34},
	}}
	from := s.Next()
	var mass float64
	var pallets int
	for i := range lines {
		l := &lines[i]
		r := s.Next()
		s.Add(xlsx.Text(l.Product), xlsx.Text(l.Name), sizeCell(l.Size.String()), xlsx.Int(l.Packs), xlsx.Text(l.Pack), xlsx.Float(l.PerPack, 6),
			xlsx.Formula(xlsx.At(3, r)+"*"+xlsx.At(5, r), xlsx.Float(l.Bought, 6)), xlsx.Float(l.Gross, 6), xlsx.Float(l.Surplus, 6), xlsx.Text(l.Unit),
			xlsx.Float(l.Mass, 6), xlsx.Int(l.Pallets), xlsx.Text(l.Rule))
		mass += l.Mass
		pallets += l.Pallets
	}
	sum := func(column int, result xlsx.Cell) xlsx.Cell {
		if len(lines) == 0 {
			return result
		}
		return xlsx.Formula(xlsx.Sum(column, from, s.Next()-1), result)
	}
	s.AddBold(xlsx.Text("Total"), xlsx.Cell{}, xlsx.Cell{}, xlsx.Cell{}, xlsx.Cell{}, xlsx.Cell{}, xlsx.Cell{}, xlsx.Cell{}, xlsx.Cell{}, xlsx.Cell{},
		sum(10, xlsx.Float(mass, 3)), sum(11, xlsx.Int(pallets)))
	return s
}

// stackSheet says how boards are stored and lifted.
func stackSheet(o *order.Order, j *Job) *xlsx.Sheet {
	s := &xlsx.Sheet{Name: "Deliveries", Heading: []string{"Deliveries: boards on the floor and lifts", j.heading(), "Flat on level bearers, dry; ask who designed the floor before stacking. Boards are carried on edge; persons by the practice's lift limit."}, Columns: []xlsx.Column{
		{Head: "Zone", Width: 14}, {Head: "Board", Width: 36}, {Head: "Size, mm", Width: 13}, {Head: "Boards", Width: 8, Format: xlsx.Whole}, {Head: "Mass of one, kg", Width: 10, Format: xlsx.Two},
		{Head: "Lift", Width: 16}, {Head: "Load of one stack, kN/m²", Width: 13, Format: xlsx.Two}, {Head: "At most on one place", Width: 12, Format: xlsx.Whole}, {Head: "Stacks", Width: 9, Format: xlsx.Whole},
	}}
	from, boards := s.Next(), 0
	for _, z := range o.Zones {
		for _, x := range z.Stacks {
			most, stacks := xlsx.Text("not known"), xlsx.Cell{}
			if x.Most > 0 {
				most, stacks = xlsx.Int(x.Most), xlsx.Int(x.Stacks)
			}
			s.Add(xlsx.Text(z.ID), xlsx.Text(x.Name), sizeCell(x.Size.String()), xlsx.Int(x.Boards), xlsx.Float(x.Mass, 1), xlsx.Text(lift(x.Persons)), xlsx.Float(x.Load, 2), most, stacks)
			boards += x.Boards
		}
	}
	if to := s.Next() - 1; to >= from {
		s.AddBold(xlsx.Text("Total"), xlsx.Cell{}, xlsx.Cell{}, xlsx.Formula(xlsx.Sum(3, from, to), xlsx.Int(boards)))
	}
	return s
}

func lift(persons int) string {
	switch persons {
	case 0:
		return "board lifter"
	case 1:
		return "1 person"
	}
	return fmt.Sprintf("%d persons", persons)
}

// carbonSheet lists what making the products emits.
func carbonSheet(o *order.Order, j *Job) *xlsx.Sheet {
	s := &xlsx.Sheet{Name: "Carbon", Heading: []string{"Embodied carbon, kg CO2 equivalent", j.heading(), "Modules A1 to A3 of what is built in; making what goes to waste belongs to module A5 (EN 15978)."}, Columns: []xlsx.Column{
		{Head: "Product", Width: 36}, {Head: "Built in, kg", Width: 12, Format: xlsx.Two}, {Head: "Waste, kg", Width: 12, Format: xlsx.Two}, {Head: "Per kg", Width: 10, Format: xlsx.Four},
		{Head: "A1 to A3", Width: 12, Format: xlsx.Two}, {Head: "A5, waste", Width: 12, Format: xlsx.Two}, {Head: "Source", Width: 60},
	}}
	from := s.Next()
	for _, l := range o.Carbon.Lines {
		r := s.Next()
		s.Add(xlsx.Text(l.Name), xlsx.Float(l.Mass, 6), xlsx.Float(l.Wasted, 6), xlsx.Float(l.Figure, 7),
			xlsx.Formula(xlsx.At(1, r)+"*"+xlsx.At(3, r), xlsx.Float(l.Built, 4)), xlsx.Formula(xlsx.At(2, r)+"*"+xlsx.At(3, r), xlsx.Float(l.Waste, 4)), xlsx.Text(l.Source+" ("+string(l.Status)+")"))
	}
	if last := s.Next() - 1; last >= from {
		s.AddBold(xlsx.Text("Total"), xlsx.Cell{}, xlsx.Cell{}, xlsx.Cell{}, xlsx.Formula(xlsx.Sum(4, from, last), xlsx.Float(o.Carbon.Built, 4)), xlsx.Formula(xlsx.Sum(5, from, last), xlsx.Float(o.Carbon.Waste, 4)))
	}
	if len(o.Carbon.Open) > 0 {
		s.Add(xlsx.Text("Not counted: " + strings.Join(o.Carbon.Open, ", ")))
	}
	return s
}

// wasteSheet lists the streams of waste.
func wasteSheet(o *order.Order, j *Job) *xlsx.Sheet {
	s := &xlsx.Sheet{Name: "Waste", Heading: []string{"Waste by stream", j.heading(), "Beyond what is measured; packs left over are no waste."}, Columns: []xlsx.Column{
		{Head: "Stream", Width: 24}, {Head: "Mass, kg", Width: 12, Format: xlsx.Two}, {Head: "What to do", Width: 90},
	}}
	from := s.Next()
	total := 0.0
	for _, w := range o.Waste {
		s.Add(xlsx.Text(w.Name), xlsx.Float(w.Mass, 3), xlsx.Text(w.Note))
		total += w.Mass
	}
	s.AddBold(xlsx.Text("Total"), xlsx.Formula(xlsx.Sum(1, from, s.Next()-1), xlsx.Float(total, 3)))
	return s
}
