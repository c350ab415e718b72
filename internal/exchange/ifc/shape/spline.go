package shape

import (
	"nogging/internal/exchange/ifc/step"
)

// Limits of splines.
const (
	maxDegree  = 12
	perSpan    = 8 // chords for each span between knots
	mostPoints = 2000
)

// spline computes an IfcBSplineCurveWithKnots or its rational kind as chords, by
// de Boor's algorithm in homogeneous coordinates.
func (m *Model) spline(args step.Args, rational bool) (Curve, error) {
	degree, _ := args.At(0).Int()
	var poles [][4]float64
	for item := range args.At(1).Items() {
		p, ok := m.point(item)
		if !ok {
			return Curve{}, ErrBroken
		}
		poles = append(poles, [4]float64{p.X, p.Y, p.Z, 1})
	}
	if rational {
		i := 0
		for item := range args.At(8).Items() {
			w, ok := item.Real()
			if !ok || !(w > 0) || i >= len(poles) {
				return Curve{}, ErrBroken
			}
			for k := range poles[i] {
				poles[i][k] *= w
			}
			i++
		}
	}
	knots := knotsOf(args.At(5), args.At(6), len(poles)+degree+1)
	if degree < 1 || degree > maxDegree || len(poles) <= degree || len(poles) > mostPoints || len(knots) != len(poles)+degree+1 {
		return Curve{}, ErrBroken
	}
	c := Curve{Curved: degree > 1}
	for i := degree; i < len(poles); i++ {
		if knots[i+1] <= knots[i] {
			continue
		}
		for k := range perSpan + 1 {
			t := knots[i] + (knots[i+1]-knots[i])*float64(k)/perSpan
			c.Points = append(c.Points, deBoor(poles, knots, degree, i, t))
		}
		if err := m.spend(perSpan * degree); err != nil {
			return Curve{}, err
		}
	}
	return c, nil
}

// knotsOf returns each knot as often as its multiplicity says; none where they
// do not ascend or are not as many as they should be.
func knotsOf(multiplicities, values step.Value, want int) []float64 {
	var times []int
	for item := range multiplicities.Items() {
		n, _ := item.Int()
		times = append(times, n)
	}
	var knots []float64
	i := 0
	for item := range values.Items() {
		v, ok := item.Real()
		if !ok || i >= len(times) || times[i] < 0 || len(knots)+times[i] > want || len(knots) > 0 && v < knots[len(knots)-1] {
			return nil
		}
		for range times[i] {
			knots = append(knots, v)
		}
		i++
	}
	return knots
}

// deBoor returns the point of a spline at t, which lies in the span after knot
// number k.
func deBoor(poles [][4]float64, knots []float64, degree, k int, t float64) Vec {
	var d [maxDegree + 1][4]float64
	copy(d[:], poles[k-degree:k+1])
	for r := 1; r <= degree; r++ {
		for j := degree; j >= r; j-- {
			low, high := knots[j+k-degree], knots[j+1+k-r]
			a := 0.0
			if high > low {
				a = (t - low) / (high - low)
			}
			for x := range d[j] {
				d[j][x] = (1-a)*d[j-1][x] + a*d[j][x]
			}
		}
	}
	p := d[degree]
	return Vec{p[0], p[1], p[2]}.Times(1 / p[3])
}
