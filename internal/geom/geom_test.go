package geom_test

import (
	"math"
	"slices"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"nogging/internal/geom"
	"nogging/internal/quantity"
)

const mm = quantity.Millimetre

func point(t *rapid.T, label string) geom.Point {
	coordinate := rapid.Int64Range(-50_000, 50_000)
	return geom.Pt(quantity.Length(coordinate.Draw(t, label+" x"))*mm, quantity.Length(coordinate.Draw(t, label+" y"))*mm)
}

// Areas and containment agree with simplefeatures, a port of JTS.
func TestPolygonAgainstSimplefeatures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		centre := point(t, "centre")
		n := rapid.IntRange(3, 9).Draw(t, "corners")
		var p geom.Polygon
		var xy []float64
		for i := range n { // a star-shaped outline never crosses itself
			r := float64(rapid.IntRange(500, 9000).Draw(t, "radius"))
			a := 2 * math.Pi * float64(i) / float64(n)
			q := geom.Pt(centre.X+quantity.MM(r*math.Cos(a)), centre.Y+quantity.MM(r*math.Sin(a)))
			p = append(p, q)
			xy = append(xy, q.X.MM(), q.Y.MM())
		}
		xy = append(xy, xy[0], xy[1])
		oracle := sf.NewPolygon([]sf.LineString{sf.NewLineString(sf.NewSequence(xy, sf.DimXY))})
		if got, want := float64(p.Area()), oracle.Area(); math.Abs(got-want) > 1e-3*want/1e3+1e-3 {
			t.Fatalf("area %v, want %v", got, want)
		}
		slices.Reverse(p)
		if got, want := float64(p.Area()), oracle.Area(); math.Abs(got-want) > 1e-3*want/1e3+1e-3 {
			t.Fatalf("area the other way round %v, want %v", got, want)
		}
		if !p.Contains(centre) {
			t.Fatal("the middle of a star is not inside it")
		}
		if _, _, crossing := p.SelfCrossing(); crossing {
			t.Fatal("a star-shaped outline was said to cross itself")
		}
	})
}

func TestSelfCrossing(t *testing.T) {
	bow := geom.Polygon{geom.Pt(0, 0), geom.Pt(2000*mm, 2000*mm), geom.Pt(2000*mm, 0), geom.Pt(0, 2000*mm)}
	if _, _, found := bow.SelfCrossing(); !found {
		t.Error("a bow tie crosses itself")
	}
}

// A frame takes a point to its own coordinates and back within a rounding.
func TestFrameRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := geom.Segment{A: point(t, "start"), B: point(t, "end")}
		if s.Length() == 0 {
			t.Skip("no direction")
		}
		f, p := geom.FrameOf(s), point(t, "point")
		local := f.Local(p)
		if d := f.Global(local.X, local.Y).Dist(p); d > 200 {
			t.Fatalf("came back %d nm away", d)
		}
		if end := f.Local(s.B); (end.X-s.Length()).Abs() > 1 || end.Y.Abs() > 1 {
			t.Fatalf("the end lies at %v, want %v along", end, s.Length())
		}
	})
}

func TestCrossing(t *testing.T) {
	s := geom.Segment{A: geom.Pt(0, 0), B: geom.Pt(4000*mm, 0)}
	up := geom.Segment{A: geom.Pt(1500*mm, -1000*mm), B: geom.Pt(1500*mm, 1000*mm)}
	if u, v, ok := s.Crossing(up); !ok || u != 1500*mm || v != 1000*mm {
		t.Errorf("crossing at %v, %v, %v", u, v, ok)
	}
	if _, _, ok := s.Crossing(geom.Segment{A: geom.Pt(0, 10*mm), B: geom.Pt(4000*mm, 10*mm)}); ok {
		t.Error("parallel lines cross")
	}
}

// The grid finds just what a search through everything finds, in order.
func TestGrid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := geom.NewGrid[int](1000 * mm)
		var boxes []geom.Rect
		for i := range rapid.IntRange(0, 30).Draw(t, "things") {
			b := geom.Bounds(point(t, "corner"), point(t, "corner"))
			if rapid.Bool().Draw(t, "small") {
				b = geom.Bounds(b.Min).Grow(300 * mm)
			}
			boxes = append(boxes, b)
			g.Add(b, i)
		}
		look := geom.Bounds(point(t, "look"), point(t, "look"))
		var got, want []int
		g.Each(look, func(i int) { got = append(got, i) })
		for i, b := range boxes {
			if b.Overlaps(look) {
				want = append(want, i)
			}
		}
		if !slices.Equal(got, want) {
			t.Fatalf("found %v, want %v", got, want)
		}
	})
}

// Clipping agrees with simplefeatures' overlay for two rectangles at any angle.
func TestClipAgainstSimplefeatures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, ga := turned(t, "a")
		b, gb := turned(t, "b")
		both, err := sf.Intersection(ga, gb)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := float64(a.Clip(b).Area()), both.Area(); math.Abs(got-want) > 1 {
			t.Fatalf("%v mm², want %v", got, want)
		}
	})
}

// turned draws a rectangle at any angle, and the same for simplefeatures.
func turned(t *rapid.T, label string) (geom.Polygon, sf.Geometry) {
	angle := rapid.Float64Range(0, 2*math.Pi).Draw(t, label+" angle")
	f := geom.Frame{
		Origin: geom.Pt(quantity.Length(rapid.Int64Range(-2000, 2000).Draw(t, label+" x"))*mm, quantity.Length(rapid.Int64Range(-2000, 2000).Draw(t, label+" y"))*mm),
		Dir:    geom.Vec{X: math.Cos(angle), Y: math.Sin(angle)},
	}
	l := quantity.Length(rapid.Int64Range(10, 5000).Draw(t, label+" length")) * mm
	w := quantity.Length(rapid.Int64Range(10, 500).Draw(t, label+" width")) * mm
	p := geom.Polygon{f.Global(0, 0), f.Global(l, 0), f.Global(l, w), f.Global(0, w)}
	var xy []float64
	for _, q := range append(slices.Clone(p), p[0]) {
		xy = append(xy, q.X.MM(), q.Y.MM())
	}
	return p, sf.NewPolygon([]sf.LineString{sf.NewLineString(sf.NewSequence(xy, sf.DimXY))}).AsGeometry()
}
