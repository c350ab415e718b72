package layout_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/takeoff"
)

// TestLiner: in each bay of a shaft wall stands one piece of the liner, held by an
// angle along each of its edges, and two layers lie on face A and none on face B
// (common practice). By hand, studs of 50 mm at 600: the first bay is clear from 50
// to 575, less 3 mm on each side 519; 2400 mm less 15 over the studs and 3 at the
// floor are 2382.
func TestLiner(t *testing.T) {
	b := single("W", "GKF-12.5", "GKF-12.5")
	b.Frame.Kind, b.Liner = plan.Shaft, "GKF-20"
	w := lay(t, 1800*mm, 2400*mm, plan.Wall{}, b, nil)
	var sizes [][2]float64
	for _, p := range w.Liner {
		sizes = append(sizes, [2]float64{p.Width.MM(), p.Height.MM()})
	}
	if diff := cmp.Diff([][2]float64{{519, 2382}, {544, 2382}, {519, 2382}}, sizes); diff != "" {
		t.Error(diff)
	}
	var angles quantity.Length
	for _, a := range w.Angles {
		angles += a.Cut
	}
	if want := 2 * quantity.Length(519+544+519+3*2382) * mm; angles != want || len(w.Angles) != 12 {
		t.Errorf("%d angles, %s mm in all, want %s mm round three pieces", len(w.Angles), angles, want)
	}
	if len(w.Faces) != 1 || len(w.Faces[0].Layers) != 2 || w.Thickness != 100*mm {
		t.Errorf("%d faces, thickness %s", len(w.Faces), w.Thickness)
	}
	cat, pr := metric(t, nil)
	counted := map[string]float64{}
	for _, l := range takeoff.OfWall(w, cat, pr) {
		counted[l.Code] = l.Quantity
	}
	area := (0.519*2 + 0.544) * 2.382
	if d := counted["GKF-20"] - area; d < -1e-9 || d > 1e-9 || counted["L40x25-0.6"] != angles.Metres() {
		t.Errorf("counted %v, want %v m² of liner", counted, area)
	}
}

// TestHighLiner: a liner higher than its board is cut across, with angles along the
// joint, and goes round openings.
func TestHighLiner(t *testing.T) {
	b := single("W", "GKF-12.5")
	b.Frame.Kind, b.Liner = plan.Shaft, "GKF-12.5"
	hatch := plan.Opening{Kind: plan.Hatch, At: 800 * mm, Width: 300 * mm, Height: 300 * mm, Sill: 1000 * mm}
	w := lay(t, 1800*mm, 5000*mm, plan.Wall{Openings: []plan.Opening{hatch}}, b, nil)
	cat, _ := metric(t, nil)
	board, _ := cat.Board("GKF-12.5")
	longest := board.Lengths[len(board.Lengths)-1]
	for _, p := range w.Liner {
		if p.Height > longest || p.Use != "liner" {
			t.Errorf("piece %d is %s mm high; boards are %s mm long", p.Number, p.Height, longest)
		}
		box := p.Outline.Bounds()
		if len(p.Outline) == 4 && len(p.Holes) == 0 && box.Min.X < 1100*mm && box.Max.X > 800*mm && box.Min.Y < 1300*mm && box.Max.Y > 1000*mm {
			t.Errorf("piece %d from %s to %s covers the hatch", p.Number, box.Min, box.Max)
		}
	}
	if len(w.Liner) < 6 {
		t.Errorf("%d pieces", len(w.Liner))
	}
	if w := lay(t, 1800*mm, 2400*mm, plan.Wall{}, single("W", "GKF-12.5"), nil); len(w.Liner)+len(w.Angles) > 0 {
		t.Error("a liner where none is asked")
	}
}
