package layout_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/finding"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// braced is a build-up of two frames of CW50 with 100 mm between them.
func braced() plan.BuildUp {
	b := single("W", "GKB-12.5")
	b.Frame = plan.FrameSpec{Kind: plan.TwinBraced, Stud: "CW50", Gap: 100 * mm}
	return b
}

// gussets lists the heights of the gussets of a wall by their place along it.
func gussets(w *layout.Wall) map[float64][]float64 {
	at := map[float64][]float64{}
	for _, g := range w.Gussets {
		u := g.At.X.MM()
		at[u] = append(at[u], float64(int(g.At.Y.MM()+0.5)))
	}
	return at
}

// TestGussetsKeepClear: gussets of 300 mm on studs of 2400 mm would sit at 800 and
// 1600. By hand: a pipe of 110 mm at 800 takes 745 to 855, so the nearest place
// within 900 mm of the floor is 745 - 150 = 595; the 1805 mm above divide into
// three. A box at 1600 takes 1566 to 1634: 1416, and the 984 mm above are halved.
// A pipe beside the studs, boxes and openings that only come near leave gussets
// where they are.
func TestGussetsKeepClear(t *testing.T) {
	even := []float64{800, 1600}
	moved := []float64{595, 1197, 1798}
	for _, c := range []struct {
		name string
		wall plan.Wall
		want map[float64][]float64
	}{
		{"nothing in the way", plan.Wall{}, map[float64][]float64{25: even, 600: even, 1175: even}},
		{"pipe", plan.Wall{Pipes: []plan.Pipe{{Diameter: 110 * mm, Path: []plan.Pt{{X: 0, Y: 800 * mm}, {X: 1200 * mm, Y: 800 * mm}}}}},
			map[float64][]float64{25: moved, 600: moved, 1175: moved}},
		{"pipe past one stud", plan.Wall{Pipes: []plan.Pipe{{Diameter: 110 * mm, Path: []plan.Pt{{X: 500 * mm, Y: 800 * mm}, {X: 700 * mm, Y: 800 * mm}}}}},
			map[float64][]float64{25: even, 600: moved, 1175: even}},
		{"riser in a bay", plan.Wall{Pipes: []plan.Pipe{{Diameter: 110 * mm, Path: []plan.Pt{{X: 300 * mm, Y: 0}, {X: 300 * mm, Y: 2400 * mm}}}}},
			map[float64][]float64{25: even, 600: even, 1175: even}},
		{"box", plan.Wall{Boxes: []plan.Box{{Face: plan.FaceA, At: 1150 * mm, Height: 1600 * mm}}},
			map[float64][]float64{25: even, 600: even, 1175: {800, 1416, 1908}}},
		{"hole", plan.Wall{Openings: []plan.Opening{{Kind: plan.Penetration, At: 700 * mm, Width: 100 * mm, Sill: 750 * mm, Height: 100 * mm}}},
			map[float64][]float64{25: even, 600: even, 1175: even}},
	} {
		w := lay(t, 1200*mm, 2415*mm, c.wall, braced(), plan.Overrides{"gusset_spacing": 900, "gusset_height": 300})
		if diff := cmp.Diff(c.want, gussets(w)); diff != "" {
			t.Errorf("%s:\n%s", c.name, diff)
		}
	}
}

// TestUntiedStuds: a riser that runs up a pair of studs leaves no place for a
// gusset, and it is said by how much they stay untied.
func TestUntiedStuds(t *testing.T) {
	riser := plan.Pipe{Diameter: 110 * mm, Path: []plan.Pt{{X: 600 * mm, Y: 0}, {X: 600 * mm, Y: 2400 * mm}}}
	w := lay(t, 1200*mm, 2415*mm, plan.Wall{Pipes: []plan.Pipe{riser}}, braced(), plan.Overrides{"gusset_spacing": 900})
	told := slices.ContainsFunc(w.Findings, func(f finding.Finding) bool {
		return f.Code == "studs-untied" && f.What.String() == "pipes, boxes or openings leave the studs 600 mm from the start without a gusset over 2400 mm, 1500 mm more than the practice's 900 mm"
	})
	if !told || len(gussets(w)[600]) > 0 {
		t.Errorf("gussets %v, findings %v", gussets(w), w.Findings)
	}
}

