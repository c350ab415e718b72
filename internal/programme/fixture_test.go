package programme

import (
	"context"
	"os"
	"strings"
	"testing"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/order"
	"nogging/internal/plan"
	"nogging/internal/plantest"
	"nogging/internal/programme/schedule/check"
	"nogging/internal/takeoff"
)

// site is a gangs file of invented gangs, to which tests add.
const site = `programme: 1
leave_out: [paint]
calendars:
  - {id: site, days: [mon, tue, wed, thu, fri], shifts: ["07:00-12:00", "12:30-16:00"], holidays: [2027-01-15]}
gangs:
  - {id: lead, skills: [setting_out, framing], size: 2}
  - {id: boards-1, skills: [boarding, insulating], size: 2}
  - {id: boards-2, skills: [boarding, insulating], size: 2}
  - {id: joint, skills: [jointing], size: 2}
`

const services = `others:
  - {id: cables, name: Electrical first fix, after: first_face, before: insulation, days: 2}
`

type failer interface {
	Helper()
	Fatal(...any)
	Errorf(string, ...any)
}

// siteOf reads a gangs file that has no mistakes.
func siteOf(t failer, text string) *Site {
	t.Helper()
	s, found := ReadSite("gangs.yaml", []byte(text))
	if len(found) > 0 {
		t.Fatal(found)
	}
	return s
}

// inputOf lays a plan out, for a programme from 11 January 2027, a Monday.
func inputOf(t failer, p *plan.Plan, text string) Input {
	t.Helper()
	cat := catalogue.Shipped()
	id := p.Practice
	if id == "" {
		id = plan.Metric
	}
	pr, _ := cat.PracticeByID(id)
	l := layout.Of(p, cat, pr)
	measured := takeoff.Of(p, l, cat, pr)
	o := order.Of(order.Input{Plan: p, Layout: l, Takeoff: measured, Catalogue: cat, Practice: pr})
	return Input{Plan: p, Layout: l, Takeoff: measured, Catalogue: cat, Practice: pr, Order: o, Site: siteOf(t, text), Start: mustDate("2027-01-11"), Seed: 1, Schedules: 20}
}

// offices is a small plan: 40 walls in three zones, air as on a site that is heated.
func offices() *plan.Plan {
	p := plantest.Offices(40)
	p.Climate = plan.Climate{Temperature: 20, Humidity: 50}
	for i := range p.Walls {
		p.Walls[i].Zone = []string{"east", "middle", "west"}[i/14]
	}
	return p
}

// verified makes a programme and holds its schedule against the independent checker.
func verified(t failer, in Input) *Programme {
	t.Helper()
	n, s := planned(context.Background(), in)
	if s == nil {
		t.Fatal("nothing is planned: ", n.Findings)
	}
	for _, wrong := range check.Verify(s.problem, s.solution) {
		t.Errorf("%s", wrong)
	}
	n.finish(n, s)
	in.Site.places.Fill(n.Findings)
	return n.Programme
}

func clinic(t *testing.T) *plan.Plan {
	data, err := os.ReadFile("../../demo/clinic.yaml")
	if err != nil {
		t.Fatal(err)
	}
	p, _ := plan.Parse("clinic.yaml", data)
	return p
}

// task returns the task of a stage of a group.
func (p *Programme) task(group string, s Stage) *Task {
	for i := range p.Tasks {
		if p.Tasks[i].Group == group && p.Tasks[i].Stage == s {
			return &p.Tasks[i]
		}
	}
	return &Task{}
}

// told returns the findings of a code.
func told(list finding.List, code string) (some finding.List) {
	for _, f := range list {
		if f.Code == code {
			some = append(some, f)
		}
	}
	return some
}

// says checks that one finding of a code holds the words given.
func says(t *testing.T, list finding.List, code string, words ...string) {
	t.Helper()
	for _, f := range told(list, code) {
		text := f.String() + " " + f.Fix.String()
		ok := true
		for _, w := range words {
			ok = ok && strings.Contains(text, w)
		}
		if ok {
			return
		}
	}
	t.Errorf("no finding %s with %q among %v", code, words, list)
}

// plannedFor makes the network and the schedule of a programme.
func plannedFor(t failer, in Input) (*network, *solved) {
	t.Helper()
	n, s := planned(context.Background(), in)
	if s == nil {
		t.Fatal("nothing is planned: ", n.Findings)
	}
	return n, s
}
