package composite

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	_ "nogging/internal/draws"
	"nogging/internal/proof/sound/band"
	"nogging/internal/quantity"
	"nogging/internal/validation"
)

const byHand = "reckoned by hand from the equation named"

func TestDoorInWall(t *testing.T) {
	m2 := quantity.SquareMetre
	for _, tt := range []struct{ wall, door, want quantity.Decibel }{{50, 30, 37.7}, {60, 30, 37.9}, {50, 42, 47.3}} {
		got := Reduction(Part{10.5 * m2, tt.wall}, Part{2 * m2, tt.door})
		validation.Check(t, validation.Case{Method: "Composite walls", Name: fmt.Sprintf("12.5 m² of %g dB with a door of 2 m² and %g dB", tt.wall, tt.door),
			Source: Source + ", " + byHand, Status: validation.Regression, Unit: "dB", Expected: float64(tt.want), Got: float64(got), Tolerance: 0.05})
	}
}

// A slit of 1 mm, 100 mm deep, along an edge; alone and, 5 m of it, in 12.5 m² of
// a wall of 50 dB.
func TestSlit(t *testing.T) {
	const source = "Sound Insulation (2007), equation 4.99, " + byHand
	alone := map[quantity.Frequency]float64{125: 1.9, 250: 4.6, 500: 6.6, 1000: 4.9, 2000: -2.1, 3150: -8.4}
	inWall := map[quantity.Frequency]float64{125: 35.7, 250: 38.3, 500: 40.1, 1000: 38.5, 2000: 31.8, 3150: 25.6}
	var wall band.Spectrum
	for i := range wall {
		wall[i] = 50
	}
	leaking := Leaking(&wall, 12.5*quantity.SquareMetre, 5*quantity.Metre, quantity.Millimetre, quantity.MM(100), AlongEdge)
	for i := range band.Count {
		f := band.Frequency(i)
		want, asked := alone[f]
		if !asked {
			continue
		}
		got := -10 * math.Log10(Slit(f, quantity.Millimetre, quantity.MM(100), AlongEdge))
		for _, c := range []validation.Case{
			{Name: fmt.Sprintf("slit of 1 mm, 100 mm deep, %g Hz", f), Expected: want, Got: got},
			{Name: fmt.Sprintf("5 m of it in 12.5 m² of 50 dB, %g Hz", f), Expected: inWall[f], Got: float64(leaking[i])},
		} {
			c.Method, c.Source, c.Status, c.Unit, c.Tolerance = "Composite walls", source, validation.Regression, "dB", 0.051
			validation.Check(t, c)
		}
	}
}

// The whole lies between its best and its worst part, and a door that is made
// better costs less.
func TestBetween(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(0, 80)
		wall := Part{quantity.Area(rapid.Float64Range(1e6, 50e6).Draw(t, "wall")), quantity.Decibel(r.Draw(t, "R wall"))}
		door := Part{quantity.Area(rapid.Float64Range(1e5, 5e6).Draw(t, "door")), quantity.Decibel(r.Draw(t, "R door"))}
		got := Reduction(wall, door)
		if got < min(wall.Reduction, door.Reduction)-1e-9 || got > max(wall.Reduction, door.Reduction)+1e-9 {
			t.Fatal(got)
		}
		if cost := Cost(1, wall, door); math.Abs(float64(got+cost-wall.Reduction)) > 1e-9 {
			t.Fatal(cost)
		}
	})
}
