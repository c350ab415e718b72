package app

import (
	"context"
	"fmt"
	"io"

	"nogging/internal/drawing"
	"nogging/internal/drawing/pdf"
	"nogging/internal/drawing/svg"
	"nogging/internal/drawing/timechart"
	"nogging/internal/order"
	"nogging/internal/programme"
)

// Works is what a programme is asked for.
type Works struct {
	Site      *programme.Site
	Done      *programme.Record // nil for nothing
	Start     programme.Date
	Today     programme.Date // from which what is not done is planned anew; 0 for a new programme
	Schedules int            // how many schedules are tried; 0 for as many as take a few seconds
	Seed      uint64
}

// OpenSite reads a gangs file and adds what it finds to the job. The error says that the
// file could not be read.
func (j *Job) OpenSite(name string, read ReadFile) (*programme.Site, error) {
	data, err := read(name)
	if err != nil {
		return nil, err
	}
	s, found := programme.ReadSite(name, data)
	j.Findings = append(j.Findings, found...)
	j.Findings.Sort()
	return s, nil
}

// OpenRecord reads the file of what is done, as OpenSite does.
func (j *Job) OpenRecord(name string, read ReadFile) (*programme.Record, error) {
	data, err := read(name)
	if err != nil {
		return nil, err
	}
	r, found := programme.ReadRecord(name, data)
	j.Findings = append(j.Findings, found...)
	j.Findings.Sort()
	return r, nil
}

// Programme makes the programme of a built plan and adds its findings to the job's.
// When ctx ends, the best programme found so far is returned.
func (j *Job) Programme(ctx context.Context, w Works) *programme.Programme {
	sequence := programme.ZoneOrder(j.Plan, j.Layout, w.Site)
	zones, _ := j.cutZones(context.WithoutCancel(ctx), sequence...) // which fails only where somebody ends it
	o := order.Of(order.Input{Plan: j.Plan, Layout: j.Layout, Takeoff: j.Takeoff, Catalogue: j.Catalogue, Practice: j.Practice, Cuts: cuts(zones), Sequence: sequence})
	p := programme.Of(ctx, programme.Input{Plan: j.Plan, Layout: j.Layout, Takeoff: j.Takeoff, Catalogue: j.Catalogue, Practice: j.Practice, Order: o,
		Site: w.Site, Start: w.Start, Today: w.Today, Done: w.Done, Schedules: w.Schedules, Seed: w.Seed, Alternate: true})
	j.Findings = append(j.Findings, p.Findings...)
	j.Findings.Sort()
	return p
}

// Charts are the drawings of a programme.
type Charts struct {
	Gantt   []*drawing.Scene
	Balance []*drawing.Scene // line of balance
}

// Charts draws a programme.
func (j *Job) Charts(p *programme.Programme) Charts {
	in := timechart.Input{Project: j.Plan.Project, Programme: p}
	return Charts{timechart.Gantt(in), timechart.Balance(in)}
}

// SVG returns the sheets of the charts as SVG.
func (c Charts) SVG() (gantt, balance []string) {
	for _, s := range c.Gantt {
		gantt = append(gantt, string(svg.Append(nil, s)))
	}
	for _, s := range c.Balance {
		balance = append(balance, string(svg.Append(nil, s)))
	}
	return gantt, balance
}

// chartDir is the folder of the charts of a programme.
const chartDir = "programme"

// WriteProgramme writes a programme: programme.json, programme.csv, its charts as SVG
// and PDF, a look-ahead for each gang, calendars to subscribe to, deliveries by week,
// and a report with inspections, the critical chain and what was earned.
func (j *Job) WriteProgramme(p *programme.Programme, to Folder) (files int, err error) {
	w := &writer{job: j, to: to, progress: Quiet, err: to.ClearDrawings(chartDir)}
	w.file("programme.json", func(out io.Writer) error { return writeJSON(out, p) })
	w.file("programme.csv", func(out io.Writer) error { return writeTasks(out, p) })
	w.file("programme.ics", func(out io.Writer) error { return j.writeCalendar(out, p, "") })
	for _, l := range p.Looks {
		w.file("calendars/"+fileName(l.Gang)+".ics", func(out io.Writer) error { return j.writeCalendar(out, p, l.Gang) })
	}
	charts := j.Charts(p)
	w.sheets(chartDir+"/gantt", charts.Gantt)
	w.sheets(chartDir+"/line-of-balance", charts.Balance)
	w.file("gantt.pdf", func(out io.Writer) error { return writeScenes(out, "Programme of work", charts.Gantt) })
	w.file("line-of-balance.pdf", func(out io.Writer) error { return writeScenes(out, "Line of balance", charts.Balance) })
	w.programmeReports(p)
	return w.files, w.err
}

// writeScenes writes sheets as one PDF.
func writeScenes(out io.Writer, title string, scenes []*drawing.Scene) error {
	doc := pdf.New(out, pdf.Info{Title: title, Subject: "Programme"})
	for i, s := range scenes {
		doc.Add(pdf.Render(s))
		doc.Bookmark(fmt.Sprintf("Sheet %d", i+1), 0)
	}
	return doc.Close()
}
