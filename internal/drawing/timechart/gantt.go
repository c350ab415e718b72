package timechart

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/programme"
)

// sizes of the Gantt chart in mm.
const (
	labelWidth = 74.0
	laneHeight = 4.6
	laneGap    = 0.9
	zoneHeight = 6.0
)

// lane is one line of bars.
type lane []*programme.Task

// row is a stage of a zone: bars of its groups, in as many lanes as do not overlap.
type row struct {
	zone  string // of a heading; "" for others
	again bool   // the heading stood on the sheet before
	name  string
	gangs string
	lanes []lane
}

func (r *row) height() float64 {
	if r.zone != "" {
		return zoneHeight
	}
	return float64(len(r.lanes))*laneHeight + laneGap
}

// Gantt draws the Gantt chart on as many sheets as it takes.
func Gantt(in Input) []*drawing.Scene {
	p := in.Programme
	field := drawing.A3.Field()
	critical := map[string]bool{}
	for _, s := range p.Chain {
		critical[s.ID] = true
	}
	rows := ganttRows(p)
	var scenes []*drawing.Scene
	for _, a := range axes(p, field.Min.X+labelWidth, field.Width()-labelWidth) {
		for from := 0; from < len(rows); {
			some := rows[from:]
			if some[0].zone == "" {
				some = append([]row{{zone: zoneOf(rows[:from]), again: true}}, some...)
			}
			n := fitting(some, field.Height()-axisHead)
			some = some[:n]
			if some[0].again {
				n--
			}
			if shown(&a, some) {
				g := gantt{axis: a, critical: critical, today: todayOf(p)}
				scenes = append(scenes, g.sheet(field, some, len(scenes)+1))
			}
			from += n
		}
	}
	return titled(in, scenes, "Programme of work", "PG", "Dates follow the norms and drying times of this programme; look at each coat before the next one.", []string{
		"Bars: work, with the number of the group in its zone; underlined: critical chain; black: done. Hatched: a coat dries, by night and on days off, too.",
		"White, dashed: others. Diamond: inspection; work does not go on without it. Triangle: delivery (F frame, B boards, I insulation, C compounds). Grey: days off.",
	})
}

func todayOf(p *programme.Programme) programme.Date {
	if p.Progress != nil {
		return p.Progress.Today
	}
	return 0
}

// fitting returns how many rows fit into a height; a heading is not left alone.
func fitting(rows []row, height float64) int {
	n := 0
	for y := 0.0; n < len(rows); n++ {
		if y += rows[n].height(); y > height {
			break
		}
	}
	if n > 1 && n < len(rows) && rows[n-1].zone != "" {
		n--
	}
	return min(max(n, 2), len(rows))
}

// zoneOf returns the zone of the last heading.
func zoneOf(rows []row) string {
	for _, r := range slices.Backward(rows) {
		if r.zone != "" {
			return r.zone
		}
	}
	return ""
}

// shown reports whether anything of the rows lies in the chart.
func shown(a *axis, rows []row) bool {
	return slices.ContainsFunc(rows, func(r row) bool {
		return slices.ContainsFunc(r.lanes, func(l lane) bool {
			return slices.ContainsFunc(l, func(t *programme.Task) bool { return a.shows(t.Start, t.End) })
		})
	})
}

// ganttRows lists the rows, zone by zone and stage by stage.
func ganttRows(p *programme.Programme) []row {
	var rows []row
	for _, zone := range p.Zones {
		rows = append(rows, row{zone: zone})
		byName := map[string]int{}
		for _, i := range inOrder(p, zone) {
			t := &p.Tasks[i]
			k, ok := byName[t.Name]
			if !ok {
				k = len(rows)
				byName[t.Name] = k
				rows = append(rows, row{name: t.Name})
			}
			rows[k].add(t)
		}
		if calls := callsIn(p, zone); len(calls) > 0 {
			rows = append(rows, row{name: deliveries, lanes: []lane{calls}})
		}
	}
	return rows
}

const deliveries = "deliveries"

// callsIn gives the deliveries of a zone the form of tasks without length.
func callsIn(p *programme.Programme, zone string) lane {
	var l lane
	for i := range p.CallOffs {
		c := &p.CallOffs[i]
		if c.Zone == zone {
			at := c.Arrive.At(7 * 60)
			letter := map[programme.Material]string{programme.FrameMaterial: "F", programme.BoardMaterial: "B", programme.FillMaterial: "I", programme.FinishMaterial: "C"}[c.Material]
			if k := slices.IndexFunc(l, func(t *programme.Task) bool { return t.Start == at }); k >= 0 {
				l[k].Name += letter
				continue
			}
			l = append(l, &programme.Task{ID: "delivery " + c.Arrive.String() + " " + zone, Name: letter, Kind: delivery, Start: at, End: at, Planned: true})
		}
	}
	return l
}

