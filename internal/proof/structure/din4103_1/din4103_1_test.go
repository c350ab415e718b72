package din4103_1_test

import (
	"testing"

	"nogging/internal/proof/structure/beam"
	"nogging/internal/proof/structure/din4103_1"
	"nogging/internal/validation"
)

// Check cases 1.4a, 1.4b and 1.4d: a wall 3.0 m high with studs at 0.625 m. The
// loads are the standard's, the moments reckoned from them.
func TestLoads(t *testing.T) {
	const method = "DIN 4103-1:2015"
	for zone, want := range map[int][2]float64{1: {500, 196.9}, 2: {1000, 393.8}} {
		q, _ := din4103_1.LineLoad(zone)
		p := beam.Point{P: float64(q) * .625, A: din4103_1.LineHeight.Metres()}
		name := map[int]string{1: "zone 1", 2: "zone 2"}[zone]
		validation.Check(t, validation.Case{Method: method, Name: name + ": line load", Source: "DIN 4103-1 5.2", Status: validation.Read, Unit: "N/m", Expected: want[0], Got: float64(q)})
		validation.Check(t, validation.Case{Method: method, Name: name + ": moment of a stud, 3.0 m high, at 625 mm", Source: "statics: P a (H - a)/H", Status: validation.Regression, Unit: "N·m", Expected: want[1], Got: p.Moment(3), Tolerance: .06})
		validation.Check(t, validation.Case{Method: method, Name: name + ": design moment of that stud", Source: "factor 1.5 for bending", Status: validation.Regression, Unit: "N·m", Expected: want[1] * 1.5, Got: p.Moment(3) * din4103_1.LoadFactor, Tolerance: .1})
	}
	m := float64(din4103_1.LightConsole) * din4103_1.ConsoleLever.Metres()
	validation.Check(t, validation.Case{Method: method, Name: "light console: moment per metre", Source: "DIN 4103-1 5: 0.4 kN/m at 0.3 m", Status: validation.Read, Unit: "N·m/m", Expected: 120, Got: m})
	if _, ok := din4103_1.LineLoad(3); ok {
		t.Error("there is no zone 3")
	}
}
