package timechart

import (
	"fmt"
	"slices"

	"nogging/internal/drawing"
	"nogging/internal/programme"
)

// flow is a line of the line-of-balance chart: stages that pass through the groups
// together.
type flow struct {
	letter string
	name   string
	stages []programme.Stage
	pen    drawing.Pen
}

// flows are the lines of the chart.
var flows = []flow{
	{"F", "studs and door frames", []programme.Stage{programme.Studs}, drawing.Pen{Weight: drawing.W50}},
	{"1", "first face", []programme.Stage{programme.FirstFace}, drawing.Pen{Weight: drawing.W35, Dash: drawing.Dashed}},
	{"2", "second face", []programme.Stage{programme.SecondFace}, drawing.Pen{Weight: drawing.W35, Dash: drawing.LongDashShort}},
	{"3", "further layers", []programme.Stage{programme.SecondLayer, programme.ThirdLayer, programme.FourthLayer}, drawing.Pen{Weight: drawing.W25, Dash: drawing.LongDashDot}},
	{"T", "tape, first coat", []programme.Stage{programme.FirstCoat}, drawing.Pen{Weight: drawing.W25}},
	{"C", "further coats, skim", []programme.Stage{programme.SecondCoat, programme.ThirdCoat, programme.WholeFace}, drawing.Pen{Weight: drawing.W35, Dash: drawing.LongDashTwoShort}},
	{"S", "sanding", []programme.Stage{programme.Sanding}, drawing.Pen{Weight: drawing.W70}},
}

// groupsOnSheet is how many groups a sheet holds, so that each has room for a line.
const groupsOnSheet = 60

// Balance draws the line of balance: groups in their order upwards, time along, a line
// for each flow of work. Lines that run together say that gangs get in each other's
// way; lines that part say that one of them waits.
func Balance(in Input) []*drawing.Scene {
	p := in.Programme
	field := drawing.A3.Field()
	var scenes []*drawing.Scene
	for from := 0; from < len(p.Groups); from += groupsOnSheet {
		groups := p.Groups[from:min(from+groupsOnSheet, len(p.Groups))]
		a := whole(p, groups, field.Min.X+balanceLabel, field.Width()-balanceLabel)
		b := balance{axis: a, byGroup: map[string][]*programme.Task{}}
		for i := range p.Tasks {
			if t := &p.Tasks[i]; t.Planned && t.Group != "" {
				b.byGroup[t.Group] = append(b.byGroup[t.Group], t)
			}
		}
		scenes = append(scenes, b.sheet(field, groups, len(scenes)+1, todayOf(p)))
	}
	return titled(in, scenes, "Line of balance", "LB", "", []string{
		"Upwards: groups of walls, zone by zone, in the order in which they are set up. Along: time. A line rises through a group while work goes on there.",
		"Lines that run together: gangs in each other's way. Lines that part: somebody waits, or coats dry. Grey: days off.",
	})
}

// balanceLabel is the room of the names of groups in mm.
const balanceLabel = 30.0

// whole is an axis over all the time of some groups.
func whole(p *programme.Programme, groups []programme.Group, x, width float64) axis {
	from, until := programme.Date(0), p.From
	for i := range p.Tasks {
		t := &p.Tasks[i]
		if t.Planned && slices.ContainsFunc(groups, func(g programme.Group) bool { return g.ID == t.Group }) {
			if from == 0 || t.Start.Date() < from {
				from = t.Start.Date()
			}
			until = max(until, t.End.Date())
		}
	}
	if from == 0 {
		from = p.From
	}
	from = from.Monday()
	days := (int(until-from)/7 + 1) * 7
	return axis{from: from, days: days, x: x, scale: width / float64(days), off: daysOff(p)}
}

type balance struct {
	axis
	byGroup map[string][]*programme.Task
}

