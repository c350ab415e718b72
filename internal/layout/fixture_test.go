package layout_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/takeoff"
)

// fixtures gives what each kind needs, so that nothing rests on the practice's own.
var fixtures = plan.Overrides{"fixtures": []any{
	map[string]any{"kind": "wc", "height": 1120, "grounds": []any{0}, "depth": 120, "load": 400.0, "frame": true, "width": 500},
	map[string]any{"kind": "basin", "height": 850, "grounds": []any{0, -300}, "load": 150.0},
}}

func cw150(boards ...string) plan.BuildUp {
	b := single("W", boards...)
	b.Frame.Stud = "CW150"
	return b
}

// TestFixtureDefaults: a basin without height and mass gets the practice's, backing
// at both of its heights, and the assumption is told; one with its own keeps it.
func TestFixtureDefaults(t *testing.T) {
	w := lay(t, 3600*mm, 2750*mm, plan.Wall{Fixings: []plan.Fixing{
		{Kind: "basin", Face: plan.FaceA, At: 700 * mm, Width: 400 * mm},
		{Kind: "basin", Face: plan.FaceA, At: 1900 * mm, Width: 400 * mm, Height: 900 * mm, Mass: 60},
	}}, cw150("GKB-12.5"), fixtures)
	var heights []float64
	for _, m := range members(w, layout.Nogging) {
		heights = append(heights, m.From.X.MM(), m.From.Y.MM())
	}
	if diff := cmp.Diff([]float64{600, 550, 600, 850, 1800, 600, 1800, 900}, heights); diff != "" {
		t.Error(diff)
	}
	if x := w.Fixtures; x[0].Height != 850*mm || x[0].Load != 150 || x[1].Height != 900*mm || x[1].Load != 60 {
		t.Errorf("fixtures: %+v", x)
	}
	wantSaid(t, w.Findings, "fixing-height",
		"L0-01: basin 1, 700 mm from the start and 850 mm up: its height is not given; the practice's for its kind is taken | write height, in mm from the floor")
}

// TestFrameBetweenOpeningStuds: a WC's frame of 500 mm at 1000 stands between two
// UA 150 with 40 mm flanges, at 980 and 1520; the stud of the module at 1200 makes
// way below the frame's top; both studs have angles, the frame anchors. With studs
// at 400 mm a cripple stands over it, and a nogging at its top.
func TestFrameBetweenOpeningStuds(t *testing.T) {
	wc := plan.Wall{Fixings: []plan.Fixing{{Kind: "wc", Face: plan.FaceA, At: 1000 * mm}}}
	w := lay(t, 3600*mm, 2750*mm, wc, cw150("GKB-12.5"), fixtures)
	var at []float64
	for _, m := range w.Members {
		if m.Product == "UA150" {
			at = append(at, m.From.X.MM())
		}
	}
	if diff := cmp.Diff([]float64{980, 1520}, at); diff != "" {
		t.Error(diff)
	}
	for _, m := range w.Members {
		if m.Upright() && m.From.X > 1000*mm && m.From.X < 1500*mm {
			t.Errorf("%s stands in the frame", m.Mark())
		}
	}
	if len(w.Brackets) != 4 {
		t.Errorf("%d angles, want 4", len(w.Brackets))
	}
	b := cw150("GKB-12.5")
	b.Frame.Spacing = 400 * mm
	w = lay(t, 3600*mm, 2750*mm, wc, b, fixtures)
	if k := members(w, layout.Cripple); len(k) != 1 || k[0].From != geom.Pt(1250*mm, 1120*mm) {
		t.Errorf("cripples: %+v", k)
	}
}

// TestFixturesChecked: each rule broken by a known amount.
func TestFixturesChecked(t *testing.T) {
	wc := func(at quantity.Length) plan.Fixing { return plan.Fixing{Kind: "wc", Face: plan.FaceA, At: at} }
	for _, c := range []struct {
		name, code string
		build      plan.BuildUp
		wall       plan.Wall
		want       string
	}{
		{"cavity too shallow", "frame-too-shallow", single("W", "GKB-12.5"), plan.Wall{Fixings: []plan.Fixing{wc(1000 * mm)}},
			"WC 1, 1000 mm from the start and 1120 mm up needs a cavity of 120 mm, 45 mm more than there is | take studs CW125, 125 mm deep, or a twin braced frame with a gap of 120 mm"},
		{"in a door", "no-room-for-frame", cw150("GKB-12.5"), plan.Wall{Openings: []plan.Opening{door(1600*mm, 885*mm, 30)}, Fixings: []plan.Fixing{wc(1080 * mm)}},
			"WC 1, 1080 mm from the start and 1120 mm up with an opening stud on each side runs 20 mm into opening L0-01/1 | move it by 20 mm"},
		{"beyond the start", "no-room-for-frame", cw150("GKB-12.5"), plan.Wall{Fixings: []plan.Fixing{wc(15 * mm)}},
			"WC 1, 15 mm from the start and 1120 mm up with an opening stud on each side runs 25 mm into the wall's start | move it by 25 mm"},
		{"two overlap", "no-room-for-frame", cw150("GKB-12.5"), plan.Wall{Fixings: []plan.Fixing{wc(1000 * mm), wc(1400 * mm)}},
			"WC 2, 1400 mm from the start and 1120 mm up with an opening stud on each side runs 100 mm into WC 1 | move it by 100 mm"},
		{"box on the backing", "ground-at-box", cw150("GKB-12.5"), plan.Wall{
			Boxes:   []plan.Box{{Kind: "socket", Face: plan.FaceA, At: 800 * mm, Height: 880 * mm}},
			Fixings: []plan.Fixing{{Kind: "basin", Face: plan.FaceA, At: 700 * mm, Width: 400 * mm}}},
			"the backing of basin 1, 700 mm from the start and 850 mm up is 24 mm in the room of box 1 | move the box 24 mm up or down"},
	} {
		w := lay(t, 3600*mm, 2750*mm, c.wall, c.build, fixtures)
		t.Run(c.name, func(t *testing.T) { wantSaid(t, w.Findings, c.code, "L0-01: "+c.want) })
	}
}

