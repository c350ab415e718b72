// Package schedule merges the wall and door schedules that architects give beside a
// drawing into a plan. It takes the rows of a table and gives the plan with what they
// say, and a list of what changed. Walls are named by their number, or by the rooms
// that they part; doors by their number, by their wall, or by those rooms. A cell that
// cannot be taken is a finding and changes nothing; every other cell is taken.
package schedule

import (
	"slices"
	"strings"

	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/table"
	"nogging/internal/words"
	"nogging/internal/yamlfile"
)

// Columns is what a person said once about a schedule.
type Columns struct {
	Columns   map[string]string            `json:"columns,omitempty"`   // what the schedule calls a field
	Values    map[string]map[string]string `json:"values,omitempty"`    // of a field: the schedule's word, and the plan's
	Unit      string                       `json:"unit,omitempty"`      // of lengths that give none; mm if left out
	Sheet     string                       `json:"sheet,omitempty"`     // of a workbook; the first if left out
	Separator string                       `json:"separator,omitempty"` // of a CSV file; found by its head row if left out
}

// ReadColumns reads the file that remembers what the columns of a schedule are.
func ReadColumns(file string, data []byte) (*Columns, finding.List) {
	c := &Columns{}
	places, found := yamlfile.Decode(file, data, c)
	var wrong finding.List
	for _, key := range table.Unknown(c.Columns, usual) {
		wrong.Add(finding.Finding{Code: "schedule-field", Severity: finding.Error, Path: "columns." + key, What: words.F("schedules have no field %q", key), Fix: words.F("take one of %s", strings.Join(keys(), ", "))})
	}
	places.Fill(wrong)
	return c, append(found, wrong...)
}

// usual are the fields with the heads by which they are known where nothing is said.
var usual = []table.Field{
	{Key: "wall", Heads: []string{"wall", "wall no", "wall no.", "wall number", "wall id", "partition", "mark"}},
	{Key: "door", Heads: []string{"door", "door no", "door no.", "door number", "door id", "opening"}},
	{Key: "room", Heads: []string{"room", "from room", "room a", "from"}},
	{Key: "to_room", Heads: []string{"to room", "room b", "to"}},
	{Key: "level", Heads: []string{"level", "storey"}},
	{Key: "buildup", Heads: []string{"buildup", "build-up", "wall type", "type"}},
	{Key: "zone", Heads: []string{"zone", "section"}},
	{Key: "thickness", Heads: []string{"thickness", "wall thickness"}},
	{Key: "width", Heads: []string{"width", "opening width"}},
	{Key: "height", Heads: []string{"height", "opening height", "wall height"}},
	{Key: "sill", Heads: []string{"sill", "sill height"}},
	{Key: "leaf_mass", Heads: []string{"leaf mass", "mass", "leaf weight", "weight"}},
	{Key: "fire", Heads: []string{"fire", "fire rating", "fire resistance"}},
	{Key: "sound", Heads: []string{"sound", "rw", "r'w", "stc", "sound insulation", "acoustic rating"}},
	{Key: "duty", Heads: []string{"duty", "duty grade", "installation zone"}},
	{Key: "wet", Heads: []string{"wet", "water action class"}},
	{Key: "u_value", Heads: []string{"u", "u-value", "u value"}},
	{Key: "note", Heads: []string{"note", "notes", "remark", "remarks"}},
}

func keys() []string {
	var list []string
	for _, f := range usual {
		list = append(list, f.Key)
	}
	return list
}

// Change is one value that a schedule changes.
type Change struct {
	Object string        `json:"object"` // wall or opening
	Field  string        `json:"field"`
	Was    string        `json:"was"`
	Is     string        `json:"is"`
	Place  finding.Place `json:"place"`
}

// Word is a cell that says nothing that plans know: Columns.Values can say what it means.
type Word struct {
	Field string `json:"field"`
	Text  string `json:"text"`
}