func (b *balance) sheet(field drawing.Rect, groups []programme.Group, number int, today programme.Date) *drawing.Scene {
	s := drawing.NewScene(fmt.Sprintf("balance-%02d", number), fmt.Sprintf("%s to %s", b.from, b.from+programme.Date(b.days-1)), drawing.A3)
	const legend = 7
	top, foot := field.Min.Y+axisHead, field.Max.Y-legend
	each := min((foot-top)/float64(len(groups)), 14)
	foot = top + each*float64(len(groups))
	zone := ""
	for i := range groups {
		g := &groups[i]
		y := foot - float64(i)*each
		b.label(s, g, field, y, each, g.Zone != zone)
		zone = g.Zone
		for k := range flows {
			b.line(s, &flows[k], g, y, each)
		}
	}
	b.axis.draw(s, field.Min.Y, foot, today)
	s.Layer(drawing.SettingOut).Add(drawing.Line(drawing.Point{X: field.Min.X, Y: foot}, drawing.Point{X: field.Max.X, Y: foot}, drawing.Medium))
	b.legend(s, field, foot+4.5)
	return s
}

// label names a group, and its zone where a new one begins.
func (b *balance) label(s *drawing.Scene, g *programme.Group, field drawing.Rect, y, each float64, first bool) {
	l := s.Layer(drawing.Notes)
	pen := drawing.Hair
	if first {
		pen = drawing.Medium
	}
	l.Add(drawing.Line(drawing.Point{X: field.Min.X, Y: y}, drawing.Point{X: field.Max.X, Y: y}, pen))
	if height := min(drawing.Small, each-0.8); height >= drawing.Tiny {
		l.Add(drawing.Text{At: drawing.Point{X: field.Min.X + 1, Y: y - each/2}, Text: g.ID, Height: height, Bold: first, Max: balanceLabel - 2}.Middle())
	} else if first {
		l.Add(drawing.Text{At: drawing.Point{X: field.Min.X + 1, Y: y - 0.6}, Text: g.Zone, Height: drawing.Small, Bold: true, Max: balanceLabel - 2})
	}
}

// line draws a flow through a group: from the foot of its band when the work begins to
// the top when it ends.
func (b *balance) line(s *drawing.Scene, f *flow, g *programme.Group, y, each float64) {
	var from, until programme.Moment
	for _, t := range b.byGroup[g.ID] {
		if slices.Contains(f.stages, t.Stage) && t.Kind == programme.Work {
			if from == 0 || t.Start < from {
				from = t.Start
			}
			until = max(until, t.End)
		}
	}
	if from == 0 {
		return
	}
	a, e := drawing.Point{X: b.at(from), Y: y}, drawing.Point{X: b.at(until), Y: y - each}
	l := s.Layer(drawing.Frame)
	l.Add(&drawing.Group{ID: "flow-" + f.letter + "-" + g.ID, Title: fmt.Sprintf("%s, %s: %s to %s", f.name, g.ID, from.Short(), until.Short()), Items: []drawing.Item{drawing.Line(a, e, f.pen)}})
	if each >= 3.4 {
		mid := drawing.Point{X: (a.X + e.X) / 2, Y: (a.Y + e.Y) / 2}
		s.Layer(drawing.Marks).Add(drawing.Text{At: mid, Text: f.letter, Height: drawing.Tiny, Align: drawing.Centre, Bold: true, Mask: true}.Middle())
	}
}

// legend names the lines.
func (b *balance) legend(s *drawing.Scene, field drawing.Rect, y float64) {
	l := s.Layer(drawing.Notes)
	x := field.Min.X + 1
	for i := range flows {
		f := &flows[i]
		l.Add(drawing.Line(drawing.Point{X: x, Y: y}, drawing.Point{X: x + 16, Y: y}, f.pen))
		text := drawing.Text{At: drawing.Point{X: x + 18, Y: y}, Text: f.letter + "  " + f.name, Height: drawing.Small}.Middle()
		l.Add(text)
		x += 18 + text.Width() + 8
	}
}
