package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"

	"nogging/internal/app"
	"nogging/internal/programme"
)

type programmeCommand struct {
	Plan      string         `arg:"" help:"Plan file; - for standard input."`
	Start     programme.Date `required:"" placeholder:"DATE" help:"First day of the work, such as 2027-01-11."`
	Gangs     string         `required:"" placeholder:"FILE" help:"Gangs file: gangs, calendars, plant, zones, others, deliveries. nogging new --gangs writes one."`
	Done      string         `placeholder:"FILE" help:"Record of what is done; the rest is planned anew from --today on."`
	Today     programme.Date `placeholder:"DATE" help:"Day from which the rest is planned."`
	Schedules int            `placeholder:"N" help:"How many schedules to try; as many as take a few seconds if left out."`
	Seed      uint64         `default:"1" help:"Seed of the search: the same seed gives the same programme."`
	Output    string         `short:"o" required:"" placeholder:"DIR" help:"Folder to write to; it is made if need be."`
	JSON      bool           `name:"json" help:"Print the programme as JSON."`
}

func (k *programmeCommand) Run(c *console) error {
	if (k.Done != "") != (k.Today != 0) {
		return fmt.Errorf("--done and --today go together\n  hint: say what is done, and from which day the rest is planned")
	}
	if k.Schedules < 0 {
		return fmt.Errorf("--schedules cannot be below 0\n  hint: leave it out, or write such as --schedules 1000")
	}
	j, err := open(c, k.Plan)
	if err != nil {
		return err
	}
	works, err := k.works(j)
	if err != nil {
		return err
	}
	progress := newProgress(c, k.JSON)
	j.Build(progress.report)
	progress.end()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	p := j.Programme(ctx, works)
	files, err := j.WriteProgramme(p, folder(k.Output))
	if err != nil {
		return err
	}
	if k.JSON {
		if err := printJSON(c.out, p); err != nil {
			return err
		}
	} else {
		printFindings(c, j.Findings)
		printProgramme(c.out, p)
		fmt.Fprintf(c.err, "%s in %s: gantt.pdf, line-of-balance.pdf, look-ahead.pdf, report.pdf, programme.ics, deliveries.xlsx and more\n", count(files, "file"), k.Output)
	}
	return verdict(j.Findings)
}

// works reads the files that the programme is made from.
func (k *programmeCommand) works(j *app.Job) (w app.Works, err error) {
	w = app.Works{Start: k.Start, Today: k.Today, Schedules: k.Schedules, Seed: k.Seed}
	read := func(name string) ([]byte, error) { return os.ReadFile(filepath.FromSlash(name)) }
	if w.Site, err = j.OpenSite(filepath.ToSlash(k.Gangs), read); err != nil {
		return w, noFile(k.Gangs, "nogging new --gangs "+k.Gangs+" writes one to start from", err)
	}
	if k.Done != "" {
		if w.Done, err = j.OpenRecord(filepath.ToSlash(k.Done), read); err != nil {
			return w, noFile(k.Done, "check the name and the folder", err)
		}
	}
	return w, nil
}

// noFile says that a file is not there, and what would work.
func noFile(name, hint string, err error) error {
	if os.IsNotExist(err) {
		return fmt.Errorf("there is no file %s\n  hint: %s", name, hint)
	}
	return err
}

// printProgramme writes when the work ends and why, and what was earned.
func printProgramme(out io.Writer, p *programme.Programme) {
	fmt.Fprintln(out, p.Summary())
	for i := range p.Alternates {
		fmt.Fprintln(out, p.Alternates[i].Sentence())
	}
	if n := len(p.Unplanned()); n > 0 {
		fmt.Fprintf(out, "%s could not be planned; the findings name them\n", count(n, "task"))
	}
	if len(p.Chain) > 0 {
		fmt.Fprintln(out, "\nWHAT DECIDES THE END")
		var rows [][]string
		for _, s := range p.Brief() {
			rows = append(rows, []string{s.Start.Short(), s.Task, s.Why})
		}
		printColumns(out, rows)
	}
	if len(p.CallOffs) > 0 {
		fmt.Fprintln(out, "\nDELIVERIES")
		var rows [][]string
		for i := range p.CallOffs {
			d := &p.CallOffs[i]
			rows = append(rows, []string{d.Week, d.Arrive.Short(), d.Title(), fmt.Sprintf("%.0f kg", d.Mass), "call off: " + d.When()})
		}
		printColumns(out, rows, 3)
	}
	if p.Progress != nil {
		printEarned(out, p.Progress)
	}
}

// printEarned writes what was earned against the norms.
func printEarned(out io.Writer, p *programme.Progress) {
	fmt.Fprintf(out, "\nEARNED to %s: %.1f of %.1f h by the norms\n", p.Today, p.Earned, p.Hours)
	rows := [][]string{{"gang", "stage", "walls", "m²", "earned h", "recorded h", "by norm"}}
	for _, e := range p.Rows {
		row := []string{e.Gang, e.Stage.Name(), fmt.Sprint(e.Walls), fmt.Sprintf("%.1f", e.Area), fmt.Sprintf("%.1f", e.Earned), "", ""}
		if e.Norm > 0 {
			row[5], row[6] = fmt.Sprintf("%.1f", e.Recorded), fmt.Sprintf("%.2f", e.Ratio)
		}
		rows = append(rows, row)
	}
	printColumns(out, rows, 2, 3, 4, 5, 6)
	if len(p.Norms) > 0 {
		fmt.Fprintln(out, "\nNORMS that the records suggest, in minutes of one person for one unit")
		rows = [][]string{{"operation", "unit", "now", "suggested", "records", "half of them"}}
		for _, n := range p.Norms {
			for _, o := range n.Operations {
				rows = append(rows, []string{o.Name, o.Unit, fmt.Sprintf("%.2f", o.Now), fmt.Sprintf("%.2f", o.Suggested), fmt.Sprint(n.Records), fmt.Sprintf("%.2f to %.2f of the norm", n.Low, n.High)})
			}
		}
		printColumns(out, rows, 2, 3, 4)
	}
}
