package document

import (
	"io"

	"nogging/internal/drawing"
	"nogging/internal/drawing/pdf"
	"nogging/internal/plan"
)

// Report is a document of headings, text and tables on sheets of the pack's form:
// a bid, or what changed between two plans.
type Report struct {
	Title   string
	Number  string // of the document, behind the project's
	Kind    string // kind of document in the title block
	Caution string
	Notes   []string // beside the title block
	Blocks  []Block
}

// Block is part of a report: a heading, paragraphs, a list, a table, each where it
// is given, in this order.
type Block struct {
	Heading    string
	Paragraphs []string
	List       []string
	Table      *Table
}

// Table is a table of a report.
type Table struct {
	Title   string
	Columns []ReportColumn
	Rows    []ReportRow
}

// ReportColumn is a column. Widths are in mm; one column of width 0 takes what the
// others leave.
type ReportColumn struct {
	Head  string
	Width float64
	Right bool // figures
}

// ReportRow is a row of cells, or a heading across the table.
type ReportRow struct {
	Cells   []string
	Heading bool
}

// Add adds a row.
func (t *Table) Add(cells ...string) { t.Rows = append(t.Rows, ReportRow{Cells: cells}) }

// AddHeading adds a heading across the table.
func (t *Table) AddHeading(text string) {
	t.Rows = append(t.Rows, ReportRow{Cells: []string{text}, Heading: true})
}

// WriteReport writes a report as PDF.
func WriteReport(w io.Writer, project plan.Project, r *Report) error {
	f := newFlow("report", r.Title, 1)
	for i := range r.Blocks {
		f.block(&r.Blocks[i])
	}
	doc := pdf.New(w, pdf.Info{Title: r.Title, Subject: r.Kind, Created: dated(project)})
	for i, s := range f.scenes {
		drawing.Finish(s, drawing.TitleBlock{
			Project: project.Name, Number: project.Number, Revision: project.Revision, Date: project.Date,
			Title: r.Title, Drawing: numbered(project.Number, r.Number), Kind: r.Kind, Scale: "–", Sheet: i + 1, Sheets: len(f.scenes),
		}, r.Caution, r.Notes)
		doc.Add(pdf.Render(s))
		for _, h := range f.headings {
			if h.scene == i {
				doc.Bookmark(h.text, 0)
			}
		}
	}
	return doc.Close()
}

// WriteScenes writes sheets that are finished, as one document.
func WriteScenes(w io.Writer, title string, list []*drawing.Scene) error {
	doc := pdf.New(w, pdf.Info{Title: title})
	last := ""
	for _, s := range list {
		doc.Add(pdf.Render(s))
		if s.Title != last {
			doc.Bookmark(s.Title, 0)
			last = s.Title
		}
	}
	return doc.Close()
}

// block sets a block.
func (f *flow) block(b *Block) {
	const follow = 20 // room that a heading is kept with
	if b.Heading != "" {
		f.heading(b.Heading, drawing.Large, follow)
	}
	for _, p := range b.Paragraphs {
		f.paragraph(p, 0, false)
	}
	for _, item := range b.List {
		f.bullet(item)
	}
	if b.Table != nil && len(b.Table.Rows) > 0 {
		f.table(b.Table.ruled(f.width()))
	}
	f.y += gutter / 2
}

// ruled makes the table one that can be drawn, as wide as given.
func (t *Table) ruled(width float64) *drawing.Table {
	left := width
	for _, c := range t.Columns {
		left -= c.Width
	}
	out := &drawing.Table{Title: t.Title}
	for _, c := range t.Columns {
		column := drawing.Column{Head: c.Head, Width: c.Width}
		if c.Width == 0 {
			column.Width = left
		}
		if c.Right {
			column.Align = drawing.Right
		}
		out.Columns = append(out.Columns, column)
	}
	for _, r := range t.Rows {
		if r.Heading {
			out.Heading(r.Cells[0])
			continue
		}
		cells := make([]string, len(t.Columns))
		copy(cells, r.Cells)
		out.Add(cells...)
	}
	return out
}
