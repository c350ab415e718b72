package programme

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"nogging/internal/finding"
	"nogging/internal/words"
)

// finish takes the schedule over into the tasks and makes the views of it.
func (p *Programme) finish(n *network, s *solved) {
	for i := range p.Tasks {
		t := &p.Tasks[i]
		p.Left += t.Left / 60
		if t.Done {
			p.Left -= t.Left / 60
			t.Planned, t.Left = true, 0
			t.Start, t.End = n.dayStart(t.fixedFrom), n.dayEnd(t.fixedTo)
			t.Gang = n.doneBy(t)
		}
	}
	if s != nil {
		n.dates(s)
		n.deal()
		p.End, p.Bound = n.moment(s.solution.Finish), n.moment(s.solution.Bound)
		p.Gap, p.Tried = s.solution.Gap(), s.solution.Schedules
		p.Chain = n.chain(s)
	}
	n.lateOthers()
	p.DaysOff = n.daysOff()
	p.Looks = n.lookAhead()
	p.CallOffs = n.callOffs()
	p.Holds = n.holdPoints()
	if n.Done != nil {
		p.Progress = n.progress()
	}
	p.Tasks = slices.DeleteFunc(p.Tasks, func(t Task) bool { return t.Kind == gate })
}

// dates gives tasks their dates, and coats the time that they dry.
func (n *network) dates(s *solved) {
	for k, i := range s.tasks {
		t := &n.Tasks[i]
		t.Planned = true
		if !t.Done {
			t.Start, t.End = n.moment(s.solution.Start[k]), n.moment(s.solution.End[k])
		}
		if n.waits[i] > 0 {
			w, _ := n.wait(t, t.End)
			w.Until = t.End + Moment(n.waits[i]*slot)
			t.Dry = &w
		}
	}
}

// daysOff lists the days of the programme on which the first calendar does not work.
func (n *network) daysOff() (off []Date) {
	c := n.Site.calendar(0)
	last := max(n.End.Date(), n.From)
	for i := range n.Tasks {
		if t := &n.Tasks[i]; t.Dry != nil {
			last = max(last, t.Dry.Until.Date())
		}
	}
	first := n.From
	for i := range n.Tasks {
		if t := &n.Tasks[i]; t.Done {
			first = min(first, t.Start.Date())
		}
	}
	for d := first.Monday(); c != nil && d <= last+7; d++ {
		if !c.works(d) {
			off = append(off, d)
		}
	}
	return off
}

// doneBy returns the gang that is recorded for a task; none where several did it.
func (n *network) doneBy(t *Task) string {
	gang := ""
	if t.group < 0 {
		return ""
	}
	for _, k := range n.members[t.group] {
		if m, ok := n.marked[markKey{k, t.Stage}]; ok {
			if gang != "" && m.gang != gang {
				return ""
			}
			gang = m.gang
		}
	}
	return gang
}

// lateOthers says which dated work by others cannot begin on its day, because ours is
// not ready.
func (n *network) lateOthers() {
	for i := range n.Tasks {
		t := &n.Tasks[i]
		if t.Kind != ByOther || !t.Planned || t.Done {
			continue
		}
		o := &n.Site.Others[t.other]
		if o.Until != 0 && o.Until < n.begin() && t.slots == 0 {
			n.Findings.Add(finding.Finding{Code: "others-assumed", Severity: finding.Assumed, Object: o.ID, Path: fmt.Sprintf("others[%d]", t.other),
				What: words.F("the last day of %s, %s, is past; in %s it is taken as done", o.Name, o.Until, t.Zone), Fix: words.F("record it as done: {other: %s, zone: %s, date: %s}", o.ID, t.Zone, o.Until)})
		}
		if o.From != 0 && t.Start.Date() > max(o.From, n.begin()) {
			n.late(t, o)
		}
	}
}

// Step is one task of the critical chain: what it waits for, in words.
type Step struct {
	ID    string `json:"id"`
	Task  string `json:"task"` // in words
	Start Moment `json:"start"`
	End   Moment `json:"end"`
	Why   string `json:"why"`
	For   string `json:"waits_for,omitempty"` // gang, plant or place for which it waits
}

// Brief returns the critical chain with runs of tasks that wait for the same gang put
// together.
func (p *Programme) Brief() []Step {
	var list []Step
	for i := 0; i < len(p.Chain); {
		s := p.Chain[i]
		next := i + 1
		for s.For != "" && next < len(p.Chain) && p.Chain[next].For == s.For {
			next++
		}
		if next-i > 3 {
			last := p.Chain[next-1]
			s = Step{Task: fmt.Sprintf("%d tasks, to %s", next-i, last.Task), Start: s.Start, End: last.End, Why: "one after the other: all wait for " + s.For, For: s.For}
		} else {
			next = i + 1
		}
		list = append(list, s)
		i = next
	}
	return list
}

