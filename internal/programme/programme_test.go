package programme

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/catalogue"
	"nogging/internal/plan"
	"nogging/internal/plantest"
	"nogging/internal/price"
)

// The minutes of all tasks are those by which the price is reckoned, wall by wall and
// operation by operation.
func TestMinutesAreThePrices(t *testing.T) {
	for name, p := range map[string]*plan.Plan{"clinic": clinic(t), "offices": offices()} {
		in := inputOf(t, p, strings.Replace(site, "leave_out: [paint]\n", "", 1))
		n, _ := planned(context.Background(), in)
		want, got := map[string]Part{}, map[string]Part{}
		hours := 0.0
		for i, w := range in.Layout.Walls {
			work := price.WorkOn(w, in.Takeoff.Walls[i].Lines, in.Catalogue, false, func(*catalogue.Product) bool { return false })
			hours += work.Hours()
			for _, x := range work.Tasks {
				sum := want[x.Operation]
				want[x.Operation] = Part{x.Operation, sum.Quantity + x.Quantity, sum.Minutes + x.Minutes}
			}
		}
		for i := range n.Tasks {
			minutes := 0.0
			for _, x := range n.Tasks[i].Parts {
				sum := got[x.Operation]
				got[x.Operation] = Part{x.Operation, sum.Quantity + x.Quantity, sum.Minutes + x.Minutes}
				minutes += x.Minutes
			}
			if math.Abs(minutes-n.Tasks[i].Minutes) > 1e-6 {
				t.Errorf("%s: %s has %g min in parts of %g", name, n.Tasks[i].ID, minutes, n.Tasks[i].Minutes)
			}
		}
		for id, w := range want {
			if g := got[id]; math.Abs(g.Minutes-w.Minutes) > 1e-6*w.Minutes || math.Abs(g.Quantity-w.Quantity) > 1e-6*w.Quantity {
				t.Errorf("%s: %s: %v, want %v", name, id, g, w)
			}
		}
		if math.Abs(n.Hours-hours) > 1e-6*hours || hours == 0 {
			t.Errorf("%s: %g h, want %g", name, n.Hours, hours)
		}
	}
}

// The order of the trade (design, section 1 and practice 6 to 9; common practice).
var trade = []Stage{SetOut, Tracks, Studs, FirstFace, Insulation, BeforeClose, SecondFace, InnerJoints, SecondLayer, InnerJoints2, ThirdLayer, Beads, FirstCoat, SecondCoat, ThirdCoat, WholeFace, Sanding, Final}

func TestOrderOfTheTrade(t *testing.T) {
	p := verified(t, inputOf(t, clinic(t), site+services))
	for _, g := range p.Groups {
		before := &Task{}
		for _, s := range trade {
			x := p.task(g.ID, s)
			if x.ID == "" {
				continue
			}
			if !x.Planned || x.Start < before.End {
				t.Errorf("%s begins %s, before %s ends %s", x.ID, x.Start, before.ID, before.End)
			}
			before = x
		}
		if before.Stage != Final {
			t.Errorf("%s ends with %q", g.ID, before.ID)
		}
	}
	if len(p.Chain) == 0 || p.Chain[len(p.Chain)-1].End != p.End {
		t.Errorf("the chain does not reach the end: %v", p.Chain)
	}
}

// The chain tells in words what each task waits for: here for a coat of drying compound,
// which one gang can do nothing about.
func TestChainInWords(t *testing.T) {
	p := offices()
	p.Walls = p.Walls[:1]
	p.Climate = plan.Climate{Temperature: (70 - 32) / 1.8, Humidity: 50}
	out := verified(t, inputOf(t, p, site+"compound: drying\n"))
	for _, s := range out.Chain {
		if s.ID == "L0 east/01 second_coat" {
			if want := "waits for drying of the tape and first coat, L0 east/01 (13.9 h at 21.11 °C and 50 %)"; !strings.HasPrefix(s.Why, want) {
				t.Errorf("%s, want %s", s.Why, want)
			}
			return
		}
	}
	t.Errorf("no second coat in %v", out.Chain)
}

// Electricians come when the first faces of a zone stand, and insulation waits for them.
func TestServices(t *testing.T) {
	p := verified(t, inputOf(t, offices(), site+services))
	for i := range p.Tasks {
		x := &p.Tasks[i]
		if x.Kind != ByOther {
			continue
		}
		if days := x.End.Date() - x.Start.Date(); days < 1 {
			t.Errorf("%s takes %s to %s", x.ID, x.Start, x.End)
		}
		for _, g := range p.Groups {
			if g.Zone == x.Zone && (p.task(g.ID, FirstFace).End > x.Start || p.task(g.ID, Insulation).Start < x.End) {
				t.Errorf("%s from %s to %s: first face of %s ends %s, insulation begins %s", x.ID, x.Start, x.End, g.ID, p.task(g.ID, FirstFace).End, p.task(g.ID, Insulation).Start)
			}
		}
	}
}

