package app

import (
	"bytes"
	"encoding/csv"
	"io"
	"path"
	"strings"

	"nogging/internal/exchange/xlsx"
	"nogging/internal/finding"
	"nogging/internal/survey"
	"nogging/internal/table"
)

// PointsFile is the usual name of the file that remembers the columns of lists of
// measured points.
const PointsFile = "points.yaml"

// Survey reads measured points, a CSV file or a workbook, and bends the job's plan to
// them. Columns names the file that says what its columns are; empty for none.
// Coordinates are in the unit, if it is given, unless the heads say another; the plan of
// the job stays as it is. The error says that a file could not be read.
func (j *Job) Survey(name, columns, unit string, read ReadFile) (*survey.Result, error) {
	c, found := &survey.Columns{}, finding.List(nil)
	if columns != "" {
		data, err := read(columns)
		if err != nil {
			return nil, err
		}
		c, found = survey.ReadColumns(columns, data)
	}
	if unit != "" {
		c.Unit = unit
	}
	data, err := read(name)
	if err != nil {
		return nil, err
	}
	rows, err := tableRows(name, data, c.Sheet, c.Separator)
	if err != nil {
		return nil, err
	}
	result, _ := j.bend(name, rows, c)
	result.Findings = append(result.Findings, found...)
	result.Findings.Sort()
	return result, nil
}

// bend bends the job's plan to the points of a table.
func (j *Job) bend(name string, rows []table.Row, c *survey.Columns) (*survey.Result, survey.List) {
	list := c.Read(name, rows)
	result := survey.Bend(j.Plan, list.Points, j.Practice.AsBuilt.Value)
	j.locate(result.Findings)
	result.Findings = append(result.Findings, list.Findings...)
	result.Findings.Sort()
	return result, list
}

// WriteDeviations writes the places at which a building is not as planned as CSV.
func WriteDeviations(out io.Writer, r *survey.Result) error {
	w := csv.NewWriter(out)
	rows := [][]string{{"level", "object", "what", "point", "x_mm", "y_mm", "at_mm", "planned_mm", "measured_mm", "by_mm"}}
	for _, d := range r.Deviations {
		rows = append(rows, []string{d.Level, d.Object, d.What, d.Point, d.X.String(), d.Y.String(), d.At.String(), d.Planned.String(), d.Measured.String(), d.By.String()})
	}
	return w.WriteAll(rows)
}

// tableRows reads a CSV file or a workbook as rows. The first sheet is taken and the
// separator is found where they are not given.
func tableRows(name string, data []byte, sheet, separator string) ([]table.Row, error) {
	if !strings.EqualFold(path.Ext(name), ".xlsx") && !bytes.HasPrefix(data, []byte("PK\x03\x04")) {
		return table.CSV(data, separator)
	}
	cells, err := xlsx.Rows(data, sheet)
	if err != nil {
		return nil, err
	}
	rows := make([]table.Row, len(cells))
	for i := range cells {
		rows[i] = table.Row{Number: i + 1, Cells: cells[i]}
	}
	return rows, nil
}