// Lookahead is what a gang does in a day of the weeks to come.
type Lookahead struct {
	Date  Date     `json:"date"`
	Task  string   `json:"task"`
	Name  string   `json:"name"`
	Zone  string   `json:"zone"`
	Group string   `json:"group"`
	Walls []string `json:"walls"`
	From  Moment   `json:"from"`
	Until Moment   `json:"until"`
	Ready string   `json:"ready,omitempty"` // what has to be ready before
}

// Look is the look-ahead of one gang.
type Look struct {
	Gang  string      `json:"gang"`
	Name  string      `json:"name,omitempty"`
	From  Date        `json:"from"`
	Until Date        `json:"until"`
	Tasks []Lookahead `json:"tasks"`
}

// lookWeeks is how far the look-ahead reaches (common practice).
const lookWeeks = 3

// lookAhead lists what each gang does in the three weeks from today, or from the first
// day on, in the order in which it begins.
func (n *network) lookAhead() []Look {
	from := n.begin()
	until := from + 7*lookWeeks - 1
	var looks []Look
	for k := range n.Site.Gangs {
		looks = append(looks, Look{Gang: n.Site.Gangs[k].ID, Name: n.Site.Gangs[k].Name, From: from, Until: until})
	}
	waits := map[int]string{}
	for _, l := range n.links {
		if f := &n.Tasks[l.from]; f.Kind != Work && f.Kind != gate && !f.Done {
			waits[l.to] = f.Name
		}
	}
	for _, i := range n.byStart() {
		t := &n.Tasks[i]
		if t.Kind != Work || t.Done || !t.Planned || t.Start.Date() > until || t.End.last() < from {
			continue
		}
		k := slices.IndexFunc(looks, func(l Look) bool { return l.Gang == t.Gang })
		if k < 0 {
			continue
		}
		looks[k].Tasks = append(looks[k].Tasks, Lookahead{Date: t.Start.Date(), Task: t.ID, Name: t.Name, Zone: t.Zone, Group: t.Group,
			Walls: t.open(), From: t.Start, Until: t.End, Ready: n.ready(t, waits[i])})
	}
	return looks
}

// open lists the walls of a task that are not done.
func (t *Task) open() []string {
	return slices.DeleteFunc(slices.Clone(t.Walls), func(w string) bool { return slices.Contains(t.Closed, w) })
}

// ready says what a task needs before it can begin, beside the work before it.
func (n *network) ready(t *Task, wait string) string {
	var list []string
	if wait != "" {
		list = append(list, wait)
	}
	if m := materialOf(t.Stage); m != "" {
		list = append(list, m.name())
	}
	for _, id := range t.Plant {
		k := slices.IndexFunc(n.Site.Plant, func(p Plant) bool { return p.ID == id })
		list = append(list, n.Site.Plant[k].name())
	}
	if t.Stage == Studs {
		for _, w := range n.Groups[t.group].Walls {
			for _, on := range w.Strip {
				list = append(list, fmt.Sprintf("strip of board on %s behind %s", on, w.ID))
			}
		}
	}
	if t.Stage == FirstFace {
		for _, w := range n.Groups[t.group].Walls {
			if w.First != "a" {
				list = append(list, fmt.Sprintf("%s: face %s first", w.ID, strings.ToUpper(string(w.First))))
			}
		}
	}
	return strings.Join(list, "; ")
}

// byStart lists the tasks in the order in which they begin.
func (n *network) byStart() []int {
	list := make([]int, len(n.Tasks))
	for i := range list {
		list[i] = i
	}
	slices.SortStableFunc(list, func(a, b int) int {
		return cmp.Or(cmp.Compare(n.Tasks[a].Start, n.Tasks[b].Start), cmp.Compare(n.Tasks[a].End, n.Tasks[b].End))
	})
	return list
}

// name is what people call a material.
func (m Material) name() string {
	switch m {
	case FrameMaterial:
		return "profiles and fixings"
	case BoardMaterial:
		return "boards"
	case FillMaterial:
		return "insulation rolls or batts"
	}
	return "compounds, tapes, beads"
}

// HoldPoint is an inspection without which work does not go on.
type HoldPoint struct {
	Task   string   `json:"task"`
	Name   string   `json:"name"`
	Zone   string   `json:"zone"`
	Group  string   `json:"group"`
	Walls  []string `json:"walls"`
	From   Moment   `json:"from,omitzero"`
	Notice Date     `json:"announce,omitzero"` // by this day
	Done   bool     `json:"done,omitempty"`
	Show   []string `json:"show"`
}

// holdPoints lists inspections in the order of their dates, and what must be shown
// (common practice).
func (n *network) holdPoints() []HoldPoint {
	var list []HoldPoint
	for _, i := range n.byStart() {
		t := &n.Tasks[i]
		if t.Kind != Hold || !t.Planned {
			continue
		}
		h := HoldPoint{Task: t.ID, Name: t.Name, Zone: t.Zone, Group: t.Group, Walls: t.Walls, From: t.Start, Done: t.Done, Show: n.toShow(t)}
		if c := n.Site.calendar(0); c != nil {
			h.Notice = c.back(t.Start.Date(), n.Site.Holds.Notice)
		}
		list = append(list, h)
	}
	return list
}

