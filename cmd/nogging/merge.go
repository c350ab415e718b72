package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"nogging/internal/app"
	"nogging/internal/plan"
	"nogging/internal/schedule"
)

type mergeCommand struct {
	Plan     string `arg:"" help:"Plan file."`
	Schedule string `arg:"" help:"Wall or door schedule, CSV or XLSX."`
	Columns  string `placeholder:"FILE" help:"What its columns are called and its words mean; columns.yaml beside the schedule if left out."`
	Output   string `short:"o" required:"" placeholder:"PLAN" help:"Write the plan with the schedule in it to this file."`
	JSON     bool   `name:"json" help:"Print what changed as JSON."`
}

func (k *mergeCommand) Run(c *console) error {
	j, err := open(c, k.Plan)
	if err != nil {
		return err
	}
	columns := beside(k.Columns, k.Schedule, app.ColumnsFile)
	r, err := j.Merge(filepath.ToSlash(k.Schedule), filepath.ToSlash(columns), func(name string) ([]byte, error) {
		data, err := os.ReadFile(filepath.FromSlash(name))
		if err != nil {
			err = readError(name, err)
		}
		return data, err
	})
	if err != nil {
		return err
	}
	text, err := plan.Marshal(r.Plan, fmt.Sprintf("%s with the schedule %s.", filepath.Base(k.Plan), filepath.Base(k.Schedule)))
	if err != nil {
		return err
	}
	if err := os.WriteFile(k.Output, text, 0o644); err != nil {
		return err
	}
	if k.JSON {
		if err := printJSON(c.out, r); err != nil {
			return err
		}
	} else {
		printFindings(c, r.Findings)
		printChanges(c.out, r)
	}
	return verdict(r.Findings)
}

// beside returns the file of columns that is named, else the usual one beside a table if
// it is there.
func beside(named, table, usual string) string {
	if named != "" {
		return named
	}
	name := filepath.Join(filepath.Dir(table), usual)
	if _, err := os.Stat(name); err != nil {
		return ""
	}
	return name
}

func printChanges(out io.Writer, r *schedule.Result) {
	rows := [][]string{{"object", "field", "was", "is"}}
	for _, x := range r.Changes {
		rows = append(rows, []string{x.Object, x.Field, x.Was, x.Is})
	}
	if len(rows) > 1 {
		fmt.Fprintln(out)
		printColumns(out, rows)
	}
	fmt.Fprintf(out, "\n%s taken, %s\n", count(r.Rows, "row"), count(len(r.Changes), "change"))
}