// delivery marks the arrival of material among the tasks of a chart.
const delivery programme.Kind = "delivery"

// inOrder lists the planned tasks of a zone by stage, others behind the stage that they
// follow, and by start.
func inOrder(p *programme.Programme, zone string) []int {
	var list []int
	for i := range p.Tasks {
		if p.Tasks[i].Zone == zone && p.Tasks[i].Planned {
			list = append(list, i)
		}
	}
	place := func(t *programme.Task) int { return slices.Index(programme.Stages(), t.Stage) }
	slices.SortStableFunc(list, func(a, b int) int {
		x, y := &p.Tasks[a], &p.Tasks[b]
		return cmp.Or(cmp.Compare(place(x), place(y)), cmp.Compare(x.Start, y.Start))
	})
	return list
}

// add puts a task into the first lane in which it is free.
func (r *row) add(t *programme.Task) {
	if t.Gang != "" && !slices.Contains(strings.Split(r.gangs, ", "), t.Gang) {
		r.gangs = strings.TrimPrefix(r.gangs+", "+t.Gang, ", ")
	}
	for k := range r.lanes {
		last := r.lanes[k][len(r.lanes[k])-1]
		if until(last) <= t.Start {
			r.lanes[k] = append(r.lanes[k], t)
			return
		}
	}
	r.lanes = append(r.lanes, lane{t})
}

// until returns until when a task takes up its lane. An inspection takes the room of its
// mark, and short work that of the thinnest bar.
func until(t *programme.Task) programme.Moment {
	end := t.End
	if t.Dry != nil {
		end = max(end, t.Dry.Until)
	}
	if t.Kind == programme.Hold {
		return max(end, t.Start+5*60)
	}
	return max(end, t.Start+2*60)
}

// gantt draws one sheet.
type gantt struct {
	axis
	critical map[string]bool
	today    programme.Date
}

func (g *gantt) sheet(field drawing.Rect, rows []row, number int) *drawing.Scene {
	last := g.from + programme.Date(g.days-1)
	s := drawing.NewScene(fmt.Sprintf("gantt-%02d", number), fmt.Sprintf("%s to %s", g.from, last), drawing.A3)
	y := field.Min.Y + axisHead
	for i := range rows {
		g.row(s, &rows[i], field, y)
		y += rows[i].height()
	}
	g.axis.draw(s, field.Min.Y, y, g.today)
	s.Layer(drawing.SettingOut).Add(drawing.Line(drawing.Point{X: field.Min.X, Y: y}, drawing.Point{X: g.x + float64(g.days)*g.scale, Y: y}, drawing.Medium))
	return s
}

func (g *gantt) row(s *drawing.Scene, r *row, field drawing.Rect, y float64) {
	labels := s.Layer(drawing.Notes)
	rule := drawing.Line(drawing.Point{X: field.Min.X, Y: y}, drawing.Point{X: field.Max.X, Y: y}, drawing.Hair)
	if r.zone != "" {
		name := r.zone
		if r.again {
			name += " (continued)"
		}
		labels.Add(drawing.Text{At: drawing.Point{X: field.Min.X + 1, Y: y + zoneHeight - 1.6}, Text: name, Height: drawing.Large, Bold: true, Max: labelWidth - 2},
			drawing.Line(drawing.Point{X: field.Min.X, Y: y}, drawing.Point{X: field.Max.X, Y: y}, drawing.Medium))
		return
	}
	labels.Add(rule)
	name := drawing.Text{At: drawing.Point{X: field.Min.X + 3, Y: y + laneGap + 3.2}, Text: r.name, Height: drawing.Small, Max: 44}
	gang := drawing.Text{At: drawing.Point{X: field.Min.X + labelWidth - 2, Y: y + laneGap + 3.2}, Text: r.gangs, Height: drawing.Tiny, Align: drawing.Right, Max: labelWidth - 6 - name.Width()}
	labels.Add(name, gang)
	for k, l := range r.lanes {
		for _, t := range l {
			if g.shows(t.Start, until(t)) {
				g.task(s, t, y+laneGap+float64(k)*laneHeight)
			}
		}
	}
}

// task draws one task with its top at y.
func (g *gantt) task(s *drawing.Scene, t *programme.Task, y float64) {
	const h = laneHeight - laneGap
	group := &drawing.Group{ID: t.ID, Title: said(t), Data: []drawing.Datum{{Name: "task", Value: t.ID}}}
	x := g.at(t.Start)
	switch {
	case t.Kind == delivery:
		group.Add(drawing.Path{Points: []drawing.Point{{X: x, Y: y + h}, {X: x - 1.2, Y: y + 0.6}, {X: x + 1.2, Y: y + 0.6}}, Closed: true, Pen: drawing.Thin, Fill: drawing.Black},
			drawing.Text{At: drawing.Point{X: x + 1.6, Y: y + h - 0.4}, Text: t.Name, Height: drawing.Small, Bold: true})
	case t.Kind == programme.Hold:
		g.hold(group, t, x, y, h)
	default:
		g.bar(group, t, y, h)
	}
	s.Layer(drawing.Boards).Add(group)
}

