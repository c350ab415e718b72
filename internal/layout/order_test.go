package layout_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

type line = [4]quantity.Length

// TestWhoRunsThrough: the wall of which more is asked runs through, the reason is
// recorded, and the plan can say otherwise (common practice: the better wall is
// not interrupted by the lesser).
func TestWhoRunsThrough(t *testing.T) {
	corner := []line{{0, 0, 4000, 0}, {4000, 0, 4000, 3000}}
	cross := []line{{0, 0, 4000, 0}, {2000, -1500, 2000, 1500}}
	lone := []line{{0, 0, 2000, 0}, {2000, 0, 4000, 0}, {2000, 0, 2000, 3000}}
	tee := []line{{0, 0, 4000, 0}, {2000, 0, 2000, 3000}}
	for _, c := range []struct {
		name    string
		lines   []line
		change  func(p *plan.Plan)
		through string
		reason  string
	}{
		{"corner, fire", corner, func(p *plan.Plan) { p.Walls[1].Require.Fire = "EI 60" }, "L0-02", "fire resistance 60 min against none"},
		{"corner, sound", corner, func(p *plan.Plan) { p.Walls[1].Require.Sound, p.Walls[0].Require.Sound = "Rw 53", "Rw 42" }, "L0-02", "sound insulation 53 dB against 42 dB"},
		{"corner, fire before sound", corner, func(p *plan.Plan) { p.Walls[0].Require.Fire, p.Walls[1].Require.Sound = "EI 30", "Rw 53" }, "L0-01", "fire resistance 30 min against none"},
		{"corner, thickness", corner, func(p *plan.Plan) { p.Walls[1].BuildUp = "W2" }, "L0-02", "thicker: 125 mm against 100 mm"},
		{"corner, length", corner, func(*plan.Plan) {}, "L0-01", "longer: 4000 mm against 3000 mm"},
		{"corner, the plan", corner, func(p *plan.Plan) {
			p.Walls[0].Require.Fire = "EI 90"
			p.Junctions = []plan.Junction{{Walls: []string{"L0-01", "L0-02"}, Through: "L0-02", Reason: "kept free for the riser"}}
		}, "L0-02", "kept free for the riser"},
		{"cross, the plan", cross, func(p *plan.Plan) {
			p.Junctions = []plan.Junction{{Walls: []string{"L0-02", "L0-01"}, Through: "L0-02"}}
		}, "L0-02", "as the plan says"},
		{"tee", tee, func(*plan.Plan) {}, "L0-01", "L0-02 ends against it"},
		{"tee, the plan", tee, func(p *plan.Plan) {
			p.Junctions = []plan.Junction{{Walls: []string{"L0-01", "L0-02"}, Through: "L0-02"}}
		}, "L0-02", "as the plan says"},
		{"three ends, the plan", lone, func(p *plan.Plan) {
			p.Junctions = []plan.Junction{{Walls: []string{"L0-01", "L0-03"}, Through: "L0-03"}}
		}, "L0-03", "as the plan says"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := floor(c.lines...)
			c.change(p)
			cat, pr := metric(t, nil)
			l := layout.Of(p, cat, pr)
			if len(l.Junctions) != 1 {
				t.Fatalf("junctions: %+v", l.Junctions)
			}
			if j := l.Junctions[0]; j.Walls[0] != c.through || j.Reason != c.reason {
				t.Errorf("%s runs through, %q; want %s, %q", j.Walls[0], j.Reason, c.through, c.reason)
			}
			for _, f := range l.Findings {
				if f.Code == "frames-overlap" {
					t.Error(f.What)
				}
			}
		})
	}
}

