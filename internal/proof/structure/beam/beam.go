// Package beam gives the exact moments, shears and deflections of a simply
// supported member with constant stiffness, by the elementary theory of bending
// (Euler and Bernoulli). It takes the load where it stands, and the span, and
// gives the greatest values wherever they lie, not those at midspan.
//
// Lengths are in metres from the foot, forces in N, stiffness EI in N·m²,
// deflections in metres.
package beam

import "math"

// Point is a force at one place.
type Point struct {
	P float64 // N
	A float64 // m from the foot
}

// Reactions returns the forces at foot and head. A force beyond the span is
// not on the member.
func (p Point) Reactions(l float64) (foot, head float64) {
	if p.A < 0 || p.A > l {
		return 0, 0
	}
	return p.P * (l - p.A) / l, p.P * p.A / l
}

// Moment returns the greatest moment, which is under the force.
func (p Point) Moment(l float64) float64 {
	foot, _ := p.Reactions(l)
	return foot * p.A
}

// Deflection returns the greatest deflection, which lies between the force and
// midspan.
func (p Point) Deflection(l, ei float64) float64 {
	if p.A < 0 || p.A > l {
		return 0
	}
	b := math.Min(p.A, l-p.A) // from the nearer support
	square := l*l - b*b
	return p.P * b * square * math.Sqrt(square) / (9 * math.Sqrt(3) * l * ei)
}

// UniformMoment returns the greatest moment under w in N/m all along.
func UniformMoment(w, l float64) float64 { return w * l * l / 8 }

// UniformShear returns the reaction under w in N/m all along.
func UniformShear(w, l float64) float64 { return w * l / 2 }

// UniformDeflection returns the greatest deflection under w in N/m all along.
func UniformDeflection(w, l, ei float64) float64 { return 5 * w * l * l * l * l / (384 * ei) }

// UniformSpan returns the greatest span whose deflection under w is at most
// 1/n of it.
func UniformSpan(w, ei, n float64) float64 { return math.Cbrt(384 * ei / (5 * w * n)) }

// CoupleMoment returns the greatest moment of a couple m (N·m) that turns the
// member at a distance a from its foot.
func CoupleMoment(m, a, l float64) float64 { return m * math.Max(a, l-a) / l }

// Partial is a load of W N/m from one place to another.
type Partial struct{ W, From, To float64 }

func (p Partial) total() float64 { return p.W * (p.To - p.From) }

func (p Partial) middle() float64 { return (p.From + p.To) / 2 }

// Reactions returns the forces at foot and head. The load has to lie on the
// span.
func (p Partial) Reactions(l float64) (foot, head float64) {
	head = p.total() * p.middle() / l
	return p.total() - head, head
}

// Moment returns the greatest moment, which is where the shear is 0: inside the
// load.
func (p Partial) Moment(l float64) float64 {
	foot, _ := p.Reactions(l)
	if p.W == 0 {
		return 0
	}
	into := foot / p.W
	return foot * (p.From + into/2)
}

// At returns deflection and slope at x, by the integrals of the moment.
func (p Partial) At(x, l, ei float64) (deflection, slope float64) {
	foot, _ := p.Reactions(l)
	start := p.footSlope(foot, l)
	deflection = start*x - foot*x*x*x/6
	slope = start - foot*x*x/2
	if d := x - p.From; d > 0 {
		deflection += p.W * d * d * d * d / 24
		slope += p.W * d * d * d / 6
	}
	if d := x - p.To; d > 0 {
		deflection -= p.W * d * d * d * d / 24
		slope -= p.W * d * d * d / 6
	}
	return deflection / ei, slope / ei
}

// footSlope returns EI times the slope at the foot, from no deflection at the
// head.
func (p Partial) footSlope(foot, l float64) float64 {
	a, b := l-p.From, l-p.To
	return (foot*l*l*l/6 - p.W*(a*a*a*a-b*b*b*b)/24) / l
}

// Deflection returns the greatest deflection. The slope falls all along, so its
// one zero is found by halving.
func (p Partial) Deflection(l, ei float64) float64 {
	low, high := 0.0, l
	for range 60 {
		mid := (low + high) / 2
		if _, slope := p.At(mid, l, ei); slope > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	d, _ := p.At((low+high)/2, l, ei)
	return d
}
