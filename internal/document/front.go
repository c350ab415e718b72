package document

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"nogging/internal/drawing"
	"nogging/internal/quantity"
)

// frontSheets makes the cover, the list of sheets and the practice.
func (p *pack) frontSheets() []*drawing.Scene {
	cover := p.cover()
	list := newFlow("contents", "List of sheets", 2)
	list.table(p.contents(list.width()))
	rules := newFlow("practice", "Practice: values and sources", 1)
	if t := p.practice(rules.width()); t != nil && p.in.Wants(PartPractice) {
		rules.table(t)
	}
	all := append(cover.scenes, list.scenes...)
	all = append(all, rules.scenes...)
	for i, s := range all {
		p.titled(s, "0", i+1, len(all), caution, []string{
			"A value marked 'from memory' names a clause that nobody could open: check it before relying on it.",
			"'Common practice' is a rule of the trade without a single source."})
	}
	return all
}

const caution = "Not a certificate: for fire and structure the local code and a licensed professional decide."

// cover sets the cover in two columns.
func (p *pack) cover() *flow {
	f := newFlow("cover", "Cover", 2)
	p.coverProject(f)
	p.coverCautions(f)
	f.next()
	p.coverLines(f)
	p.coverMarks(f)
	return f
}

func (p *pack) coverProject(f *flow) {
	pr := p.in.Plan.Project
	f.scene()
	f.y += 6
	f.heading(p.title(), drawing.Huge, 40)
	f.y += 2
	f.heading("Partitions: set-out, framing, boarding and take-off", drawing.Head, 40)
	f.y += 4
	t := &drawing.Table{Title: "Project", Columns: []drawing.Column{{Width: 40}, {Width: f.width() - 40}}}
	for _, row := range [][2]string{
		{"Number", pr.Number}, {"Address", pr.Address}, {"Client", pr.Client}, {"Revision", pr.Revision}, {"Date", pr.Date},
		{"Practice", p.practiceName()}, {"Units", p.unitsName()},
		{"Levels", strconv.Itoa(len(p.in.Plan.Levels))}, {"Walls", strconv.Itoa(len(p.in.Layout.Walls))},
		{"Sheets of drawings", strconv.Itoa(p.pages())}, {"Findings", p.findingCount()},
	} {
		if row[1] != "" {
			t.Add(row[0], row[1])
		}
	}
	f.table(t)
}

func (p *pack) practiceName() string {
	if p.in.Practice == nil {
		return p.in.Plan.Practice
	}
	return p.in.Practice.Name
}

func (p *pack) unitsName() string {
	if p.in.Plan.Practice == "us" {
		return "feet and inches, to the nearest 1/16 inch"
	}
	return "millimetres"
}

// cautions of the work; who is named gives guidance or law, not this pack.
var cautions = []string{
	"Fire: no rating is worked out here. A wall's rating rests on test evidence that covers the wall as it is built.",
	"Structure, sound and heat: figures hold only in the scope that stands beside them. A licensed professional decides.",
	"Lifting: boards and pieces over %s are lifted by two persons (%s); carry boards upright on their long edge.",
	"Dust: cutting and sanding boards and drilling concrete raise respirable silica dust; extract it at the source and wear a mask that fits.",
	"Edges: cut steel is sharp; wear gloves and eye protection, and hearing protection when cutting studs.",
	"Electricity: cables run in the cavity and behind boards; have them made dead and marked before screwing or cutting, and look for cables and pipes before drilling into floor, soffit or wall.",
	"Stacks: boards stacked on a floor are a load; ask what the slab bears before a delivery is set down.",
	"Height: work from a platform with guard rails, not from a ladder, to fix head tracks and upper boards.",
}

func (p *pack) coverCautions(f *flow) {
	f.heading("Cautions", drawing.Large, 20)
	limit, source := p.set.LiftLimit()
	for _, c := range cautions {
		if strings.Contains(c, "%s") {
			c = fmt.Sprintf(c, limit, source)
		}
		f.bullet(c)
	}
}

