package variation_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"nogging/internal/catalogue"
	_ "nogging/internal/draws"
	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/order"
	"nogging/internal/plan"
	"nogging/internal/plantest"
	"nogging/internal/price"
	"nogging/internal/quantity"
	"nogging/internal/takeoff"
	"nogging/internal/variation"
)

const mm = quantity.Millimetre

// side builds a plan by the metric practice.
func side(p *plan.Plan) variation.Side {
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID("metric")
	l := layout.Of(p, cat, pr)
	t := takeoff.Of(p, l, cat, pr)
	s := variation.Side{Plan: p, Layout: l, Order: order.Of(order.Input{Plan: p, Layout: l, Takeoff: t, Catalogue: cat, Practice: pr})}
	for i, w := range l.Walls {
		s.Work = append(s.Work, price.WorkOn(w, t.Walls[i].Lines, cat, false, func(*catalogue.Product) bool { return false }))
	}
	return s
}

// base is two walls that do not meet, one with a door.
func base() *plan.Plan {
	return &plan.Plan{
		Levels: []plan.Level{{ID: "L1", ClearHeight: 2750 * mm}},
		BuildUps: []plan.BuildUp{
			{ID: "one", Frame: plan.FrameSpec{Kind: plan.Single, Stud: "CW75"}, FaceA: []string{"GKB-12.5"}},
			{ID: "two", Frame: plan.FrameSpec{Kind: plan.Single, Stud: "CW75"}, FaceA: []string{"GKB-12.5", "GKB-12.5"}},
		},
		Walls: []plan.Wall{
			{ID: "L1-01", Level: "L1", BuildUp: "one", Start: plan.ToStructure, End: plan.ToStructure, Line: []plan.Pt{{}, {X: 4000 * mm}},
				Openings: []plan.Opening{{Kind: plan.Door, At: 1500 * mm, Width: 885 * mm, Height: 2130 * mm, LeafMass: 25}}},
			{ID: "L1-02", Level: "L1", BuildUp: "one", Start: plan.ToStructure, End: plan.ToStructure, Line: []plan.Pt{{Y: 5000 * mm}, {X: 3600 * mm, Y: 5000 * mm}}},
		},
	}
}

func compare(before, after *plan.Plan, done *variation.Done) *variation.Report {
	return variation.Of(side(before), side(after), done)
}

// TestHow: each way in which a wall may change is told by the key's name, with both
// values.
func TestHow(t *testing.T) {
	for _, c := range []struct {
		change         func(w *plan.Wall)
		what, old, new string
	}{
		{func(w *plan.Wall) { w.Line[1].X = 4500 * mm }, "line", "(0, 0) to (4000, 0)", "(0, 0) to (4500, 0)"},
		{func(w *plan.Wall) { w.Height = 2500 * mm }, "height", "", "2500"},
		{func(w *plan.Wall) { w.BuildUp = "two" }, "buildup", "one", "two"},
		{func(w *plan.Wall) { w.Head = plan.HeadDeflection }, "head", "", "deflection"},
		{func(w *plan.Wall) { w.Require.Fire = "EI 60" }, "asked: fire", "", "EI 60"},
		{func(w *plan.Wall) { w.Require.Sound = "Rw 47" }, "asked: sound", "", "Rw 47"},
		{func(w *plan.Wall) { w.Openings[0].At = 1600 * mm }, "opening L1-01", "door 885 x 2130 at 1500", "door 885 x 2130 at 1600"},
		{func(w *plan.Wall) { w.Openings[0].LeafMass = 60 }, "opening L1-01", "leaf mass 25", "leaf mass 60"},
		{func(w *plan.Wall) { w.Openings = nil }, "opening L1-01", "door 885 x 2130 at 1500", ""},
		{func(w *plan.Wall) { w.Zone = "east" }, "zone", "", "east"},
		{func(w *plan.Wall) { w.Boxes = []plan.Box{{Face: plan.FaceA, At: 500 * mm, Height: 300 * mm}} }, "boxes", "", "[{face: a, at: 500, height: 300}]"},
	} {
		after := base()
		c.change(&after.Walls[0])
		r := compare(base(), after, nil)
		if len(r.Walls) != 1 || r.Walls[0].Kind != variation.Changed || len(r.Walls[0].Changes) != 1 {
			t.Errorf("%s: %+v", c.what, r.Walls)
			continue
		}
		if x := r.Walls[0].Changes[0]; !strings.HasPrefix(x.What, c.what) || x.Old != c.old || x.New != c.new {
			t.Errorf("%+v, want %s: %q to %q", x, c.what, c.old, c.new)
		}
	}
}