// With drying compound at 70 °F and 50 %, 1/16 in takes 17 h (table): the first coat,
// 0.3 mm over a taper of 1 mm, takes 17 × 1.3/1.5875 = 13.9 h; the second 3.2 h. With
// setting compound it is the practice's two hours.
func TestCoatsDry(t *testing.T) {
	for _, c := range []struct {
		compound string
		waits    []float64
	}{{"drying", []float64{17 * 1.3 / 1.5875, 17 * 0.3 / 1.5875}}, {"setting", []float64{2, 2}}} {
		plan := offices()
		plan.Climate.Temperature = (70 - 32) / 1.8
		p := verified(t, inputOf(t, plan, site+"compound: "+c.compound+"\n"))
		for _, g := range p.Groups {
			for k, s := range []Stage{FirstCoat, SecondCoat} {
				coat, next := p.task(g.ID, s), p.task(g.ID, []Stage{SecondCoat, ThirdCoat}[k])
				if coat.Dry == nil || math.Abs(coat.Dry.Hours-c.waits[k]) > 1e-6 {
					t.Fatalf("%s dries %+v, want %g h", coat.ID, coat.Dry, c.waits[k])
				}
				if hours := float64(next.Start-coat.End) / 60; hours < c.waits[k] {
					t.Errorf("%s is %g h after %s", next.ID, hours, coat.ID)
				}
			}
		}
	}
}

// Work takes place in the shifts of working days; the site's holiday is free.
func TestCalendar(t *testing.T) {
	p := verified(t, inputOf(t, offices(), site))
	for i := range p.Tasks {
		x := &p.Tasks[i]
		if x.Kind != Work {
			continue
		}
		d, clock := x.Start.Date(), x.Start.Clock()
		if d.Weekday() == 0 || d.Weekday() == 6 || d.String() == "2027-01-15" || clock < 7*60 || clock >= 16*60 || clock >= 12*60 && clock < 12*60+30 {
			t.Errorf("%s begins %s", x.ID, x.Start)
		}
	}
	if !slices.Contains(p.DaysOff, mustDate("2027-01-15")) || slices.Contains(p.DaysOff, mustDate("2027-01-14")) {
		t.Error(p.DaysOff)
	}
}

// No joint is treated while it is colder than 10 °C, nor within 48 h after: work neither
// begins nor ends then, though it may be broken off before and go on afterwards.
func TestCold(t *testing.T) {
	cold := "climate:\n  - {from: 2027-01-11, temperature: 15, humidity: 50}\n  - {from: 2027-01-18, temperature: 9.5, humidity: 50}\n  - {from: 2027-02-03, temperature: 15, humidity: 50}\n"
	p := verified(t, inputOf(t, offices(), site+cold))
	from, until := mustDate("2027-01-18").At(0), mustDate("2027-02-05").At(0)
	after := 0
	for i := range p.Tasks {
		x := &p.Tasks[i]
		if !x.Stage.wet() || x.Kind != Work {
			continue
		}
		if x.Start >= from && x.Start < until || x.End > from && x.End <= until {
			t.Errorf("%s from %s to %s", x.ID, x.Start, x.End)
		}
		if x.Start >= until {
			after++
		}
	}
	if after == 0 {
		t.Error("nothing is left for after the cold")
	}
	warm := verified(t, inputOf(t, offices(), site))
	if warm.End >= p.End {
		t.Errorf("ends %s in the warm, %s with a cold spell", warm.End, p.End)
	}
}

// Each coat has the drying time of the day on which it is drawn, in a forecast that
// changes from day to day.
func TestForecast(t *testing.T) {
	text := "compound: drying\nclimate:\n"
	for d := range 60 {
		text += fmt.Sprintf("  - {from: %s, temperature: %d, humidity: %d}\n", mustDate("2027-01-11")+Date(d), 12+d*7%13, 40+d*11%45)
	}
	in := inputOf(t, offices(), site+text)
	p := verified(t, in)
	w := &weather{site: in.Site}
	for i := range p.Tasks {
		x := &p.Tasks[i]
		if x.Dry == nil {
			continue
		}
		hours, _ := w.dry(x.Zone, x.End, x.Dry.Coat)
		if wait := float64(x.Dry.Until-x.End) / 60; wait < hours-1e-6 {
			t.Errorf("%s has %g h to dry, and needs %g", x.ID, wait, hours)
		}
	}
}