// coverLines explains line types.
func (p *pack) coverLines(f *flow) {
	f.heading("Lines", drawing.Large, 60)
	f.y += 2
	for _, row := range []struct {
		pen  drawing.Pen
		text string
	}{
		{drawing.Cut, "floor, soffit and what a section cuts"},
		{drawing.Outline, "outlines of members and pieces; tapered joints"},
		{drawing.MixedJoint, "joint of a tapered and a cut edge"},
		{drawing.CutJoint, "joint of two cut edges"},
		{drawing.CrossJoint, "cross joint"},
		{drawing.Hidden, "stud behind boards; gap in the floor track"},
		{drawing.CentreLine, "axis of a wall; diagonal of an opening"},
		{drawing.Thin, "dimension line; screws and breaks"},
		{drawing.Hair, "extension line and leader"},
	} {
		at := f.at()
		f.layer().Add(drawing.Line(at.Add(0, 1.3), at.Add(30, 1.3), row.pen),
			drawing.Text{At: at.Add(35, drawing.Small), Text: row.text, Height: drawing.Small})
		f.y += 5.2
	}
	f.y += 6
}

// coverMarks explains how parts are marked.
func (p *pack) coverMarks(f *flow) {
	t := &drawing.Table{Title: "Marks", Columns: []drawing.Column{{Head: "Mark", Width: 30}, {Head: "Part", Width: f.width() - 30}}}
	for _, row := range [][2]string{
		{"L1-07", "wall, by level and number; face A is on the left when walking from its start to its end"},
		{"F01, C01", "floor track, soffit track"},
		{"S01", "stud, end stud or junction stud"},
		{"D01, D01+D02", "opening stud; two studs boxed into each other"},
		{"H01", "header or sill of an opening"},
		{"K01", "cripple: short stud over or under an opening"},
		{"N01", "nogging: backing between studs"},
		{"G01", "gusset that ties twin frames"},
		{"A2-03", "piece 3 of face A, layer 2; layer 1 is against the frame"},
		{"X01", "box let into a face, or something hung on it"},
		{"R01", "rest of a bar or of a board that is kept for a later zone"},
		{"E-01", "strip that closes a free end, a free top or a reveal"},
	} {
		t.Add(row[0], row[1])
	}
	f.table(t)
}

// contents lists every drawing with the page on which it begins.
func (p *pack) contents(width float64) *drawing.Table {
	t := &drawing.Table{Title: "List of sheets", Columns: []drawing.Column{
		{Head: "Drawing no.", Width: 42}, {Head: "Title", Width: width - 42 - 28 - 18 - 16},
		{Head: "Scale", Width: 28}, {Head: "Sheets", Width: 18, Align: drawing.Right}, {Head: "Page", Width: 16, Align: drawing.Right},
	}}
	for _, s := range p.sections {
		if len(s.entries) == 0 {
			continue
		}
		t.Heading(s.title)
		for _, e := range s.entries {
			if e.sheets > 0 {
				t.AddLink(e.page, e.number, e.title, e.scale, strconv.Itoa(e.sheets), strconv.Itoa(e.page))
			}
		}
	}
	page := len(p.front) + p.pages() + 1
	t.Heading("Schedules")
	last := ""
	for i, s := range p.back {
		if s.Title != last {
			t.AddLink(page+i, "", s.Title, "", "", strconv.Itoa(page+i))
			last = s.Title
		}
	}
	return t
}

// practice lists the values of the practice with their sources; nil without a
// practice.
func (p *pack) practice(width float64) *drawing.Table {
	if p.in.Practice == nil {
		return nil
	}
	t := &drawing.Table{Title: "Practice: " + p.in.Practice.Name, Columns: []drawing.Column{
		{Head: "Rule", Width: 48}, {Head: "Value", Width: 88}, {Head: "Unit", Width: 18},
		{Head: "Status", Width: 34}, {Head: "Source", Width: 96}, {Head: "Note", Width: width - 284},
	}}
	for _, r := range p.in.Practice.Rules() {
		if r.Status == "" {
			continue
		}
		value, unit := p.measured(r.Value, r.Unit)
		t.Add(plain(r.Name), value, unit, statusText(r.Status), r.Source, p.set.Measures(r.Note))
	}
	return t
}

var number = regexp.MustCompile(`\d+(\.\d+)?`)

// measured writes a rule's value in the units of the project's drawings.
func (p *pack) measured(value, unit string) (string, string) {
	if p.in.Plan.Practice != "us" {
		return value, unit
	}
	if unit != "mm" && unit != "kg" {
		return p.set.Measures(value), unit
	}
	return number.ReplaceAllStringFunc(value, func(n string) string { return p.set.Measures(n + " " + unit) }), ""
}

func statusText(s quantity.Status) string { return string(s) }
