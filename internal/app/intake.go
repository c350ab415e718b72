package app

import (
	"maps"
	"slices"

	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/schedule"
	"nogging/internal/survey"
	"nogging/internal/table"
	"nogging/internal/yamlfile"
)

// The kinds of tables that a plan takes in.
const (
	ScheduleTable = "schedule" // of walls or doors
	SurveyTable   = "survey"   // of measured points
)

// TableAsk is how a table is to be taken in.
type TableAsk struct {
	Name    string                       `json:"name"`
	Kind    string                       `json:"kind,omitempty"`    // schedule or survey; told by its columns if left out
	Columns map[string]string            `json:"columns,omitempty"` // what the table calls a field
	Values  map[string]map[string]string `json:"values,omitempty"`  // of a field of a schedule: the table's word, and the plan's
	Unit    string                       `json:"unit,omitempty"`
}

// Intake is what a table would change of a plan, to be looked at before it does.
type Intake struct {
	Kind     string           `json:"kind"`
	Heads    []string         `json:"heads"`
	Columns  []table.Match    `json:"columns"`
	Unit     string           `json:"unit"`
	Units    []string         `json:"units"`
	Schedule *schedule.Result `json:"schedule,omitempty"`
	Survey   *survey.Result   `json:"survey,omitempty"`
	Changes  []plan.Change    `json:"changes"`  // to be made in one edit
	Findings finding.List     `json:"findings"` // about the table
	Remember string           `json:"remember"` // the file that says what its columns are, for next time
	File     string           `json:"file"`     // by its usual name
}

// Intake reads a wall or door schedule or measured points, a CSV file or a workbook, and
// says what it would change of the state's plan, which stays as it is. Remembered gives
// the project's files of columns by name, nil where it has none. The error says that the
// table could not be read.
func (s *State) Intake(ask TableAsk, data []byte, remembered func(name string) []byte) (*Intake, error) {
	sheet, separator := "", ""
	points, walls := &survey.Columns{}, &schedule.Columns{}
	if text := remembered(PointsFile); text != nil {
		points, _ = survey.ReadColumns(PointsFile, text) // what is wrong with it counts for nothing
	}
	if text := remembered(ColumnsFile); text != nil {
		walls, _ = schedule.ReadColumns(ColumnsFile, text)
	}
	if ask.Kind == SurveyTable {
		sheet, separator = points.Sheet, points.Separator
	} else {
		sheet, separator = walls.Sheet, walls.Separator
	}
	rows, err := tableRows(ask.Name, data, sheet, separator)
	if err != nil {
		return nil, err
	}
	if ask.Kind == "" {
		ask.Kind = kindOfTable(ask.Name, rows, points)
	}
	if ask.Kind == SurveyTable {
		return s.surveyed(ask, rows, points)
	}
	return s.scheduled(ask, rows, walls)
}

// kindOfTable tells points from schedules: only points have three coordinates.
func kindOfTable(name string, rows []table.Row, c *survey.Columns) string {
	for _, m := range c.Read(name, rows).Columns {
		if slices.Contains([]string{"x", "y", "z"}, m.Field) && m.Head == "" {
			return ScheduleTable
		}
	}
	return SurveyTable
}

func (s *State) scheduled(ask TableAsk, rows []table.Row, c *schedule.Columns) (*Intake, error) {
	c.Columns = over(c.Columns, ask.Columns)
	for _, field := range slices.Sorted(maps.Keys(ask.Values)) {
		c.Values = over(c.Values, map[string]map[string]string{field: over(c.Values[field], ask.Values[field])})
	}
	if ask.Unit != "" {
		c.Unit = ask.Unit
	}
	here := *c
	here.Columns = present(c.Columns, ask.Columns, rows)
	r := schedule.Merge(s.job.Plan, ask.Name, rows, &here)
	text, err := yamlfile.Encode(c, "What the columns of schedules are called, and what their words mean.")
	return &Intake{Kind: ScheduleTable, Heads: r.Heads, Columns: r.Columns, Unit: orMM(c.Unit), Units: survey.Units(), Schedule: r,
		Changes: s.difference(r.Plan), Findings: append(finding.List{}, r.Findings...), Remember: string(text), File: ColumnsFile}, err
}

func (s *State) surveyed(ask TableAsk, rows []table.Row, c *survey.Columns) (*Intake, error) {
	c.Columns = over(c.Columns, ask.Columns)
	if ask.Unit != "" {
		c.Unit = ask.Unit
	}
	here := *c
	here.Columns = present(c.Columns, ask.Columns, rows)
	r, list := s.job.bend(ask.Name, rows, &here)
	text, err := yamlfile.Encode(c, "What the columns of lists of measured points are called.")
	return &Intake{Kind: SurveyTable, Heads: list.Heads, Columns: list.Columns, Unit: orMM(c.Unit), Units: survey.Units(), Survey: r,
		Changes: s.difference(r.Plan), Findings: append(finding.List{}, r.Findings...), Remember: string(text), File: PointsFile}, err
}

// over returns what is remembered with what is said now laid over it.
func over[V any](remembered, said map[string]V) map[string]V {
	all := maps.Clone(remembered)
	if all == nil && said != nil {
		all = map[string]V{}
	}
	maps.Copy(all, said)
	return all
}

// present returns the columns without those that are only remembered, from another table,
// and are not in this one.
func present(columns, said map[string]string, rows []table.Row) map[string]string {
	out := map[string]string{}
	for field, head := range columns {
		_, now := said[field]
		if now || slices.ContainsFunc(rows[:min(len(rows), table.Searched)], func(r table.Row) bool {
			return slices.ContainsFunc(r.Cells, func(cell string) bool { return table.SameHead(cell, head) })
		}) {
			out[field] = head
		}
	}
	return out
}

func orMM(unit string) string {
	if unit == "" {
		return "mm"
	}
	return unit
}

// difference lists what makes the given plan of the state's.
func (s *State) difference(to *plan.Plan) []plan.Change {
	return append([]plan.Change{}, plan.Diff(s.job.Plan, to)...)
}