// hold draws an inspection as a diamond.
func (g *gantt) hold(group *drawing.Group, t *programme.Task, x, y, h float64) {
	fill := drawing.White
	if t.Done {
		fill = drawing.Black
	}
	x += 0.2
	group.Add(drawing.Path{Points: []drawing.Point{{X: x - 1.5, Y: y + h/2}, {X: x, Y: y + 0.3}, {X: x + 1.5, Y: y + h/2}, {X: x, Y: y + h - 0.3}}, Closed: true, Pen: pen(t), Fill: fill})
	g.stress(group, t, x-1.5, x+1.5, y+h+0.15)
}

// pen outlines tasks; others' work is dashed.
func pen(t *programme.Task) drawing.Pen {
	if t.Kind == programme.ByOther {
		return drawing.Pen{Weight: drawing.W25, Dash: drawing.Dashed}
	}
	return drawing.Medium
}

// stress underlines tasks of the critical chain, which an outline would blacken where
// they are short.
func (g *gantt) stress(group *drawing.Group, t *programme.Task, from, until, y float64) {
	if g.critical[t.ID] {
		group.Add(drawing.Line(drawing.Point{X: from, Y: y}, drawing.Point{X: max(until, from+1.4), Y: y}, drawing.Pen{Weight: drawing.W70}))
	}
}

// bar draws work, thin over days off, and the drying of its coat.
func (g *gantt) bar(group *drawing.Group, t *programme.Task, y, h float64) {
	if t.Dry != nil {
		g.drying(group, t, y, h)
	}
	fill := drawing.Tint(0.75)
	switch {
	case t.Done:
		fill = drawing.Black
	case t.Kind == programme.ByOther:
		fill = drawing.White
	}
	x0, x1 := g.at(t.Start), g.at(t.End)
	group.Add(drawing.Line(drawing.Point{X: x0, Y: y + h/2}, drawing.Point{X: x1, Y: y + h/2}, drawing.Medium))
	widest := [2]float64{x0, x0}
	for _, r := range g.worked(t) {
		if r[1]-r[0] > widest[1]-widest[0] {
			widest = r
		}
		group.Add(drawing.Box(drawing.NewRect(r[0], y+0.4, max(r[1]-r[0], 0.5), h-0.8), pen(t), fill))
	}
	g.stress(group, t, x0, x1, y+h+0.15)
	label := t.Group[strings.LastIndex(t.Group, "/")+1:]
	if w := drawing.TextWidth(label, drawing.Tiny, false); label != "" && !t.Done && w+0.8 < widest[1]-widest[0] {
		group.Add(drawing.Text{At: drawing.Point{X: (widest[0] + widest[1]) / 2, Y: y + h/2}, Text: label, Height: drawing.Tiny, Align: drawing.Centre}.Middle())
	}
}

// worked returns the stretches of a task between days off.
func (g *gantt) worked(t *programme.Task) (list [][2]float64) {
	from := t.Start
	for d := t.Start.Date(); d <= t.End.Date(); d++ {
		if !g.off[d] {
			continue
		}
		if d.At(0) > from {
			list = append(list, [2]float64{g.at(from), g.at(d.At(0))})
		}
		from = (d + 1).At(0)
	}
	if from <= t.End {
		list = append(list, [2]float64{g.at(from), g.at(t.End)})
	}
	return list
}

// drying hatches the time that a coat dries.
func (g *gantt) drying(group *drawing.Group, t *programme.Task, y, h float64) {
	r := drawing.NewRect(g.at(t.End), y+1.1, g.at(t.Dry.Until)-g.at(t.End), h-2.2)
	if r.Width() <= 0 {
		return
	}
	group.Add(drawing.Box(r, drawing.Pen{Weight: drawing.W13}, drawing.White), drawing.Lines{Segments: drawing.Hatch(r.Corners(), 45, 0.9), Pen: drawing.Pen{Weight: drawing.W13}})
}

// said is what a reader hears on pointing at a task.
func said(t *programme.Task) string {
	if t.Kind == delivery {
		return "delivery, " + t.Start.Date().Short()
	}
	parts := []string{t.Name, t.Zone + " " + t.Group, t.Start.Short() + " to " + t.End.Short()}
	if t.Group != "" {
		parts[1] = t.Group
	}
	if t.Gang != "" {
		parts = append(parts, t.Gang)
	}
	if t.Dry != nil {
		parts = append(parts, fmt.Sprintf("%s until %s (%.1f h at %s)", t.Dry.Compound, t.Dry.Until.Short(), t.Dry.Hours, t.Dry.Air))
	}
	return strings.Join(parts, ", ")
}
