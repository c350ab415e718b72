package programme

import (
	"fmt"
	"slices"

	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/order"
	"nogging/internal/plan"
)

// Group is walls of one zone that a gang does together: walls that meet one another,
// in the order in which they hold each other up, until they hold as much work as
// group_hours says; then the next group begins. Where no wall that meets the group is
// left, the next of the plan joins it.
type Group struct {
	ID    string      `json:"id"` // the zone's id and a number, as in L0/03
	Zone  string      `json:"zone"`
	Walls []GroupWall `json:"walls"`
	Area  float64     `json:"area"`  // m² of wall
	Hours float64     `json:"hours"` // of one person
}

// GroupWall is a wall of a group.
type GroupWall struct {
	ID    string    `json:"id"`
	First plan.Face `json:"first_face"`       // that is boarded first
	After []string  `json:"after,omitempty"`  // walls that hold it up
	Strip []string  `json:"strips,omitempty"` // walls on whose second face a strip of board goes up before its end stud
}

// standing is a wall that stands against another: it is set up after it.
type standing struct {
	wall, on int // indices of works
	face     plan.Face
	cut      bool // the other's boards are cut for its frame; otherwise they run behind it
	meets    bool // they only carry on in one line: boards do not matter
}

// standings lists which walls stand against which, by the junctions of the layout: the
// first wall of a junction runs through.
func standings(l *layout.Project) []standing {
	at := map[string]int{}
	for i, w := range l.Walls {
		at[w.ID] = i
	}
	var list []standing
	for _, j := range l.Junctions {
		if len(j.Walls) == 0 {
			continue
		}
		on, ok := at[j.Walls[0]]
		if !ok {
			continue
		}
		for _, id := range j.Walls[1:] {
			if i, ok := at[id]; ok && i != on {
				list = append(list, standing{i, on, side(l.Walls[on], l.Walls[i]), slices.Contains(j.Cut, id), j.Kind == layout.I})
			}
		}
	}
	return list
}

// side returns the face of a wall on which most of another lies.
func side(w, other *layout.Wall) plan.Face {
	a, b := w.Line.A, w.Line.B
	far := func(p geom.Point) float64 {
		return float64(b.X-a.X)*float64(p.Y-a.Y) - float64(b.Y-a.Y)*float64(p.X-a.X)
	}
	if far(other.Line.A)+far(other.Line.B) < 0 {
		return plan.FaceB
	}
	return plan.FaceA
}

// firstFaces chooses the face of each wall that is boarded first: that against which
// more walls stand, since their end studs wait for it; face A where it is the same.
func firstFaces(l *layout.Project, stand []standing) []plan.Face {
	more := make([]int, len(l.Walls))
	for _, s := range stand {
		switch {
		case s.meets || s.cut:
		case s.face == plan.FaceA:
			more[s.on]++
		default:
			more[s.on]--
		}
	}
	first := make([]plan.Face, len(l.Walls))
	for i := range first {
		first[i] = plan.FaceA
		if more[i] < 0 {
			first[i] = plan.FaceB
		}
		if len(l.Walls[i].Faces) == 1 {
			first[i] = l.Walls[i].Faces[0].Face
		}
	}
	return first
}

// grouper parts walls into groups.
type grouper struct {
	works  []wallWork
	stand  []standing
	near   [][]int // walls that each meets
	holds  [][]int // walls that each holds up
	waits  []int   // how many walls it still waits for
	done   []bool
	hours  float64
	rings  []string
	groups [][]int
}

// groupWalls returns groups of walls as indices, in an order in which no group waits
// for a later one, and the walls at which rings of walls that hold each other up were
// opened.
func groupWalls(works []wallWork, stand []standing, zones []string, hours float64) (groups [][]int, rings []string) {
	g := grouper{works: works, stand: stand, hours: hours,
		near: make([][]int, len(works)), holds: make([][]int, len(works)), waits: make([]int, len(works)), done: make([]bool, len(works))}
	for _, s := range stand {
		g.near[s.wall], g.near[s.on] = append(g.near[s.wall], s.on), append(g.near[s.on], s.wall)
		g.holds[s.on] = append(g.holds[s.on], s.wall)
		g.waits[s.wall]++
	}
	rank := map[string]int{}
	for i, z := range zones {
		rank[z] = i
	}
	order := make([]int, len(works)) // walls in the order of zones, then of the plan
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return rank[works[a].zone] - rank[works[b].zone] })
	g.run(order)
	return g.groups, g.rings
}

// run takes wall after wall into groups.
func (g *grouper) run(order []int) {
	for left := len(order); left > 0; {
		from := g.next(order)
		group := []int{}
		for i := from; i >= 0; i = g.neighbour(group, order) {
			group = append(group, i)
			g.take(i)
			left--
			if g.full(group) {
				break
			}
		}
		g.groups = append(g.groups, group)
		for len(order) > 0 && g.done[order[0]] {
			order = order[1:]
		}
	}
}

