package drawing

import "math"

func hypot(p Point) float64 { return math.Hypot(p.X, p.Y) }

// ClipSegment returns the part of a line inside a rectangle, and whether there
// is any (Liang and Barsky's method).
func ClipSegment(s Segment, r Rect) (Segment, bool) {
	t0, t1 := 0.0, 1.0
	dx, dy := s.B.X-s.A.X, s.B.Y-s.A.Y
	ok := clipEdge(-dx, s.A.X-r.Min.X, &t0, &t1) &&
		clipEdge(dx, r.Max.X-s.A.X, &t0, &t1) &&
		clipEdge(-dy, s.A.Y-r.Min.Y, &t0, &t1) &&
		clipEdge(dy, r.Max.Y-s.A.Y, &t0, &t1)
	if !ok {
		return Segment{}, false
	}
	return Segment{s.A.Add(t0*dx, t0*dy), s.A.Add(t1*dx, t1*dy)}, true
}

func clipEdge(den, num float64, t0, t1 *float64) bool {
	if den == 0 {
		return num >= 0
	}
	t := num / den
	if den < 0 {
		*t0 = max(*t0, t)
	} else {
		*t1 = min(*t1, t)
	}
	return *t0 <= *t1
}

// ClipPolygon returns the part of a polygon inside a rectangle (Sutherland and
// Hodgman's method); nil if there is none. Parts that are joined only along
// the rectangle's edge stay joined.
func ClipPolygon(poly []Point, r Rect) []Point {
	inside := [4]func(Point) float64{
		func(p Point) float64 { return p.X - r.Min.X },
		func(p Point) float64 { return r.Max.X - p.X },
		func(p Point) float64 { return p.Y - r.Min.Y },
		func(p Point) float64 { return r.Max.Y - p.Y },
	}
	for _, dist := range inside {
		poly = clipHalf(poly, dist)
	}
	if len(poly) < 3 {
		return nil
	}
	return poly
}

func clipHalf(poly []Point, dist func(Point) float64) []Point {
	var out []Point
	for i, b := range poly {
		a := poly[(i+len(poly)-1)%len(poly)]
		da, db := dist(a), dist(b)
		if (da < 0) != (db < 0) {
			t := da / (da - db)
			out = append(out, Point{a.X + t*(b.X-a.X), a.Y + t*(b.Y-a.Y)})
		}
		if db >= 0 {
			out = append(out, b)
		}
	}
	return out
}