// toShow lists what an inspection of a group has to see.
func (n *network) toShow(t *Task) []string {
	if t.Stage == Final {
		list := []string{"surface level as agreed, in the light of use", "plumb and flatness within the tolerances agreed", "edges, corners, beads and movement joints", "seals along floor, soffit and structure"}
		return list
	}
	list := []string{"studs, tracks and their fixings as drawn; seals behind profiles"}
	fire, sound, wet, heavy, openings := n.asks(t.group)
	if openings {
		list = append(list, "door frames: profiles, angles, headers")
	}
	list = append(list, "services fixed, tested and clear of studs; no boxes back to back where sound or fire is asked")
	list = append(list, "insulation without gaps, held against slipping")
	for _, x := range []struct {
		on   bool
		what string
	}{
		{fire, "fire: boards, screws, fill and seals as the test evidence names them; stops round services"},
		{sound, "sound: nothing bridges the frames; perimeter sealed"},
		{wet, "wet rooms: board type, pipes tested under pressure"},
		{heavy, "grounds and frames for what hangs on the walls"},
	} {
		if x.on {
			list = append(list, x.what)
		}
	}
	return append(list, "photographs before the face closes")
}

// asks says what is asked of the walls of a group.
func (n *network) asks(g int) (fire, sound, wet, heavy, openings bool) {
	for _, w := range n.Groups[g].Walls {
		spec := n.specs[w.ID]
		if spec == nil {
			continue
		}
		r := spec.Require
		fire, sound, wet = fire || r.Fire != "", sound || r.Sound != "", wet || r.Wet != ""
		heavy, openings = heavy || len(spec.Fixings) > 0, openings || len(spec.Openings) > 0
	}
	return fire, sound, wet, heavy, openings
}

// alternates works out what the programme would be if all coats were of the other
// compound.
func (n *network) alternates(ctx context.Context) {
	for _, c := range []Compound{Setting, Drying} {
		if !n.differs(c) {
			continue
		}
		site := *n.Site
		site.Compound = c
		in := *n.Input
		in.Site, in.Alternate = &site, false
		in.Site.places = n.Site.places
		other := Of(ctx, in)
		if other.End == 0 || other.unplanned() != n.unplanned() {
			continue
		}
		if other.End > n.End && other.easier(n.Programme) || other.End < n.End && n.Programme.easier(other) {
			other.End = n.End // one of them has dates that do for both; the search is too coarse to part them
		}
		n.Alternates = append(n.Alternates, Alternate{Compound: c, What: "all coats of " + string(c) + " compound", End: other.End, Days: int(other.End.last() - n.End.last())})
	}
}

// easier reports whether no coat takes longer than in another programme of the same
// tasks.
func (p *Programme) easier(than *Programme) bool {
	for i := range p.Tasks {
		a, b := p.Tasks[i].Dry, than.Tasks[i].Dry
		if a != nil && b != nil && a.Hours > b.Hours {
			return false
		}
	}
	return true
}

// differs reports whether coats would be of another compound.
func (n *network) differs(c Compound) bool {
	return slices.ContainsFunc(n.Tasks, func(t Task) bool { return t.Dry != nil && !t.Done && t.Dry.Compound != c })
}

// unplanned counts the tasks that are not planned.
func (p *Programme) unplanned() int {
	k := 0
	for i := range p.Tasks {
		if !p.Tasks[i].Planned {
			k++
		}
	}
	return k
}

// Unplanned lists the tasks that are not planned.
func (p *Programme) Unplanned() (list []string) {
	for i := range p.Tasks {
		if !p.Tasks[i].Planned {
			list = append(list, p.Tasks[i].ID)
		}
	}
	return list
}

// Where names the group, or the zone, in which the task takes place.
func (t *Task) Where() string { return cmp.Or(t.Group, t.Zone) }

// Summary says in a sentence or two when the work ends.
func (p *Programme) Summary() string {
	if p.End == 0 {
		return "Nothing could be planned."
	}
	s := fmt.Sprintf("%.0f hours of one person in %d groups of walls, from %s to %s.", p.Hours, len(p.Groups), p.From.Short(), p.End.Short())
	if p.Left < p.Hours-0.05 {
		s += fmt.Sprintf(" %.0f hours are left.", p.Left)
	}
	return s + fmt.Sprintf(" No programme with these gangs and drying times ends before %s (gap at most %.1f %%).", p.Bound.Short(), 100*p.Gap)
}

// Sentence says what another compound would do to the end.
func (a *Alternate) Sentence() string {
	by := "on the same day"
	switch {
	case a.Days < 0:
		by = fmt.Sprintf("%d days sooner", -a.Days)
	case a.Days > 0:
		by = fmt.Sprintf("%d days later", a.Days)
	}
	return fmt.Sprintf("With %s the work ends on %s, %s.", a.What, a.End.Short(), by)
}
