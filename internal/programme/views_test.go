package programme

import (
	"slices"
	"strings"
	"testing"

	"nogging/internal/order"
	"nogging/internal/plan"
)

// The deliveries are the order, line by line, each called the lead time before it
// arrives, and there before its first use.
func TestCallOffs(t *testing.T) {
	in := inputOf(t, clinic(t), site+services+"deliveries: {lead: 5, ahead: 2}\n")
	p := verified(t, in)
	got, want := map[order.Key]int{}, map[order.Key]int{}
	for _, l := range in.Order.Lines {
		want[l.Key()] += l.Packs
	}
	c := in.Site.calendar(0)
	for i := range p.CallOffs {
		x := &p.CallOffs[i]
		for _, l := range x.Lines {
			got[l.Key()] += l.Packs
		}
		if a, b := workdays(c, x.Arrive, x.Use.Date()), workdays(c, x.Call, x.Arrive); a != 2 || b != 5 {
			t.Errorf("%s: called %s, arrives %s, used %s: %d and %d working days", x.Title(), x.Call, x.Arrive, x.Use, b, a)
		}
		if x.Week != x.Arrive.Week() || !x.Late != (x.Call >= p.From) {
			t.Errorf("%s: week %s, late %v", x.Title(), x.Week, x.Late)
		}
	}
	for k, n := range want {
		if got[k] != n {
			t.Errorf("%v: %d packs are called off of %d", k, got[k], n)
		}
	}
}

// workdays counts the working days from a day, included, to another, not included.
func workdays(c *Calendar, from, until Date) (n int) {
	for d := from; d < until; d++ {
		if c.works(d) {
			n++
		}
	}
	return n
}

// ISO 8601: 1 January 2027 is a Friday of week 53 of 2026, 4 January the Monday of week 1.
func TestWeeks(t *testing.T) {
	for day, want := range map[string]string{"2027-01-01": "2026-W53", "2027-01-04": "2027-W01", "2027-01-11": "2027-W02", "2026-12-28": "2026-W53"} {
		if got := mustDate(day).Week(); got != want {
			t.Errorf("%s: %s, want %s", day, got, want)
		}
	}
}

// The look-ahead lists what a gang does in three weeks, and what has to be ready.
func TestLookAhead(t *testing.T) {
	in := inputOf(t, clinic(t), site+services)
	p := verified(t, in)
	ready := ""
	for _, l := range p.Looks {
		if l.From != p.From || l.Until != p.From+20 {
			t.Errorf("%s to %s", l.From, l.Until)
		}
		for _, x := range l.Tasks {
			if x.From.Date() > l.Until || x.Until.Date() < l.From {
				t.Errorf("%s: %s to %s", x.Task, x.From, x.Until)
			}
			ready += x.Ready + "\n"
		}
	}
	for _, want := range []string{"boards", "profiles and fixings", "Electrical first fix", "first"} {
		if !strings.Contains(ready, want) {
			t.Errorf("nothing says %q", want)
		}
	}
}

// Each group that is closed has its inspection before, which asks for what is asked of
// its walls.
func TestHoldPoints(t *testing.T) {
	p := verified(t, inputOf(t, clinic(t), site+services+"holds: {before_closing: 1, final: 1, notice: 2}\n"))
	fire := 0
	for _, h := range p.Holds {
		if h.Name == BeforeClose.Name() && slices.ContainsFunc(h.Show, func(s string) bool { return strings.HasPrefix(s, "fire:") }) {
			fire++
		}
		if h.Notice >= h.From.Date() || len(h.Show) == 0 {
			t.Errorf("%s: announced %s for %s", h.Task, h.Notice, h.From)
		}
	}
	if fire == 0 || len(p.Holds) != 2*len(p.Groups) {
		t.Errorf("%d hold points of %d groups, %d of them for fire", len(p.Holds), len(p.Groups), fire)
	}
}

