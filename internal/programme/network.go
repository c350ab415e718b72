package programme

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/words"
)

// Kind is what a task of the programme is.
type Kind string

// The kinds of task.
const (
	Work    Kind = "work"   // of a gang
	Hold    Kind = "hold"   // an inspection, without which work does not go on
	ByOther Kind = "others" // work by others
	gate    Kind = "gate"   // no work: all of a zone has to be through
)

// Task is one task of the programme. Minutes are those of one person.
type Task struct {
	ID      string   `json:"id"`
	Kind    Kind     `json:"kind"`
	Stage   Stage    `json:"stage,omitempty"`
	Name    string   `json:"name"`
	Zone    string   `json:"zone,omitempty"`
	Group   string   `json:"group,omitempty"`
	Walls   []string `json:"walls,omitempty"`
	Parts   []Part   `json:"operations,omitempty"`
	Minutes float64  `json:"minutes"`        // of one person
	Left    float64  `json:"minutes_left"`   // of walls that are not done
	Area    float64  `json:"area,omitempty"` // m² of its walls
	Gang    string   `json:"gang,omitempty"`
	People  int      `json:"people,omitempty"`
	Plant   []string `json:"plant,omitempty"`
	Start   Moment   `json:"start,omitzero"`
	End     Moment   `json:"end,omitzero"`
	Dry     *Wait    `json:"dries,omitempty"` // before the next stage may begin
	Done    bool     `json:"done,omitempty"`  // as recorded; it is not planned anew
	Begun   Date     `json:"begun,omitzero"`  // some of its walls are done, since this day
	Closed  []string `json:"walls_done,omitempty"`
	Planned bool     `json:"planned"` // false: findings say why not

	group, team int // indices; -1 for none
	release     Moment
	fixedFrom   Date // of done tasks
	fixedTo     Date
	calendar    int  // of others' work and inspections: index into Site.Calendars
	slots       int  // of others' work and inspections
	other       int  // index into Site.Others; -1 for none
	dated       bool // of others' work: in each zone at the same time
}

// Wait is the time between a coat and what comes after it.
type Wait struct {
	Hours    float64  `json:"hours"` // by the clock
	Until    Moment   `json:"until,omitzero"`
	Compound Compound `json:"compound"`
	Coat     float64  `json:"coat"` // mm
	Air      Air      `json:"air"`  // when the coat is drawn
	Method   string   `json:"method"`
}

// network builds the tasks and what each waits for.
type network struct {
	*Input
	*Programme
	stand   []standing
	works   []wallWork
	members [][]int // walls of each group
	groupOf []int   // of each wall
	place   []int   // of each wall in the order of setting up
	tasks   map[taskKey]int
	links   []link
	linked  map[[2]int]bool
	specs   map[string]*plan.Wall
	weather *weather
	teams   []team
	marked  map[markKey]mark // what is recorded as done
	blocked []bool           // tasks that cannot be planned
	waits   []int            // slots that each coat is given to dry
}

type taskKey struct {
	group int
	stage Stage
}

// link makes a task wait for another: for all its work, and for its coat to dry where
// it has one.
type link struct {
	from, to int
	dries    bool
}

// build makes groups, tasks and links.
func (n *network) build() {
	n.specs = map[string]*plan.Wall{}
	for i := range n.Plan.Walls {
		n.specs[n.Plan.Walls[i].ID] = &n.Plan.Walls[i]
	}
	zones, zoneOf := zoneOrder(n.Plan, n.Layout, n.Site)
	n.Zones = zones
	n.stand = standings(n.Layout)
	first := firstFaces(n.Layout, n.stand)
	leftOut := func(p *catalogue.Product) bool {
		return slices.Contains(n.Site.LeaveOut, p.ID) || slices.ContainsFunc(p.Kinds, func(k string) bool { return slices.Contains(n.Site.LeaveOut, k) })
	}
	for i, w := range n.Layout.Walls {
		work := workOn(w, n.Takeoff.Walls[i].Lines, first[i], n.Input, leftOut)
		work.zone = zoneOf[w.ID]
		n.works = append(n.works, work)
	}
	hours := n.Site.GroupHours
	if hours == 0 {
		hours = usualGroupHours
	}
	n.makeGroups(groupWalls(n.works, n.stand, zones, hours))
	n.tasks, n.linked = map[taskKey]int{}, map[[2]int]bool{}
	for g := range n.Groups {
		n.groupTasks(g)
	}
	n.chains()
	n.junctions()
	n.corners()
	n.zoneGates()
	n.others()
}

