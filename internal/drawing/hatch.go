package drawing

import (
	"math"
	"slices"
)

// Hatch returns parallel lines that fill a polygon by the even-odd rule. Angle
// is in degrees counter-clockwise from x, spacing in mm. Lines of neighbouring
// areas with the same angle and spacing run on into each other.
func Hatch(poly []Point, angle, spacing float64) []Segment {
	if len(poly) < 3 || spacing <= 0 {
		return nil
	}
	sin, cos := math.Sincos(angle * math.Pi / 180)
	along := Point{cos, -sin}
	across := Point{sin, cos}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range poly {
		d := p.X*across.X + p.Y*across.Y
		lo, hi = min(lo, d), max(hi, d)
	}
	var out []Segment
	for i := math.Ceil(lo / spacing); i*spacing < hi; i++ {
		out = append(out, hatchLine(poly, along, across, i*spacing)...)
	}
	return out
}

// hatchLine returns the stretches inside the polygon of the line at distance d.
func hatchLine(poly []Point, along, across Point, d float64) []Segment {
	var cuts []float64
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		da := a.X*across.X + a.Y*across.Y - d
		db := b.X*across.X + b.Y*across.Y - d
		if (da < 0) == (db < 0) {
			continue
		}
		t := da / (da - db)
		x, y := a.X+t*(b.X-a.X), a.Y+t*(b.Y-a.Y)
		cuts = append(cuts, x*along.X+y*along.Y)
	}
	slices.Sort(cuts)
	var out []Segment
	for i := 0; i+1 < len(cuts); i += 2 {
		out = append(out, Segment{onLine(along, across, cuts[i], d), onLine(along, across, cuts[i+1], d)})
	}
	return out
}

func onLine(along, across Point, t, d float64) Point {
	return Point{t*along.X + d*across.X, t*along.Y + d*across.Y}
}

// Batt returns the wave by which building drawings show soft insulation: loops
// that go to and fro between the two long sides of an upright rectangle.
func Batt(r Rect) []Point {
	depth := r.Height()
	if depth <= 0 || r.Width() <= 0 {
		return nil
	}
	waves := max(1, math.Round(r.Width()/(depth*0.55)))
	pitch := r.Width() / waves
	var out []Point
	const steps = 12 // straight lines in one wave
	for i := 0; i <= int(waves)*steps; i++ {
		phase := 2 * math.Pi * float64(i) / steps
		// The second term leans the flanks over, which makes loops of a sine.
		x := r.Min.X + pitch*(float64(i)/steps+0.16*math.Sin(2*phase))
		out = append(out, Point{x, r.Centre().Y - depth/2*math.Cos(phase)})
	}
	return out
}