// Walls that stand against others come after them, and first faces before the walls
// behind which their boards run on (common practice).
func TestJunctionOrder(t *testing.T) {
	in := inputOf(t, offices(), "group_hours: 0.1\n"+site)
	n, s := plannedFor(t, in)
	before := n.tasks
	n.finish(n, s)
	checked := 0
	for _, x := range n.stand {
		if n.place[x.on] > n.place[x.wall] {
			continue
		}
		on, wall := n.Groups[n.groupOf[x.on]].ID, n.Groups[n.groupOf[x.wall]].ID
		at := func(group int, s Stage) int { return before[taskKey{group, s}] }
		if !n.linked[[2]int{at(n.groupOf[x.on], Studs), at(n.groupOf[x.wall], Studs)}] {
			t.Errorf("the studs of %s do not wait for those of %s", wall, on)
		}
		studs := n.task(wall, Studs).Start
		if studs < n.task(on, Studs).End {
			t.Errorf("studs of %s begin %s, those of %s end %s", wall, studs, on, n.task(on, Studs).End)
		}
		if first := n.task(on, FirstFace); !x.cut && !x.meets && x.face == n.works[x.on].first && first.ID != "" {
			checked++
			if !n.linked[[2]int{at(n.groupOf[x.on], FirstFace), at(n.groupOf[x.wall], Studs)}] {
				t.Errorf("the studs of %s do not wait for the boards of %s behind them", wall, on)
			}
			if studs < first.End {
				t.Errorf("studs of %s begin %s, boards of %s behind them go up until %s", wall, studs, on, first.End)
			}
		}
	}
	if checked == 0 {
		t.Error("no wall stands against boards")
	}
}

// Where a wall stands against the second face of another, a strip of board goes up there
// before: in a cross of two walls, on one of the sides.
func TestStrips(t *testing.T) {
	p := offices()
	p.Walls = append(p.Walls[:1:1], plan.Wall{ID: "N", Level: "L0", BuildUp: "W1", Line: []plan.Pt{{X: 2_000_000_000, Y: p.Walls[0].Line[0].Y}, {X: 2_000_000_000, Y: p.Walls[0].Line[0].Y + 3_000_000_000}}, End: plan.ToStructure},
		plan.Wall{ID: "S", Level: "L0", BuildUp: "W1", Line: []plan.Pt{{X: 5_000_000_000, Y: p.Walls[0].Line[0].Y}, {X: 5_000_000_000, Y: p.Walls[0].Line[0].Y - 3_000_000_000}}, End: plan.ToStructure})
	n, _ := plannedFor(t, inputOf(t, p, "group_hours: 0.1\n"+site))
	strips := map[string][]string{}
	for _, g := range n.Groups {
		for _, w := range g.Walls {
			strips[w.ID] = w.Strip
		}
	}
	if got := len(strips["N"]) + len(strips["S"]); got != 1 || len(strips[p.Walls[0].ID]) != 0 {
		t.Errorf("strips: %v", strips)
	}
}

// A wall alone in its group is a group each.
func TestGroups(t *testing.T) {
	in := inputOf(t, offices(), "group_hours: 0.1\n"+site)
	if n, _ := plannedFor(t, in); len(n.Groups) != len(in.Layout.Walls) {
		t.Errorf("%d groups of %d walls", len(n.Groups), len(in.Layout.Walls))
	}
	n, _ := plannedFor(t, inputOf(t, offices(), "group_hours: 30\n"+site))
	for i, g := range n.Groups {
		last := n.members[i][len(n.members[i])-1]
		hours := 0.0
		for _, s := range Stages() {
			hours += n.works[last].minutes(s) / 60
		}
		if g.Hours-hours >= 30 {
			t.Errorf("%s holds %.1f h, and %.1f h without its last wall", g.ID, g.Hours, g.Hours-hours)
		}
	}
}

