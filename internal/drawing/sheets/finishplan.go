package sheets

import (
	"fmt"
	"strconv"

	"nogging/internal/drawing"
	"nogging/internal/finish"
)

// DraftFinish arranges the finish schedule of one level: a row for each wall. A
// level without walls, and a project without a practice, have none.
func (s *Set) DraftFinish(id string) Draft {
	d := Draft{Number: s.numbered("F-" + id), Scale: "–"}
	l := s.site(id)
	if l == nil || s.in.Practice == nil {
		return d
	}
	ps := &pages{field: drawing.A3.Field()}
	ps.addTable(l.finishSchedule(), false)
	d.Title, d.Sheets = "Finish schedule, "+l.name(), len(ps.list)
	d.draw = func(i int) *drawing.Scene {
		b := s.title()
		b.Title, b.Subtitle, b.Drawing, b.Kind = d.Title, "joints, skims and paint, by geometry", d.Number, "Schedule"
		b.Scale, b.Sheet, b.Sheets = d.Scale, i+1, d.Sheets
		sc := ps.list[i].sheet("finish-"+FileName(id)+"-"+strconv.Itoa(i+1), d.Title)
		drawing.Finish(sc, b, "Net areas: a coat is the union of its stripes on both faces and round corners; no waste is counted.", []string{
			"Let each coat dry; no jointing below " + fmt.Sprintf("%g °C", s.in.Practice.JointMinimum.Value) + ".",
			"Sand wet or with the dust drawn off: it holds silica. Wear a mask."})
		return sc
	}
	return d
}

// FinishSchedule draws the finish schedule of one level.
func (s *Set) FinishSchedule(id string) []*drawing.Scene {
	d := s.DraftFinish(id)
	return d.All()
}

// finishRow is a row of the schedule: what adds up.
type finishRow struct {
	faces, tape, cornerTape          float64
	coats                            []float64
	heads                            int
	fill, joints, spread, spreadMass float64
	painted, paint                   float64
}

func (r *finishRow) add(o finishRow) {
	r.faces, r.tape, r.cornerTape, r.heads = r.faces+o.faces, r.tape+o.tape, r.cornerTape+o.cornerTape, r.heads+o.heads
	for i := range r.coats {
		r.coats[i] += o.coats[i]
	}
	r.fill, r.joints, r.spread, r.spreadMass = r.fill+o.fill, r.joints+o.joints, r.spread+o.spread, r.spreadMass+o.spreadMass
	r.painted, r.paint = r.painted+o.painted, r.paint+o.paint
}

// finishSchedule lists the finish of every wall of the level, and its sum.
func (l *site) finishSchedule() *drawing.Table {
	u, widths := l.set.units, l.set.in.Practice.CoatWidths.Value
	t := &drawing.Table{Title: "Finish schedule, " + l.name(), Columns: []drawing.Column{{Head: "Wall", Width: 18}, {Head: "Level", Width: 26}}}
	column := func(head string, width float64) {
		t.Columns = append(t.Columns, drawing.Column{Head: head, Width: width, Align: drawing.Right})
	}
	column("Faces "+u.areaUnit(), 21)
	column("Tape", 20)
	column("Corner tape", 28)
	for n, w := range widths {
		column(fmt.Sprintf("%d: %s wide", n+1, u.thin(w)), 30)
	}
	column("Screw heads", 28)
	column("Recesses "+u.massUnit(), 28)
	column("Coats "+u.massUnit(), 20)
	column("Full coat "+u.areaUnit(), 27)
	column("Full coat "+u.massUnit(), 27)
	column("Paint "+u.areaUnit(), 22)
	column("Paint "+u.volumeUnit(), 18)
	sum := finishRow{coats: make([]float64, len(widths))}
	for _, w := range l.walls {
		f := finish.Of(w, l.set.in.Catalogue, l.set.in.Practice)
		level := f.Level
		if f.Assumed {
			level += " (usual)"
		}
		row := rowOf(f, len(widths))
		sum.add(row)
		t.Add(append([]string{w.ID, level}, l.set.finishCells(row)...)...)
	}
	t.Add(append([]string{"In all", ""}, l.set.finishCells(sum)...)...)
	return t
}

// rowOf sums up a wall's finish.
func rowOf(f *finish.Wall, coats int) finishRow {
	r := finishRow{coats: make([]float64, coats), heads: f.Strips.Heads, faces: f.Strips.Area, joints: f.Heads.Amount}
	for _, j := range f.Joints {
		r.fill += j.Fill
		switch {
		case j.Tape == "":
		case j.Edges == finish.Corner:
			r.cornerTape += j.Length
		default:
			r.tape += j.Length
		}
	}
	for _, face := range f.Faces {
		r.faces, r.heads = r.faces+face.Area, r.heads+face.Heads
		for n, c := range face.Coats {
			r.coats[n] += c.Area + c.Beyond
			r.joints += c.Mass
		}
	}
	r.spread, r.spreadMass = f.Skim.Area+f.Close.Area, f.Skim.Amount+f.Close.Amount
	r.painted, r.paint = f.Paint.Area, f.Paint.Amount
	return r
}

func (s *Set) finishCells(r finishRow) []string {
	u := s.units
	cells := []string{u.area(r.faces), u.run(r.tape), u.run(r.cornerTape)}
	for _, c := range r.coats {
		cells = append(cells, u.area(c))
	}
	return append(cells, strconv.Itoa(r.heads), s.massOf(r.fill), s.massOf(r.joints),
		ifAny(r.spread, u.area(r.spread)), ifAny(r.spread, s.massOf(r.spreadMass)), u.area(r.painted), u.volume(r.paint))
}

// ifAny leaves out what there is nothing of.
func ifAny(amount float64, text string) string {
	if amount == 0 {
		return ""
	}
	return text
}

// gallons in a litre (the US gallon is 231 cubic inches).
const gallons = 1 / 3.785411784

func (u units) volumeUnit() string {
	if u.imperial {
		return "gal"
	}
	return "l"
}

// volume writes litres in the unit of volumes.
func (u units) volume(litres float64) string {
	if u.imperial {
		litres *= gallons
	}
	return strconv.FormatFloat(litres, 'f', 1, 64)
}