// groupTasks adds the tasks of a group, stage by stage.
func (n *network) groupTasks(g int) {
	closes := false
	for _, s := range Stages() {
		t := Task{Stage: s, Name: s.Name(), Zone: n.Groups[g].Zone, Group: n.Groups[g].ID, Kind: Work, group: g, team: -1, other: -1}
		for _, i := range n.members[g] {
			w := &n.works[i]
			if len(w.stages[s]) > 0 {
				t.Walls = append(t.Walls, w.wall.ID)
				t.Parts = addParts(t.Parts, w.stages[s])
				t.Minutes += w.minutes(s)
				t.Area += w.area
				closes = closes || s == SecondFace
			}
		}
		switch {
		case s == BeforeClose && n.secondFace(g), s == Final && closes:
			t.Kind = Hold
			t.slots = slotsOf(n.Site.Holds.BeforeClose * 60)
			if s == Final {
				t.slots = slotsOf(n.Site.Holds.Final * 60)
			}
			t.Walls, t.Area = n.Groups[g].walls(), n.Groups[g].Area
		case len(t.Walls) == 0:
			continue
		}
		t.Left = t.Minutes
		n.Hours += t.Minutes / 60
		n.tasks[taskKey{g, s}] = n.add(t)
	}
}

// secondFace reports whether walls of the group are closed.
func (n *network) secondFace(g int) bool {
	return slices.ContainsFunc(n.members[g], func(i int) bool { return len(n.works[i].stages[SecondFace]) > 0 })
}

func (g *Group) walls() []string {
	return ids(len(g.Walls), func(i int) string { return g.Walls[i].ID })
}

// add adds a task and returns its index.
func (n *network) add(t Task) int {
	if t.ID == "" {
		t.ID = t.Group + " " + string(t.Stage)
	}
	n.Tasks = append(n.Tasks, t)
	return len(n.Tasks) - 1
}

// addParts sums parts by operation.
func addParts(sum, parts []Part) []Part {
	for _, p := range parts {
		i := slices.IndexFunc(sum, func(x Part) bool { return x.Operation == p.Operation })
		if i < 0 {
			sum = append(sum, p)
			continue
		}
		sum[i].Quantity += p.Quantity
		sum[i].Minutes += p.Minutes
	}
	return sum
}

// slotsOf returns the slots that minutes take; what exceeds a slot by less than a
// millionth is an error of reckoning.
func slotsOf(minutes float64) int { return int(math.Ceil(minutes/slot - 1e-6)) }

// link makes to wait for from, once.
func (n *network) link(from, to int, dries bool) {
	if from < 0 || to < 0 || from == to || n.linked[[2]int{from, to}] {
		return
	}
	n.linked[[2]int{from, to}] = true
	n.links = append(n.links, link{from, to, dries})
}

// upTo returns the last task of a group up to a stage, -1 for none.
func (n *network) upTo(g int, s Stage) int {
	for r := s.rank(); r >= 0; r-- {
		if i, ok := n.tasks[taskKey{g, stages[r].id}]; ok {
			return i
		}
	}
	return -1
}

// since returns the first task of a group from a stage on, -1 for none.
func (n *network) since(g int, s Stage) int {
	for r := max(s.rank(), 0); r < len(stages); r++ {
		if i, ok := n.tasks[taskKey{g, stages[r].id}]; ok {
			return i
		}
	}
	return -1
}

// chains lets each stage of a group wait for the one before; what comes after a coat
// waits until it is dry.
func (n *network) chains() {
	for g := range n.Groups {
		before := -1
		for _, s := range Stages() {
			i, ok := n.tasks[taskKey{g, s}]
			if !ok {
				continue
			}
			if before >= 0 {
				from := n.Tasks[before].Stage
				n.link(before, i, slices.Contains(coatStages, from) || from == WholeFace)
			}
			before = i
		}
	}
}

