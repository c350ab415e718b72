package layout_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// rows counts the screws of one layer of a face by the studs they go into.
func rows(w *layout.Wall, face plan.Face, layer int) map[float64]int {
	at := map[float64]int{}
	for _, s := range w.Screws {
		if s.Face == face && s.Layer == layer {
			at[s.From.X.MM()] += s.Count
		}
	}
	return at
}

// TestAnchorsOfTracks: a track of 4.00 m with the first anchor 100 mm from its
// end has 3800 mm to share out at 1000 mm or less: four gaps, five anchors. An
// end stud of 2735 mm has 2535 mm: three gaps, four anchors. The distances are
// given here, so nothing rests on the practice's own.
func TestAnchorsOfTracks(t *testing.T) {
	w := lay(t, 4000*mm, 2750*mm, plan.Wall{}, single("W", "GKB-12.5"), plan.Overrides{
		"track_fixing": 1000, "track_fixing_end": 100, "edge_stud_fixing": 1000, "edge_stud_minimum": 3,
	})
	got := map[string][]int{}
	for _, a := range w.Anchors {
		got[a.Into] = append(got[a.Into], a.Count)
		gap := a.From.Dist(a.To) / quantity.Length(a.Count-1)
		if gap > 1000*mm {
			t.Errorf("anchors into %s are %s mm apart", a.Into, gap)
		}
	}
	if diff := cmp.Diff(map[string][]int{"floor": {5}, "soffit": {5}, "structure": {4, 4}}, got); diff != "" {
		t.Error(diff)
	}
}

// TestEveryLayerIsScrewed: two layers 2400 mm long and 2735 mm high, first and
// last screw 15 mm from the edge: 2705 mm at 750 mm or less are four gaps in the
// inner layer, at 250 mm or less eleven in the outer. Two boards of 1200 mm meet
// at 1200 in the inner layer, a starter of 600 mm staggers the outer; where two
// pieces meet each has its own row. The distances are given here.
func TestEveryLayerIsScrewed(t *testing.T) {
	w := lay(t, 2400*mm, 2750*mm, plan.Wall{}, single("W", "GKB-12.5", "GKB-12.5"), plan.Overrides{
		"screw_spacing": []any{[]any{250}, []any{750, 250}}, "screw_edge": 15,
	})
	if diff := cmp.Diff(map[float64]int{25: 5, 600: 5, 1200: 10, 1800: 5, 2375: 5}, rows(w, plan.FaceA, 0)); diff != "" {
		t.Errorf("inner layer:\n%s", diff)
	}
	if diff := cmp.Diff(map[float64]int{25: 12, 600: 24, 1200: 12, 1800: 24, 2375: 12}, rows(w, plan.FaceA, 1)); diff != "" {
		t.Errorf("outer layer:\n%s", diff)
	}
}

// TestBoardsAreScrewedToJambs: beside a door from 1500 to 2385 the boards hold
// to the studs of the jambs, whose middles are half a flange of 50 mm away,
// over their whole height (common practice).
func TestBoardsAreScrewedToJambs(t *testing.T) {
	door := plan.Opening{Kind: plan.Door, At: 1500 * mm, Width: 885 * mm, Height: 2130 * mm, LeafMass: 28}
	w := lay(t, 4800*mm, 2750*mm, plan.Wall{Openings: []plan.Opening{door}}, single("W", "GKB-12.5"), nil)
	for _, face := range []plan.Face{plan.FaceA, plan.FaceB} {
		for _, u := range []quantity.Length{1475 * mm, 2410 * mm} {
			var high quantity.Length
			for _, s := range w.Screws {
				if s.Face == face && s.From.X == u {
					high += s.To.Y - s.From.Y
				}
			}
			if high != 2705*mm {
				t.Errorf("face %s: the row on the jamb at %s is %s mm high, want 2735 less 15 at both ends", face, u, high)
			}
		}
	}
}
