package sheets

import (
	"testing"

	"pgregory.net/rapid"

	_ "nogging/internal/draws"
	"nogging/internal/geom"
	"nogging/internal/layout"
	"nogging/internal/quantity"
)

const mm = quantity.Millimetre

func outline(xy ...Length) geom.Polygon {
	var p geom.Polygon
	for i := 0; i < len(xy); i += 2 {
		p = append(p, geom.Pt(xy[i]*mm, xy[i+1]*mm))
	}
	return p
}

// TestCutText: what is written is what a person with a rule reads off the
// outline; the sizes were worked out by hand.
func TestCutText(t *testing.T) {
	hole := geom.Polygon{geom.Pt(500*mm, 2600*mm), geom.Pt(850*mm, 2600*mm), geom.Pt(850*mm, 2850*mm), geom.Pt(500*mm, 2850*mm)}
	tests := []struct {
		name     string
		outline  geom.Polygon
		holes    []geom.Polygon
		mirrored bool
		want     string
	}{
		{"plain", outline(0, 10, 1200, 10, 1200, 2700, 0, 2700), nil, false, ""},
		{"L", outline(0, 10, 900, 10, 900, 1080, 1200, 1080, 1200, 2700, 0, 2700), nil, false, "notch 300 × 1070 lower right"},
		{"L from face B", outline(0, 10, 900, 10, 900, 1080, 1200, 1080, 1200, 2700, 0, 2700), nil, true, "notch 300 × 1070 lower left"},
		{"U", outline(0, 10, 100, 10, 100, 2130, 1000, 2130, 1000, 10, 1200, 10, 1200, 2700, 0, 2700), nil, false, "notch 900 × 2120 at lower edge, 100 from left"},
		{"window at the side", outline(0, 10, 1200, 10, 1200, 910, 900, 910, 900, 2010, 1200, 2010, 1200, 2700, 0, 2700), nil, false, "notch 300 × 1100 right, 900 up"},
		{"hole", outline(0, 0, 1200, 0, 1200, 3000, 0, 3000), []geom.Polygon{hole}, false, "hole 350 × 250, 500 from left, 2600 up"},
		{"hole from face B", outline(0, 0, 1200, 0, 1200, 3000, 0, 3000), []geom.Polygon{hole}, true, "hole 350 × 250, 350 from left, 2600 up"},
		{"slope", outline(0, 0, 1200, 0, 1200, 2655, 0, 2400), nil, false, "left 2400, right 2655"},
		{"slope from face B", outline(0, 0, 1200, 0, 1200, 2655, 0, 2400), nil, true, "left 2655, right 2400"},
		{"ridge over a door", outline(0, 0, 900, 0, 900, 2000, 1200, 2000, 1200, 2500, 600, 2700, 0, 2500), nil, false,
			"left 2500, 2700 at 600, right 2500; notch 300 × 2000 lower right"},
		{"step", outline(0, 0, 1200, 0, 1200, 2400, 500, 2400, 500, 3000, 0, 3000), nil, false, "notch 700 × 600 upper right"},
	}
	for _, tt := range tests {
		p := &layout.Piece{Outline: tt.outline, Holes: tt.holes}
		if got := (units{}).cutText(p, tt.mirrored); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}

// TestVoidsFillUp: notches and holes make up exactly what the piece lacks of its
// bounding rectangle.
func TestVoidsFillUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := func(lo, hi int) Length { return Length(rapid.IntRange(lo, hi).Draw(t, "c")) }
		x0, x1, y := c(10, 500), c(600, 1100), c(10, 2000)
		p := &layout.Piece{Outline: outline(0, 0, x0, 0, x0, y, x1, y, x1, 0, 1200, 0, 1200, c(100, 2500), 1190, c(2600, 2700), 0, c(2600, 2700))}
		cut := newCutting(p, rapid.Bool().Draw(t, "mirrored"))
		if cut.slope() == nil {
			t.Skip("level by chance")
		}
		sum := quantity.Area(0)
		for _, v := range cut.voids() {
			sum += outline((v.Max.X-v.Min.X)/mm, 0, (v.Max.X-v.Min.X)/mm, (v.Max.Y-v.Min.Y)/mm, 0, (v.Max.Y-v.Min.Y)/mm, 0, 0).Area()
		}
		want := outline(0, 0, x1-x0, 0, x1-x0, y, 0, y).Area()
		if d := float64(sum - want); d > 1e9 || d < -1e9 {
			t.Fatalf("voids of %v, want %v", sum, want)
		}
	})
}
