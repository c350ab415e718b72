package timechart

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"nogging/internal/drawing"
	"nogging/internal/plan"
	"nogging/internal/programme"
)

func date(t *testing.T, s string) programme.Date {
	t.Helper()
	d, err := programme.ParseDate(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// sample is a programme of groups in two zones, from Monday 11 January 2027 on.
func sample(t *testing.T, groups int) Input {
	t.Helper()
	from := date(t, "2027-01-11")
	p := &programme.Programme{From: from, Zones: []string{"L0", "L1"}}
	for d := from; d < from+200; d++ {
		if w := d.Weekday(); w == 0 || w == 6 {
			p.DaysOff = append(p.DaysOff, d)
		}
	}
	for k := range groups {
		zone := p.Zones[k*2/groups]
		g := programme.Group{ID: fmt.Sprintf("%s/%02d", zone, k+1), Zone: zone}
		p.Groups = append(p.Groups, g)
		for n, s := range programme.Stages() {
			kind := programme.Work
			if s == programme.BeforeClose || s == programme.Final {
				kind = programme.Hold
			}
			start := (from + programme.Date(k+2*n)).At(7 * 60)
			x := programme.Task{ID: g.ID + " " + string(s), Kind: kind, Stage: s, Name: s.Name(), Zone: zone, Group: g.ID, Gang: "quay", Start: start, End: start + 9*60, Planned: true, Done: k == 0 && n < 3}
			if s == programme.FirstCoat {
				x.Dry = &programme.Wait{Hours: 14, Until: x.End + 14*60, Compound: programme.Drying}
			}
			p.Tasks = append(p.Tasks, x)
		}
	}
	p.Chain = []programme.Step{{ID: p.Tasks[0].ID}}
	p.CallOffs = []programme.CallOff{{Zone: "L0", Material: programme.BoardMaterial, Arrive: from + 3}}
	p.Progress = &programme.Progress{Today: from + 9}
	return Input{Project: plan.Project{Name: "Sample", Number: "7"}, Programme: p}
}

// ids lists the marks of parts drawn on sheets.
func marks(scenes []*drawing.Scene) (list []string) {
	for _, s := range scenes {
		for _, l := range s.Layers() {
			for _, it := range l.Items {
				if g, ok := it.(*drawing.Group); ok {
					list = append(list, g.ID)
				}
			}
		}
	}
	return list
}

// Every task stands on the chart, once on each sheet whose weeks it touches; names of
// stages and zones can be read, and nothing is drawn outside the sheet.
func TestGanttShowsAll(t *testing.T) {
	in := sample(t, 12)
	scenes := Gantt(in)
	drawn := marks(scenes)
	for i := range in.Programme.Tasks {
		if x := &in.Programme.Tasks[i]; !slices.Contains(drawn, x.ID) {
			t.Errorf("%s is not drawn", x.ID)
		}
	}
	var text strings.Builder
	for _, s := range scenes {
		for _, x := range drawing.Texts(s) {
			text.WriteString(x.Text + "\n")
		}
		if out := drawing.Outside(s, s.Size.Space().Inset(-6)); len(out) > 0 {
			t.Errorf("outside the sheet: %v", out)
		}
	}
	for _, want := range []string{"L0", "L1", "tape and first coat", "deliveries", "today", "W02", "11 Jan 2027"} {
		if !strings.Contains(text.String(), want+"\n") {
			t.Errorf("%q stands nowhere", want)
		}
	}
}

// A long programme goes on over sheets of whole weeks, none of them empty.
func TestGanttTurnsSheets(t *testing.T) {
	in := sample(t, 100)
	scenes := Gantt(in)
	if len(scenes) < 3 {
		t.Errorf("%d sheets", len(scenes))
	}
	for _, s := range scenes {
		if len(marks([]*drawing.Scene{s})) == 0 {
			t.Errorf("%s is empty", s.Name)
		}
	}
}

// A bar reaches from the moment its work begins to that of its end, and its drying on
// from there.
func TestBarsAreToScale(t *testing.T) {
	in := sample(t, 4)
	a := axes(in.Programme, 100, 280)[0]
	day := a.scale
	if got := a.at(in.Programme.From.At(12 * 60)); math.Abs(got-(100+day/2)) > 1e-9 {
		t.Errorf("noon of the first day lies at %g", got)
	}
	x := &in.Programme.Tasks[slices.IndexFunc(in.Programme.Tasks, func(x programme.Task) bool { return x.Dry != nil })]
	g := gantt{axis: a}
	group := &drawing.Group{}
	g.bar(group, x, 0, 4)
	dries, ok := group.Items[0].(drawing.Path)
	if !ok || math.Abs(dries.Points[0].X-g.at(x.End)) > 1e-9 || math.Abs(dries.Points[1].X-g.at(x.Dry.Until)) > 1e-9 {
		t.Errorf("drying is drawn as %+v", group.Items[0])
	}
}

// Work that spans a weekend is drawn on the days before and after it.
func TestWeekendsAreLeftOut(t *testing.T) {
	in := sample(t, 4)
	g := gantt{axis: axes(in.Programme, 0, 210)[0]}
	friday := in.Programme.From + 4
	got := g.worked(&programme.Task{Start: friday.At(14 * 60), End: (friday + 3).At(10 * 60)})
	want := [][2]float64{{g.at(friday.At(14 * 60)), g.at((friday + 1).At(0))}, {g.at((friday + 3).At(0)), g.at((friday + 3).At(10 * 60))}}
	if !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// The line of balance has a line for each flow in each group, rising with time.
func TestBalanceShowsAll(t *testing.T) {
	in := sample(t, 70)
	scenes := Balance(in)
	if len(scenes) != 2 {
		t.Errorf("%d sheets", len(scenes))
	}
	drawn := marks(scenes)
	for _, g := range in.Programme.Groups {
		for _, f := range flows {
			if !slices.Contains(drawn, "flow-"+f.letter+"-"+g.ID) {
				t.Errorf("flow %s through %s is not drawn", f.letter, g.ID)
			}
		}
	}
	for _, l := range scenes[0].Layers() {
		for _, it := range l.Items {
			if g, ok := it.(*drawing.Group); ok && strings.HasPrefix(g.ID, "flow") {
				if p := g.Items[0].(drawing.Path); p.Points[1].X < p.Points[0].X || p.Points[1].Y >= p.Points[0].Y {
					t.Errorf("%s does not rise with time: %v", g.ID, p.Points)
				}
			}
		}
	}
}
