package programme

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/programme/schedule"
	"nogging/internal/words"
)

// solved is a programme as the scheduler sees it.
type solved struct {
	problem  schedule.Problem
	solution schedule.Solution
	tasks    []int // of the network, by index of the problem
	at       map[int]int
	links    []int          // of the network, by index of the problem's links
	teams    map[int]int    // resource of each team
	words    map[int]string // what a resource is called
}

// catalogued returns how the catalogue's compound for a coat hardens; drying where
// nothing says.
func (n *network) catalogued(s Stage) Compound {
	use := "tapered"
	if s == WholeFace {
		use = "skim"
	}
	if c, ok := n.Catalogue.SundryFor(catalogue.KindFiller, use, n.Practice); ok && c.Hardens == catalogue.HardensSetting {
		return Setting
	}
	return Drying
}

// block leaves tasks out of the programme, and says why.
func (n *network) block(tasks []int, code, object, what string, fix words.Text, path string) {
	names := make([]string, len(tasks))
	for k, i := range tasks {
		n.blocked[i] = true
		names[k] = n.Tasks[i].ID
	}
	n.Findings.Add(finding.Finding{Code: code, Severity: finding.Error, Object: object, Path: path,
		What: words.F("%s; not planned: %s", what, some(names)), Fix: fix})
}

// plan schedules all that can be: what cannot is a finding that names the tasks, and
// what waits for it is left out with it.
func (n *network) plan(ctx context.Context) *solved {
	n.blocked = make([]bool, len(n.Tasks))
	n.unskilled()
	n.noCalendar()
	n.waits = n.firstWaits()
	return n.settle(ctx)
}

// settle schedules again and again, until every coat has the time to dry that the air
// of its day asks for.
func (n *network) settle(ctx context.Context) *solved {
	for pass := 0; ; pass++ {
		s := n.solve(ctx)
		if s == nil || !n.lengthen(s, pass) {
			return s
		}
	}
}

// noCalendar blocks work by others whose calendar has no working day.
func (n *network) noCalendar() {
	for k := range n.Site.Others {
		var tasks []int
		for i := range n.Tasks {
			t := &n.Tasks[i]
			if c := n.Site.calendar(t.calendar); t.Kind == ByOther && t.other == k && !t.Done && (c == nil || c.dayMinutes() == 0) {
				tasks = append(tasks, i)
			}
		}
		if len(tasks) > 0 {
			n.block(tasks, "calendar-empty", n.Site.Others[k].ID, "its calendar has no working day", "give its calendar days and shifts", "calendars")
		}
	}
}

// left lists the tasks that are planned: those that are not blocked and wait for none
// that is.
func (n *network) left() []int {
	out := slices.Clone(n.blocked)
	next := make([][]int, len(n.Tasks))
	for _, l := range n.links {
		next[l.from] = append(next[l.from], l.to)
	}
	var queue []int
	for i := range out {
		if out[i] {
			queue = append(queue, i)
		}
	}
	for ; len(queue) > 0; queue = queue[1:] {
		for _, k := range next[queue[0]] {
			if !out[k] && !n.Tasks[k].Done {
				out[k] = true
				queue = append(queue, k)
			}
		}
	}
	var list []int
	for i := range out {
		if !out[i] {
			list = append(list, i)
		}
	}
	return list
}

// solve schedules what is left; nil where nothing is. What the scheduler cannot plan is
// blocked, and the rest is scheduled.
func (n *network) solve(ctx context.Context) *solved {
	for {
		s := n.asProblem(n.left())
		if len(s.tasks) == 0 {
			return nil
		}
		solution, err := schedule.Solve(ctx, s.problem, schedule.Options{Seed: n.Seed, Schedules: n.budget(len(s.tasks)), Then: goals})
		var bad schedule.Mistakes
		if !errors.As(err, &bad) {
			s.solution = solution
			return s
		}
		if !n.mistaken(s, bad) {
			return nil
		}
	}
}

// budget is how many schedules are tried: as many as take a few seconds, if nobody
// says otherwise. A task takes longer to put into a longer schedule.
func (n *network) budget(tasks int) int {
	if n.Schedules > 0 {
		return n.Schedules
	}
	many := taskBudget / tasks * min(manyTasks, tasks) / tasks
	return min(max(many, leastSchedules), mostSchedules)
}

// goals are what is bettered once the end cannot be: evenly used gangs, then few moves
// between zones.
var goals = []schedule.Goal{schedule.Level, schedule.Moves}

