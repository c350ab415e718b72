package beam_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	_ "nogging/internal/draws"
	"nogging/internal/proof/structure/beam"
)

func near(t interface{ Errorf(string, ...any) }, what string, got, want, share float64) {
	if math.Abs(got-want) > share*math.Abs(want) {
		t.Errorf("%s: %.8g, want %.8g", what, got, want)
	}
}

// Check cases 1.4a and 1.4c of the reference, derived from DIN 4103-1: 0.5 kN/m
// at 0.9 m, studs at 0.625 m, 3 m high.
func TestPoint(t *testing.T) {
	p := beam.Point{P: 312.5, A: .9}
	near(t, "moment", p.Moment(3), 196.9, .001)
	near(t, "deflection", p.Deflection(3, 1000), .14096, .001)
}

// At midspan the closed form is the handbooks' P l³/48 EI, and the places of
// load and mirror image deflect alike.
func TestPointMirrored(t *testing.T) {
	near(t, "midspan", beam.Point{P: 1, A: 2}.Deflection(4, 1), 64.0/48, 1e-12)
	rapid.Check(t, func(t *rapid.T) {
		l := rapid.Float64Range(.5, 10).Draw(t, "l")
		a := rapid.Float64Range(.01, .99).Draw(t, "a") * l
		near(t, "mirror", beam.Point{P: 1, A: a}.Deflection(l, 1), beam.Point{P: 1, A: l - a}.Deflection(l, 1), 1e-9)
	})
}

// A partial load over the whole span is the uniform load; one over a short
// stretch is nearly the point load.
func TestPartialLimits(t *testing.T) {
	near(t, "uniform moment", beam.Partial{W: 120, To: 3}.Moment(3), beam.UniformMoment(120, 3), 1e-12)
	near(t, "uniform deflection", beam.Partial{W: 120, To: 3}.Deflection(3, 50), beam.UniformDeflection(120, 3, 50), 1e-9)
	short := beam.Partial{W: 1e5, From: .9 - 5e-6, To: .9 + 5e-6}
	near(t, "point moment", short.Moment(3), beam.Point{P: 1, A: .9}.Moment(3), 1e-5)
	near(t, "point deflection", short.Deflection(3, 50), beam.Point{P: 1, A: .9}.Deflection(3, 50), 1e-5)
}

// The greatest values are those of a fine scan: moments and deflections along
// the span integrated from the equilibrium of its parts.
func TestGreatestByScan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := rapid.Float64Range(1, 8).Draw(t, "l")
		from := rapid.Float64Range(0, .8).Draw(t, "from") * l
		p := beam.Partial{W: 100, From: from, To: from + rapid.Float64Range(.05, 1).Draw(t, "share")*(l-from)}
		foot, head := p.Reactions(l)
		near(t, "balance", foot+head, p.W*(p.To-p.From), 1e-9)
		moment, deflection := 0.0, 0.0
		for i := range 2001 {
			x := l * float64(i) / 2000
			loaded := math.Max(math.Min(x, p.To)-p.From, 0)
			m := foot*x - p.W*loaded*(x-p.From-loaded/2)
			d, _ := p.At(x, l, 1)
			moment, deflection = math.Max(moment, m), math.Max(deflection, d)
		}
		near(t, "moment", p.Moment(l), moment, 1e-4)
		near(t, "deflection", p.Deflection(l, 1), deflection, 1e-5)
		end, _ := p.At(l, l, 1)
		if math.Abs(end) > 1e-6*deflection {
			t.Errorf("the head moves by %g", end)
		}
	})
}

func TestUniformSpan(t *testing.T) {
	l := beam.UniformSpan(120, 21000, 240)
	near(t, "at the limit", beam.UniformDeflection(120, l, 21000), l/240, 1e-12)
}

func TestCouple(t *testing.T) {
	near(t, "couple", beam.CoupleMoment(120, 1, 3), 80, 1e-12)
}
