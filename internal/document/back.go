package document

import (
	"fmt"
	"slices"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/finding"
	"nogging/internal/takeoff"
)

// Widths of the take-off table in mm, and how many levels stand side by side.
const (
	codeWidth   = 44.0
	unitWidth   = 13.0
	amountWidth = 23.0
	levelsWide  = 8
)

// takeOffSheets sets the take-off: a table for every few levels, the total in
// the last.
func (p *pack) takeOffSheets() []*drawing.Scene {
	if len(p.in.TakeOff) == 0 {
		return nil
	}
	f := newFlow("take-off", "Take-off", 1)
	levels := len(p.in.Plan.Levels)
	for from := 0; from < levels || from == 0; from += levelsWide {
		to := min(from+levelsWide, levels)
		f.table(p.takeOffTable(f.width(), from, to, to == levels))
	}
	for i, s := range f.scenes {
		p.titled(s, "T", i+1, len(f.scenes), "Measured quantities, without waste.", []string{
			"Each quantity is the sum of the parts drawn; what is bought is rounded up to packs and stock lengths in the order.",
			"Not counted: packs, waste, stock lengths."})
	}
	return f.scenes
}

func (p *pack) takeOffTable(width float64, from, to int, total bool) *drawing.Table {
	t := &drawing.Table{Title: "Take-off"}
	amounts := to - from
	if total {
		amounts++
	}
	t.Columns = []drawing.Column{{Head: "Code", Width: codeWidth},
		{Head: "Description", Width: width - codeWidth - unitWidth - amountWidth*float64(amounts)},
		{Head: "Unit", Width: unitWidth}}
	for i := from; i < to; i++ {
		t.Columns = append(t.Columns, drawing.Column{Head: p.in.Plan.Levels[i].ID, Width: amountWidth, Align: drawing.Right})
	}
	if total {
		t.Columns = append(t.Columns, drawing.Column{Head: "Total", Width: amountWidth, Align: drawing.Right})
	}
	group := ""
	for _, r := range p.in.TakeOff {
		if r.Group != group {
			t.Heading(upperFirst(r.Group))
			group = r.Group
		}
		cells := []string{r.Code, r.Description, r.Unit}
		for i := from; i < to; i++ {
			v := 0.0
			if i < len(r.PerLevel) {
				v = r.PerLevel[i]
			}
			cells = append(cells, amount(v, r.Unit))
		}
		if total {
			cells = append(cells, amount(r.Total, r.Unit))
		}
		t.Add(cells...)
	}
	return t
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// amount writes a quantity as the take-off does; a dash for none.
func amount(v float64, unit string) string {
	if v == 0 {
		return "–"
	}
	return takeoff.Format(v, unit)
}

// findingSheets lists what somebody has to look at, the gravest first; no sheet
// where there is nothing to say.
func (p *pack) findingSheets() []*drawing.Scene {
	if len(p.in.Findings) == 0 {
		return nil
	}
	f := newFlow("findings", "Findings", 1)
	t := &drawing.Table{Title: "Findings", Columns: []drawing.Column{
		{Head: "Kind", Width: 22}, {Head: "About", Width: 34}, {Head: "What", Width: 168},
		{Head: "What would work", Width: f.width() - 22 - 34 - 168 - 44}, {Head: "Where", Width: 44},
	}}
	for _, severity := range finding.Severities() {
		for _, x := range p.in.Findings {
			if x.Severity == severity {
				t.Add(string(x.Severity), x.Object, p.set.Measures(x.What.String()), p.set.Measures(x.Fix.String()), x.Place.String())
			}
		}
	}
	f.table(t)
	for i, s := range f.scenes {
		p.titled(s, "N", i+1, len(f.scenes), "Errors and warnings need a person; what was assumed needs to be confirmed.", nil)
	}
	return f.scenes
}

// findingCount says how many findings of each kind there are.
func (p *pack) findingCount() string {
	var parts []string
	for _, s := range finding.Severities() {
		if n := p.in.Findings.Count(s); n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, s))
		}
	}
	if len(parts) == 0 {
		return "none"
	}
	return strings.Join(slices.Clip(parts), ", ")
}

// plain writes a rule's name in words.
func plain(name string) string { return strings.ReplaceAll(name, "_", " ") }