// In programmes of any plan and gangs, what can be planned is planned soundly, and no
// walls wait for each other in a ring.
func TestAnyPlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := plantest.Random(t)
		p.Climate = plan.Climate{Temperature: 18, Humidity: 60}
		for i := range p.Walls {
			p.Walls[i].Zone = rapid.SampledFrom([]string{"", "", "north"}).Draw(t, "zone")
		}
		text := fmt.Sprintf("group_hours: %g\n", rapid.SampledFrom([]float64{0.1, 8, 100}).Draw(t, "hours")) + site
		if rapid.Bool().Draw(t, "services") {
			text += services
		}
		if rapid.Bool().Draw(t, "plant") {
			text += "plant:\n  - {id: tower, count: 1, stages: [studs, first_face, second_face], above: 3 m}\n"
		}
		in := inputOf(t, p, text)
		in.Schedules = 4
		if len(in.Layout.Walls) == 0 {
			t.Skip()
		}
		out := verified(t, in)
		if f := told(out.Findings, "tasks-in-ring"); len(f) > 0 {
			t.Fatal(f)
		}
		if k := out.unplanned(); k > 0 {
			t.Fatalf("%d tasks are not planned: %v", k, out.Findings)
		}
		seen := map[string]bool{}
		for _, g := range out.Groups {
			for _, w := range g.Walls {
				if seen[w.ID] {
					t.Fatalf("%s is in two groups", w.ID)
				}
				seen[w.ID] = true
			}
		}
		if len(seen) != len(in.Layout.Walls) {
			t.Fatalf("%d of %d walls are in groups", len(seen), len(in.Layout.Walls))
		}
	})
}

// The same input gives the same bytes.
func TestSameBytes(t *testing.T) {
	var first []byte
	for range 2 {
		text, err := json.Marshal(Of(context.Background(), inputOf(t, clinic(t), site+services)))
		if err != nil {
			t.Fatal(err)
		}
		if first != nil && string(first) != string(text) {
			t.Fatal("two runs differ")
		}
		first = text
	}
}

// A gang of a team is never at two tasks at a time, and gangs share the work.
func TestGangsAreDealt(t *testing.T) {
	p := verified(t, inputOf(t, offices(), site))
	busy := map[string][]*Task{}
	for i := range p.Tasks {
		if x := &p.Tasks[i]; x.Kind == Work {
			busy[x.Gang] = append(busy[x.Gang], x)
		}
	}
	if len(busy) != 4 || len(busy["boards-2"]) == 0 {
		t.Errorf("%d gangs work", len(busy))
	}
	for gang, list := range busy {
		for i, a := range list {
			for _, b := range list[:i] {
				if a.Start < b.End && b.Start < a.End {
					t.Errorf("%s is at %s and %s", gang, a.ID, b.ID)
				}
			}
		}
	}
}

// A compound that sets brings the end forward where drying holds it up: in damp and cold
// air a coat of 1.3 mm takes days to dry.
func TestCompounds(t *testing.T) {
	plan := offices()
	plan.Climate.Temperature, plan.Climate.Humidity = 10, 90
	in := inputOf(t, plan, site+"compound: drying\n")
	in.Alternate = true
	p := Of(context.Background(), in)
	if len(p.Alternates) != 1 || p.Alternates[0].Compound != Setting || p.Alternates[0].End >= p.End || p.Alternates[0].Days >= 0 {
		t.Errorf("%+v against %s", p.Alternates, p.End)
	}
}

// Access, deliveries that are settled, and days of others hold tasks back; limits of
// zones hold.
func TestDatesGiven(t *testing.T) {
	p := verified(t, inputOf(t, offices(), site+`zones:
  - {zone: L0 east}
  - {zone: L0 west, after: [L0 east], access: 2027-02-01, gangs: 1}
deliveries: {dated: [{zone: L0 middle, material: boards, date: 2027-02-04}]}
others:
  - {id: cables, name: Electrical first fix, zones: [L0 middle], after: first_face, before: insulation, from: 2027-01-20, until: 2027-01-22}
  - {id: screed, name: Screed, zones: [L0 middle], before: set_out, from: 2027-01-11, until: 2027-01-13}
`))
	var west []*Task
	for i := range p.Tasks {
		x := &p.Tasks[i]
		switch {
		case x.Zone == "L0 west" && x.Kind == Work:
			west = append(west, x)
			if x.Start < mustDate("2027-02-01").At(0) {
				t.Errorf("%s begins %s", x.ID, x.Start)
			}
		case x.Zone == "L0 middle" && materialOf(x.Stage) == BoardMaterial && x.Start < mustDate("2027-02-04").At(0):
			t.Errorf("%s begins %s", x.ID, x.Start)
		case x.Zone == "L0 middle" && x.Stage == SetOut && x.Start < mustDate("2027-01-13").At(16*60):
			t.Errorf("%s begins %s", x.ID, x.Start)
		}
	}
	for i, a := range west {
		for _, b := range west[:i] {
			if a.Start < b.End && b.Start < a.End {
				t.Errorf("%s and %s at the same time in a zone for one gang", a.ID, b.ID)
			}
		}
	}
	for _, s := range []Stage{Studs, SecondFace, SecondCoat} {
		var last, first Moment
		for _, g := range p.Groups {
			switch x := p.task(g.ID, s); {
			case x.ID == "":
			case g.Zone == "L0 east":
				last = max(last, x.End)
			case g.Zone == "L0 west" && (first == 0 || x.Start < first):
				first = x.Start
			}
		}
		if first < last {
			t.Errorf("%s begins in the west %s, before it is done in the east %s", s, first, last)
		}
	}
	says(t, p.Findings, "others-late", "gangs.yaml:", "2027-01-20", "L0 middle")
}

