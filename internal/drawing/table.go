package drawing

import "slices"

// Column is one column of a table. Figures are set right-aligned, so that
// their digits stand under each other.
type Column struct {
	Head  string
	Width float64 // in mm
	Align Align
}

// Table is a ruled table.
type Table struct {
	Title   string
	Columns []Column
	Rows    []TableRow
}

// TableRow is one row of a table.
type TableRow struct {
	Cells   []string
	Heading bool // Cells[0] runs across the table in bold
	Joined  bool // belongs to the row above: no rule between them
	Page    int  // to which the row leads, from 1; 0 for none
}

// Add appends a row. Texts wider than a left-aligned column run on over further
// lines; others are condensed.
func (t *Table) Add(cells ...string) {
	wrapped := make([][]string, len(cells))
	lines := 1
	for i, c := range cells {
		wrapped[i] = []string{c}
		if t.Columns[i].Align == Left && c != "" {
			wrapped[i] = Wrap(c, Small, t.Columns[i].Width-2*cellPad, false)
		}
		lines = max(lines, len(wrapped[i]))
	}
	for n := range lines {
		row := TableRow{Cells: make([]string, len(cells)), Joined: n > 0}
		for i := range cells {
			if n < len(wrapped[i]) {
				row.Cells[i] = wrapped[i][n]
			}
		}
		t.Rows = append(t.Rows, row)
	}
}

// AddLink appends a row that leads to a page.
func (t *Table) AddLink(page int, cells ...string) {
	from := len(t.Rows)
	t.Add(cells...)
	for i := from; i < len(t.Rows); i++ {
		t.Rows[i].Page = page
	}
}

// Heading appends a row that runs across the table in bold.
func (t *Table) Heading(text string) {
	t.Rows = append(t.Rows, TableRow{Heading: true, Cells: []string{text}})
}

// Sizes of tables in mm for text of height Small.
const (
	rowHeight   = 4.7
	cellPad     = 1.2
	titleHeight = 6.5
)

// Width returns the table's width.
func (t *Table) Width() float64 {
	w := 0.0
	for _, c := range t.Columns {
		w += c.Width
	}
	return w
}

// Reach returns the height that n rows take up with title and head. A table
// whose columns have no heads has no head row.
func (t *Table) Reach(n int) float64 {
	if t.headed() {
		n++
	}
	return titleHeight + float64(n)*rowHeight
}

func (t *Table) headed() bool {
	return slices.ContainsFunc(t.Columns, func(c Column) bool { return c.Head != "" })
}

// Fitting returns how many of the rows from the given one fit into a height.
// Rows that belong together are not parted.
func (t *Table) Fitting(from int, height float64) int {
	n := min(int((height-t.Reach(0))/rowHeight+1e-6), len(t.Rows)-from)
	if n <= 0 {
		return 0
	}
	for n > 0 && from+n < len(t.Rows) && (t.Rows[from+n].Joined || t.Rows[from+n-1].Heading) {
		n--
	}
	return n
}

// Draw draws n rows from the given one with the table's upper left corner at
// p. A table that was begun elsewhere says so in its title.
func (t *Table) Draw(l *Layer, p Point, from, n int) {
	title := t.Title
	if from > 0 {
		title += " (continued)"
	}
	width := t.Width()
	l.Add(Text{At: p.Add(0, Large), Text: title, Height: Large, Bold: true, Max: width})
	y := p.Y + titleHeight
	l.Add(Line(Point{p.X, y}, Point{p.X + width, y}, Medium))
	if t.headed() {
		t.head(l, p.X, y)
		y += rowHeight
	}
	var rules []Segment
	for i := from; i < from+n; i++ {
		row := t.Rows[i]
		if i > from && !row.Joined {
			rules = append(rules, Segment{Point{p.X, y}, Point{p.X + width, y}})
		}
		t.row(l, row, p.X, y)
		if row.Page > 0 {
			l.Add(Link{Area: NewRect(p.X, y, width, rowHeight), Page: row.Page})
		}
		y += rowHeight
	}
	l.Add(Lines{Segments: rules, Pen: Hair}, Line(Point{p.X, y}, Point{p.X + width, y}, Medium))
}

// head draws the table's head row.
func (t *Table) head(l *Layer, x, y float64) {
	l.Add(Line(Point{x, y + rowHeight}, Point{x + t.Width(), y + rowHeight}, Thin))
	for _, c := range t.Columns {
		l.Add(cellText(c, c.Head, x, y, true))
		x += c.Width
	}
}

func (t *Table) row(l *Layer, row TableRow, x, y float64) {
	if row.Heading {
		l.Add(cellText(Column{Width: t.Width()}, row.Cells[0], x, y, true))
		return
	}
	for i, c := range t.Columns {
		if i < len(row.Cells) && row.Cells[i] != "" {
			l.Add(cellText(c, row.Cells[i], x, y, false))
		}
		x += c.Width
	}
}

func cellText(c Column, s string, x, y float64, bold bool) Text {
	at := Point{x + cellPad, y + rowHeight - 1.2}
	switch c.Align {
	case Centre:
		at.X = x + c.Width/2
	case Right:
		at.X = x + c.Width - cellPad
	}
	return Text{At: at, Text: s, Height: Small, Align: c.Align, Max: c.Width - 2*cellPad, Bold: bold}
}
