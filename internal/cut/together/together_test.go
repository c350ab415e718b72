package together_test

import (
	"context"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"nogging/internal/catalogue"
	"nogging/internal/cut/boards"
	"nogging/internal/cut/together"
	_ "nogging/internal/draws"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/plantest"
	"nogging/internal/quantity"
)

const mm = quantity.Millimetre

func byLevel(w *layout.Wall) string { return w.Level }

// input makes what is chosen from of a plan.
func input(p *plan.Plan, practice string) together.Input {
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID(practice)
	return together.Input{Ready: layout.Prepare(p, cat, pr), Catalogue: cat, Practice: pr, Options: boards.Options{Zone: byLevel, Effort: 1}}
}

// bought cuts the boards of walls that are laid out in some ways, and returns their
// number and area.
func bought(t interface{ Fatal(...any) }, in together.Input, ways map[string]layout.Way) (n int, area float64) {
	zones, err := boards.Plan(context.Background(), in.Ready.Layout(ways, func(int, int) {}).Walls, in.Catalogue, in.Practice, in.Options)
	if err != nil {
		t.Fatal(err)
	}
	for i := range zones {
		for k := range zones[i].Boards {
			n += zones[i].Boards[k].Bought()
			area += zones[i].Boards[k].Area()
		}
	}
	return n, area
}

// walls is a plan of walls of some lengths that stand free of each other between
// columns on a level 2.60 m high.
func walls(lengths ...quantity.Length) *plan.Plan {
	p := &plan.Plan{
		Version: 1, Practice: "metric",
		Levels:   []plan.Level{{ID: "L0", ClearHeight: 2600 * mm, Floor: plan.Concrete, Soffit: plan.Concrete}},
		BuildUps: []plan.BuildUp{{ID: "W", Frame: plan.FrameSpec{Kind: plan.Single, Stud: "CW75"}, FaceA: []string{"GKB-12.5"}}},
	}
	for i, l := range lengths {
		y := quantity.Length(i) * 3000 * mm
		for side, x := range []quantity.Length{-200 * mm, l} {
			p.Structure = append(p.Structure, plan.Structure{
				ID: string(rune('a' + 2*i + side)), Level: "L0", Kind: "column", Material: "concrete",
				Outline: []plan.Pt{{X: x, Y: y - 200*mm}, {X: x + 200*mm, Y: y - 200*mm}, {X: x + 200*mm, Y: y + 200*mm}, {X: x, Y: y + 200*mm}},
			})
		}
		p.Walls = append(p.Walls, plan.Wall{ID: "L0-0" + string(rune('1'+i)), Level: "L0", BuildUp: "W", Line: []plan.Pt{{X: 0, Y: y}, {X: l, Y: y}}})
	}
	return p
}

// Of a few walls, every combination of ways is cut: what is chosen buys no more than
// the plain layout and is the best of all.
func TestAgainstAllCombinations(t *testing.T) {
	saved := 0
	for _, lengths := range [][]quantity.Length{{2600 * mm}, {4300 * mm, 2750 * mm}, {1500 * mm, 3350 * mm}} {
		in := input(walls(lengths...), "metric")
		in.Options.Effort = 0
		choice, err := together.Choose(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		_, plain := bought(t, in, nil)
		_, chosen := bought(t, in, choice.Ways)
		best := plain
		combinations(in.Ready, 0, map[string]layout.Way{}, func(ways map[string]layout.Way) {
			_, area := bought(t, in, ways)
			best = min(best, area)
		})
		if chosen > best+1e-9 {
			t.Errorf("%v: %.2f m² are bought; plainly %.2f, at best %.2f", lengths, chosen, plain, best)
		}
		if sum := together.Sum(choice.Savings); sum.Area != chosen || sum.PlainArea != plain {
			t.Errorf("%v: says %.2f instead of %.2f m², where it is %.2f instead of %.2f", lengths, sum.Area, sum.PlainArea, chosen, plain)
		}
		if chosen < plain {
			saved++
		}
	}
	if saved == 0 {
		t.Error("nothing is saved anywhere")
	}
}

// combinations visits every combination of ways that give other widths: from either
// end, from the middle, and by steps of 300 mm.
func combinations(ready *layout.Prepared, i int, ways map[string]layout.Way, visit func(map[string]layout.Way)) {
	if i == ready.Walls() {
		visit(ways)
		return
	}
	id, _ := ready.Name(i)
	for _, way := range append([]layout.Way{{}}, ready.Ways(i)...) {
		if way.Shift%(300*mm) == 0 && !way.Swap {
			ways[id] = way
			combinations(ready, i+1, ways, visit)
		}
	}
}

// Whatever the plan, no more is bought than plainly, and what is said is what the
// cutting plans buy.
func TestNeverMore(t *testing.T) {
	draw := rapid.Custom(plantest.Random)
	for seed := range 8 {
		in := input(draw.Example(seed), []string{"metric", "us"}[seed%2])
		in.Options.Effort, in.Rounds = 0, 1
		choice, err := together.Choose(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		n, area := bought(t, in, choice.Ways)
		plain, plainArea := bought(t, in, nil)
		sum := together.Sum(choice.Savings)
		if sum.Boards != n || sum.Plain != plain || math.Abs(sum.Area-area) > 1e-9 || area > plainArea+1e-9 {
			t.Errorf("%d: says %d instead of %d boards; cut are %d (%.2f m²) instead of %d (%.2f m²)", seed, sum.Boards, sum.Plain, n, area, plain, plainArea)
		}
		if len(choice.Ways) > 0 && area >= plainArea {
			t.Errorf("%d: walls leave the plain layout for nothing: %v", seed, choice.Ways)
		}
	}
}

// The same plan gives the same choice, and an end of patience an error.
func TestDeterministicAndCancellable(t *testing.T) {
	p := plantest.Offices(8)
	first, err := together.Choose(context.Background(), input(p, "metric"))
	if err != nil {
		t.Fatal(err)
	}
	again, _ := together.Choose(context.Background(), input(p, "metric"))
	if diff := cmp.Diff(first, again); diff != "" {
		t.Error(diff)
	}
	ctx, cancel := context.WithCancel(context.Background())
	in := input(p, "metric")
	in.Progress = func(int, int) { cancel() }
	if _, err := together.Choose(ctx, in); err == nil {
		t.Error("goes on when it shall end")
	}
}