// TestOpeningsShift: a door before another does not make the other a changed one,
// though it changes its number.
func TestOpeningsShift(t *testing.T) {
	after := base()
	w := &after.Walls[0]
	w.Openings = slices.Insert(w.Openings, 0, plan.Opening{Kind: plan.Door, At: 200 * mm, Width: 760 * mm, Height: 2130 * mm, LeafMass: 25})
	r := compare(base(), after, nil)
	if c := r.Walls[0].Changes; len(c) != 1 || c[0].Old != "" || c[0].New != "door 760 x 2130 at 200" {
		t.Errorf("%+v", c)
	}
	after = base()
	after.Walls[0].Openings[0].ID = "D-1"
	if r := compare(base(), after, nil); !r.Empty() {
		t.Errorf("a mark for a door is a change: %+v", r.Walls)
	}
}

// TestAddedRemovedRenamed: a wall of another mark in the same place is the same wall.
func TestAddedRemovedRenamed(t *testing.T) {
	after := base()
	after.Walls[0].ID = "L1-09"
	after.Walls[1].ID, after.Walls[1].Line = "L1-03", []plan.Pt{{Y: 7000 * mm}, {X: 2400 * mm, Y: 7000 * mm}}
	r := compare(base(), after, nil)
	got := map[string]variation.Kind{}
	for _, w := range r.Walls {
		got[w.Wall+" "+w.Was] = w.Kind
		if w.Wall == "L1-09" && (len(w.Gone) > 0 || len(w.Made) > 0 || w.Kept == 0) {
			t.Errorf("a new mark makes new parts: %+v", w)
		}
	}
	if len(got) != 3 || got["L1-09 L1-01"] != variation.Changed || got["L1-02 "] != variation.Removed || got["L1-03 "] != variation.Added {
		t.Errorf("%v", got)
	}
}

// TestAffected: a level that grows, and a neighbour that moves, change walls that
// stand in the plan as they stood.
func TestAffected(t *testing.T) {
	after := base()
	after.Levels[0].ClearHeight = 3000 * mm
	r := compare(base(), after, nil)
	if len(r.General) != 1 || r.General[0].Kind != "level" || r.General[0].Changes[0] != (variation.Change{What: "clear height", Old: "2750", New: "3000"}) {
		t.Errorf("%+v", r.General)
	}
	if len(r.Walls) != 2 || r.Walls[0].Kind != variation.Affected || len(r.Walls[0].Made) == 0 || r.Hours.Difference() <= 0 {
		t.Errorf("%+v", r.Walls)
	}
	r = compare(base(), with(base(), func(p *plan.Plan) { p.BuildUps[1].FaceB = []string{"GKF-12.5"} }), nil)
	if len(r.Walls) != 0 || len(r.General) != 1 || r.General[0].ID != "two" {
		t.Errorf("a build-up that no wall has: %+v", r)
	}
}

func with(p *plan.Plan, change func(*plan.Plan)) *plan.Plan {
	change(p)
	return p
}

// TestDelivered: packs that came and are no longer needed are told; the rest of the
// new order is still to buy.
func TestDelivered(t *testing.T) {
	after := base()
	after.Walls = after.Walls[:1]
	before := side(base())
	var track order.Line
	for _, l := range before.Order.Lines {
		if l.Product == "UW75" {
			track = l
		}
	}
	done := &variation.Done{Delivered: []variation.Delivered{{Product: "UW75", Packs: track.Packs}, {Product: "SP-3.5x25", Packs: 1}, {Product: "SP-3.5x99", Packs: 1}}}
	r := variation.Of(before, side(after), done)
	i := slices.IndexFunc(r.Order, func(x variation.OrderChange) bool { return x.Product == "UW75" })
	x := r.Order[i]
	if x.Old != track.Packs || x.New >= x.Old || x.Over != x.Old-x.New || x.ToBuy != 0 || x.Delivered != x.Old {
		t.Errorf("%+v", x)
	}
	if !told(r.Findings, "delivered-over", "no longer needed") || !told(r.Findings, "delivered-unknown", "neither order") {
		t.Errorf("%v", r.Findings)
	}
}

// TestCut: studs cut for a wall that goes stand in the wall that takes its place
// where they are as long, and are told where they are not.
func TestCut(t *testing.T) {
	done := &variation.Done{Cut: []variation.Cut{{Wall: "L1-02", Parts: []string{"S01", "S02"}}, {Wall: "L1-01"}, {Wall: "L1-01", Parts: []string{"S99"}}}}
	after := base()
	after.Walls[1].ID, after.Walls[1].Line = "L1-03", []plan.Pt{{Y: 7000 * mm}, {X: 3000 * mm, Y: 7000 * mm}}
	r := compare(base(), after, done)
	var goes []string
	for _, c := range r.Cut {
		goes = append(goes, c.Wall+"/"+c.Part+" to "+c.Goes)
	}
	if len(goes) != 2 || !slices.ContainsFunc(goes, func(s string) bool { return strings.HasPrefix(s, "L1-02/S01 to L1-03/S") }) {
		t.Errorf("%v", goes)
	}
	if !told(r.Findings, "cut-unknown", "S99") || told(r.Findings, "cut-lost", "") {
		t.Errorf("%v", r.Findings)
	}
	after.Levels[0].ClearHeight = 2500 * mm
	r = compare(base(), after, done)
	if !told(r.Findings, "cut-lost", "2 parts cut already fit nowhere in the new plan: S01, S02") {
		t.Errorf("%v", r.Findings)
	}
}

