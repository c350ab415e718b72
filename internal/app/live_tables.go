package app

import (
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"nogging/internal/document"
	"nogging/internal/exchange/xlsx"
	"nogging/internal/layout"
	"nogging/internal/takeoff"
)

// listing is a table that can be taken as a workbook or as sheets to print. Cells are
// strings, whole numbers and float64.
type listing struct {
	title   string
	kind    string // of document
	number  string
	columns []listColumn
	rows    [][]any // a single string is a heading across the table
}

// listColumn is a column; width is in mm on paper, 0 for what the others leave.
type listColumn struct {
	head  string
	width float64
	right bool
}

func (t *listing) add(cells ...any) { t.rows = append(t.rows, cells) }

// writeBook writes listings as the sheets of a workbook.
func writeBook(out io.Writer, j *Job, list ...*listing) error {
	b := &xlsx.Book{Title: list[0].title + ", " + j.title()}
	for _, t := range list {
		s := &xlsx.Sheet{Name: t.title, Heading: []string{t.title, j.heading()}}
		for _, c := range t.columns {
			width := c.width / 2
			if width == 0 {
				width = 48
			}
			format := xlsx.General
			if c.right {
				format = xlsx.Two
			}
			s.Columns = append(s.Columns, xlsx.Column{Head: c.head, Width: width, Format: format})
		}
		for _, row := range t.rows {
			cells := make([]xlsx.Cell, len(row))
			for i, v := range row {
				cells[i] = bookCell(v)
			}
			if len(row) == 1 {
				s.AddBold(cells...)
			} else {
				s.Add(cells...)
			}
		}
		b.Sheets = append(b.Sheets, s)
	}
	return xlsx.Write(out, b)
}

func bookCell(v any) xlsx.Cell {
	switch v := v.(type) {
	case int:
		return xlsx.Int(v)
	case float64:
		return xlsx.Float(v, 6)
	case layout.Length:
		return xlsx.Float(v.MM(), 6)
	}
	return xlsx.Text(fmt.Sprint(v))
}

// writeReport writes listings as one document to print.
func writeReport(out io.Writer, j *Job, list ...*listing) error {
	r := &document.Report{Title: list[0].title, Number: list[0].number, Kind: list[0].kind}
	for _, t := range list {
		table := &document.Table{Title: t.title}
		for _, c := range t.columns {
			table.Columns = append(table.Columns, document.ReportColumn{Head: c.head, Width: c.width, Right: c.right})
		}
		for _, row := range t.rows {
			if len(row) == 1 {
				table.AddHeading(fmt.Sprint(row[0]))
				continue
			}
			var cells []string
			for _, v := range row {
				cells = append(cells, printed(v))
			}
			table.Add(cells...)
		}
		r.Blocks = append(r.Blocks, document.Block{Table: table})
	}
	return document.WriteReport(out, j.Plan.Project, r)
}

func printed(v any) string {
	if f, ok := v.(float64); ok {
		return strconv.FormatFloat(f, 'f', 2, 64)
	}
	return fmt.Sprint(v)
}

// takeoffAs writes the quantities of the project and of each level.
func takeoffAs(write func(io.Writer, *Job, ...*listing) error) func(context.Context, *State, io.Writer) error {
	return func(_ context.Context, s *State, out io.Writer) error {
		t := &listing{title: "Take-off", kind: "Take-off", number: "T", columns: []listColumn{
			{"Code", 60, false}, {"What", 0, false}, {"Quantity", 34, true}, {"Unit", 16, false}, {"Pieces", 26, true}, {"Mass, kg", 30, true}}}
		section := func(heading string, lines []takeoff.Line) {
			t.add(heading)
			for _, l := range lines {
				t.add(l.Code, l.Name, l.Quantity, l.Unit, l.Pieces, l.Mass)
			}
		}
		section("Project", s.Takeoff().Total)
		for _, l := range s.Takeoff().Levels {
			section(s.job.levelName(l.ID), l.Lines)
		}
		return write(out, s.job, t)
	}
}

// writeOrderReport writes what to buy, whole and zone by zone, to print.
func writeOrderReport(ctx context.Context, s *State, out io.Writer) error {
	o, err := s.Order(ctx)
	if err != nil {
		return err
	}
	t := &listing{title: "Order", kind: "Order", number: "O", columns: []listColumn{
		{"Product", 50, false}, {"Name", 0, false}, {"Size, mm", 34, false}, {"Packs", 20, true}, {"Pack", 24, false}, {"Bought", 26, true}, {"Needed", 26, true}, {"Unit", 14, false}, {"Mass, kg", 28, true}}}
	for i := range o.Lines {
		l := &o.Lines[i]
		t.add(l.Product, l.Name, l.Size.String(), l.Packs, l.Pack, l.Bought, l.Gross, l.Unit, l.Mass)
	}
	for _, z := range o.Zones {
		t.add("Call-off " + z.ID)
		for i := range z.Lines {
			l := &z.Lines[i]
			t.add(l.Product, l.Name, l.Size.String(), l.Packs, l.Pack, l.Bought, l.Gross, l.Unit, l.Mass)
		}
	}
	return writeReport(out, s.job, t)
}

// writeCuttingBook writes bars and boards with the pieces that come of them.
func writeCuttingBook(ctx context.Context, s *State, out io.Writer) error {
	c, err := s.Cutting(ctx)
	if err != nil {
		return err
	}
	bars := &listing{title: "Bars", columns: []listColumn{
		{"Zone", 24, false}, {"Profile", 30, false}, {"Bar", 16, false}, {"Length, mm", 24, true}, {"Wall", 24, false}, {"Mark", 16, false}, {"Piece, mm", 24, true}}}
	boards := &listing{title: "Boards", columns: []listColumn{
		{"Zone", 24, false}, {"Board", 40, false}, {"Sheet", 16, false}, {"Offcut of", 18, false}, {"Width, mm", 24, true}, {"Length, mm", 24, true}, {"Cut as", 16, false}, {"Pieces", 0, false}}}
	for _, z := range c.Zones {
		for i := range z.Profiles {
			for n, b := range z.Profiles[i].Bars {
				for _, p := range b.Pieces {
					bars.add(z.ID, z.Profiles[i].Product, n+1, b.Length, p.Wall, p.Mark, p.Length)
				}
			}
		}
		for i := range z.Boards {
			for _, w := range z.Boards[i].Ways {
				for _, x := range w.Sheets {
					from := any("")
					if x.From > 0 {
						from = x.From
					}
					boards.add(z.ID, z.Boards[i].Product, x.Number, from, w.Width, w.Length, w.Number, strings.Join(x.Pieces, ", "))
				}
			}
		}
	}
	return writeBook(out, s.job, bars, boards)
}

// writeSchedule writes the bid's schedule as comma-separated values.
func writeSchedule(ctx context.Context, s *State, out io.Writer) error {
	b, err := s.Price(ctx)
	if err != nil {
		return err
	}
	rows := [][]string{{"level", "wall_type", "walls", "length_m", "area_m2", "rate", "net", "currency"}}
	for _, r := range b.Schedule {
		rows = append(rows, []string{r.Level, r.BuildUp, strconv.Itoa(r.Walls), fmt.Sprintf("%.3f", r.Length), fmt.Sprintf("%.3f", r.Area), b.Currency.Amount(r.Rate), b.Currency.Amount(r.Net), string(b.Currency)})
	}
	return csv.NewWriter(out).WriteAll(rows)
}
