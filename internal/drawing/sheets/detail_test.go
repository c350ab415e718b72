package sheets_test

import (
	"strings"
	"testing"

	"nogging/internal/drawing"
	"nogging/internal/drawing/sheets"
	"nogging/internal/plan"
	"nogging/internal/plantest"
)

// TestDetails: on the details of walls of every sort no text lies over another,
// and every layer of boards, the studs and the tracks are named.
func TestDetails(t *testing.T) {
	for _, f := range fixtures {
		t.Run(f.name, func(t *testing.T) {
			in := input(t, f.plan())
			list := sheets.New(in).Details()
			checkSheets(t, list)
			text := strings.Join(wordsOf(list), "\n")
			w := in.Layout.Walls[0]
			for _, face := range w.Faces {
				for k, l := range face.Layers {
					b, _ := in.Catalogue.Board(l.Board)
					if want := "layer " + string(rune('1'+k)) + ": " + b.Name; !strings.Contains(text, want) {
						t.Errorf("no %q", want)
					}
				}
			}
			for _, want := range []string{"soffit: concrete", "floor: concrete", "end stud: ", "floor track: ", "soffit track: "} {
				if !strings.Contains(text, want) && f.name != "short" {
					t.Errorf("no %q", want)
				}
			}
		})
	}
}

// TestDetailsOfStorey: so it is where walls meet, and each wall's sheets say
// which details show its places.
func TestDetailsOfStorey(t *testing.T) {
	in := input(t, storey(3, 2))
	set := sheets.New(in)
	list := set.Details()
	checkSheets(t, list)
	text := strings.Join(wordsOf(list), "\n")
	for _, want := range []string{"T junction", "Opening, jamb", "Opening, head", "Stud and boards", "End at structure"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q", want)
		}
	}
	for _, w := range in.Layout.Walls {
		var all []string
		for _, s := range set.Wall(w) {
			all = append(all, said(s))
		}
		if !strings.Contains(strings.Join(all, " "), "Details (drawing 2704-D): head ") {
			t.Errorf("the sheets of %s name no details", w.ID)
		}
	}
}

// TestDetailsAreShared: what many walls have in common is drawn once, so ten
// times as many walls of the same kinds need no more than a sheet or two more.
func TestDetailsAreShared(t *testing.T) {
	few := len(sheets.New(input(t, plantest.Offices(30))).Details())
	many := len(sheets.New(input(t, plantest.Offices(300))).Details())
	if few == 0 || many > few+4 {
		t.Errorf("%d sheets of details for 30 walls, %d for 300", few, many)
	}
}

// TestHeadDetail: the head under a slab that sinks 15 mm, with the practice's
// 5 mm of tolerance, is dimensioned: boards and studs stop 20 mm short. Under a
// rigid head studs are cut 15 mm short (DIN 18183-1, from memory), and the base
// leaves 10 mm at the floor (common practice).
func TestHeadDetail(t *testing.T) {
	tests := []struct {
		fixture string
		head    string
		want    []string
	}{
		{"openings", plan.HeadDeflection, []string{"board 20", "stud 20"}},
		{"plain", plan.HeadRigid, []string{"stud 15", "board 10", "leg 40"}},
	}
	for _, tt := range tests {
		f := named(t, tt.fixture)
		f.wall.Head = tt.head
		text := wordsOf(sheets.New(input(t, f.plan())).Details())
		for _, want := range tt.want {
			if !has(text, want) {
				t.Errorf("%s: no %q", tt.fixture, want)
			}
		}
	}
}

func has(words []string, want string) bool {
	for _, w := range words {
		if w == want {
			return true
		}
	}
	return false
}

// TestDetailScale: a board of 12.5 mm is 2.5 mm thick on paper at 1:5.
func TestDetailScale(t *testing.T) {
	const want = 2.5
	for _, s := range sheets.New(input(t, named(t, "plain").plan())).Details() {
		if !strings.Contains(said(s), "1:5, level section") {
			continue
		}
		found := false
		s.Walk(func(l drawing.LayerName, it drawing.Item) {
			if p, ok := it.(drawing.Path); ok && l == drawing.Boards && p.Closed && len(p.Points) == 4 {
				high := p.Points[2].Y - p.Points[0].Y
				found = found || max(high, -high)-want < 1e-6 && want-max(high, -high) < 1e-6
			}
		})
		if found {
			return
		}
	}
	t.Error("no board of 12.5 mm at 1:5")
}
