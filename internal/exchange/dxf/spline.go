package dxf

import "math"

// Limits of curves that are drawn as rows of lines.
const (
	mostControls = 5000
	perControl   = 6 // lines a control point
)

// ellipse draws an ellipse or a part of one; its axes lie in world coordinates.
func (d *drawer) ellipse(r record, at place) {
	centre, major := r.point(10), r.point(11)
	minor := major.left().times(r.or(40, 1))
	if r.or(230, 1) < 0 {
		minor = minor.times(-1)
	}
	from, to := r.or(41, 0), r.or(42, 2*math.Pi)
	for to <= from && !(from == 0 && to == 0) && to > from-100 {
		to += 2 * math.Pi
	}
	d.elliptic(centre, major, minor, from, min(to-from, 2*math.Pi), at)
}

// elliptic draws a part of an ellipse by its axes, as an arc where it is one.
func (d *drawer) elliptic(centre, major, minor vec, from, sweep float64, at place) {
	if sweep <= 0 || major.length() == 0 {
		return
	}
	p := at
	p.affine = at.after(affine{major, minor, centre})
	d.curve(arc{radius: 1, from: from, sweep: sweep}, p)
}

// spline draws a B-spline through its control points, or the line through its fit
// points where it has no others.
func (d *drawer) spline(r record, at place) {
	var knots, weights []float64
	var controls, fits []vec
	for _, t := range r.tags {
		switch t.code {
		case 40:
			knots = append(knots, t.float())
		case 41:
			weights = append(weights, t.float())
		case 10:
			controls = append(controls, vec{x: t.float()})
		case 20:
			setY(controls, t)
		case 11:
			fits = append(fits, vec{x: t.float()})
		case 21:
			setY(fits, t)
		}
	}
	points := bspline(r.int(71), knots, controls, weights)
	if points == nil {
		points = fits
	}
	for i := 1; i < len(points); i++ {
		d.line(at, points[i-1], points[i])
	}
}

func setY(points []vec, t tag) {
	if n := len(points); n > 0 {
		points[n-1].y = t.float()
	}
}

// bspline returns points along a B-spline, rational where it has weights; nothing where
// its numbers do not fit together.
func bspline(degree int, knots []float64, controls []vec, weights []float64) []vec {
	n := len(controls)
	if degree < 1 || degree > 10 || n <= degree || n > mostControls || len(knots) != n+degree+1 {
		return nil
	}
	if degree == 1 {
		return controls
	}
	lo, hi := knots[degree], knots[n]
	steps := perControl * n
	var out []vec
	for i := range steps + 1 {
		u := lo + (hi-lo)*float64(i)/float64(steps)
		if p, ok := deBoor(degree, knots, controls, weights, u); ok {
			out = append(out, p)
		}
	}
	return out
}

// deBoor returns the point at a parameter (C. de Boor, A Practical Guide to Splines).
func deBoor(degree int, knots []float64, controls []vec, weights []float64, u float64) (vec, bool) {
	k := degree
	for k < len(controls)-1 && u >= knots[k+1] {
		k++
	}
	at := make([]vec, degree+1)
	weight := make([]float64, degree+1)
	for j := range at {
		i := k - degree + j
		weight[j] = 1
		if i < len(weights) && len(weights) == len(controls) {
			weight[j] = weights[i]
		}
		at[j] = controls[i].times(weight[j])
	}
	for r := 1; r <= degree; r++ {
		for j := degree; j >= r; j-- {
			i := k - degree + j
			share := 0.0
			if width := knots[i+degree-r+1] - knots[i]; width > 0 {
				share = (u - knots[i]) / width
			}
			at[j] = at[j-1].times(1 - share).add(at[j].times(share))
			weight[j] = weight[j-1]*(1-share) + weight[j]*share
		}
	}
	p := at[degree].times(1 / weight[degree])
	return p, weight[degree] != 0 && p.finite()
}

// multiLine draws the parallel lines of a multi-line: each runs through points that lie
// on the miter of every corner, as far from it as its first parameter says.
func (d *drawer) multiLine(r record, at place) {
	type corner struct {
		at, miter vec
		offsets   []float64
		fresh     bool // the next parameter is an offset
	}
	var corners []corner
	for _, t := range r.tags {
		n := len(corners) - 1
		switch {
		case t.code == 11:
			corners = append(corners, corner{at: vec{x: t.float()}})
		case n < 0:
		case t.code == 21:
			corners[n].at.y = t.float()
		case t.code == 13:
			corners[n].miter.x = t.float()
		case t.code == 23:
			corners[n].miter.y = t.float()
		case t.code == 74:
			corners[n].fresh = t.int() > 0
		case t.code == 41 && corners[n].fresh:
			corners[n].offsets, corners[n].fresh = append(corners[n].offsets, t.float()), false
		}
	}
	sides := len(corners) - 1
	if r.int(71)&2 != 0 {
		sides++
	}
	for i := range max(0, sides) {
		a, b := corners[i], corners[(i+1)%len(corners)]
		for k := range min(len(a.offsets), len(b.offsets)) {
			d.line(at, a.at.add(a.miter.times(a.offsets[k])), b.at.add(b.miter.times(b.offsets[k])))
		}
	}
}
