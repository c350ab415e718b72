package drawing_test

import (
	"math"
	"slices"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"nogging/internal/drawing"
)

// convex draws a convex polygon: points on a circle.
func convex(t *rapid.T) []drawing.Point {
	n := rapid.IntRange(3, 9).Draw(t, "corners")
	angles := make([]float64, n)
	for i := range angles {
		angles[i] = 2 * math.Pi * (float64(i) + rapid.Float64Range(0.05, 0.95).Draw(t, "angle")) / float64(n)
	}
	cx, cy := rapid.Float64Range(-20, 20).Draw(t, "cx"), rapid.Float64Range(-20, 20).Draw(t, "cy")
	r := rapid.Float64Range(2, 30).Draw(t, "r")
	var out []drawing.Point
	for _, a := range angles {
		out = append(out, drawing.Point{X: cx + r*math.Cos(a), Y: cy + r*math.Sin(a)})
	}
	return out
}

func area(p []drawing.Point) float64 {
	sum := 0.0
	for i, a := range p {
		b := p[(i+1)%len(p)]
		sum += a.X*b.Y - b.X*a.Y
	}
	return math.Abs(sum) / 2
}

// polygon turns a ring into a polygon of the reference library.
func polygon(t *rapid.T, ring []drawing.Point) geom.Geometry {
	closed := append(slices.Clone(ring), ring[0])
	var xys []float64
	for _, p := range closed {
		xys = append(xys, p.X, p.Y)
	}
	line := geom.NewLineString(geom.NewSequence(xys, geom.DimXY))
	return geom.NewPolygon([]geom.LineString{line}).AsGeometry()
}

// TestClipPolygon compares areas with the overlay of an independent library
// (simplefeatures, a port of JTS).
func TestClipPolygon(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ring := convex(t)
		r := drawing.NewRect(-12, -9, 24, 18)
		want, err := geom.Intersection(polygon(t, ring), polygon(t, r.Corners()))
		if err != nil {
			t.Skip(err)
		}
		got := drawing.ClipPolygon(ring, r)
		if math.Abs(area(got)-want.Area()) > 1e-6 {
			t.Fatalf("area %v, the reference has %v", area(got), want.Area())
		}
	})
}

// TestClipSegment compares lengths with the same library.
func TestClipSegment(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := func() float64 { return rapid.Float64Range(-30, 30).Draw(t, "c") }
		s := drawing.Segment{A: drawing.Point{X: c(), Y: c()}, B: drawing.Point{X: c(), Y: c()}}
		r := drawing.NewRect(-12, -9, 24, 18)
		line := geom.NewLineString(geom.NewSequence([]float64{s.A.X, s.A.Y, s.B.X, s.B.Y}, geom.DimXY))
		want, err := geom.Intersection(line.AsGeometry(), polygon(t, r.Corners()))
		if err != nil {
			t.Skip(err)
		}
		length := 0.0
		if cut, ok := drawing.ClipSegment(s, r); ok {
			length = math.Hypot(cut.B.X-cut.A.X, cut.B.Y-cut.A.Y)
		}
		if math.Abs(length-want.Length()) > 1e-6 {
			t.Fatalf("length %v, the reference has %v", length, want.Length())
		}
	})
}

// TestHatchFills: the length of hatch lines times their spacing tends to the
// area they fill (Cavalieri's principle); the error is at most one spacing's
// worth along the outline.
func TestHatchFills(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ring := convex(t)
		spacing := rapid.Float64Range(0.2, 1).Draw(t, "spacing")
		sum, rim := 0.0, 0.0
		for _, s := range drawing.Hatch(ring, rapid.Float64Range(0, 180).Draw(t, "angle"), spacing) {
			sum += math.Hypot(s.B.X-s.A.X, s.B.Y-s.A.Y)
		}
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			rim += math.Hypot(b.X-a.X, b.Y-a.Y)
		}
		if math.Abs(sum*spacing-area(ring)) > rim*spacing {
			t.Fatalf("lines cover %v of %v", sum*spacing, area(ring))
		}
	})
}

func TestHatchOfNothing(t *testing.T) {
	if got := drawing.Hatch(nil, 45, 1); got != nil {
		t.Errorf("hatch of no polygon: %v", got)
	}
	if got := drawing.Hatch(drawing.NewRect(0, 0, 1, 1).Corners(), 45, 0); got != nil {
		t.Errorf("hatch without spacing: %v", got)
	}
	if got := drawing.Batt(drawing.NewRect(0, 0, 5, 0)); got != nil {
		t.Errorf("batt without depth: %v", got)
	}
}

// TestBatt: the wave stays between the long sides and runs from end to end.
func TestBatt(t *testing.T) {
	r := drawing.NewRect(3, 4, 40, 12)
	wave := drawing.Batt(r)
	for _, p := range wave {
		if p.Y < r.Min.Y-1e-9 || p.Y > r.Max.Y+1e-9 {
			t.Fatalf("%v lies outside the batt", p)
		}
	}
	if first, last := wave[0], wave[len(wave)-1]; math.Abs(first.X-r.Min.X) > 1e-9 || math.Abs(last.X-r.Max.X) > 1e-9 {
		t.Errorf("runs from %v to %v", first, last)
	}
}
