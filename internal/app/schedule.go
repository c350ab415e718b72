package app

import (
	"nogging/internal/schedule"
)

// ColumnsFile is the usual name of the file that remembers the columns of schedules.
const ColumnsFile = "columns.yaml"

// Merge reads a wall or door schedule, a CSV file or a workbook, and puts it into a
// copy of the job's plan. Columns names the file that says what its columns are; empty
// for none. The error says that a file could not be read.
func (j *Job) Merge(name, columns string, read ReadFile) (*schedule.Result, error) {
	c := &schedule.Columns{}
	if columns != "" {
		data, err := read(columns)
		if err != nil {
			return nil, err
		}
		said, found := schedule.ReadColumns(columns, data)
		c = said
		j.Findings = append(j.Findings, found...)
	}
	data, err := read(name)
	if err != nil {
		return nil, err
	}
	rows, err := tableRows(name, data, c.Sheet, c.Separator)
	if err != nil {
		return nil, err
	}
	r := schedule.Merge(j.Plan, name, rows, c)
	r.Findings = append(r.Findings, j.Findings...)
	r.Findings.Sort()
	return r, nil
}