// TestGussetsOfBuildUp: what a build-up says of its gussets goes before the
// practice.
func TestGussetsOfBuildUp(t *testing.T) {
	b := braced()
	b.Frame.GussetHeight, b.Frame.GussetSpacing = 200*mm, 600*mm
	w := lay(t, 1200*mm, 2415*mm, plan.Wall{}, b, nil)
	if diff := cmp.Diff([]float64{600, 1200, 1800}, gussets(w)[600]); diff != "" || w.Gussets[0].Height != 200*mm {
		t.Errorf("height %s; %s", w.Gussets[0].Height, diff)
	}
}

// TestStripsOfTwinFrames: the strips that close a free end and line a reveal of an
// independent twin wall go over one frame each, so that none joins the two
// (common practice: no tie anywhere). By hand: a frame of 50 with a board of 12.5.
func TestStripsOfTwinFrames(t *testing.T) {
	b := single("W", "GKB-12.5")
	b.Frame = plan.FrameSpec{Kind: plan.TwinIndependent, Stud: "CW50", Gap: 10 * mm}
	bare := plan.Opening{Kind: plan.Bare, At: 1000 * mm, Width: 1000 * mm, Height: 2000 * mm}
	p := room(4000*mm, 2750*mm, plan.Wall{Openings: []plan.Opening{bare}, End: plan.FreeEnd}, b)
	p.Structure = p.Structure[:1]
	cat, pr := metric(t, nil)
	count := map[string]int{}
	for _, s := range layout.Of(p, cat, pr).Walls[0].Caps {
		count[s.Use+" "+s.Width.String()]++
	}
	if diff := cmp.Diff(map[string]int{"end cap 50": 2, "reveal 62.5": 6}, count); diff != "" {
		t.Error(diff)
	}
}

// TestLayersOfFill: each layer of fill lies where it is said to, bay by bay, or in
// the gap in widths as it comes.
func TestLayersOfFill(t *testing.T) {
	b := braced()
	b.Insulation = []plan.Insulation{
		{Product: "MW-40"}, {Product: "MW-40"}, {Product: "MW-40", Place: plan.InGap}, {Product: "MW-60", Place: plan.InGap},
	}
	w := lay(t, 1200*mm, 2400*mm, plan.Wall{}, b, nil)
	area := map[string]float64{}
	for _, x := range w.Batts {
		key := map[bool]string{false: "frame " + string(rune('a'+x.Line)), true: "gap " + string(rune('1'+x.Layer))}[x.Gap]
		area[key+" "+x.Product] += x.Area().SquareMetres()
	}
	want := map[string]float64{"frame a MW-40": 2.88, "frame b MW-40": 2.88, "gap 1 MW-40": 2.88, "gap 2 MW-60": 2.88}
	if diff := cmp.Diff(want, area); diff != "" {
		t.Error(diff)
	}
}

