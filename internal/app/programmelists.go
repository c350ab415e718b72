package app

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"nogging/internal/exchange/ical"
	"nogging/internal/exchange/xlsx"
	"nogging/internal/order"
	"nogging/internal/programme"
	"nogging/internal/quantity"
	"nogging/internal/takeoff"
	"nogging/internal/yamlfile"
)

// writeJSON writes a value as JSON that people can read.
func writeJSON(out io.Writer, v any) error {
	e := json.NewEncoder(out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// writeTasks writes the tasks as comma-separated values with a header row.
func writeTasks(out io.Writer, p *programme.Programme) error {
	rows := [][]string{{"task", "kind", "zone", "group", "stage", "name", "walls", "gang", "people", "minutes", "minutes_left", "area_m2", "start", "end", "dry_until", "done"}}
	for i := range p.Tasks {
		t := &p.Tasks[i]
		dry := ""
		if t.Dry != nil {
			dry = t.Dry.Until.String()
		}
		rows = append(rows, []string{t.ID, string(t.Kind), t.Zone, t.Group, string(t.Stage), t.Name, strings.Join(t.Walls, " "), t.Gang, whole(t.People),
			fmt.Sprintf("%.1f", t.Minutes), fmt.Sprintf("%.1f", t.Left), fmt.Sprintf("%.2f", t.Area), t.Start.String(), t.End.String(), dry, strconv.FormatBool(t.Done)})
	}
	return csv.NewWriter(out).WriteAll(rows)
}

// whole writes a count, nothing for none.
func whole(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// writeCalendar writes the tasks of a gang, or of all with inspections and deliveries,
// as iCalendar.
func (j *Job) writeCalendar(out io.Writer, p *programme.Programme, gang string) error {
	c := &ical.Calendar{Name: strings.TrimSpace(j.title() + " " + gang), Stamp: at(p.From.At(0))}
	for i := range p.Tasks {
		t := &p.Tasks[i]
		if !t.Planned || gang != "" && t.Gang != gang {
			continue
		}
		e := ical.Event{UID: uid(t.ID), Start: at(t.Start), End: at(t.End), Summary: t.Name + ", " + t.Where(), Location: t.Zone, Categories: []string{string(t.Kind)}}
		if gang == "" && t.Gang != "" {
			e.Summary += " (" + t.Gang + ")"
		}
		e.Description = described(t)
		c.Events = append(c.Events, e)
	}
	for i := range p.CallOffs {
		if d := &p.CallOffs[i]; gang == "" {
			c.Events = append(c.Events, wholeDay("delivery "+d.Title(), d.Arrive, "Delivery: "+d.Title(), d.Zone, "delivery"), wholeDay("call "+d.Title(), d.Call, "Call off: "+d.Title(), d.Zone, "call-off"))
		}
	}
	return ical.Write(out, c)
}

func wholeDay(id string, d programme.Date, what, zone, category string) ical.Event {
	return ical.Event{UID: uid(id), WholeDay: true, Start: at(d.At(0)), End: at((d + 1).At(0)), Summary: what, Location: zone, Categories: []string{category}}
}

// uid makes an id fit for calendars: the same for the same task of a later programme.
func uid(id string) string { return strings.ReplaceAll(id, " ", "_") + "@programme" }

// at is a moment on site as calendars write it.
func at(m programme.Moment) time.Time { return time.Unix(int64(m)*60, 0).UTC() }

// described describes a task for a calendar.
func described(t *programme.Task) string {
	lines := []string{"Walls: " + strings.Join(t.Walls, ", ")}
	if t.Left > 0 {
		lines = append(lines, fmt.Sprintf("%.1f h of one person, %d people", t.Left/60, t.People))
	}
	if t.Dry != nil {
		lines = append(lines, fmt.Sprintf("Let it dry until %s (%s)", t.Dry.Until.Short(), t.Dry.Method))
	}
	if len(t.Plant) > 0 {
		lines = append(lines, "Plant: "+strings.Join(t.Plant, ", "))
	}
	return strings.Join(lines, "\n")
}

// writeCallWeeks writes the lines of the deliveries as comma-separated values, by week.
func writeCallWeeks(out io.Writer, p *programme.Programme) error {
	rows := [][]string{{"week", "arrive", "call", "zone", "material", "product", "name", "size_mm", "packs", "pack", "bought", "unit", "mass_kg", "pallets"}}
	for i := range p.CallOffs {
		c := &p.CallOffs[i]
		for k := range c.Lines {
			l := &c.Lines[k]
			rows = append(rows, []string{c.Week, c.Arrive.String(), c.Call.String(), c.Zone, string(c.Material), l.Product, l.Name, l.Size.String(), strconv.Itoa(l.Packs), l.Pack,
				takeoff.Format(l.Bought, l.Unit), plainUnit(l.Unit), fmt.Sprintf("%.1f", l.Mass), strconv.Itoa(l.Pallets)})
		}
	}
	return csv.NewWriter(out).WriteAll(rows)
}

// callBook lays the deliveries out as a workbook: all with their dates, then a sheet a
// week.
func (j *Job) callBook(p *programme.Programme) *xlsx.Book {
	s := &xlsx.Sheet{Name: "Deliveries", Heading: []string{"Deliveries by week", j.heading()}, Columns: []xlsx.Column{
		{Head: "Week", Width: 11}, {Head: "Arrives", Width: 13, Format: xlsx.Date}, {Head: "Call off by", Width: 13, Format: xlsx.Date}, {Head: "Zone", Width: 16}, {Head: "Material", Width: 26}, {Head: "First used", Width: 18, Format: xlsx.Time},
		{Head: "Mass, kg", Width: 11, Format: xlsx.Two}, {Head: "Pallets", Width: 9, Format: xlsx.Whole}, {Head: "Remark", Width: 40}}}
	book := &xlsx.Book{Title: "Deliveries " + j.title(), Sheets: []*xlsx.Sheet{s}}
	from, mass, pallets := s.Next(), 0.0, 0
	var weeks []string
	lines := map[string][]order.Line{}
	for i := range p.CallOffs {
		c := &p.CallOffs[i]
		remark := ""
		if c.Late {
			remark = "call off at once: less than the lead time is left"
		}
		s.Add(xlsx.Text(c.Week), xlsx.Day(int(c.Arrive)), xlsx.Day(int(c.Call)), xlsx.Text(c.Zone), xlsx.Text(c.Title()), xlsx.Minute(int(c.Use)), xlsx.Float(c.Mass, 2), xlsx.Int(c.Pallets), xlsx.Text(remark))
		if lines[c.Week] == nil {
			weeks = append(weeks, c.Week)
		}
		lines[c.Week] = append(lines[c.Week], c.Lines...)
		mass, pallets = mass+c.Mass, pallets+c.Pallets
	}
	if to := s.Next() - 1; to >= from {
		s.AddBold(xlsx.Text("Total"), xlsx.Cell{}, xlsx.Cell{}, xlsx.Cell{}, xlsx.Cell{}, xlsx.Cell{},
			xlsx.Formula(xlsx.Sum(6, from, to), xlsx.Float(mass, 2)), xlsx.Formula(xlsx.Sum(7, from, to), xlsx.Int(pallets)))
	}
	for _, week := range weeks {
		book.Sheets = append(book.Sheets, linesSheet(week, []string{"Call-off of week " + week, j.heading()}, lines[week]))
	}
	return book
}

// writeNorms writes the norms that the records suggest as a catalogue to merge; those
// that rest on too few records are left out.
func writeNorms(out io.Writer, p *programme.Progress) error {
	type operation struct {
		ID      string  `json:"id"`
		Name    string  `json:"name"`
		Unit    string  `json:"unit"`
		Minutes float64 `json:"minutes"`
		Source  string  `json:"source"`
		Status  string  `json:"status"`
	}
	list := struct {
		Operations []operation `json:"operations"`
	}{}
	for _, n := range p.Norms {
		for _, o := range n.Operations {
			if !n.Few {
				list.Operations = append(list.Operations, operation{o.Operation, o.Name, o.Unit, rounded(o.Suggested), fmt.Sprintf("our own records to %s: %d records, factor %.2f, quartiles %.2f to %.2f", p.Today, n.Records, n.Factor, n.Low, n.High), string(quantity.Entered)})
			}
		}
	}
	text, err := yamlfile.Encode(list, "Norms that our records suggest. Look at them, then name this file under catalogue in the plan.")
	if err != nil {
		return err
	}
	_, err = out.Write(text)
	return err
}

// rounded rounds minutes to hundredths.
func rounded(minutes float64) float64 {
	v, _ := strconv.ParseFloat(strconv.FormatFloat(minutes, 'f', 2, 64), 64)
	return v
}
