package programme

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"nogging/internal/finding"
	"nogging/internal/words"
)

// team is gangs that can stand in for each other: of the same skills, size, calendar
// and days on site.
type team struct {
	gangs []int // indices into Site.Gangs
	load  float64
	zone  string // of its last group
}

// makeTeams puts gangs that are alike together, and gives each task a team that has its
// skill: the one with the least work for its size so far; one that is in the zone
// already as long as it has no more than a tenth above the least.
func (n *network) makeTeams() {
	at := map[string]int{}
	for i := range n.Site.Gangs {
		g := &n.Site.Gangs[i]
		c := n.Site.calendar(n.Site.calendarAt(g.Calendar))
		if g.Size < 1 || c == nil || c.dayMinutes() == 0 {
			continue // said already
		}
		skills := texts(g.Skills)
		slices.Sort(skills)
		key := fmt.Sprint(skills, g.Size, c.ID, g.From, g.Until, g.Away)
		k, ok := at[key]
		if !ok {
			k = len(n.teams)
			at[key] = k
			n.teams = append(n.teams, team{})
		}
		n.teams[k].gangs = append(n.teams[k].gangs, i)
	}
	for g := range n.Groups {
		for _, skill := range Skills() {
			n.assign(g, skill)
		}
	}
}

// gang returns the first gang of a team.
func (n *network) gang(team int) *Gang { return &n.Site.Gangs[n.teams[team].gangs[0]] }

// assign gives the tasks of a group that take a skill to a team.
func (n *network) assign(g int, skill Skill) {
	minutes := 0.0
	var tasks []int
	for _, s := range Stages() {
		if i, ok := n.tasks[taskKey{g, s}]; ok && s.Skill() == skill && n.Tasks[i].Kind == Work {
			tasks, minutes = append(tasks, i), minutes+n.Tasks[i].Left
		}
	}
	if len(tasks) == 0 {
		return
	}
	best := n.bestTeam(skill, n.Groups[g].Zone, minutes)
	if best < 0 {
		return
	}
	n.teams[best].load += minutes
	n.teams[best].zone = n.Groups[g].Zone
	for _, i := range tasks {
		n.Tasks[i].team, n.Tasks[i].People = best, n.gang(best).Size
	}
}

// bestTeam chooses a team for minutes of work in a zone; -1 where none has the skill.
func (n *network) bestTeam(skill Skill, zone string, minutes float64) int {
	best := -1
	var least, most float64
	for k := range n.teams {
		if !slices.Contains(n.gang(k).Skills, skill) {
			continue
		}
		load := (n.teams[k].load + minutes) / float64(len(n.teams[k].gangs)*n.gang(k).Size)
		if best < 0 || load < least {
			best, least = k, load
		}
	}
	for k := range n.teams {
		if best >= 0 && n.teams[k].zone == zone && slices.Contains(n.gang(k).Skills, skill) {
			load := (n.teams[k].load + minutes) / float64(len(n.teams[k].gangs)*n.gang(k).Size)
			if load <= 1.1*least && (most == 0 || load < most) {
				best, most = k, load
			}
		}
	}
	return best
}

// unskilled blocks tasks whose skill no gang has.
func (n *network) unskilled() {
	lacking := map[Skill][]int{}
	for i := range n.Tasks {
		if t := &n.Tasks[i]; t.Kind == Work && t.team < 0 && !t.Done {
			lacking[t.Stage.Skill()] = append(lacking[t.Stage.Skill()], i)
		}
	}
	for _, skill := range Skills() {
		if tasks := lacking[skill]; len(tasks) > 0 {
			n.block(tasks, "skill-missing", string(skill), fmt.Sprintf("no gang that can work has the skill %s", skill),
				words.F("give a gang the skill, or add one, such as {id: more, skills: [%s], size: 2}", skill), "gangs")
		}
	}
}

// deal gives each task of a team one of its gangs: the one that was in the zone last if
// it is free, else the one that is free for longest.
func (n *network) deal() {
	for k := range n.teams {
		var tasks []int
		for i := range n.Tasks {
			if t := &n.Tasks[i]; t.team == k && t.Planned && !t.Done {
				tasks = append(tasks, i)
			}
		}
		slices.SortStableFunc(tasks, func(a, b int) int {
			return cmp.Or(cmp.Compare(n.Tasks[a].Start, n.Tasks[b].Start), cmp.Compare(n.Tasks[a].End, n.Tasks[b].End))
		})
		free := make([]Moment, len(n.teams[k].gangs))
		zone := make([]string, len(free))
		for _, i := range tasks {
			t := &n.Tasks[i]
			best := -1
			for g := range free {
				if free[g] > t.Start {
					continue
				}
				if best < 0 || zone[g] == t.Zone && zone[best] != t.Zone || (zone[g] == t.Zone) == (zone[best] == t.Zone) && free[g] < free[best] {
					best = g
				}
			}
			if best >= 0 {
				free[best], zone[best] = t.End, t.Zone
				t.Gang = n.Site.Gangs[n.teams[k].gangs[best]].ID
			}
		}
	}
}

// some lists names, and how many more there are.
func some(names []string) string {
	const most = 6
	if len(names) <= most {
		return joined(names)
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
}

func joined(names []string) string { return strings.Join(names, ", ") }

// checkOthers says what is assumed of work by others.
func (n *network) checkOthers() {
	for i := range n.Site.Others {
		if o := &n.Site.Others[i]; o.Before == BeforeClose || o.Before == Insulation || o.After == string(FirstFace) {
			return
		}
	}
	if len(n.Groups) > 0 {
		n.Findings.Add(finding.Finding{Code: "services-assumed", Severity: finding.Assumed, Path: "others",
			What: "nobody is said to run services in the cavities, so no time is left for it", Fix: "write them under others, such as {id: cables, name: Electrical first fix, after: first_face, before: insulation, days: 2}"})
	}
}

// makeWeather takes the air of the gangs file, of the plan, or the usual one.
func (n *network) makeWeather() *weather {
	w := &weather{site: n.Site, usual: usualAir}
	switch c := n.Plan.Climate; {
	case c.Temperature != 0 || c.Humidity != 0:
		w.usual = Air{c.Temperature, c.Humidity}
	case len(n.Site.Climate) == 0:
		n.Findings.Add(finding.Finding{Code: "climate-assumed", Severity: finding.Assumed, Path: "climate",
			What: words.F("nothing says what the air on site is like; %s is taken for drying", usualAir), Fix: "write climate in the plan, or rows of it in the gangs file"})
	}
	return w
}
