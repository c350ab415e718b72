package geom_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	_ "nogging/internal/draws"
	"nogging/internal/geom"
	"nogging/internal/quantity"
)

// near reports whether two points lie within a few roundings of each other.
func near(p, q geom.Point, nm quantity.Length) bool {
	return (p.X-q.X).Abs() <= nm && (p.Y-q.Y).Abs() <= nm
}

// Closed forms of the circle: quarter, half and three-quarter turns about a
// known centre, both ways round.
func TestArcThrough(t *testing.T) {
	const r = 3000 * mm
	h := quantity.Length(math.Round(float64(r) * math.Sqrt2 / 2))
	for _, c := range []struct {
		name        string
		a, via, b   geom.Point
		turns       float64 // of a full circle
		rise, chord float64 // in radii
	}{
		{"quarter to the left", geom.Pt(r, 0), geom.Pt(h, h), geom.Pt(0, r), 0.25, 1 - math.Sqrt2/2, math.Sqrt2},
		{"quarter to the right", geom.Pt(0, r), geom.Pt(h, h), geom.Pt(r, 0), -0.25, 1 - math.Sqrt2/2, math.Sqrt2},
		{"half to the left", geom.Pt(r, 0), geom.Pt(0, r), geom.Pt(-r, 0), 0.5, 1, 2},
		{"half to the right", geom.Pt(r, 0), geom.Pt(0, -r), geom.Pt(-r, 0), -0.5, 1, 2},
		{"three quarters", geom.Pt(r, 0), geom.Pt(-h, h), geom.Pt(0, -r), 0.75, 1 + math.Sqrt2/2, math.Sqrt2},
	} {
		arc, ok := geom.ArcThrough(c.a, c.via, c.b)
		if !ok {
			t.Fatalf("%s: no arc", c.name)
		}
		if !near(arc.Centre, geom.Pt(0, 0), 2) || (arc.Radius-r).Abs() > 2 {
			t.Errorf("%s: centre %v, radius %v", c.name, arc.Centre, arc.Radius)
		}
		if d := arc.Sweep/(2*math.Pi) - c.turns; math.Abs(d) > 1e-9 {
			t.Errorf("%s: %v turns", c.name, arc.Sweep/(2*math.Pi))
		}
		length := arc.Length()
		if want := math.Abs(c.turns) * 2 * math.Pi * float64(r); math.Abs(float64(length)-want) > 8 {
			t.Errorf("%s: %v long, want %v nm", c.name, length, want)
		}
		if got := float64(arc.Chord(length)) / float64(r); math.Abs(got-c.chord) > 1e-8 {
			t.Errorf("%s: chord of %v radii, want %v", c.name, got, c.chord)
		}
		if got := float64(arc.Rise(length)) / float64(r); math.Abs(got-c.rise) > 1e-8 {
			t.Errorf("%s: rise of %v radii, want %v", c.name, got, c.rise)
		}
		if !near(arc.Global(0, 0), c.a, 3) || !near(arc.Global(length, 0), c.b, 3) {
			t.Errorf("%s: runs from %v to %v", c.name, arc.Global(0, 0), arc.Global(length, 0))
		}
	}
	if _, ok := geom.ArcThrough(geom.Pt(0, 0), geom.Pt(1000*mm, 0), geom.Pt(2000*mm, 0)); ok {
		t.Error("three points on a line make an arc")
	}
	if _, ok := geom.ArcThrough(geom.Pt(0, 0), geom.Pt(0, 0), geom.Pt(2000*mm, 0)); ok {
		t.Error("a via at the start makes an arc")
	}
}

// arc draws an arc of any turn and a radius fit for walls.
func arc(t *rapid.T) geom.Arc {
	c := point(t, "centre")
	from := rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "from")
	a := geom.Arc{
		Centre: c, Radius: quantity.Length(rapid.Int64Range(300, 40_000).Draw(t, "radius")) * mm,
		From: from, Sweep: rapid.Float64Range(0.02, 6).Draw(t, "sweep"),
	}
	if rapid.Bool().Draw(t, "right") {
		a.Sweep = -a.Sweep
	}
	return a
}

// Whatever arc three of its points are taken from, they give it back.
func TestArcThroughItsOwnPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := arc(t)
		l := a.Length()
		b, ok := geom.ArcThrough(a.Global(0, 0), a.Global(l*2/5, 0), a.Global(l, 0))
		if !ok {
			t.Skip("too flat")
		}
		// Rounding moves the middle point by a nanometre, and the radius by that
		// over the square of the angle.
		give := quantity.Length(20 / (a.Sweep * a.Sweep))
		if (b.Radius-a.Radius).Abs() > 10+give || math.Signbit(a.Sweep) != math.Signbit(b.Sweep) || (b.Length()-l).Abs() > 100 {
			t.Fatalf("%+v came back as %+v", a, b)
		}
	})
}