// How much the search does by itself: so many tasks put into schedules, of programmes
// with no more than manyTasks, and so many schedules.
const (
	taskBudget     = 400_000
	manyTasks      = 5000
	leastSchedules = 15
	mostSchedules  = 2000
)

// mistaken blocks the tasks that the scheduler cannot plan; false where it names none.
func (n *network) mistaken(s *solved, bad schedule.Mistakes) bool {
	any := false
	for _, m := range bad {
		var tasks []int
		for _, k := range m.Tasks {
			tasks = append(tasks, s.tasks[k])
		}
		if len(tasks) == 0 {
			n.Findings.Add(finding.Finding{Code: "not-planned", Severity: finding.Error, What: words.Of(m.String()), Fix: "look at the gangs file"})
			continue
		}
		any = true
		switch m.Kind {
		case schedule.Cycle:
			n.block(tasks, "tasks-in-ring", n.Tasks[tasks[0]].ID, "these tasks wait for each other in a ring", "take one of the waits out: after of zones, after and before of others, or a junction of the plan", "")
		case schedule.NoWork:
			n.noWork(tasks)
		case schedule.NoResource, schedule.TooMuch:
			n.block(tasks, "resource-missing", n.Tasks[tasks[0]].ID, fmt.Sprintf("they need %d of %s, and there are %d", m.Need, s.words[m.Resource], m.Have), "add to it in the gangs file", "")
		case schedule.NoRoom:
			n.block(tasks, "no-time-left", n.Tasks[tasks[0]].ID, "calendars and gangs end before they could be done", "let gangs stay longer (until)", "gangs")
		default:
			n.block(tasks, "not-planned", n.Tasks[tasks[0]].ID, m.String(), "look at the gangs file", "")
		}
	}
	return any
}

// noWork blocks tasks that find no working time: because joints cannot be treated in
// the cold, or because calendars have none in common.
func (n *network) noWork(tasks []int) {
	t := &n.Tasks[tasks[0]]
	if _, _, cold := n.weather.coldMask(t.Zone, n.From, n.Practice.JointMinimum.Value); t.Stage.wet() && t.Kind == Work && cold {
		n.block(tasks, "too-cold", t.Zone, fmt.Sprintf("joints are not treated below %g °C, and it stays colder in %s", n.Practice.JointMinimum.Value, t.Zone),
			"heat the zone and state its air under climate", "climate")
		return
	}
	n.block(tasks, "calendar-empty", t.ID, "the calendars of gang and task have no working time in common", "give the gang's calendar days and shifts", "calendars")
}

// point turns a moment into slots since the first day.
func (n *network) point(m Moment) int { return max(int(m-n.From.At(0))/slot, 0) }

// moment turns slots since the first day into a moment.
func (n *network) moment(point int) Moment { return n.From.At(0) + Moment(point*slot) }

// asProblem puts tasks into the scheduler's terms.
func (n *network) asProblem(tasks []int) *solved {
	s := &solved{tasks: tasks, at: map[int]int{}, teams: map[int]int{}, words: map[int]string{}}
	b := &builder{network: n, solved: s, calendars: map[string]int{}, warmth: map[string]int{}, zones: map[string]int{}, plant: map[int]int{}, trades: map[int]int{}}
	b.resources()
	for k, i := range tasks {
		s.at[i] = k
		s.problem.Tasks = append(s.problem.Tasks, b.task(i))
	}
	for k, l := range n.links {
		from, okFrom := s.at[l.from]
		to, okTo := s.at[l.to]
		if okFrom && okTo {
			x := schedule.Link{From: from, To: to, Work: schedule.All}
			if l.dries {
				x.Elapsed = n.waits[l.from]
			}
			s.problem.Links = append(s.problem.Links, x)
			s.links = append(s.links, k)
		}
	}
	return s
}

// builder makes a scheduler's problem.
type builder struct {
	*network
	*solved
	calendars map[string]int // by what makes them one
	warmth    map[string]int // by zone
	zones     map[string]int // resources that limit zones
	plant     map[int]int    // resources by index of plant
	trades    map[int]int    // resources by index of others
}

// resource adds a resource and returns its index.
func (b *builder) resource(id, name string, capacity, calendar int, crew bool) int {
	b.words[len(b.problem.Resources)] = name
	b.problem.Resources = append(b.problem.Resources, schedule.Resource{ID: id, Capacity: capacity, Calendar: calendar, Crew: crew})
	return len(b.problem.Resources) - 1
}