// next returns the first wall that waits for no other. Where walls hold each other up
// in a ring, the first of the plan is set up first.
func (g *grouper) next(order []int) int {
	first := -1
	for _, i := range order {
		if g.done[i] {
			continue
		}
		if g.waits[i] == 0 {
			return i
		}
		if first < 0 {
			first = i
		}
	}
	g.rings = append(g.rings, g.works[first].wall.ID)
	g.waits[first] = 0
	return first
}

// neighbour returns the wall that joins a group next, -1 for none: of its zone, ready,
// and if possible meeting one of the group's.
func (g *grouper) neighbour(group, order []int) int {
	zone := g.works[group[0]].zone
	ready := func(i int) bool { return !g.done[i] && g.waits[i] == 0 && g.works[i].zone == zone }
	best := -1
	for _, i := range group {
		for _, k := range g.near[i] {
			if ready(k) && (best < 0 || k < best) {
				best = k
			}
		}
	}
	if best >= 0 {
		return best
	}
	const sight = 400 // walls looked at, so that large plans do not take long
	for n, i := range order {
		if ready(i) {
			return i
		}
		if n > sight {
			break
		}
	}
	return -1
}

func (g *grouper) take(i int) {
	g.done[i] = true
	for _, k := range g.holds[i] {
		g.waits[k]--
	}
}

// full reports whether a group holds as much work as it may.
func (g *grouper) full(group []int) bool {
	minutes := 0.0
	for _, i := range group {
		for _, s := range Stages() {
			minutes += g.works[i].minutes(s)
		}
	}
	return minutes >= g.hours*60
}

// makeGroups numbers groups within their zones and says what their walls wait for.
func (n *network) makeGroups(groups [][]int, rings []string) {
	count := map[string]int{}
	n.groupOf = make([]int, len(n.works))
	place := make([]int, len(n.works)) // in the order of setting up
	k := 0
	for g, walls := range groups {
		zone := n.works[walls[0]].zone
		count[zone]++
		out := Group{ID: fmt.Sprintf("%s/%02d", zone, count[zone]), Zone: zone}
		for _, i := range walls {
			n.groupOf[i], place[i], k = g, k, k+1
			out.Walls = append(out.Walls, GroupWall{ID: n.works[i].wall.ID, First: n.works[i].first})
			out.Area += n.works[i].area
			for _, s := range Stages() {
				out.Hours += n.works[i].minutes(s) / 60
			}
		}
		n.Groups = append(n.Groups, out)
	}
	n.members = groups
	for _, s := range n.stand {
		if place[s.on] < place[s.wall] {
			n.sayAfter(s)
		}
	}
	n.place = place
	for _, id := range rings {
		n.Findings.Add(finding.Finding{Code: "walls-in-ring", Severity: finding.Note, Object: id,
			What: "walls hold each other up in a ring; this one is set up first, as the plan lists it", Fix: "say under junctions of the plan which wall runs through, if another has to be first"})
	}
}

// sayAfter notes with a wall which one holds it up.
func (n *network) sayAfter(s standing) {
	g := &n.Groups[n.groupOf[s.wall]]
	w := &g.Walls[slices.Index(n.members[n.groupOf[s.wall]], s.wall)]
	on := n.works[s.on].wall.ID
	if !slices.Contains(w.After, on) {
		w.After = append(w.After, on)
	}
	if !s.meets && !s.cut && s.face != n.works[s.on].first && !slices.Contains(w.Strip, on) {
		w.Strip = append(w.Strip, on)
	}
}

// ZoneOrder lists the zones that have walls, in the order in which they are built: those
// of the gangs file as it lists them, then the others as the plan does.
func ZoneOrder(p *plan.Plan, l *layout.Project, site *Site) []string {
	zones, _ := zoneOrder(p, l, site)
	return zones
}

// zoneOrder lists the zones that have walls: those of the gangs file in its order,
// then the others in that of the plan.
func zoneOrder(p *plan.Plan, l *layout.Project, site *Site) (zones []string, zoneOf map[string]string) {
	zoneOf = map[string]string{}
	for i := range p.Walls {
		if w := &p.Walls[i]; zoneOf[w.ID] == "" {
			zoneOf[w.ID] = order.ZoneOf(w)
		}
	}
	has := map[string]bool{}
	for _, w := range l.Walls {
		has[zoneOf[w.ID]] = true
	}
	add := func(z string) {
		if has[z] {
			zones, has[z] = append(zones, z), false
		}
	}
	for i := range site.Zones {
		add(site.Zones[i].ID)
	}
	for i := range p.Levels {
		for _, w := range l.Walls {
			if w.Level == p.Levels[i].ID {
				add(zoneOf[w.ID])
			}
		}
	}
	for _, w := range l.Walls {
		add(zoneOf[w.ID])
	}
	return zones, zoneOf
}
