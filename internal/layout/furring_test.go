package layout_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/takeoff"
)

// furring is a lining of channels on brackets.
func furring() plan.BuildUp {
	b := single("W", "GKB-12.5")
	b.Frame = plan.FrameSpec{Kind: plan.Furring, Stud: "CD60", Gap: 15 * mm}
	return b
}

// TestFurring: channels stand at 600 mm between perimeter channels, their 60 mm to
// the boards, on brackets no further apart than 1000 mm (common practice). By hand:
// channels of 2735 mm have two brackets, at the thirds; 27 mm of channel and 12.5
// of board are 39.5.
func TestFurring(t *testing.T) {
	w := lay(t, 2400*mm, 2750*mm, plan.Wall{}, furring(), nil)
	if want := quantity.MM(39.5); w.Thickness != want {
		t.Errorf("thickness %s, want %s", w.Thickness, want)
	}
	at := map[float64][]float64{}
	for _, b := range w.Brackets {
		if b.Use != layout.BracketFurring {
			t.Errorf("%+v", b)
		}
		at[b.At.X.MM()] = append(at[b.At.X.MM()], float64(int(b.At.Y.MM())))
	}
	thirds := []float64{911, 1823}
	if diff := cmp.Diff(map[float64][]float64{30: thirds, 600: thirds, 1200: thirds, 1800: thirds, 2370: thirds}, at); diff != "" {
		t.Error(diff)
	}
	for _, m := range w.Members {
		product, width := "CD60", 60*mm
		if !m.Upright() {
			product, width = "UD28", 27*mm
		}
		if m.Product != product || m.Width != width {
			t.Errorf("%s: %s, %s wide", m.Mark(), m.Product, m.Width)
		}
	}
	cat, pr := metric(t, nil)
	counted := map[string]float64{}
	for _, l := range takeoff.OfWall(w, cat, pr) {
		counted[l.Code] = l.Quantity
	}
	if counted["BRACKET-FURRING"] != 10 || counted["SCREW-STEEL"] != 20 || counted["ANCHOR-MASONRY"] != 10 {
		t.Errorf("counted %v", counted)
	}
}

// TestFurringBracketSpacing: brackets follow the practice's spacing, and studs on
// brackets get them as channels do.
func TestFurringBracketSpacing(t *testing.T) {
	b := furring()
	b.Frame.Stud = "CW50"
	for spacing, want := range map[int]int{500: 5, 1000: 2, 3000: 1} {
		w := lay(t, 1200*mm, 2750*mm, plan.Wall{}, b, plan.Overrides{"furring_brackets": spacing})
		if got := len(w.Brackets); got != 3*want {
			t.Errorf("spacing %d: %d brackets on 3 studs, want %d each", spacing, got, want)
		}
	}
}

// TestLowFurring: under a free top the head of each channel has a bracket of its
// own.
func TestLowFurring(t *testing.T) {
	w := halfHeight(t, 1200*mm, plan.Wall{}, furring(), nil)
	var high int
	for _, b := range w.Brackets {
		if b.At.Y > 900*mm {
			high++
		}
	}
	if high != 3 {
		t.Errorf("%d brackets near the top of 3 channels: %v", high, w.Brackets)
	}
}

// TestPipeBehindFurring: a pipe that the gap takes runs there, past the channels. By
// hand: 27 mm of channel, 30 mm of gap; the finished 39.5 mm lie 19.75 on each side of
// the axis, so the gap's middle is 34.75 mm behind it.
func TestPipeBehindFurring(t *testing.T) {
	b := furring()
	b.Frame.Gap = 30 * mm
	pipe := plan.Pipe{Diameter: 22 * mm, Path: []plan.Pt{{X: 100 * mm, Y: 500 * mm}, {X: 2000 * mm, Y: 500 * mm}}}
	w := lay(t, 2400*mm, 2750*mm, plan.Wall{Pipes: []plan.Pipe{pipe}}, b, nil)
	if len(w.Pipes) != 1 || w.Pipes[0].Offset != -quantity.MM(34.75) || len(w.Cutouts) > 0 {
		t.Errorf("pipes %+v, holes %v, findings %v", w.Pipes, w.Cutouts, w.Findings)
	}
}
