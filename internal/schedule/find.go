package schedule

import (
	"slices"
	"strings"

	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/table"
	"nogging/internal/words"
)

// walls returns the walls that a row is about.
func (m *merger) walls(row table.Row) []*plan.Wall {
	if id := m.Cell(row, "wall"); id != "" {
		for i := range m.plan.Walls {
			if strings.EqualFold(m.plan.Walls[i].ID, id) {
				return []*plan.Wall{&m.plan.Walls[i]}
			}
		}
		m.Wrong(row, "wall", id, "schedule-no-wall", words.F("the plan has no wall %s", id), "draw it, or take the row out")
		return nil
	}
	a, b := m.Cell(row, "room"), m.Cell(row, "to_room")
	if a == "" && b == "" {
		return nil // a heading
	}
	var list []*plan.Wall
	for i := range m.plan.Walls {
		w := &m.plan.Walls[i]
		if level := m.Cell(row, "level"); level != "" && level != w.Level {
			continue
		}
		if slices.ContainsFunc(m.plan.RoomsBeside(w), func(s plan.Stretch) bool { return parts(s, a, b) }) {
			list = append(list, w)
		}
	}
	if len(list) == 0 {
		m.Wrong(row, "room", a, "schedule-no-wall", words.F("no straight wall of the plan stands between %s and %s", or(a, "any room"), or(b, "any room")), "check the rooms' marks and outlines, or name the wall")
	}
	return list
}

// parts reports whether a stretch of wall stands between two rooms, either of which
// may be left open.
func parts(s plan.Stretch, a, b string) bool {
	is := func(r *plan.Room, name string) bool {
		return name == "" || r != nil && (strings.EqualFold(r.ID, name) || strings.EqualFold(r.Name, name))
	}
	return is(s.Rooms[0], a) && is(s.Rooms[1], b) || is(s.Rooms[0], b) && is(s.Rooms[1], a)
}

func or(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

// door is an opening of a wall.
type door struct {
	wall  *plan.Wall
	index int
}

// doors returns the openings that a row is about: the one of its number, else the only
// door of the wall or between the rooms that it names.
func (m *merger) doors(row table.Row) []door {
	id := m.Cell(row, "door")
	for i := range m.plan.Walls {
		w := &m.plan.Walls[i]
		for k := range w.Openings {
			if id != "" && strings.EqualFold(w.OpeningID(k), id) {
				return []door{{w, k}}
			}
		}
	}
	if id != "" && m.Cell(row, "wall") == "" && m.Cell(row, "room") == "" {
		m.Wrong(row, "door", id, "schedule-no-door", words.F("the plan has no opening %s", id), "give the door its number in the plan, or name its wall or its two rooms in the schedule")
		return nil
	}
	var list []door
	for _, w := range m.walls(row) {
		for k, o := range w.Openings {
			if o.Kind == plan.Door && o.ID == "" {
				list = append(list, door{w, k})
			}
		}
	}
	if len(list) != 1 {
		m.Wrong(row, "door", id, "schedule-no-door", words.F("%s: %d doors without a number could be meant", or(id, "this row"), len(list)), "give the door its number in the plan")
		return nil
	}
	if id != "" {
		list[0].wall.Openings[list[0].index].ID = id
	}
	return list
}

// leftOut says which walls or doors of the plan the schedule does not name.
func (m *merger) leftOut() {
	named := map[string]bool{}
	for at := range m.said {
		named[at[0]] = true
	}
	var walls, doors []string
	for i := range m.plan.Walls {
		w := &m.plan.Walls[i]
		if !named[w.ID] {
			walls = append(walls, w.ID)
		}
		for k, o := range w.Openings {
			if id := w.OpeningID(k); o.Kind == plan.Door && !named[id] {
				doors = append(doors, id)
			}
		}
	}
	list, what := walls, "wall"
	if m.Has("door") {
		list, what = doors, "door"
	}
	if len(list) > 0 && m.out.Rows > 0 {
		m.Found.Add(finding.Finding{Code: "schedule-leaves-out", Severity: finding.Note, Place: finding.Place{File: m.File},
			What: words.F("the schedule says nothing of %d %ss of the plan: %s", len(list), what, some(list)), Fix: "nothing, if another schedule does"})
	}
}

// some lists the first few.
func some(list []string) string {
	const shown = 8
	if len(list) <= shown {
		return strings.Join(list, ", ")
	}
	return strings.Join(list[:shown], ", ") + " ..."
}
