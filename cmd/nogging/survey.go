package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"nogging/internal/app"
	"nogging/internal/plan"
	"nogging/internal/survey"
)

type surveyCommand struct {
	Plan       string `arg:"" help:"Plan file."`
	Points     string `arg:"" help:"Measured points, CSV or XLSX: columns x, y and z; level, on (floor, soffit or face) and point where there are some."`
	Output     string `short:"o" required:"" placeholder:"PLAN" help:"Write the plan as built to this file."`
	Columns    string `placeholder:"FILE" help:"What its columns are called; points.yaml beside the points if left out."`
	Unit       string `enum:",mm,cm,m,in,ft" default:"" placeholder:"UNIT" help:"Unit of coordinates where the file gives none: mm, cm, m, in or ft; mm if left out."`
	Deviations string `placeholder:"FILE" help:"Write every place that differs by more than the practice allows to this CSV file."`
	JSON       bool   `name:"json" help:"Print what was measured, and where it differs, as JSON."`
}

func (k *surveyCommand) Run(c *console) error {
	j, err := open(c, k.Plan)
	if err != nil {
		return err
	}
	columns := beside(k.Columns, k.Points, app.PointsFile)
	r, err := j.Survey(filepath.ToSlash(k.Points), filepath.ToSlash(columns), k.Unit, func(name string) ([]byte, error) { return os.ReadFile(filepath.FromSlash(name)) })
	if err != nil {
		return readError(k.Points, err)
	}
	if err := k.write(r); err != nil {
		return err
	}
	if k.JSON {
		if err := printJSON(c.out, r); err != nil {
			return err
		}
	} else {
		printFindings(c, r.Findings)
		printSurvey(c.out, r)
	}
	return verdict(r.Findings)
}

// write writes the plan as built and the list of deviations.
func (k *surveyCommand) write(r *survey.Result) error {
	text, err := plan.Marshal(r.Plan, fmt.Sprintf("As built: %s bent to the points of %s.", filepath.Base(k.Plan), filepath.Base(k.Points)))
	if err != nil {
		return err
	}
	if err := os.WriteFile(k.Output, text, 0o644); err != nil || k.Deviations == "" {
		return err
	}
	f, err := os.Create(k.Deviations)
	if err != nil {
		return err
	}
	if err := app.WriteDeviations(f, r); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

// shownDeviations is how many places the terminal lists; the CSV file has them all.
const shownDeviations = 30

func printSurvey(out io.Writer, r *survey.Result) {
	rows := [][]string{{"object", "of", "at", "planned", "measured", "by"}}
	for _, d := range r.Deviations[:min(len(r.Deviations), shownDeviations)] {
		rows = append(rows, []string{d.Object, d.What, d.At.String(), d.Planned.String(), d.Measured.String(), fmt.Sprintf("%+g", d.By.MM())})
	}
	if len(rows) > 1 {
		fmt.Fprintf(out, "\nMore than %s mm from the plan\n", r.Tolerance)
		printColumns(out, rows, 2, 3, 4, 5)
	}
	if more := len(r.Deviations) - shownDeviations; more > 0 {
		fmt.Fprintf(out, "and %d more; --deviations FILE lists all\n", more)
	}
	bent := 0
	for _, w := range r.Walls {
		if w.Bent {
			bent++
		}
	}
	fmt.Fprintf(out, "\n%s measured, %s of them bent to it; %s of structure moved\n", count(len(r.Walls), "wall"), fmt.Sprint(bent), count(len(r.Structure), "piece"))
}