// junctions lets the frame of a wall wait for what it stands against: for its frame,
// and for its first face where its boards run on behind the wall. Where its boards are
// cut for the wall, they wait for the wall's frame. Boards of a second face that run on
// behind a wall go up there as a strip, ahead of the face (common practice).
func (n *network) junctions() {
	ahead := make([]int, len(n.Groups)) // nearest later group whose frame waits for boards of this one
	for g := range ahead {
		ahead[g] = len(n.Groups)
	}
	for _, s := range n.stand {
		on, wall := n.groupOf[s.on], n.groupOf[s.wall]
		if n.place[s.on] > n.place[s.wall] || on == wall {
			continue
		}
		n.link(n.upTo(on, Studs), n.since(wall, Studs), false)
		face := taskKey{on, FirstFace}
		if i, ok := n.tasks[face]; ok && !s.meets && !s.cut && s.face == n.works[s.on].first {
			n.link(i, n.since(wall, Studs), false)
			ahead[on] = min(ahead[on], wall)
		}
	}
	for _, s := range n.stand {
		on, wall := n.groupOf[s.on], n.groupOf[s.wall]
		if n.place[s.on] > n.place[s.wall] || on == wall || s.meets || !s.cut || ahead[on] <= wall || n.Groups[on].Zone != n.Groups[wall].Zone {
			continue
		}
		face := SecondFace
		if s.face == n.works[s.on].first {
			face = FirstFace
		}
		if i, ok := n.tasks[taskKey{on, face}]; ok {
			n.link(n.upTo(wall, Studs), i, false)
		}
	}
}

// corners lets the taping of a group wait for the boards of those that it meets: an
// inner corner is taped when both its walls are boarded.
func (n *network) corners() {
	for _, s := range n.stand {
		a, b := n.groupOf[s.on], n.groupOf[s.wall]
		if a == b || n.Groups[a].Zone != n.Groups[b].Zone {
			continue
		}
		for _, x := range [][2]int{{a, b}, {b, a}} {
			if tape, ok := n.tasks[taskKey{x[0], FirstCoat}]; ok {
				n.link(n.upTo(x[1], FourthLayer), tape, false)
			}
		}
	}
}

// zoneGates lets each stage in a zone wait until it is finished in the zones that come
// before, and set-out until no more zones are open than may be: those whose boards are
// not all up yet.
func (n *network) zoneGates() {
	for i := range n.Site.Zones {
		z := &n.Site.Zones[i]
		for _, before := range z.After {
			for _, s := range Stages() {
				n.zoneGate(before, s, z.ID, s)
			}
		}
	}
	for i, open := 0, n.openZones(); open > 0 && i+open < len(n.Zones); i++ {
		n.zoneGate(n.Zones[i], FourthLayer, n.Zones[i+open], SetOut)
	}
}

// openZones returns in how many zones at a time frames and boards may be in work; 0 for
// any number. Levels, between which no wall holds up another, are taken a few at a time
// if nobody says otherwise: gangs that are everywhere finish nothing.
func (n *network) openZones() int {
	if n.Site.OpenZones > 0 || slices.ContainsFunc(n.Zones, func(z string) bool { return n.Plan.LevelByID(z) == nil }) {
		return n.Site.OpenZones
	}
	return usualOpenZones
}

// zoneGate lets a stage in a zone wait until another is finished in the zone before.
func (n *network) zoneGate(before string, finished Stage, zone string, s Stage) {
	var waiting []int
	for g := range n.Groups {
		if i, ok := n.tasks[taskKey{g, s}]; ok && n.Groups[g].Zone == zone {
			waiting = append(waiting, i)
		}
	}
	if len(waiting) == 0 {
		return
	}
	at := n.add(Task{ID: fmt.Sprintf("%s %s complete before %s", before, finished, zone), Kind: gate, Stage: finished, Name: finished.Name() + " complete", Zone: before, group: -1, team: -1, other: -1})
	for g := range n.Groups {
		if n.Groups[g].Zone == before {
			n.link(n.upTo(g, finished), at, false)
		}
	}
	for _, i := range waiting {
		n.link(at, i, false)
	}
}

// others adds the work by others, zone by zone or group by group.
func (n *network) others() {
	made := map[string]map[string][]int{} // tasks by id of the work and zone
	for k := range n.Site.Others {
		o := &n.Site.Others[k]
		made[o.ID] = map[string][]int{}
		for _, zone := range n.Zones {
			if len(o.Zones) > 0 && !slices.Contains(o.Zones, zone) {
				continue
			}
			groups := n.groupsIn(zone)
			if !o.Each {
				made[o.ID][zone] = append(made[o.ID][zone], n.other(k, zone, groups, ""))
				continue
			}
			for _, g := range groups {
				made[o.ID][zone] = append(made[o.ID][zone], n.other(k, zone, []int{g}, n.Groups[g].ID))
			}
		}
	}
	for k := range n.Site.Others {
		o := &n.Site.Others[k]
		for _, zone := range n.Zones {
			for _, from := range made[o.After][zone] {
				for _, to := range made[o.ID][zone] {
					n.link(from, to, false)
				}
			}
		}
	}
}

func (n *network) groupsIn(zone string) []int {
	var list []int
	for g := range n.Groups {
		if n.Groups[g].Zone == zone {
			list = append(list, g)
		}
	}
	return list
}

