package layout_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"nogging/internal/catalogue"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/plantest"
	"nogging/internal/quantity"
)

// mixed draws a plan with some objects of one and some of another, some left out
// and some in another order.
func mixed(t *rapid.T, p, q *plan.Plan) *plan.Plan {
	m := *p
	m.Levels = pick(t, "levels", p.Levels, q.Levels, 10)
	m.Structure = pick(t, "structure", p.Structure, q.Structure, 3)
	m.BuildUps = pick(t, "build-ups", p.BuildUps, q.BuildUps, 20)
	m.Walls = pick(t, "walls", p.Walls, q.Walls, 6)
	m.Junctions = pick(t, "junctions", p.Junctions, q.Junctions, 3)
	if len(m.Walls) > 1 && rapid.IntRange(0, 4).Draw(t, "reorder") == 0 {
		m.Walls[0], m.Walls[1] = m.Walls[1], m.Walls[0]
	}
	return &m
}

// pick takes most objects from p, one of so many from q, and leaves as many out.
func pick[T any](t *rapid.T, what string, p, q []T, one int) []T {
	var list []T
	for i := range max(len(p), len(q)) {
		switch n := rapid.IntRange(0, one).Draw(t, what); {
		case n == 0 && i < len(q) || i >= len(p):
			list = append(list, q[i])
		case n == 1 && one < 10: // levels and build-ups stay
		default:
			list = append(list, p[i])
		}
	}
	return list
}

// Whatever the plans that come one after another, Kept gives what laying each out
// by itself gives.
func TestKeptIsExact(t *testing.T) {
	cat, pr := metric(t, nil)
	rapid.Check(t, func(t *rapid.T) {
		p, q := plantest.Random(t), plantest.Random(t)
		var kept layout.Kept
		for range rapid.IntRange(2, 4).Draw(t, "edits") {
			ways := map[string]layout.Way{}
			for i := range p.Walls {
				ways[p.Walls[i].ID] = rapid.SampledFrom([]layout.Way{{}, {From: "end"}, {From: "middle"}, {From: "start", Swap: true}}).Draw(t, "way")
			}
			want, got := asText(t, layout.Prepare(p, cat, pr).Layout(ways, func(int, int) {})), asText(t, kept.Of(p, cat, pr, ways))
			if want != got {
				t.Fatal(cmp.Diff(strings.Split(want, "},"), strings.Split(got, "},")))
			}
			p = mixed(t, p, q)
		}
	})
}

// Which of two walls in one line counts the joint between them goes by their order in
// the plan.
func TestKeptSeesOrder(t *testing.T) {
	cat, pr := metric(t, nil)
	p := room(6000*mm, 3000*mm, plan.Wall{}, single("W", "GKB-12.5"))
	second := p.Walls[0]
	second.ID = "L0-02"
	second.Line = []plan.Pt{{X: 3000 * mm, Y: 0}, p.Walls[0].Line[1]}
	p.Walls[0].Line = []plan.Pt{p.Walls[0].Line[0], second.Line[0]}
	p.Walls = append(p.Walls, second)
	var kept layout.Kept
	for range 2 {
		if diff := cmp.Diff(asText(t, layout.Of(p, cat, pr)), asText(t, kept.Of(p, cat, pr, nil))); diff != "" {
			t.Fatal(diff)
		}
		p.Walls = []plan.Wall{p.Walls[1], p.Walls[0]}
	}
}

// A wall or structure that runs through another moves, comes and goes.
func TestKeptSeesWhatCrosses(t *testing.T) {
	cat, pr := metric(t, nil)
	var kept layout.Kept
	for _, at := range []quantity.Length{2000, 2500, 0, 2500, 3000} {
		p := room(6000*mm, 3000*mm, plan.Wall{}, single("W", "GKB-12.5"))
		cross := p.Walls[0]
		cross.ID, cross.Require.Fire = "cross", "EI 60"
		cross.Line = []plan.Pt{{X: at * mm, Y: -1500 * mm}, {X: at * mm, Y: 1500 * mm}}
		p.Structure = append(p.Structure, plan.Structure{ID: "pier", Level: p.Levels[0].ID, Line: []plan.Pt{{X: (at + 1500) * mm, Y: -300 * mm}, {X: (at + 1500) * mm, Y: 300 * mm}}, Thickness: 200 * mm})
		if at > 0 {
			p.Walls = append(p.Walls, cross)
		}
		want, got := layout.Of(p, cat, pr), kept.Of(p, cat, pr, nil)
		if diff := cmp.Diff(asText(t, want), asText(t, got)); diff != "" {
			t.Fatal(diff)
		}
		if at > 0 && len(want.Walls[0].FrameLines) < 3 {
			t.Fatalf("at %d nothing runs through the wall", at)
		}
	}
}

func asText(t interface{ Fatal(...any) }, v any) string {
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// Only what an edit bears on is laid out again.
func TestKeptReuses(t *testing.T) {
	cat, pr := metric(t, nil)
	for _, test := range []struct {
		name string
		edit func(p *plan.Plan)
		most int
	}{
		{"nothing", func(*plan.Plan) {}, 0},
		{"a note", func(p *plan.Plan) { p.Walls[5].Note = "x" }, 1},
		{"a door of a wall that many stand against", func(p *plan.Plan) { p.Walls[0].Openings[3].At += 50 * mm }, 1},
		{"a wall moved", func(p *plan.Plan) { p.Walls[5].Line[0].X += 100 * mm; p.Walls[5].Line[1].X += 100 * mm }, 3},
		{"a wall less", func(p *plan.Plan) { p.Walls = append(p.Walls[:5:5], p.Walls[6:]...) }, 2},
		{"a level", func(p *plan.Plan) { p.Levels[1].ClearHeight += 100 * mm }, 4},
	} {
		t.Run(test.name, func(t *testing.T) {
			var kept layout.Kept
			before := map[*layout.Wall]bool{}
			for _, w := range kept.Of(plantest.Offices(108), cat, pr, nil).Walls {
				before[w] = true
			}
			p, anew := plantest.Offices(108), 0
			test.edit(p)
			for _, w := range kept.Of(p, cat, pr, nil).Walls {
				if !before[w] {
					anew++
				}
			}
			if anew != test.most {
				t.Errorf("%d walls were laid out again, not %d", anew, test.most)
			}
		})
	}
}

// Another practice, or another catalogue, lays out everything again.
func TestKeptNoticesRules(t *testing.T) {
	cat, pr := metric(t, nil)
	p := plantest.Offices(30)
	var kept layout.Kept
	first := kept.Of(p, cat, pr, nil)
	_, other := metric(t, plan.Overrides{"stud_spacing": 400.0})
	if kept.Of(p, cat, other, nil).Walls[0] == first.Walls[0] {
		t.Error("the practice's change went unnoticed")
	}
	again := catalogue.Catalogue(*cat)
	if w := kept.Of(p, &again, other, nil).Walls[0]; w == kept.Of(p, cat, other, nil).Walls[0] {
		t.Error("the catalogue's change went unnoticed")
	}
}

func BenchmarkKept(b *testing.B) {
	cat, pr := metric(b, nil)
	p := plantest.Offices(2_000)
	var kept layout.Kept
	kept.Of(p, cat, pr, nil)
	for b.Loop() {
		p.Walls[500].Line[0].X += mm
		kept.Of(p, cat, pr, nil)
	}
}