// pockets gives the sizes of pockets.
var pockets = plan.Overrides{"pocket_extra": 50, "pocket_head": 100, "pocket_depth": 100}

func sliding(at quantity.Length, side string) plan.Opening {
	o := door(at, 885*mm, 30)
	o.Pocket = side
	return o
}

// TestPocket: a door from 1000 to 1885 slides to the end into a pocket to 2820,
// 50 mm deeper than the opening is wide. The frame leaves both clear up to 100 mm
// over the door; jambs stand at the ends, and ribs of 60 mm carry the boards of
// both faces: at the edge of the opening and under each cripple.
func TestPocket(t *testing.T) {
	b := single("W", "GKB-12.5")
	b.Frame.Stud = "CW100"
	for _, c := range []struct {
		side     string
		pocket   geom.Interval
		edge     float64
		from, to float64
	}{
		{plan.AtEnd, geom.Interval{From: 1885 * mm, To: 2820 * mm}, 1915, 1000, 2820},
		{plan.AtStart, geom.Interval{From: 65 * mm, To: 1000 * mm}, 970, 65, 1885},
	} {
		w := lay(t, 3600*mm, 2750*mm, plan.Wall{Openings: []plan.Opening{sliding(1000*mm, c.side)}}, b, pockets)
		if o := w.Openings[0]; *o.Pocket != c.pocket {
			t.Errorf("%s: pocket %v", c.side, *o.Pocket)
		}
		h := members(w, layout.Header)
		if len(h) == 0 || h[0].From.X.MM() != c.from || h[0].To.X.MM() != c.to || h[0].From.Y != 2230*mm {
			t.Errorf("%s: header %+v", c.side, h)
		}
		ribs := map[float64]int{}
		for _, m := range members(w, layout.PocketRib) {
			ribs[m.From.X.MM()]++
			if m.To.Y != 2230*mm || m.Product != "CD60" {
				t.Errorf("%s: rib %+v", c.side, m)
			}
		}
		if len(ribs) < 2 || ribs[c.edge] != 2 {
			t.Errorf("%s: ribs at %v, want two at %v", c.side, ribs, c.edge)
		}
		for _, m := range w.Members {
			if m.Role == layout.FloorTrack && m.From.X.MM() < c.to && m.To.X.MM() > c.from {
				t.Errorf("%s: floor track from %s to %s", c.side, m.From.X, m.To.X)
			}
		}
		wantSaid(t, w.Findings, "frame-too-shallow")
	}
}

// TestPocketChecked: each rule broken by a known amount; and the take-off counts
// the pocket's frame.
func TestPocketChecked(t *testing.T) {
	b := single("W", "GKB-12.5")
	for _, c := range []struct {
		name, code string
		wall       plan.Wall
		want       string
	}{
		{"cavity too shallow", "frame-too-shallow", plan.Wall{Openings: []plan.Opening{sliding(1000*mm, plan.AtEnd)}},
			"L0-01/1: slides into a cavity of 75 mm; its pocket needs 100 mm, 25 mm more | take studs CW100, 100 mm deep, or a twin braced frame with a gap of 100 mm"},
		{"box in it", "box-in-pocket", plan.Wall{Openings: []plan.Opening{sliding(1000*mm, plan.AtEnd)}, Boxes: []plan.Box{box(plan.FaceA, 2800*mm)}},
			"L0-01: box 1 (socket), 2800 mm from the start, would be cut into the pocket of L0-01/1 | move it 54 mm or more, out of the pocket"},
		{"a door beside", "pocket-meets-opening", plan.Wall{Openings: []plan.Opening{sliding(300*mm, plan.AtEnd), door(2100*mm, 885*mm, 30)}},
			"L0-01/1: slides 20 mm into L0-01/2; the jamb between them needs 50 mm, and the pocket is left out | move one of the two by 70 mm"},
		{"a pipe's hole", "pocket-meets-opening", plan.Wall{Openings: []plan.Opening{sliding(1000*mm, plan.AtEnd), hole2(2300 * mm)}},
			"L0-01/1: slides 520 mm into L0-01/2; the jamb between them needs 50 mm, and the pocket is left out | move one of the two by 570 mm"},
	} {
		w := lay(t, 3600*mm, 2750*mm, c.wall, b, pockets)
		t.Run(c.name, func(t *testing.T) { wantSaid(t, w.Findings, c.code, c.want) })
	}
	cat, pr := metric(t, pockets)
	p := room(3600*mm, 2750*mm, plan.Wall{Openings: []plan.Opening{sliding(1000*mm, plan.AtEnd)}}, b)
	if n := quantityOf(takeoff.Of(p, layout.Of(p, cat, pr), cat, pr).Total, takeoff.Services, "POCKET"); n != 1 {
		t.Errorf("%v pocket frames in the take-off", n)
	}
}

func hole2(at quantity.Length) plan.Opening {
	return plan.Opening{Kind: plan.Penetration, Service: "pipe", At: at, Width: 100 * mm, Height: 100 * mm, Sill: 300 * mm}
}