// Result is a plan with a schedule in it.
type Result struct {
	Plan     *plan.Plan    `json:"-"`
	Heads    []string      `json:"heads"`   // of the schedule
	Columns  []table.Match `json:"columns"` // which of them were taken for what
	Rows     int           `json:"rows"`    // that name something of the plan
	Unread   []Word        `json:"unread"`  // each once
	Changes  []Change      `json:"changes"`
	Findings finding.List  `json:"findings"`
}

// Merge puts what the rows of a schedule say into a copy of the plan.
func Merge(p *plan.Plan, file string, rows []table.Row, c *Columns) *Result {
	m := &merger{Table: table.Find(file, rows, table.Called(usual, c.Columns)), columns: c, plan: clone(p), said: map[[2]string]said{}}
	m.out = &Result{Plan: m.plan, Heads: m.Heads(), Columns: m.Matches(usual), Unread: []Word{}, Changes: []Change{}}
	if len(m.Found) == 0 && !m.Has("wall") && !m.Has("door") && !m.Has("room") {
		m.Rows = nil
		m.Found.Add(finding.Finding{Code: "schedule-key", Severity: finding.Error, Place: finding.Place{File: file}, What: "no column names walls, doors or rooms", Fix: "say which does, in the file of columns: columns: {wall: HEAD}"})
	}
	for _, row := range m.Rows {
		m.row(row)
	}
	m.leftOut()
	m.out.Findings = append(finding.List{}, m.Found...)
	m.out.Findings.Sort()
	return m.out
}

func clone(p *plan.Plan) *plan.Plan {
	c := *p
	c.Walls = slices.Clone(p.Walls)
	for i := range c.Walls {
		c.Walls[i].Openings = slices.Clone(c.Walls[i].Openings)
	}
	return &c
}

type merger struct {
	*table.Table
	columns *Columns
	plan    *plan.Plan
	out     *Result
	said    map[[2]string]said // by object and field
}

type said struct {
	value string
	row   int
}

func (m *merger) row(row table.Row) {
	if strings.TrimSpace(strings.Join(row.Cells, "")) == "" {
		return
	}
	if m.Cell(row, "door") != "" || m.Has("door") && !m.Has("wall") {
		m.doorRow(row)
		return
	}
	walls := m.walls(row)
	if len(walls) > 0 {
		m.out.Rows++
	}
	for _, w := range walls {
		m.fill(row, w.ID, wallSetters, func(s setter, text string) (string, string, error) { return s.wall(m, w, text) })
	}
}

func (m *merger) doorRow(row table.Row) {
	doors := m.doors(row)
	if len(doors) > 0 {
		m.out.Rows++
	}
	for _, d := range doors {
		m.fill(row, d.wall.OpeningID(d.index), doorSetters, func(s setter, text string) (string, string, error) {
			return s.door(m, &d.wall.Openings[d.index], text)
		})
	}
}

// fill puts the cells of a row on one object.
func (m *merger) fill(row table.Row, object string, setters []setter, set func(setter, string) (was, is string, err error)) {
	for _, s := range setters {
		text := m.Cell(row, s.key)
		if text == "" || text == "-" {
			continue
		}
		if v, ok := m.columns.Values[s.key][text]; ok {
			text = v
		}
		at := [2]string{object, s.key}
		if before, twice := m.said[at]; twice && before.value != text {
			m.Wrong(row, s.key, object, "schedule-twice", words.F("row %d says %q of %s already", before.row, before.value, object), "keep one of the two; the first counts")
			continue
		}
		m.said[at] = said{text, row.Number}
		was, is, err := set(s, text)
		if err != nil {
			if w := (Word{s.key, text}); !slices.Contains(m.out.Unread, w) {
				m.out.Unread = append(m.out.Unread, w)
			}
			m.Wrong(row, s.key, object, "schedule-value", words.OfErr(err), words.F("write it as plans do, or say once what it means: values: {%s: {%q: ...}}", s.key, text))
			continue
		}
		if was != is {
			m.out.Changes = append(m.out.Changes, Change{object, s.key, was, is, m.Place(row, s.key)})
		}
	}
}