func (b *builder) resources() {
	for k := range b.network.teams {
		g := b.gang(k)
		b.solved.teams[k] = b.resource(g.ID, b.teamName(k), len(b.network.teams[k].gangs), b.gangCalendar(g), true)
	}
	for k := range b.Site.Plant {
		if p := &b.Site.Plant[k]; p.Count > 0 {
			b.plant[k] = b.resource(p.ID, p.name(), p.Count, schedule.Always, false)
		}
	}
	for i := range b.Site.Zones {
		if z := &b.Site.Zones[i]; z.Gangs > 0 {
			b.zones[z.ID] = b.resource("in "+z.ID, "room for gangs in "+z.ID, z.Gangs, schedule.Always, false)
		}
	}
	for k := range b.Site.Others {
		b.trades[k] = b.resource(b.Site.Others[k].ID, b.Site.Others[k].Name, 1, schedule.Always, false)
	}
}

// teamName is what a team is called: by its gangs.
func (n *network) teamName(k int) string {
	var names []string
	for _, g := range n.teams[k].gangs {
		names = append(names, n.Site.Gangs[g].ID)
	}
	return joined(names)
}

func (p *Plant) name() string {
	if p.Name != "" {
		return p.Name
	}
	return p.ID
}

// calendar adds a calendar once.
func (b *builder) calendar(key string, make func() ([]bool, int)) int {
	if i, ok := b.calendars[key]; ok {
		return i
	}
	working, repeat := make()
	b.calendars[key] = len(b.problem.Calendars)
	b.problem.Calendars = append(b.problem.Calendars, schedule.Calendar{ID: key, Working: working, Repeat: repeat})
	return b.calendars[key]
}

// gangCalendar adds the calendar of a gang: its shifts without the days on which it is
// not on site.
func (b *builder) gangCalendar(g *Gang) int {
	c := b.Site.calendar(b.Site.calendarAt(g.Calendar))
	return b.calendar(fmt.Sprint("gang ", c.ID, g.From, g.Until, g.Away), func() ([]bool, int) {
		last := max(g.From, slices.Max(append([]Date{0}, g.Away...)), g.Until)
		working, repeat := c.mask(b.From, last, func(d Date) bool {
			return d < g.From || g.Until != 0 && d > g.Until || slices.Contains(g.Away, d)
		})
		if g.Until != 0 {
			repeat = 0
		}
		return working, repeat
	})
}

// siteCalendar adds a calendar of the file as it stands.
func (b *builder) siteCalendar(i int) int {
	c := b.Site.calendar(i)
	if c == nil {
		return schedule.Always
	}
	return b.calendar("site "+c.ID, func() ([]bool, int) {
		return c.mask(b.From, 0, func(Date) bool { return false })
	})
}

// warm adds the calendar of the days on which joints can be treated in a zone; Always
// where it is always warm enough.
func (b *builder) warm(zone string) int {
	if i, ok := b.warmth[zone]; ok {
		return i
	}
	working, repeat, cold := b.weather.coldMask(zone, b.From, b.Practice.JointMinimum.Value)
	b.warmth[zone] = schedule.Always
	if cold {
		b.warmth[zone] = b.calendar("warm "+zone, func() ([]bool, int) { return working, repeat })
	}
	return b.warmth[zone]
}

// task puts a task into the scheduler's terms.
func (b *builder) task(i int) schedule.Task {
	t := &b.Tasks[i]
	x := schedule.Task{ID: t.ID, Calendar: schedule.Always, Release: b.point(t.release), Zone: slices.Index(b.Zones, t.Zone)}
	if t.Done {
		x.Fixed, x.Start, x.End = true, b.point(b.dayStart(t.fixedFrom)), b.point(b.dayEnd(t.fixedTo))
		return x
	}
	switch t.Kind {
	case gate:
		x.Zone = -1
	case Hold:
		x.Duration, x.Calendar, x.Zone = t.slots, b.siteCalendar(0), -1
	case ByOther:
		x.Duration, x.Calendar, x.Zone = t.slots, b.siteCalendar(t.calendar), -1
		if !t.dated {
			x.Demands = append(x.Demands, schedule.Demand{Resource: b.trades[t.other], Units: 1})
		}
	case Work:
		b.work(t, &x)
	}
	return x
}