// TestSameAndBack: a plan does not change against itself; what is new one way is gone
// the other way, and every difference has the other sign.
func TestSameAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 5).Draw(t, "walls")
		b := plantest.Offices(n)
		old := side(plantest.Offices(n))
		if r := variation.Of(old, old, nil); !r.Empty() || !r.Hours.Same() || !r.Mass.Same() {
			t.Fatalf("%+v", r)
		}
		k := rapid.IntRange(0, len(b.Walls)-1).Draw(t, "wall")
		switch rapid.IntRange(0, 2).Draw(t, "change") {
		case 0:
			b.Walls = slices.Delete(b.Walls, k, k+1)
		case 1:
			b.Walls[k].Openings = nil
			b.Walls[k].Note = "changed"
		case 2:
			b.Walls[k].BuildUp = b.BuildUps[rapid.IntRange(0, len(b.BuildUps)-1).Draw(t, "build-up")].ID
		}
		now := side(b)
		there, back := variation.Of(old, now, nil), variation.Of(now, old, nil)
		if len(there.Walls) != len(back.Walls) || len(there.Order) != len(back.Order) {
			t.Fatalf("%d and %d walls, %d and %d lines", len(there.Walls), len(back.Walls), len(there.Order), len(back.Order))
		}
		if d := there.Hours.Difference() + back.Hours.Difference(); d > 1e-9 || d < -1e-9 {
			t.Fatalf("hours %v and %v", there.Hours, back.Hours)
		}
		hours, kinds := 0.0, map[variation.Kind]int{}
		for _, w := range there.Walls {
			hours += w.Hours.Difference()
			kinds[w.Kind]++
		}
		for _, w := range back.Walls {
			kinds[map[variation.Kind]variation.Kind{variation.Added: variation.Removed, variation.Removed: variation.Added, variation.Changed: variation.Changed, variation.Affected: variation.Affected}[w.Kind]]--
		}
		for kind, n := range kinds {
			if n != 0 {
				t.Fatalf("%s: %d more one way", kind, n)
			}
		}
		if d := hours - there.Hours.Difference(); d > 0.01*float64(n) || d < -0.01*float64(n) {
			t.Fatalf("walls make %v h, the whole %v", hours, there.Hours.Difference())
		}
	})
}

// TestEveryKey: no key of a wall is left out of the comparison.
func TestEveryKey(t *testing.T) {
	text, err := json.Marshal(plan.Wall{Line: []plan.Pt{{}}, Via: &plan.Pt{}})
	if err != nil || !json.Valid(text) {
		t.Fatal(err)
	}
	after := base()
	w := &after.Walls[0]
	w.Via, w.Justify, w.Thickness, w.Base, w.End, w.Note = &plan.Pt{X: 2000 * mm, Y: 300 * mm}, plan.Justify("face_a"), 100*mm, 50*mm, plan.FreeEnd, "x"
	r := compare(base(), after, nil)
	var told []string
	for _, c := range r.Walls[0].Changes {
		told = append(told, c.What)
	}
	for _, want := range []string{"via", "justify", "thickness", "base", "end", "note"} {
		if !slices.Contains(told, want) {
			t.Errorf("no %s among %v", want, told)
		}
	}
}

// TestBadDone: what cannot have been delivered is told with its place.
func TestBadDone(t *testing.T) {
	for text, path := range map[string]string{
		"delivered: [{product: CW75, packs: 0}]":   "delivered[0].packs",
		"delivered: [{product: CW75, packs: lot}]": "delivered[0].packs",
		"cut: [{parts: [S01]}]":                    "cut[0]",
	} {
		_, _, found := variation.ReadDone("done.yaml", []byte(text))
		if len(found) == 0 || !strings.HasPrefix(found[0].Path, path) || found[0].Place.Line != 1 || found[0].Fix == "" {
			t.Errorf("%q: %+v", text, found)
		}
	}
}

func told(found finding.List, code, words string) bool {
	return slices.ContainsFunc(found, func(f finding.Finding) bool { return f.Code == code && strings.Contains(f.What.String(), words) })
}