// TestRunsThroughTee: a wall that the plan lets run through the one it ends at
// goes to that wall's far surface, where a board closes it; the other stops at
// its surfaces on both sides. By hand, walls 100 mm thick with one board of 12.5.
func TestRunsThroughTee(t *testing.T) {
	want := map[string][2]float64{"frame": {-37.5, 2987.5}, "a1": {-50, 3000}, "b1": {-50, 3000}}
	for name, lines := range map[string][]line{
		"one wall": {{0, 0, 4000, 0}, {2000, 0, 2000, 3000}},
		"two":      {{0, 0, 2000, 0}, {2000, 0, 2000, 3000}, {2000, 0, 4000, 0}},
	} {
		p := floor(lines...)
		p.Junctions = []plan.Junction{{Walls: []string{"L0-01", "L0-02"}, Through: "L0-02"}}
		cat, pr := metric(t, nil)
		l := layout.Of(p, cat, pr)
		if diff := cmp.Diff(want, extents(l.Walls[1])); diff != "" {
			t.Errorf("%s: through wall:\n%s", name, diff)
		}
		if e := l.Walls[1].Ends[0]; !e.Through || len(l.Walls[1].Caps) != 2 {
			t.Errorf("%s: end %+v, %d strips", name, e, len(l.Walls[1].Caps))
		}
		if got := span(l.Walls[0].FrameLines[0].Extent)[1]; got != 1950 {
			t.Errorf("%s: the interrupted wall's frame ends at %v, want 1950", name, got)
		}
	}
}

func TestInterruptedNamesBothWalls(t *testing.T) {
	p := floor(line{0, 0, 4000, 0}, line{2000, -1500, 2000, 1500})
	cat, pr := metric(t, nil)
	l := layout.Of(p, cat, pr)
	i := slices.IndexFunc(l.Findings, func(f finding.Finding) bool { return f.Code == "wall-interrupted" })
	if i < 0 || l.Findings[i].Object != "L0-02" || l.Findings[i].Other != "L0-01" {
		t.Errorf("findings: %v", l.Findings)
	}
	p.Junctions = []plan.Junction{{Walls: []string{"L0-01", "L0-02"}, Through: "L0-01"}}
	if hasCode(layout.Of(p, cat, pr).Findings, "wall-interrupted") {
		t.Error("told although the plan says so")
	}
}

func hasCode(list finding.List, code string) bool {
	return slices.ContainsFunc(list, func(f finding.Finding) bool { return f.Code == code })
}

func TestJunctionThatIsNone(t *testing.T) {
	p := floor(line{0, 0, 4000, 0}, line{0, 2000, 4000, 2000})
	p.Junctions = []plan.Junction{{Walls: []string{"L0-01", "L0-02"}, Through: "L0-01"}}
	cat, pr := metric(t, nil)
	if !hasCode(layout.Of(p, cat, pr).Findings, "junction-not-found") {
		t.Error("no finding about two walls that do not meet")
	}
}

// TestBoardsCutAtTee: from the practice's sound demand on, the boards of the
// through wall leave room for the other's frame, on its face only. By hand:
// frame CW75 at 1700, so 37.5 mm to each side and 5 mm for sealant; the studs
// that hold the cut edges have flanges of 50 mm, 25 mm to the middle. (DIN
// 4109-33 Table 26, unverified: walls whose boards are cut flank 4 dB less.)
func TestBoardsCutAtTee(t *testing.T) {
	const limit = 50 // common practice
	for _, c := range []struct {
		sound  string
		boards string
		cut    bool
	}{
		{"", "", false}, {"Rw 49", "", false}, {"Rw 50", "", true}, {"STC 50", "", true},
		{"Rw 60", plan.BoardsRun, false}, {"", plan.BoardsCut, true},
	} {
		t.Run(fmt.Sprint(c), func(t *testing.T) {
			p := floor(line{0, 0, 4000, 0}, line{1700, 0, 1700, 3000})
			p.Walls[0].BuildUp, p.Walls[1].Require.Sound = "W2", c.sound
			if c.boards != "" {
				p.Junctions = []plan.Junction{{Walls: []string{"L0-01", "L0-02"}, Boards: c.boards}}
			}
			cat, pr := metric(t, plan.Overrides{"tee_cut_sound": limit})
			l := layout.Of(p, cat, pr)
			var breaks [][2]float64
			for _, f := range l.Walls[0].Faces {
				for _, layer := range f.Layers {
					for _, b := range layer.Breaks {
						breaks = append(breaks, span(b))
					}
				}
			}
			var studs []float64
			for _, m := range members(l.Walls[0], layout.JunctionStud) {
				studs = append(studs, m.From.X.MM())
			}
			seals := 0.0
			for _, s := range l.Walls[0].Seals {
				if s.Use == layout.UseBoardCut {
					seals += s.From.Dist(s.To).MM()
				}
			}
			wantBreaks, wantStuds, wantFrame, wantSeals := [][2]float64(nil), []float64{1700}, 62.5, 0.0
			if c.cut { // two layers of face A, which is the other wall's side
				wantBreaks = [][2]float64{{1657.5, 1742.5}, {1657.5, 1742.5}}
				wantStuds, wantFrame, wantSeals = []float64{1632.5, 1700, 1767.5}, 37.5, 4*2735
			}
			if diff := cmp.Diff(wantBreaks, breaks); diff != "" {
				t.Error("breaks\n", diff)
			}
			if diff := cmp.Diff(wantStuds, studs); diff != "" {
				t.Error("studs\n", diff)
			}
			if got := extents(l.Walls[1])["frame"][0]; got != wantFrame {
				t.Errorf("the other frame starts at %v, want %v", got, wantFrame)
			}
			if got := extents(l.Walls[1])["a1"][0]; got != 62.5 {
				t.Errorf("its boards start at %v, want 62.5", got)
			}
			if seals != wantSeals {
				t.Errorf("%v mm of sealant, want %v", seals, wantSeals)
			}
			if got := l.Junctions[0].Cut; (len(got) == 1 && got[0] == "L0-02") != c.cut {
				t.Errorf("junction says boards are cut for %v", got)
			}
		})
	}
}

