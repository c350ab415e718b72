package sheets

import (
	"fmt"

	"nogging/internal/drawing"
	"nogging/internal/setout"
)

// pointTable lists the ends of the track's face A and the middles of openings, by
// coordinates from the datum and by tape from two corners of the structure. Face B
// lies the depth of the track beside it, as the schedule has it.
func (l *site) pointTable() *drawing.Table {
	u, wide := l.set.units, l.set.lengthWidth()
	right := func(head string, width float64) drawing.Column {
		return drawing.Column{Head: head, Width: width, Align: drawing.Right}
	}
	name, from := 12.0, 12.0
	for _, p := range l.marks.Points {
		name = max(name, drawing.TextWidth(p.Name, drawing.Small, false)+4)
	}
	for _, c := range l.corners {
		from = max(from, drawing.TextWidth(c.Name, drawing.Small, false)+4)
	}
	t := &drawing.Table{Title: "Points on the floor, by tape from two corners", Columns: []drawing.Column{
		{Head: "Point", Width: name}, right("x", wide), right("y", wide), {Width: 2},
		{Head: "From", Width: from}, right("Tape", wide), {Width: 2}, {Head: "From", Width: from}, right("Tape", wide), {Width: 2}, {Head: "Side", Width: 12},
	}}
	for _, p := range l.marks.Points {
		if p.On != setout.Floor || p.Edge == "B" {
			continue
		}
		at := p.At.Sub(l.datum)
		cells := []string{p.Name, u.exact(at.X), u.exact(at.Y), ""}
		if p.Ties == nil {
			t.Add(append(cells, "–", "", "", "–", "", "", "")...)
			continue
		}
		t.Add(append(cells, p.Ties.From[0], u.dim(p.Ties.Length[0]), "", p.Ties.From[1], u.dim(p.Ties.Length[1]), "", p.Ties.Side)...)
	}
	return t
}

// cornerTable lists the corners of the structure that tapes start from.
func (l *site) cornerTable() *drawing.Table {
	u, wide := l.set.units, l.set.lengthWidth()
	t := &drawing.Table{Title: "Corners to measure from", Columns: []drawing.Column{
		{Head: "Corner", Width: 44}, {Head: "x", Width: wide, Align: drawing.Right}, {Head: "y", Width: wide, Align: drawing.Right},
	}}
	for _, c := range l.corners {
		at := c.At.Sub(l.datum)
		t.Add(c.Name, u.exact(at.X), u.exact(at.Y))
	}
	return t
}

// diagonalTable lists the diagonals that show whether two walls are square.
func (l *site) diagonalTable() *drawing.Table {
	u, wide := l.set.units, l.set.lengthWidth()
	t := &drawing.Table{Title: "Diagonals between the track faces of parallel walls, to be measured", Columns: []drawing.Column{
		{Head: "Room", Width: 24}, {Head: "From", Width: 27}, {Head: "to", Width: 27}, {Head: "Measures", Width: wide + 3, Align: drawing.Right}, {Width: 4},
		{Head: "From", Width: 27}, {Head: "to", Width: 27}, {Head: "Measures", Width: wide + 3, Align: drawing.Right},
	}}
	for i := range l.marks.Diagonals {
		d := &l.marks.Diagonals[i]
		t.Add(d.Room, d.From[0], d.To[0], u.dim(d.Length[0]), "", d.From[1], d.To[1], u.dim(d.Length[1]))
	}
	return t
}

// addPoints puts the tables of points behind the schedule.
func (l *site) addPoints(ps *pages) {
	ps.addTable(l.pointTable(), false)
	if len(l.corners) > 0 {
		ps.addTable(l.cornerTable(), false)
	}
	if len(l.marks.Diagonals) > 0 {
		ps.addTable(l.diagonalTable(), false)
	}
}

// measure finds the level's points, and the corners that tapes start from.
func (l *site) measure() {
	l.marks = setout.Of(l.set.in.Plan, l.set.in.Layout, l.level)
	used := map[string]bool{}
	for _, p := range l.marks.Points {
		if p.Ties != nil {
			used[p.Ties.From[0]], used[p.Ties.From[1]] = true, true
		}
	}
	for _, c := range l.marks.Structure {
		if used[c.Name] {
			l.corners = append(l.corners, c)
		}
	}
}

// cornerMark is the half width, in mm, of the mark of a corner.
const cornerMark = 1.1

// drawCorners marks the corners that tapes start from.
func (p *planView) drawCorners(s *drawing.Scene) {
	l := s.Layer(drawing.SettingOut)
	for _, c := range p.corners {
		at := p.pt(c.At)
		r := drawing.NewRect(at.X-cornerMark, at.Y-cornerMark, 2*cornerMark, 2*cornerMark)
		if p.frame().Inset(-3).Holds(r) {
			l.Add(cornerSymbol(at))
			p.placer.TakeRect(r)
		}
	}
}

func cornerSymbol(at drawing.Point) drawing.Path {
	return drawing.Path{Closed: true, Pen: drawing.Outline, Fill: drawing.White,
		Points: []drawing.Point{at.Add(-cornerMark, cornerMark), at.Add(cornerMark, cornerMark), at.Add(0, -cornerMark)}}
}

// nameCorners names the marked corners where there is room for the name; the table
// has them all.
func (p *planView) nameCorners(s *drawing.Scene) {
	for _, c := range p.corners {
		at := p.pt(c.At)
		if !p.frame().Inset(-3).Holds(drawing.Rect{Min: at, Max: at}) {
			continue
		}
		var tries []drawing.Text
		for _, d := range []drawing.Point{{X: 2, Y: -1.4}, {X: -2, Y: -1.4}, {X: 2, Y: 2.8}, {X: -2, Y: 2.8}} {
			t := drawing.Text{At: at.Add(d.X, d.Y), Text: c.Name, Height: drawing.Tiny}
			if d.X < 0 {
				t.Align = drawing.Right
			}
			tries = append(tries, t)
		}
		if t, ok := p.placer.PlaceClear(tries...); ok {
			s.Layer(drawing.SettingOut).Add(t)
		}
	}
}

// pointNote explains the names of points.
func (l *site) pointNote() string {
	return fmt.Sprintf("Chalk lines mark the faces of tracks: %s.AS is face A at the wall's start, AE at its end; face B lies the track's depth beside it, the soffit's points plumb above.", l.walls[0].ID)
}
