package programme

import (
	"fmt"
	"slices"
	"strings"

	"nogging/internal/finding"
	"nogging/internal/words"
	"nogging/internal/yamlfile"
)

// weekdays are the words of files for the days of a week, Monday first.
var weekdays = []string{"mon", "tue", "wed", "thu", "fri", "sat", "sun"}

// siteChecker collects what is wrong with a gangs file.
type siteChecker struct {
	*Site
	found finding.List
}

func (c *siteChecker) wrong(object, path string, what, fix words.Text) {
	c.found.Add(finding.Finding{Code: "gangs-wrong", Severity: finding.Error, Object: object, Path: path, What: what, Fix: fix})
}

// word checks that a value is one of those known.
func (c *siteChecker) word(object, path, value string, plural words.Text, known []string) {
	if !slices.Contains(known, value) {
		c.wrong(object, path, words.F("%q is none of the %s", value, plural), yamlfile.Suggest(value, plural, known))
	}
}

// check looks for what cannot be meant. Names of zones are checked against the plan
// later.
func (s *Site) check() finding.List {
	c := &siteChecker{Site: s}
	if s.Version != Version {
		c.wrong("", "programme", words.F("version %d of this file's format is not known", s.Version), "write programme: 1")
	}
	if s.GroupHours < 0 {
		c.wrong("", "group_hours", "hours cannot be below 0", "write hours of one person, such as 40")
	}
	if s.OpenZones < 0 {
		c.wrong("", "open_zones", "fewer zones than none cannot be open", "write how many, or leave it out")
	}
	if s.Compound != "" {
		c.word("", "compound", string(s.Compound), "compounds", []string{string(Drying), string(Setting)})
	}
	c.calendars()
	c.gangs()
	c.plant()
	c.zones()
	c.climate()
	c.others()
	c.deliveries()
	return c.found
}

func (c *siteChecker) calendars() {
	if len(c.Calendars) == 0 {
		c.wrong("", "calendars", "there is no calendar", "write one, such as {id: site, days: [mon, tue, wed, thu, fri], shifts: [\"07:00-12:00\", \"12:30-16:00\"]}")
	}
	c.unique("calendars", len(c.Calendars), func(i int) string { return c.Calendars[i].ID })
	for i := range c.Calendars {
		k, path := &c.Calendars[i], fmt.Sprintf("calendars[%d]", i)
		for n, d := range k.Days {
			c.word(k.ID, fmt.Sprintf("%s.days[%d]", path, n), d, "weekdays", weekdays)
		}
		if len(k.Days) == 0 && len(k.Extra) == 0 || len(k.Shifts) == 0 {
			c.wrong(k.ID, path, "the calendar has no working day", "write days, such as [mon, tue, wed, thu, fri], and shifts, such as [\"07:00-12:00\", \"12:30-16:00\"]")
		}
		for n := 1; n < len(k.Shifts); n++ {
			if k.Shifts[n].From < k.Shifts[n-1].Until {
				c.wrong(k.ID, fmt.Sprintf("%s.shifts[%d]", path, n), "the shift begins before the one above ends", "write shifts one after the other")
			}
		}
	}
}

func (c *siteChecker) calendarNamed(object, path, id string) {
	if id != "" {
		c.word(object, path, id, "calendars of this file", ids(len(c.Calendars), func(i int) string { return c.Calendars[i].ID }))
	}
}

func (c *siteChecker) gangs() {
	if len(c.Gangs) == 0 {
		c.wrong("", "gangs", "there is no gang", "write one, such as {id: frame, skills: [setting_out, framing, boarding], size: 2}")
	}
	c.unique("gangs", len(c.Gangs), func(i int) string { return c.Gangs[i].ID })
	for i := range c.Gangs {
		g, path := &c.Gangs[i], fmt.Sprintf("gangs[%d]", i)
		if g.Size < 1 || g.Size > 100 {
			c.wrong(g.ID, path+".size", words.F("a gang of %d cannot work", g.Size), "write how many people it has")
		}
		for n, s := range g.Skills {
			c.word(g.ID, fmt.Sprintf("%s.skills[%d]", path, n), string(s), "skills", texts(Skills()))
		}
		if g.Until != 0 && g.Until < g.From {
			c.wrong(g.ID, path+".until", words.F("it leaves on %s, before it comes on %s", g.Until, g.From), "write the last day on site")
		}
		c.calendarNamed(g.ID, path+".calendar", g.Calendar)
	}
}

