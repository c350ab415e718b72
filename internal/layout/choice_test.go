package layout_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"nogging/internal/catalogue"
	_ "nogging/internal/draws"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/plantest"
)

// A wall of 3.10 m between two structural walls, worked out by hand. Counted from
// the start, studs stand at 0, 600 … 3000 and 3100; face B begins with 600, then
// 1200 and 1200 would leave 100, so its last joint takes a stud of its own: 8
// uprights, 2 joints on face A and 3 on face B. Counted from the middle they stand
// at 0, 350, 950 … 2750 and 3100, which carries every joint: 7 uprights. A row
// has 12 screws: 2685 less 15 at each end in steps of 250 or less.
func TestChoiceByHand(t *testing.T) {
	cat, pr := metric(t, nil)
	got := layout.Of(room(3100*mm, 2700*mm, plan.Wall{}, single("W", "GKB-12.5")), cat, pr).Walls[0].Choices
	want := []layout.Choice{{
		Module: "middle", Starter: "B", Tried: 8,
		Chosen: layout.Tally{Pieces: 7, Screws: (7 + 2 + 7 + 3) * 12, Members: 7 + 2, Narrowest: 350 * mm},
		Plain:  layout.Tally{Pieces: 7, Screws: (8 + 2 + 8 + 3) * 12, Members: 8 + 2, Narrowest: 400 * mm},
	}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	const reason = "module from middle: 228 screws instead of 252, 9 steel parts instead of 10, narrowest 350 instead of 400 mm"
	if got[0].String() != reason {
		t.Errorf("reason: %s", got[0])
	}
}

// A wall on the module takes the plain way and says so.
func TestPlainChoice(t *testing.T) {
	cat, pr := metric(t, nil)
	got := layout.Of(room(3600*mm, 2700*mm, plan.Wall{}, single("W", "GKB-12.5")), cat, pr).Walls[0].Choices[0]
	if got.Better() || got.Chosen != got.Plain || got.String() != "module from start: none of 4 ways needs fewer pieces or screws" {
		t.Errorf("%s: %+v", got, got)
	}
}

// A box that a stud of the plain way would meet moves the studs if another way
// takes no more.
func TestChoiceMindsBoxes(t *testing.T) {
	cat, pr := metric(t, nil)
	w := plan.Wall{Boxes: []plan.Box{{Kind: "socket", Face: plan.FaceA, At: 1200 * mm, Height: 300 * mm}}}
	laid := layout.Of(room(3700*mm, 2700*mm, w, single("W", "GKB-12.5")), cat, pr).Walls[0]
	if c := laid.Choices[0]; c.Plain.Breaches != 1 || c.Chosen.Breaches != 0 || !strings.Contains(c.String(), "0 breaches of a rule instead of 1") {
		t.Errorf("%s: %+v", c, c)
	}
	if hasFinding(laid, "box-on-stud") {
		t.Error(laid.Findings)
	}
}

// savings sums up what choices save.
func savings(walls []*layout.Wall) (pieces, screws, members, breaches int) {
	for _, w := range walls {
		for _, c := range w.Choices {
			pieces += c.Plain.Pieces - c.Chosen.Pieces
			screws += c.Plain.Screws - c.Chosen.Screws
			members += c.Plain.Members - c.Chosen.Members
			breaches += c.Plain.Breaches - c.Chosen.Breaches
		}
	}
	return pieces, screws, members, breaches
}

// On the office floors, whose rooms lie on the board's module, the choice saves
// screws and studs; on rooms of any width it saves pieces too.
func TestChoiceSaves(t *testing.T) {
	cat := catalogue.Shipped()
	pr, _ := cat.PracticeByID("metric")
	offices := layout.Of(plantest.Offices(500), cat, pr).Walls
	pieces, screws, members, breaches := savings(offices)
	t.Logf("500 office walls: %d pieces, %d screws, %d steel parts, %d breaches fewer", pieces, screws, members, breaches)
	if pieces < 0 || screws <= 0 || members <= 0 || breaches < 0 {
		t.Error("nothing saved on the office floors")
	}
	var rooms []*layout.Wall
	for n := layout.Length(0); n < 100; n++ {
		door := plan.Opening{Kind: plan.Door, At: (300 + 37*n%1500) * mm, Width: 885 * mm, Height: 2130 * mm, LeafMass: 28}
		p := room((2800+29*n)*mm, 2700*mm, plan.Wall{Openings: []plan.Opening{door}}, single("W", "GKB-12.5"))
		rooms = append(rooms, layout.Of(p, cat, pr).Walls...)
	}
	pieces, screws, members, breaches = savings(rooms)
	t.Logf("100 rooms with a door: %d pieces, %d screws, %d steel parts, %d breaches fewer", pieces, screws, members, breaches)
	if pieces <= 0 || screws <= 0 {
		t.Error("nothing saved on rooms of any width")
	}
}

// Whatever the wall, the chosen way takes no more pieces than the plain one and no
// more screws or steel unless that mends a breach; and what it says it takes is
// what stands on the wall.
func TestChoiceNeverCostsPieces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cat, pr := randomPractice(t)
		for _, w := range layout.Of(plantest.Random(t), cat, pr).Walls {
			pieces, members := 0, 0
			for _, c := range w.Choices {
				mended := c.Chosen.Breaches < c.Plain.Breaches || c.Chosen.Breaches == c.Plain.Breaches && c.Chosen.Slivers < c.Plain.Slivers
				if c.Chosen.Pieces > c.Plain.Pieces || !mended && (c.Chosen.Screws > c.Plain.Screws || c.Chosen.Members > c.Plain.Members) {
					t.Fatalf("%s: %s", w.ID, c)
				}
				if c.Chosen.Breaches > c.Plain.Breaches || !mended && c.Chosen.Slivers > c.Plain.Slivers {
					t.Fatalf("%s: %s", w.ID, c)
				}
				pieces += c.Chosen.Pieces
				members += c.Chosen.Members
			}
			for i := range w.Members {
				if m := &w.Members[i]; m.Role != layout.Nogging && m.Lap == 0 { // a spliced stud counts once
					members--
				}
			}
			for _, f := range w.Faces {
				for _, l := range f.Layers {
					pieces -= len(l.Pieces)
				}
			}
			if pieces != 0 || members != 0 {
				t.Fatalf("%s: counted %d pieces and %d members more than stand on the wall", w.ID, pieces, members)
			}
		}
	})
}