// work says what a gang's task takes.
func (b *builder) work(t *Task, x *schedule.Task) {
	x.Duration = slotsOf(t.Left / float64(t.People))
	x.Demands = append(x.Demands, schedule.Demand{Resource: b.solved.teams[t.team], Units: 1})
	t.Plant = nil
	for _, p := range b.plantFor(t) {
		x.Demands = append(x.Demands, schedule.Demand{Resource: b.plant[p], Units: 1})
		t.Plant = append(t.Plant, b.Site.Plant[p].ID)
	}
	if r, ok := b.zones[t.Zone]; ok {
		x.Demands = append(x.Demands, schedule.Demand{Resource: r, Units: 1})
	}
	if t.Stage.wet() {
		x.Calendar = b.warm(t.Zone)
	}
}

// dayStart and dayEnd return when work begins and ends on a day by the first calendar.
func (n *network) dayStart(d Date) Moment {
	if c := n.Site.calendar(0); c != nil && len(c.Shifts) > 0 {
		return d.At(c.Shifts[0].From)
	}
	return d.At(0)
}

func (n *network) dayEnd(d Date) Moment {
	if c := n.Site.calendar(0); c != nil && len(c.Shifts) > 0 {
		return d.At(c.Shifts[len(c.Shifts)-1].Until)
	}
	return (d + 1).At(0)
}

// firstWaits returns the least that each coat may take to dry, in slots. Coats that
// would dry in air outside the table on every day are blocked.
func (n *network) firstWaits() []int {
	waits := make([]int, len(n.Tasks))
	outside := map[string][]int{}
	for i, hours := range n.waitsBy(func(a, b float64) bool { return a < b }) {
		if hours < 0 {
			outside[n.Tasks[i].Zone] = append(outside[n.Tasks[i].Zone], i)
			continue
		}
		waits[i] = slotsOf(hours * 60)
	}
	for _, zone := range n.Zones {
		if len(outside[zone]) > 0 {
			n.outside(zone, outside[zone])
		}
	}
	return waits
}

// waitsBy returns for each coat the drying time that comes before all others of the
// days on which the air changes; below 0 where all are outside the table.
func (n *network) waitsBy(before func(a, b float64) bool) []float64 {
	type kind struct {
		zone  string
		stage Stage
	}
	known := map[kind]float64{}
	list := make([]float64, len(n.Tasks))
	for i := range n.Tasks {
		t := &n.Tasks[i]
		if t.Done && t.fixedTo == 0 || t.Kind != Work || !slices.Contains(coatStages, t.Stage) && t.Stage != WholeFace {
			continue
		}
		k := kind{t.Zone, t.Stage}
		if _, ok := known[k]; !ok {
			known[k] = -1
			for d := n.From; d <= max(n.weather.changes(t.Zone), n.From)+1; d++ {
				w, ok := n.wait(t, d.At(12*60))
				if ok && (known[k] < 0 || before(w.Hours, known[k])) {
					known[k] = w.Hours
				}
			}
		}
		list[i] = known[k]
		if t.Done {
			if w, ok := n.wait(t, n.dayEnd(t.fixedTo)); ok {
				list[i] = w.Hours
			}
		}
	}
	return list
}

// patience is after how many passes the longest drying time of all days is taken for
// coats that still have too little.
const patience = 5

// lengthen gives coats the time that they take on the day on which they are drawn, and
// reports whether some had less. Coats drawn in air outside the table are blocked.
func (n *network) lengthen(s *solved, pass int) bool {
	again := false
	var longest []float64
	outside := map[string][]int{}
	for k, i := range s.tasks {
		t := &n.Tasks[i]
		if n.waits[i] == 0 && t.Dry == nil || t.Done {
			continue
		}
		w, ok := n.wait(t, n.moment(s.solution.End[k]))
		if !ok {
			outside[t.Zone] = append(outside[t.Zone], i)
			again = true
			continue
		}
		if need := slotsOf(w.Hours * 60); need > n.waits[i] {
			n.waits[i], again = need, true
			if pass >= patience {
				if longest == nil {
					longest = n.waitsBy(func(a, b float64) bool { return a > b })
				}
				n.waits[i] = max(need, slotsOf(longest[i]*60))
			}
		}
	}
	for _, zone := range n.Zones {
		if len(outside[zone]) > 0 {
			n.outside(zone, outside[zone])
		}
	}
	return again
}
