package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"nogging/internal/app"
	"nogging/internal/variation"
	"nogging/internal/yamlfile"
)

type compareCommand struct {
	Old    string   `arg:"" help:"Plan file before the change."`
	New    string   `arg:"" help:"Plan file after it."`
	Prices []string `placeholder:"FILE" help:"Price list, CSV or XLSX, for the effect on the price. May be repeated."`
	Rates  string   `placeholder:"FILE" help:"Rates file; rates.yaml beside the first price list if left out."`
	Done   string   `placeholder:"FILE" help:"YAML file of what was delivered and cut so far."`
	Output string   `short:"o" placeholder:"DIR" help:"Folder to write variation.pdf and variation.json to."`
	JSON   bool     `name:"json" help:"Print the variation as JSON."`
}

func (k *compareCommand) Run(c *console) error {
	progress := newProgress(c, k.JSON)
	before, err := built(c, k.Old, progress)
	if err != nil {
		return err
	}
	after, err := built(c, k.New, progress)
	progress.end()
	if err != nil {
		return err
	}
	v, err := k.compare(before, after)
	if err != nil {
		return err
	}
	if k.Output != "" {
		if _, err := v.WriteVariation(folder(k.Output)); err != nil {
			return err
		}
	}
	if k.JSON {
		if err := printJSON(c.out, v.Report); err != nil {
			return err
		}
	} else {
		printFindings(c, after.Findings)
		printVariation(c.out, v)
		printFindings(c, v.Findings)
	}
	if v.Findings.NeedsPerson() {
		return errFindings
	}
	return verdict(after.Findings)
}

// built opens a plan and lays it out.
func built(c *console, name string, progress *progress) (*app.Job, error) {
	j, err := open(c, name)
	if err == nil {
		j.Build(progress.report)
	}
	return j, err
}

// compare reads what else was named, and compares.
func (k *compareCommand) compare(before, after *app.Job) (*app.Variation, error) {
	var prices *app.Prices
	var done *variation.Done
	var places yamlfile.Places
	var err error
	if len(k.Prices) > 0 {
		if prices, err = openPrices(after, k.Rates, k.Prices); err != nil {
			return nil, err
		}
	}
	if k.Done != "" {
		done, places, err = after.OpenDone(filepath.ToSlash(k.Done), func(name string) ([]byte, error) { return os.ReadFile(filepath.FromSlash(name)) })
		if err != nil {
			return nil, readError(k.Done, err)
		}
	}
	return after.Compare(before, prices, done, places), nil
}

// printVariation writes what changes.
func printVariation(out io.Writer, v *app.Variation) {
	if v.Empty() {
		fmt.Fprintln(out, "Nothing changes.")
		return
	}
	for _, t := range v.Tables() {
		if len(t.Rows) == 0 {
			continue
		}
		fmt.Fprintf(out, "\n%s\n", t.Title)
		var rows [][]string
		var right []int
		head := make([]string, len(t.Columns))
		for i, col := range t.Columns {
			head[i] = col.Head
			if col.Right {
				right = append(right, i)
			}
		}
		rows = append(rows, head)
		flush := func() {
			if len(rows) > 0 {
				printColumns(out, rows, right...)
			}
			rows = nil
		}
		for _, r := range t.Rows {
			if r.Heading {
				flush()
				fmt.Fprintln(out, r.Cells[0])
				continue
			}
			rows = append(rows, r.Cells)
		}
		flush()
	}
}
