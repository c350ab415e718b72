package app

import (
	"fmt"
	"io"
	"strings"

	"nogging/internal/document"
	"nogging/internal/exchange/xlsx"
	"nogging/internal/programme"
)

// programmeReports writes the look-ahead, the report and the deliveries by week.
func (w *writer) programmeReports(p *programme.Programme) {
	j := w.job
	w.file("look-ahead.pdf", func(out io.Writer) error { return document.WriteReport(out, j.Plan.Project, lookReport(p)) })
	w.file("report.pdf", func(out io.Writer) error { return document.WriteReport(out, j.Plan.Project, j.programmeReport(p)) })
	w.file("deliveries.csv", func(out io.Writer) error { return writeCallWeeks(out, p) })
	w.file("deliveries.xlsx", func(out io.Writer) error { return xlsx.Write(out, j.callBook(p)) })
	if p.Progress != nil && len(p.Progress.Norms) > 0 {
		w.file("norms.yaml", func(out io.Writer) error { return writeNorms(out, p.Progress) })
	}
}

// lookReport lays out what each gang does in the weeks to come.
func lookReport(p *programme.Programme) *document.Report {
	r := &document.Report{Title: "Look-ahead, three weeks", Number: "PA", Kind: "Programme", Caution: "Coats dry by the air on site: look at each before the next one.",
		Notes: []string{"Boards are carried on edge, heavy ones by two; cut and sand with the dust drawn off; platforms for work at height."}}
	for _, l := range p.Looks {
		t := &document.Table{Title: fmt.Sprintf("%s to %s", l.From.Short(), l.Until.Short()), Columns: []document.ReportColumn{
			{Head: "From", Width: 36}, {Head: "Until", Width: 36}, {Head: "Where", Width: 30}, {Head: "What", Width: 54}, {Head: "Walls"}, {Head: "Ready before", Width: 90}}}
		for _, x := range l.Tasks {
			t.Add(x.From.Short(), x.Until.Short(), x.Group, x.Name, strings.Join(x.Walls, ", "), x.Ready)
		}
		b := document.Block{Heading: strings.TrimSpace("Gang " + l.Gang + " " + bracketed(l.Name)), Table: t}
		if len(l.Tasks) == 0 {
			b.Paragraphs = []string{"Nothing in these weeks."}
		}
		r.Blocks = append(r.Blocks, b)
	}
	return r
}

func bracketed(s string) string {
	if s == "" {
		return ""
	}
	return "(" + s + ")"
}

// programmeReport lays out when the work ends and why, inspections, deliveries, and what
// was earned.
func (j *Job) programmeReport(p *programme.Programme) *document.Report {
	r := &document.Report{Title: "Programme: report", Number: "PR", Kind: "Programme", Notes: []string{"Hours are those of one person, by the norms of the bid. Drying times rest on a table from memory, in proportion to the coat's thickness (estimate)."}}
	head := document.Block{Heading: j.heading(), Paragraphs: []string{p.Summary()}}
	for _, a := range p.Alternates {
		head.Paragraphs = append(head.Paragraphs, a.Sentence())
	}
	if list := p.Unplanned(); len(list) > 0 {
		head.Paragraphs = append(head.Paragraphs, "Not planned, as the findings say: "+strings.Join(list, ", ")+".")
	}
	r.Blocks = []document.Block{head, {Table: chainTable(p)}, {Table: holdTable(p)}, {Table: callTable(p)}}
	if p.Progress != nil {
		r.Blocks = append(r.Blocks, document.Block{Table: earnedTable(p.Progress)}, document.Block{Table: normTable(p.Progress)})
	}
	return r
}

func chainTable(p *programme.Programme) *document.Table {
	t := &document.Table{Title: "Critical chain: what decides the end", Columns: []document.ReportColumn{{Head: "Task", Width: 86}, {Head: "From", Width: 36}, {Head: "Until", Width: 36}, {Head: "Why not sooner"}}}
	for _, s := range p.Chain {
		t.Add(s.Task, s.Start.Short(), s.End.Short(), s.Why)
	}
	return t
}