func (c *siteChecker) plant() {
	c.unique("plant", len(c.Plant), func(i int) string { return c.Plant[i].ID })
	for i := range c.Plant {
		p, path := &c.Plant[i], fmt.Sprintf("plant[%d]", i)
		if p.Count < 1 {
			c.wrong(p.ID, path+".count", "there is none of it", "write how many there are, or take it out")
		}
		for n, s := range p.Stages {
			c.word(p.ID, fmt.Sprintf("%s.stages[%d]", path, n), string(s), "stages", texts(Stages()))
		}
		if p.Above < 0 {
			c.wrong(p.ID, path+".above", "a height cannot be below 0", "write millimetres, or metres as in 3 m")
		}
	}
}

func (c *siteChecker) zones() {
	c.unique("zones", len(c.Zones), func(i int) string { return c.Zones[i].ID })
	for i := range c.Zones {
		if z := &c.Zones[i]; z.Gangs < 0 {
			c.wrong(z.ID, fmt.Sprintf("zones[%d].gangs", i), "a zone cannot hold fewer gangs than none", "write how many may work there at the same time")
		}
	}
}

func (c *siteChecker) climate() {
	for i := range c.Climate {
		w, path := &c.Climate[i], fmt.Sprintf("climate[%d]", i)
		if w.Temperature < -60 || w.Temperature > 60 || w.Humidity < 0 || w.Humidity > 100 {
			c.wrong(w.Zone, path, words.F("no site has %g °C and %g %%", w.Temperature, w.Humidity), "write degrees Celsius and per cent")
		}
		if i > 0 && w.Zone == c.Climate[i-1].Zone && w.From < c.Climate[i-1].From {
			c.wrong(w.Zone, path+".from", "the row begins before the one above it", "write rows in the order of their days")
		}
	}
}

func (c *siteChecker) others() {
	c.unique("others", len(c.Others), func(i int) string { return c.Others[i].ID })
	known := append(texts(Stages()), ids(len(c.Others), func(i int) string { return c.Others[i].ID })...)
	for i := range c.Others {
		o, path := &c.Others[i], fmt.Sprintf("others[%d]", i)
		if o.After != "" {
			c.word(o.ID, path+".after", o.After, "stages and work by others", known)
		}
		if o.Before != "" {
			c.word(o.ID, path+".before", string(o.Before), "stages", texts(Stages()))
		}
		switch {
		case o.Days < 0 || o.Days > 1000:
			c.wrong(o.ID, path+".days", words.F("it cannot take %g days", o.Days), "write working days, such as 3")
		case o.Days == 0 && (o.From == 0 || o.Until == 0):
			c.wrong(o.ID, path, "nothing says how long it takes", "write days, or from and until")
		case o.Until != 0 && o.Until < o.From:
			c.wrong(o.ID, path+".until", words.F("it ends on %s, before it begins on %s", o.Until, o.From), "write the last day")
		}
		c.calendarNamed(o.ID, path+".calendar", o.Calendar)
	}
}

func (c *siteChecker) deliveries() {
	if d := &c.Deliveries; d.Lead < 0 || d.Ahead < 0 {
		c.wrong("", "deliveries", "days cannot be below 0", "write working days")
	}
	for i, a := range c.Deliveries.Dated {
		c.word(a.Zone, fmt.Sprintf("deliveries.dated[%d].material", i), string(a.Material), "materials", texts(Materials()))
	}
	if h := &c.Holds; min(h.BeforeClose, h.Final) < 0 || h.Notice < 0 {
		c.wrong("", "holds", "times cannot be below 0", "write working hours, and working days of notice")
	}
}

// unique checks that ids are given and differ.
func (c *siteChecker) unique(list string, n int, id func(int) string) {
	seen := map[string]bool{}
	for i := range n {
		switch path := fmt.Sprintf("%s[%d]", list, i); {
		case strings.TrimSpace(id(i)) == "":
			c.wrong("", path, "it has no id", "give it a short mark")
		case seen[id(i)]:
			c.wrong(id(i), path, words.F("the id stands twice among %s", list), "give each one of its own")
		}
		seen[id(i)] = true
	}
}

func ids(n int, id func(int) string) []string {
	list := make([]string, n)
	for i := range list {
		list[i] = id(i)
	}
	return list
}

func texts[T ~string](list []T) []string {
	return ids(len(list), func(i int) string { return string(list[i]) })
}
