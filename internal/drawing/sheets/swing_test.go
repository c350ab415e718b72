package sheets

import (
	"math"
	"testing"

	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/plan"
	"nogging/internal/quantity"
)

// TestSwing: a leaf hangs at its side of the opening, on the face to which it opens, is
// as long as its share of the opening, and its edge shuts against the other side.
func TestSwing(t *testing.T) {
	const mm = quantity.Millimetre
	w := &layout.Wall{Frame: geom.FrameOf(geom.Segment{A: geom.Pt(0, 0), B: geom.Pt(0, 5000*mm)})} // up: face A is towards -x
	o := func(l plan.Leaf) *layout.Opening {
		return &layout.Opening{U: geom.Interval{From: 1000 * mm, To: 1900 * mm}, Leaf: l}
	}
	for _, x := range []struct {
		leaf              plan.Leaf
		hinge, open, shut [2]float64
	}{
		{plan.Leaf{Count: 1, Hinge: plan.AtStart, Opens: plan.FaceA}, [2]float64{-50, 1000}, [2]float64{-950, 1000}, [2]float64{-50, 1900}},
		{plan.Leaf{Count: 1, Hinge: plan.AtEnd, Opens: plan.FaceB}, [2]float64{50, 1900}, [2]float64{950, 1900}, [2]float64{50, 1000}},
		{plan.Leaf{Count: 2, Opens: plan.FaceA}, [2]float64{-50, 1000}, [2]float64{-500, 1000}, [2]float64{-50, 1450}},
	} {
		s := swings(o(x.leaf), 50*mm)
		if len(s) != max(x.leaf.Count, 1) {
			t.Fatalf("%+v: %d leaves", x.leaf, len(s))
		}
		arc := s[0].arc(w)
		for i, p := range []geom.Point{s[0].leaf(w)[0], s[0].leaf(w)[1], arc[0]} {
			want := [][2]float64{x.hinge, x.open, x.shut}[i]
			if math.Hypot(p.X.MM()-want[0], p.Y.MM()-want[1]) > 0.01 {
				t.Errorf("%+v: point %d at %v, want %v", x.leaf, i, p, want)
			}
		}
	}
	for _, unknown := range []plan.Leaf{{}, {Count: 1, Hinge: plan.AtStart}, {Count: 1, Opens: plan.FaceA}} {
		if len(swings(o(unknown), 50*mm)) > 0 {
			t.Errorf("%+v is drawn", unknown)
		}
	}
}
