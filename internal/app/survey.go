package app

import (
	"bytes"
	"encoding/csv"
	"io"
	"path"
	"strings"

	"nogging/internal/exchange/xlsx"
	"nogging/internal/survey"
	"nogging/internal/table"
)

// Survey reads measured points, a CSV file or a workbook, and bends the job's plan to
// them. Coordinates are in the unit unless the file says another; the plan of the job
// stays as it is. The error says that the file could not be read.
func (j *Job) Survey(name, unit string, read ReadFile) (*survey.Result, error) {
	data, err := read(name)
	if err != nil {
		return nil, err
	}
	rows, err := tableRows(name, data, "", "")
	if err != nil {
		return nil, err
	}
	points, found := survey.Read(name, rows, unit)
	result := survey.Bend(j.Plan, points, j.Practice.AsBuilt.Value)
	j.locate(result.Findings)
	result.Findings = append(result.Findings, found...)
	result.Findings.Sort()
	return result, nil
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