// checkFrames: nothing joins the two frames of an independent twin wall; gussets of
// a braced one sit on a stud in each frame, no further apart than said, clear of
// openings and pipes.
func checkFrames(t reporter, p *plan.Plan, w *layout.Wall) {
	b := p.BuildUpByID(w.BuildUp)
	if b == nil || !b.Frame.Kind.Twin() {
		return
	}
	if b.Frame.Kind == plan.TwinIndependent {
		if len(w.Gussets) > 0 {
			t.Fatalf("%s: gussets in an independent twin wall", w.ID)
		}
		one := (w.Thickness - b.Frame.Gap) // both frames with their boards
		for _, c := range w.Caps {
			across := c.Use == "end cap" || c.Use == "top cap" || c.Use == "reveal"
			if across && c.Width >= one {
				t.Fatalf("%s: a strip %s mm wide joins the frames", w.ID, c.Width)
			}
		}
		return
	}
	for i := range w.Gussets {
		g := &w.Gussets[i]
		lines := map[int]bool{}
		for _, m := range w.Members {
			if m.Upright() && m.Role != layout.Cripple && (m.From.X-g.At.X).Abs() <= 60*mm && m.From.Y <= g.At.Y && g.At.Y <= m.To.Y {
				lines[m.Line%2] = true
			}
		}
		if len(lines) != 2 {
			t.Fatalf("%s: the gusset at %s, %s sits on no pair of studs%s", w.ID, g.At.X, g.At.Y, describe(w))
		}
		box := geom.Rect{Min: geom.Pt(g.At.X, g.At.Y-g.Height/2), Max: geom.Pt(g.At.X, g.At.Y+g.Height/2)}
		for _, o := range w.Openings {
			if o.U.From < box.Max.X && box.Min.X < o.U.To && o.Sill < box.Max.Y && box.Min.Y < o.Head {
				t.Fatalf("%s: the gusset at %s, %s hits opening %s", w.ID, g.At.X, g.At.Y, o.ID)
			}
		}
		for _, pipe := range w.Pipes { // of a curved wall along its axis, wherever the plan measures
			a, z := pipe.Path[0], pipe.Path[1]
			at := a.Y + quantity.Length(float64(g.At.X-a.X)/float64(z.X-a.X)*float64(z.Y-a.Y))
			if g.At.X > a.X && g.At.X < z.X && (at-g.At.Y).Abs() < g.Height/2+pipe.Diameter/2-mm {
				t.Fatalf("%s: the gusset at %s, %s hits the pipe at %s", w.ID, g.At.X, g.At.Y, at)
			}
		}
	}
}

// checkFill: the batts of one layer do not overlap. Compared are neighbours that are
// plain rectangles, as all are without slopes and openings.
func checkFill(t reporter, w *layout.Wall) {
	type place struct {
		line, layer int
		gap         bool
	}
	last := map[place]geom.Rect{}
	for _, b := range w.Batts {
		k, box := place{b.Line, b.Layer, b.Gap}, b.Outline.Bounds()
		if box.Min.Y >= w.Top.Min(box.Min.X, box.Max.X) {
			continue // in a flute of the deck, over the frame
		}
		if len(b.Outline) != 4 || float64(b.Outline.Area()) < 0.999999*(box.Max.X-box.Min.X).MM()*(box.Max.Y-box.Min.Y).MM() {
			continue
		}
		if before, ok := last[k]; ok && before.Grow(-mm/2).Overlaps(box.Grow(-mm/2)) {
			t.Fatalf("%s: batts of layer %d overlap, %v and %v%s", w.ID, b.Layer+1, before, box, describe(w))
		}
		last[k] = box
	}
}

// TestFillFits: fill that is too thick for its cavity is told of by how many
// millimetres; what stands out of a frame into the gap behind it is not.
func TestFillFits(t *testing.T) {
	twin := braced()
	for _, c := range []struct {
		name string
		b    plan.BuildUp
		fill []plan.Insulation
		want string
	}{
		{"single", single("W", "GKB-12.5"), []plan.Insulation{{Product: "MW-40"}, {Product: "MW-40"}}, "80 mm of fill do not go into a cavity of 75 mm: 5 mm too much"},
		{"single that fits", single("W", "GKB-12.5"), []plan.Insulation{{Product: "MW-60"}}, ""},
		{"out into the gap", twin, []plan.Insulation{{Product: "MW-60"}, {Product: "MW-60"}}, ""},
		{"gap too full", twin, []plan.Insulation{{Product: "MW-40"}, {Product: "MW-40"}, {Product: "MW-100", Place: plan.InGap}, {Product: "MW-40", Place: plan.InGap}},
			"220 mm of fill do not go into a cavity of 200 mm: 40 mm too much"},
	} {
		c.b.Insulation = c.fill
		cat, pr := metric(t, nil)
		said := ""
		for _, f := range layout.Of(room(2000*mm, 2400*mm, plan.Wall{}, c.b), cat, pr).Findings {
			if f.Code == "fill-too-thick" {
				said = f.What.String()
			}
		}
		if said != c.want {
			t.Errorf("%s: %q, want %q", c.name, said, c.want)
		}
	}
}