// TestBoardsCutAtCross: the wall that is interrupted stands on both faces.
func TestBoardsCutAtCross(t *testing.T) {
	p := floor(line{0, 0, 4000, 0}, line{2000, -1500, 2000, 1500})
	p.Walls[0].Require.Fire, p.Walls[1].Require.Sound = "EI 90", "Rw 57"
	cat, pr := metric(t, plan.Overrides{"tee_cut_sound": 50})
	l := layout.Of(p, cat, pr)
	for _, f := range l.Walls[0].Faces {
		if b := f.Layers[0].Breaks; len(b) != 1 || span(b[0]) != [2]float64{1957.5, 2042.5} {
			t.Errorf("breaks of face %s: %v", f.Face, b)
		}
	}
	for i, want := range []float64{1462.5, 1537.5} {
		if got := span(l.Walls[1].FrameLines[i].Extent)[1-i]; got != want {
			t.Errorf("interrupted frame ends at %v, want %v", got, want)
		}
	}
}

// TestStar: where four ends or more come together, each clears all others.
func TestStar(t *testing.T) {
	for _, ends := range [][]line{
		{{0, 0, 3000, 0}, {0, 0, 0, 3000}, {0, 0, 2100, 2100}, {0, 0, -3000, 0}},
		{{0, 0, 3000, 0}, {0, 0, 2600, 1500}, {0, 0, 1500, 2600}, {0, 0, 0, 3000}},
		{{0, 0, 3000, 0}, {0, 0, -3000, 0}, {0, 0, 0, 2900}, {0, 0, 1000, 2740}}, // two beside each other against a pair in one line
		{{0, 0, 3000, 0}, {0, 0, 930, 2853}, {0, 0, -2427, 1763}, {0, 0, -2427, -1763}, {0, 0, 930, -2853}},
		{{0, 0, 3000, 0}, {0, 0, 1500, 2600}, {0, 0, -1500, 2600}, {0, 0, -3000, 0}, {0, 0, -1500, -2600}, {0, 0, 1500, -2600}},
	} {
		p := floor(ends...)
		for i := range p.Walls {
			p.Walls[i].BuildUp = []string{"W", "W2"}[i%2]
		}
		cat, pr := metric(t, nil)
		l := layout.Of(p, cat, pr)
		var told []string
		for _, f := range l.Findings {
			if f.Code == "frames-overlap" {
				told = append(told, f.Object+" "+f.What.String())
			}
		}
		if len(told) > 0 {
			t.Errorf("%d ends: %s", len(ends), strings.Join(told, "; "))
		}
		if len(l.Junctions) != 1 || l.Junctions[0].Kind != layout.X || len(l.Junctions[0].Walls) != len(ends) {
			t.Errorf("%d ends: junctions %+v", len(ends), l.Junctions)
		}
	}
}