func holdTable(p *programme.Programme) *document.Table {
	t := &document.Table{Title: "Hold points: work does not go on without them", Columns: []document.ReportColumn{{Head: "Where", Width: 26}, {Head: "Inspection", Width: 46}, {Head: "From", Width: 36}, {Head: "Announce by", Width: 28}, {Head: "Walls", Width: 70}, {Head: "To be shown"}}}
	for _, h := range p.Holds {
		from := h.From.Short()
		if h.Done {
			from = "done"
		}
		t.Add(h.Group, h.Name, from, h.Notice.Short(), strings.Join(h.Walls, ", "), strings.Join(h.Show, "; "))
	}
	return t
}

func callTable(p *programme.Programme) *document.Table {
	t := &document.Table{Title: "Deliveries", Columns: []document.ReportColumn{{Head: "Week", Width: 24}, {Head: "Arrives", Width: 30}, {Head: "Call off by", Width: 30}, {Head: "What"}, {Head: "First used", Width: 40}, {Head: "Mass, kg", Width: 24, Right: true}, {Head: "Pallets", Width: 20, Right: true}}}
	for i := range p.CallOffs {
		c := &p.CallOffs[i]
		t.Add(c.Week, c.Arrive.Short(), c.When(), c.Title(), c.Use.Short(), fmt.Sprintf("%.0f", c.Mass), fmt.Sprint(c.Pallets))
	}
	return t
}

func earnedTable(p *programme.Progress) *document.Table {
	t := &document.Table{Title: fmt.Sprintf("Earned to %s: %.1f of %.1f h by the norms; of work whose time is recorded, %.1f h by the norms took %.1f h", p.Today, p.Earned, p.Hours, p.Norm, p.Recorded),
		Columns: []document.ReportColumn{{Head: "Gang", Width: 40}, {Head: "Stage"}, {Head: "Walls", Width: 20, Right: true}, {Head: "Wall, m²", Width: 28, Right: true}, {Head: "Earned, h", Width: 28, Right: true}, {Head: "Recorded, h", Width: 28, Right: true}, {Head: "Recorded by norm", Width: 40, Right: true}}}
	for _, e := range p.Rows {
		ratio, recorded := "", ""
		if e.Norm > 0 {
			ratio, recorded = fmt.Sprintf("%.2f", e.Ratio), fmt.Sprintf("%.1f", e.Recorded)
		}
		t.Add(e.Gang, e.Stage.Name(), fmt.Sprint(e.Walls), fmt.Sprintf("%.1f", e.Area), fmt.Sprintf("%.1f", e.Earned), recorded, ratio)
	}
	return t
}

func normTable(p *programme.Progress) *document.Table {
	t := &document.Table{Title: "Norms that the records suggest", Columns: []document.ReportColumn{{Head: "Stage", Width: 56}, {Head: "Operation"}, {Head: "Records", Width: 20, Right: true}, {Head: "Factor", Width: 20, Right: true}, {Head: "Half of them", Width: 36, Right: true}, {Head: "Spread", Width: 20, Right: true}, {Head: "Now, min", Width: 24, Right: true}, {Head: "Suggested", Width: 26, Right: true}, {Head: "Unit", Width: 14}}}
	for _, n := range p.Norms {
		for i, o := range n.Operations {
			cells := []string{"", o.Name, "", "", "", "", fmt.Sprintf("%.2f", o.Now), fmt.Sprintf("%.2f", o.Suggested), o.Unit}
			if n.Few {
				cells[7] = "too few"
			}
			if i == 0 {
				cells[0], cells[2], cells[3] = n.Name, fmt.Sprint(n.Records), fmt.Sprintf("%.2f", n.Factor)
				cells[4], cells[5] = fmt.Sprintf("%.2f to %.2f", n.Low, n.High), fmt.Sprintf("%.2f", n.Spread)
			}
			t.Add(cells...)
		}
	}
	return t
}