// Others who follow from group to group take their time for each, one after the other.
func TestOthersFollowGroups(t *testing.T) {
	p := verified(t, inputOf(t, offices(), site+"others:\n  - {id: cables, name: Cables, each: true, after: first_face, before: insulation, days: 0.5}\n"))
	var list []*Task
	for i := range p.Tasks {
		x := &p.Tasks[i]
		if x.Kind != ByOther {
			continue
		}
		for _, o := range list {
			if x.Start < o.End && o.Start < x.End {
				t.Errorf("%s and %s at the same time", x.ID, o.ID)
			}
		}
		list = append(list, x)
		if x.Start < p.task(x.Group, FirstFace).End || p.task(x.Group, Insulation).Start < x.End && p.task(x.Group, Insulation).ID != "" {
			t.Errorf("%s from %s to %s", x.ID, x.Start, x.End)
		}
	}
	if len(list) != len(p.Groups) {
		t.Errorf("%d tasks of others for %d groups", len(list), len(p.Groups))
	}
}

// A zone that comes after another waits with each stage until it is finished there.
func TestZoneAfterZone(t *testing.T) {
	p := verified(t, inputOf(t, offices(), site+"zones:\n  - {zone: L0 east, access: 2027-02-15}\n  - {zone: L0 west, after: [L0 east]}\n"))
	for _, s := range []Stage{SetOut, Tracks, Sanding} {
		var last, first Moment
		for _, g := range p.Groups {
			switch x := p.task(g.ID, s); {
			case x.ID == "":
			case g.Zone == "L0 east":
				last = max(last, x.End)
			case g.Zone == "L0 west" && (first == 0 || x.Start < first):
				first = x.Start
			}
		}
		if first < last || first == 0 {
			t.Errorf("%s begins in the west %s, is done in the east %s", s, first, last)
		}
	}
}

// No more zones are open than may be: those that are set out and not yet boarded.
func TestOpenZones(t *testing.T) {
	p := verified(t, inputOf(t, plantest.Offices(220), "open_zones: 1\n"+site))
	var boarded Moment
	for _, zone := range []string{"L0", "L1", "L2"} {
		var from, until Moment
		for i := range p.Tasks {
			x := &p.Tasks[i]
			if x.Zone != zone {
				continue
			}
			if x.Stage == SetOut && (from == 0 || x.Start < from) {
				from = x.Start
			}
			if materialOf(x.Stage) == BoardMaterial {
				until = max(until, x.End)
			}
		}
		if from < boarded || from == 0 {
			t.Errorf("%s is set out from %s, the zone before is boarded %s", zone, from, boarded)
		}
		boarded = until
	}
}

// Levels are taken four at a time if nobody says otherwise.
func TestUsualOpenZones(t *testing.T) {
	in := inputOf(t, offices(), site)
	for _, c := range []struct {
		zones []string
		open  int
		want  int
	}{{[]string{"L0"}, 0, 4}, {[]string{"L0"}, 2, 2}, {[]string{"L0 east"}, 0, 0}, {[]string{"L0 east"}, 3, 3}} {
		s := *in.Site
		s.OpenZones = c.open
		other := in
		other.Site = &s
		n := &network{Input: &other, Programme: &Programme{Zones: c.zones}}
		if got := n.openZones(); got != c.want {
			t.Errorf("%v: %d, want %d", c, got, c.want)
		}
	}
}

// One gang more never makes the end later by more than 3 % of the time, at equal seed
// and budget: the search is no proof.
func TestMoreGangs(t *testing.T) {
	before := verified(t, inputOf(t, offices(), site+services))
	for _, more := range []string{"  - {id: more, skills: [boarding, insulating], size: 2}\n", "  - {id: more, skills: [jointing], size: 2}\n", "  - {id: more, skills: [setting_out, framing], size: 2}\n"} {
		after := verified(t, inputOf(t, offices(), site+more+services))
		if span := before.End - before.From.At(0); after.End > before.End+span*3/100 {
			t.Errorf("with %q it ends %s instead of %s", more, after.End, before.End)
		}
	}
}
