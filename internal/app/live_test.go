package app_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"nogging/internal/app"
	"nogging/internal/plan"
	"nogging/internal/plantest"
	"nogging/internal/quantity"
)

const mm = quantity.Millimetre

// storey draws a random plan with rooms between its walls.
func storey(t *rapid.T) *plan.Plan {
	p := plantest.Random(t)
	p.Version = plan.Version
	for i := range rapid.IntRange(0, 3).Draw(t, "rooms") {
		a, b := p.Walls[0].Line[0], rapid.SampledFrom(p.Walls).Draw(t, "across").Line[1]
		p.Rooms = append(p.Rooms, plan.Room{
			ID: fmt.Sprintf("R%d", i), Level: "L0", Outline: []plan.Pt{a, {X: b.X, Y: a.Y}, b, {X: a.X, Y: b.Y}},
			Wet: rapid.SampledFrom([]string{"", "W1-I", "W2-I"}).Draw(t, "wet"),
		})
		p.Rooms[i].Climate.Temperature = rapid.SampledFrom([][]float64{nil, {20}}).Draw(t, "temperature")
	}
	if rapid.Bool().Draw(t, "earthquake") {
		p.Seismic.Ground, p.Seismic.Soil = 0.2, 1.2
	}
	p, _ = p.Distinct()
	return p
}

// Whatever the edits, the engine's state is that of the plan opened by itself:
// layout, findings, take-off and proofs, byte for byte.
func TestLiveIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, other := storey(t), storey(t)
		live := app.NewLive(p, app.LiveFiles{})
		for range rapid.IntRange(1, 2).Draw(t, "edits") {
			same(t, live.State())
			if _, inverse, refused := live.Apply(edit(t, live.State().Plan(), other)); refused != nil || len(inverse) == 0 {
				t.Fatal(refused)
			}
		}
		same(t, live.State())
	})
}

// edit draws changes that make of a plan one a little more like another.
func edit(t *rapid.T, p, other *plan.Plan) []plan.Change {
	var all []plan.Change
	for _, c := range plan.Diff(p, other) {
		if c.Kind != "levels" || !c.Removes() {
			c.At = nil
			all = append(all, c)
		}
	}
	for _, w := range p.Walls {
		w.Note += "x"
		value, _ := json.Marshal(w)
		all = append(all, plan.Change{Kind: "walls", ID: w.ID, Value: value})
	}
	all = append(all, plan.Change{Kind: "overrides", ID: "stud_spacing", Value: json.RawMessage(rapid.SampledFrom([]string{"400", "600", `"wide"`}).Draw(t, "spacing"))})
	list := []plan.Change{rapid.SampledFrom(all).Draw(t, "change")}
	if c := rapid.SampledFrom(all).Draw(t, "change"); c.Key() != list[0].Key() {
		list = append(list, c)
	}
	return list
}

func same(t *rapid.T, s *app.State) {
	t.Helper()
	j := app.OfPlan(s.Plan(), files{}.read)
	j.Build(app.Quiet)
	proofs, err := j.Prove(nil, app.Quiet)
	if err != nil {
		t.Fatal(err)
	}
	j.Judge(app.Quiet)
	for _, x := range []struct {
		what      string
		want, got any
	}{
		{"findings", j.Findings, s.Findings()}, {"layout", j.Layout, s.Layout()}, {"take-off", j.Takeoff, s.Takeoff()},
		{"proofs", proofs, s.Proof()}, {"totals", j.Totals(), s.Totals().Totals},
	} {
		want, got := text(t, x.want), text(t, x.got)
		if want != got {
			t.Fatalf("%s: %s", x.what, cmp.Diff(strings.Split(want, "},"), strings.Split(got, "},")))
		}
	}
}

func text(t *rapid.T, v any) string {
	data, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// BenchmarkLive edits a project of 2,000 walls: layout is what Set takes (the
// changed walls), totals what comes after it until findings, proofs and sums stand.
func BenchmarkLive(b *testing.B) {
	p, _ := plantest.Offices(2_000).Distinct()
	for _, edit := range []struct {
		name string
		of   func(p *plan.Plan, n int)
	}{
		{"cross wall moved", func(p *plan.Plan, n int) {
			w := &p.Walls[500]
			d := quantity.Length(n%40+1) * 10 * mm
			w.Line = []plan.Pt{{X: w.Line[0].X + d, Y: w.Line[0].Y}, {X: w.Line[1].X + d, Y: w.Line[1].Y}}
		}},
		{"door moved", func(p *plan.Plan, n int) {
			w := &p.Walls[0]
			w.Openings = append([]plan.Opening(nil), w.Openings...)
			w.Openings[3].At += quantity.Length(n%40+1) * 10 * mm
		}},
		{"build-up changed", func(p *plan.Plan, n int) { p.Walls[501].BuildUp = []string{"W1", "W2"}[n%2] }},
	} {
		b.Run(edit.name, func(b *testing.B) {
			live := app.NewLive(p, app.LiveFiles{})
			live.State().Totals()
			layout, totals, n := new(stopwatch), new(stopwatch), 0
			for b.Loop() {
				n++
				next := *p
				next.Walls = append([]plan.Wall(nil), p.Walls...)
				edit.of(&next, n)
				before := live.State()
				layout.time(func() { live.Set(&next) })
				totals.time(func() { live.State().Since(before); live.State().Totals() })
			}
			b.ReportMetric(layout.ms(n), "layout-ms")
			b.ReportMetric(totals.ms(n), "totals-ms")
		})
	}
}

// States are read by some while others edit; run with -race this shows that they
// share nothing that changes.
func TestLiveReadersAndWriters(t *testing.T) {
	live := liveClinic(t, 12)
	first := live.State().Plan()
	var group sync.WaitGroup
	for n := range 3 {
		group.Go(func() {
			for i := range 4 {
				p := *first
				p.Walls = slices.Clone(first.Walls)
				p.Walls[(i+n)%len(p.Walls)].Require.Sound = []string{"Rw 40", "Rw 50"}[i%2]
				before := live.State()
				live.Set(&p)
				live.State().Since(before)
			}
		})
		group.Go(func() {
			for range 4 {
				s := live.State()
				s.Totals()
				s.Wall(first.Walls[n].ID)
				s.Drawing(first.Walls[n].ID, "frame1", n == 1)
				s.Level(first.Levels[0].ID)
				live.At(first).Picture()
			}
		})
	}
	group.Wait()
}