// Points at a distance v from the arc lie on the circle of that radius, and
// their coordinates come back.
func TestArcCoordinates(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := arc(t)
		u := quantity.Length(rapid.Float64Range(0, 1).Draw(t, "share") * float64(a.Length()))
		v := quantity.Length(rapid.Int64Range(-250, 250).Draw(t, "v")) * mm
		p := a.Global(u, v)
		if d := (p.Dist(a.Centre) - a.RadiusAt(v)).Abs(); d > 2 {
			t.Fatalf("the point lies %d nm off its circle", d)
		}
		local := a.Local(p)
		give := 4 + 2*a.Radius/max(a.RadiusAt(v), 1)
		if (local.X-u).Abs() > give || (local.Y-v).Abs() > 2 {
			t.Fatalf("%v, %v came back as %v", u, v, local)
		}
		if got, want := float64(a.Along(u, v)), float64(u)*float64(a.RadiusAt(v))/float64(a.Radius); math.Abs(got-want) > 0.51 {
			t.Fatalf("%v long at %v, want %v", got, v, want)
		}
		if got := a.Under(a.Chord(u)); float64(u) < math.Pi*float64(a.Radius)*0.99 && (got-u).Abs() > 100 {
			t.Fatalf("chord of %v spans %v", u, got)
		}
		f := a.Tangent(u)
		if q := f.Local(p); (q.X-u).Abs() > 5 || (q.Y-v).Abs() > 5 {
			t.Fatalf("in the tangent's frame %v, %v is %v", u, v, q)
		}
	})
}

// No point that is drawn lies farther from the arc than the tolerance, nor does
// the middle between two neighbours.
func TestArcPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := arc(t)
		const tolerance = mm
		points := a.Points(geom.Interval{To: a.Length()}, 0, tolerance)
		for i, p := range points[1:] {
			q := geom.Pt((p.X+points[i].X)/2, (p.Y+points[i].Y)/2)
			if d := a.Radius - q.Dist(a.Centre); d > tolerance+4 || d < -4 {
				t.Fatalf("a chord lies %s mm inside", d)
			}
		}
		box := a.Bounds().Grow(3)
		for _, p := range points {
			if !box.Overlaps(geom.Bounds(p)) {
				t.Fatalf("%v lies outside the bounds %v", p, box)
			}
		}
	})
}

// A line through the centre crosses at the radius; lines and circles agree with
// Pythagoras (a 3-4-5 triangle, in metres).
func TestArcCrossings(t *testing.T) {
	const m = quantity.Metre
	half, _ := geom.ArcThrough(geom.Pt(5*m, 0), geom.Pt(0, 5*m), geom.Pt(-5*m, 0))
	us := half.Crossings(geom.Segment{A: geom.Pt(-9*m, 3*m), B: geom.Pt(9*m, 3*m)})
	if len(us) != 2 || !near(half.Global(us[0], 0), geom.Pt(4*m, 3*m), 5) || !near(half.Global(us[1], 0), geom.Pt(-4*m, 3*m), 5) {
		t.Errorf("crossings at %v", us)
	}
	if us := half.Crossings(geom.Segment{A: geom.Pt(0, 0), B: geom.Pt(9*m, 1)}); len(us) != 1 {
		t.Errorf("a radius crosses %d times", len(us))
	}
	if us := half.Crossings(geom.Segment{A: geom.Pt(-9*m, -1*m), B: geom.Pt(9*m, -1*m)}); len(us) != 0 {
		t.Errorf("a line below crosses %d times", len(us))
	}
	got := geom.CircleCircle(geom.Pt(0, 0), 5*m, geom.Pt(6*m, 0), 5*m)
	if !slices.Equal(got, []geom.Point{geom.Pt(3*m, -4*m), geom.Pt(3*m, 4*m)}) {
		t.Errorf("circles meet at %v", got)
	}
	if geom.CircleCircle(geom.Pt(0, 0), 1*m, geom.Pt(6*m, 0), 2*m) != nil || geom.CircleLine(geom.Pt(0, 0), 1*m, geom.Pt(0, 2*m), geom.Vec{X: 1}) != nil {
		t.Error("what lies apart meets")
	}
}