// Runs of tasks that wait for one gang are told in a line; short ones stand as they are.
func TestBriefChain(t *testing.T) {
	p := &Programme{Chain: []Step{{Task: "a", For: "x"}, {Task: "b", Start: 10, For: "y"}, {Task: "c", For: "y"}, {Task: "d", For: "y"}, {Task: "e", End: 50, For: "y"}, {Task: "f"}, {Task: "g"}}}
	got := p.Brief()
	if len(got) != 4 || got[1].Start != 10 || got[1].End != 50 || got[1].Task != "4 tasks, to e" || got[3].Task != "g" {
		t.Errorf("%+v", got)
	}
}

// An inner corner is taped when both its walls are boarded (common practice).
func TestCornersAreTapedLast(t *testing.T) {
	in := inputOf(t, offices(), "group_hours: 0.1\n"+site)
	n, s := plannedFor(t, in)
	n.finish(n, s)
	checked := 0
	for _, x := range n.stand {
		a, b := n.Groups[n.groupOf[x.on]], n.Groups[n.groupOf[x.wall]]
		if a.ID == b.ID || a.Zone != b.Zone {
			continue
		}
		for _, pair := range [][2]string{{a.ID, b.ID}, {b.ID, a.ID}} {
			checked++
			for _, s := range []Stage{FirstFace, SecondFace, SecondLayer} {
				if tape, boards := n.task(pair[0], FirstCoat), n.task(pair[1], s); tape.Start < boards.End {
					t.Errorf("%s is taped from %s, %s of %s goes up until %s", pair[0], tape.Start, s, pair[1], boards.End)
				}
			}
		}
	}
	if checked == 0 {
		t.Error("no walls meet")
	}
}

// Boards that are cut for another wall's frame wait for that frame.
func TestBoardsCutAtJunctions(t *testing.T) {
	p := offices()
	for i := range p.Walls {
		p.Walls[i].Require.Sound = "Rw 56" // tees are cut from a sound demand on
	}
	n, s := plannedFor(t, inputOf(t, p, "group_hours: 0.1\n"+site))
	n.finish(n, s)
	checked := 0
	for _, x := range n.stand {
		a, b := n.groupOf[x.on], n.groupOf[x.wall]
		if !x.cut || n.place[x.on] > n.place[x.wall] || n.Groups[a].Zone != n.Groups[b].Zone || x.face != n.works[x.on].first {
			continue
		}
		checked++
		if boards, studs := n.task(n.Groups[a].ID, FirstFace), n.task(n.Groups[b].ID, Studs); boards.Start < studs.End {
			t.Errorf("boards of %s go up from %s, the frame of %s stands %s", n.Groups[a].ID, boards.Start, n.Groups[b].ID, studs.End)
		}
	}
	if checked == 0 {
		t.Error("no boards are cut")
	}
}

// One tower serves one gang at a time, and only walls above its height take it.
func TestPlant(t *testing.T) {
	p := offices()
	for i := range p.Walls {
		if i%2 == 0 {
			p.Walls[i].Height = 2400 * 1_000_000
		}
	}
	in := inputOf(t, p, "group_hours: 0.1\nplant: [{id: tower, count: 1, stages: [first_face, second_face], above: 2.5 m}]\n"+site)
	out := verified(t, in)
	high := map[string]bool{}
	for i := range p.Walls {
		high[p.Walls[i].ID] = i%2 == 1
	}
	var on []*Task
	for i := range out.Tasks {
		x := &out.Tasks[i]
		want := x.Kind == Work && (x.Stage == FirstFace || x.Stage == SecondFace) && high[x.Walls[0]]
		if got := len(x.Plant) > 0; got != want {
			t.Errorf("%s: tower %v, want %v", x.ID, got, want)
		}
		if !want {
			continue
		}
		for _, o := range on {
			if x.Start < o.End && o.Start < x.End {
				t.Errorf("%s and %s on one tower", x.ID, o.ID)
			}
		}
		on = append(on, x)
	}
}