// other adds a task of others for groups of a zone.
func (n *network) other(k int, zone string, groups []int, mark string) int {
	o := &n.Site.Others[k]
	t := Task{ID: o.ID + " " + cmp.Or(mark, zone), Kind: ByOther, Stage: Services, Name: o.Name, Zone: zone, Group: mark, group: -1, team: -1, other: k,
		calendar: n.Site.calendarAt(o.Calendar)}
	if o.From != 0 {
		t.release = o.From.At(0)
	}
	if c := n.Site.calendar(t.calendar); c != nil {
		t.slots = slotsOf(o.Days * float64(c.dayMinutes()))
		if o.From != 0 && o.Until != 0 && o.Days == 0 {
			t.slots, t.dated = c.slotsBetween(max(o.From, n.begin()), o.Until), true
		}
	}
	for _, g := range groups {
		t.Walls = append(t.Walls, n.Groups[g].walls()...)
	}
	at := n.add(t)
	for _, g := range groups {
		if Stage(o.After).rank() >= 0 {
			n.link(n.upTo(g, Stage(o.After)), at, false)
		}
		if o.Before != "" {
			n.link(at, n.since(g, o.Before), false)
		}
	}
	return at
}

// begin returns the first day on which anything is planned.
func (n *network) begin() Date { return max(n.From, n.Today) }

// materialOf returns which material a stage is the first to take.
func materialOf(s Stage) Material {
	switch s {
	case Tracks, Studs:
		return FrameMaterial
	case FirstFace, SecondFace, SecondLayer, ThirdLayer, FourthLayer:
		return BoardMaterial
	case Insulation:
		return FillMaterial
	case InnerJoints, InnerJoints2, InnerJoints3, Beads, FirstCoat, SecondCoat, ThirdCoat, WholeFace, Painting:
		return FinishMaterial
	}
	return ""
}

// releases says before which day tasks cannot begin: the zone's access, deliveries,
// and today.
func (n *network) releases() {
	access := map[string]Date{}
	for i := range n.Site.Zones {
		access[n.Site.Zones[i].ID] = n.Site.Zones[i].Access
	}
	for i := range n.Tasks {
		t := &n.Tasks[i]
		days := []Date{n.From}
		if t.Kind != gate && t.Kind != ByOther {
			days = append(days, access[t.Zone])
		}
		if n.Today != 0 {
			days = append(days, n.Today)
		}
		for _, a := range n.Site.Deliveries.Dated {
			if a.Zone == t.Zone && a.Material == materialOf(t.Stage) && t.Kind == Work {
				days = append(days, a.Date)
			}
		}
		t.release = max(t.release, slices.Max(days).At(0))
	}
}

// plantFor lists the plant that a task takes.
func (n *network) plantFor(t *Task) (list []int) {
	if t.Kind != Work {
		return nil
	}
	height := plan.Length(0)
	for _, i := range n.members[t.group] {
		if slices.Contains(t.Walls, n.works[i].wall.ID) {
			height = max(height, n.works[i].height())
		}
	}
	for k := range n.Site.Plant {
		if p := &n.Site.Plant[k]; p.Count > 0 && slices.Contains(p.Stages, t.Stage) && height > p.Above {
			list = append(list, k)
		}
	}
	return list
}

// unknownZones says which zones of the gangs file have no walls.
func (n *network) unknownZones() {
	say := func(path, zone string) {
		if zone != "" && !slices.Contains(n.Zones, zone) {
			n.Findings.Add(finding.Finding{Code: "zone-unknown", Severity: finding.Error, Object: zone, Path: path,
				What: words.F("no wall stands in a zone %q; what is said of it is left out", zone), Fix: words.F("zones with walls are: %s", joined(n.Zones))})
		}
	}
	for i := range n.Site.Zones {
		say(fmt.Sprintf("zones[%d].zone", i), n.Site.Zones[i].ID)
		for k, z := range n.Site.Zones[i].After {
			say(fmt.Sprintf("zones[%d].after[%d]", i, k), z)
		}
	}
	for i := range n.Site.Climate {
		say(fmt.Sprintf("climate[%d].zone", i), n.Site.Climate[i].Zone)
	}
	for i := range n.Site.Others {
		for k, z := range n.Site.Others[i].Zones {
			say(fmt.Sprintf("others[%d].zones[%d]", i, k), z)
		}
	}
	for i := range n.Site.Deliveries.Dated {
		say(fmt.Sprintf("deliveries.dated[%d].zone", i), n.Site.Deliveries.Dated[i].Zone)
	}
}
