// Package timechart draws programmes: the Gantt chart, a row for each stage of each
// zone, and the line of balance, groups of walls over time. It takes a
// programme.Programme and gives scenes, which the writers turn into SVG and PDF. All is
// told by form, dash and number, so that it can be read in black and white.
package timechart

import (
	"fmt"
	"time"

	"nogging/internal/drawing"
	"nogging/internal/plan"
	"nogging/internal/programme"
)

// Input is what is drawn, and for which project.
type Input struct {
	Project   plan.Project
	Programme *programme.Programme
}

// axis turns moments into places along x.
type axis struct {
	from  programme.Date // first day, a Monday
	days  int
	x     float64 // of the first day
	scale float64 // mm a day
	off   map[programme.Date]bool
}

// leastDay is the least width of a day in mm, with which a week can be named.
const leastDay = 2.2

// axes parts the time of a programme into sheets, each of whole weeks.
func axes(p *programme.Programme, x, width float64) []axis {
	from, until := span(p)
	weeks := max(int(until-from)/7+1, 3)
	fit := int(width / (7 * leastDay))
	parts := (weeks + fit - 1) / fit
	each := (weeks + parts - 1) / parts
	var list []axis
	for k := 0; k*each < weeks; k++ {
		list = append(list, axis{from: from + programme.Date(7*k*each), days: 7 * each, x: x, scale: width / float64(7*each), off: daysOff(p)})
	}
	return list
}

// span returns the Monday before the first task, and the last day.
func span(p *programme.Programme) (from, until programme.Date) {
	from, until = p.From, p.From
	for i := range p.Tasks {
		t := &p.Tasks[i]
		if t.Planned {
			from, until = min(from, t.Start.Date()), max(until, t.End.Date())
			if t.Dry != nil {
				until = max(until, t.Dry.Until.Date())
			}
		}
	}
	return from.Monday(), until
}

func daysOff(p *programme.Programme) map[programme.Date]bool {
	off := map[programme.Date]bool{}
	for _, d := range p.DaysOff {
		off[d] = true
	}
	return off
}

// at returns where a moment lies, and holds it within the chart.
func (a *axis) at(m programme.Moment) float64 {
	days := float64(m-a.from.At(0)) / 1440
	return a.x + min(max(days, 0), float64(a.days))*a.scale
}

// shows reports whether any of a stretch of time lies in the chart.
func (a *axis) shows(from, until programme.Moment) bool {
	return until >= a.from.At(0) && from <= (a.from+programme.Date(a.days)).At(0)
}

// head heights in mm.
const (
	weekBand = 9.5
	dayBand  = 4.5
	axisHead = weekBand + dayBand
)

// draw draws the head of the axis, its weeks, and days that nobody works shaded down
// to the foot.
func (a *axis) draw(s *drawing.Scene, top, foot float64, today programme.Date) {
	under := s.Layer(drawing.Structure)
	var weeks, days []drawing.Segment
	for d := range a.days {
		day, x := a.from+programme.Date(d), a.x+float64(d)*a.scale
		if a.off[day] || day.Weekday() == time.Saturday && a.off[day+1] {
			under.Add(drawing.Box(drawing.NewRect(x, top+weekBand, a.scale, foot-top-weekBand), drawing.NoPen, drawing.Tint(0.9)))
		}
		if day.Weekday() == time.Monday {
			weeks = append(weeks, drawing.Segment{A: drawing.Point{X: x, Y: top}, B: drawing.Point{X: x, Y: foot}})
			a.week(s, x, top, day)
		} else {
			days = append(days, drawing.Segment{A: drawing.Point{X: x, Y: top + weekBand}, B: drawing.Point{X: x, Y: foot}})
		}
		if a.scale >= 3.4 {
			letter := day.Weekday().String()[:1]
			s.Layer(drawing.Marks).Add(drawing.Text{At: drawing.Point{X: x + a.scale/2, Y: top + weekBand + dayBand - 1.1}, Text: letter, Height: drawing.Tiny, Align: drawing.Centre})
		}
	}
	end := a.x + float64(a.days)*a.scale
	weeks = append(weeks, drawing.Segment{A: drawing.Point{X: end, Y: top}, B: drawing.Point{X: end, Y: foot}})
	under.Add(drawing.Lines{Segments: days, Pen: drawing.Pen{Weight: drawing.W13, Grey: 0.75}}, drawing.Lines{Segments: weeks, Pen: drawing.Thin},
		drawing.Line(drawing.Point{X: a.x, Y: top + axisHead}, drawing.Point{X: end, Y: top + axisHead}, drawing.Medium))
	if m := today.At(0); today != 0 && a.shows(m, m) {
		x := a.at(m)
		s.Layer(drawing.Dimensions).Add(drawing.Line(drawing.Point{X: x, Y: top + weekBand}, drawing.Point{X: x, Y: foot}, drawing.Pen{Weight: drawing.W50, Dash: drawing.LongDashDot}),
			drawing.Text{At: drawing.Point{X: x + 0.8, Y: foot - 1}, Text: "today", Height: drawing.Small, Mask: true})
	}
}

// week names a week and its Monday.
func (a *axis) week(s *drawing.Scene, x, top float64, monday programme.Date) {
	l := s.Layer(drawing.Marks)
	year, week, _ := cutWeek(monday)
	l.Add(drawing.Text{At: drawing.Point{X: x + 0.8, Y: top + 3.6}, Text: "W" + week, Height: drawing.Small, Bold: true, Max: 7*a.scale - 1.2})
	date := monday.Short()[4:]
	if monday == a.from || week == "01" {
		date += " " + year
	}
	l.Add(drawing.Text{At: drawing.Point{X: x + 0.8, Y: top + weekBand - 1.6}, Text: date, Height: drawing.Small, Max: 7*a.scale - 1.2})
}

// cutWeek parts a week such as 2027-W02 into year and number.
func cutWeek(d programme.Date) (year, week string, ok bool) {
	w := d.Week()
	return w[:4], w[6:], true
}

// titled finishes sheets of one drawing.
func titled(in Input, scenes []*drawing.Scene, title, mark, caution string, notes []string) []*drawing.Scene {
	p := in.Project
	number := mark
	if p.Number != "" {
		number = p.Number + "-" + mark
	}
	for i, s := range scenes {
		drawing.Finish(s, drawing.TitleBlock{
			Project: p.Name, Number: p.Number, Revision: p.Revision, Date: p.Date, Title: title, Subtitle: s.Title,
			Drawing: fmt.Sprintf("%s-%02d", number, i+1), Kind: "Programme", Scale: "–", Sheet: i + 1, Sheets: len(scenes),
		}, caution, notes)
		s.Title = title
	}
	return scenes
}
