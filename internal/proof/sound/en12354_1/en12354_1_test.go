package en12354_1

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	_ "nogging/internal/draws"
	"nogging/internal/quantity"
	"nogging/internal/validation"
)

// EN 12354-1:2000, annex H.3.
func TestWorkedExample(t *testing.T) {
	m := quantity.Metres
	wall := Wall{57, 11.5 * quantity.SquareMetre}
	flanks := []Flank{
		{Name: "floor", Rw: 49, Along: 12.4, RoundA: 8.9, Length: m(4.5)},
		{Name: "ceiling", Rw: 46, Along: 14.4, RoundA: 9.2, Length: m(4.5)},
		{Name: "facade", Rw: 42, Along: 12.6, RoundA: 6.7, Length: m(2.55)},
		{Name: "internal wall", Rw: 33, Along: 33.5, RoundA: 15.7, Length: m(2.55)},
	}
	apparent, paths := Apparent(wall, flanks)
	check := func(name string, want, tolerance float64, got quantity.Decibel) {
		validation.Check(t, validation.Case{Method: Source, Name: "annex H.3: " + name, Source: Source + ", annex H.3, as transcribed in the reference data of an open-source acoustics library",
			Status: validation.Reworked, Unit: "dB", Expected: want, Got: float64(got), Tolerance: tolerance})
	}
	want := []float64{57, 65.5, 66.0, 66.0, 64.5, 64.8, 64.8, 61.1, 62.7, 62.7, 73.0, 67.2, 67.2}
	for i, p := range paths {
		check(p.Name, want[i], 0.1, p.Reduction)
	}
	check("R'w", 52, 0, quantity.Decibel(math.Round(float64(apparent))))
	dnt := Standardised(apparent, 50, wall.Area)
	check("DnT,w before rounding (the standard takes V/(3 S) for 0.32 V/S)", 53.8, 0.25, dnt)
	check("DnT,w", 54, 0, quantity.Decibel(math.Round(float64(dnt))))
}

// A light wall between framed flanks.
func TestFramedFlanks(t *testing.T) {
	m := quantity.Metres
	var flanks []Flank
	for range 2 {
		flanks = append(flanks, Flank{Name: "wall", Framed: true, DnfW: 53, LabLength: m(2.8), Length: m(2.5)},
			Flank{Name: "floor", Framed: true, DnfW: 60, LabLength: m(4.5), Length: m(5)})
	}
	wall := Wall{52, 12.5 * quantity.SquareMetre}
	apparent, _ := Apparent(wall, flanks)
	for _, c := range []validation.Case{
		{Name: "light wall of Rw 52 between framed flanks: R'w", Expected: 48.2, Got: float64(apparent)},
		{Name: "the same: DnT,w", Expected: 49.2, Got: float64(Standardised(apparent, 50, wall.Area))},
	} {
		c.Method, c.Source, c.Status, c.Unit, c.Tolerance = Source, "reckoned by hand from the formulae", validation.Regression, "dB", 0.05
		validation.Check(t, c)
	}
}

func TestAtLightWall(t *testing.T) {
	if _, _, err := AtLightWall(50, 150); !errors.Is(err, ErrTooLight) {
		t.Error(err)
	}
	along, round, err := AtLightWall(46, 460) // M = -1
	if err != nil || math.Abs(float64(along)+5.4) > 1e-9 || math.Abs(float64(round)-20) > 1e-9 {
		t.Error(along, round, err)
	}
	if got := Least(m(4), 20*quantity.SquareMetre, 20*quantity.SquareMetre); math.Abs(float64(got)+3.979) > 0.001 {
		t.Error(got)
	}
}

func m(v float64) quantity.Length { return quantity.Metres(v) }

// Flanks never make a wall better, nor does a better wall ever do worse.
func TestFlanksTake(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := func(label string) quantity.Decibel {
			return quantity.Decibel(rapid.Float64Range(20, 80).Draw(t, label))
		}
		w := Wall{r("wall"), quantity.Area(rapid.Float64Range(5e6, 30e6).Draw(t, "area"))}
		flanks := []Flank{
			{Rw: r("slab"), Along: 5, RoundA: 10, Length: m(4)},
			{Framed: true, DnfW: r("framed"), LabLength: m(2.8), Length: m(2.6)},
		}
		got, _ := Apparent(w, flanks)
		fewer, _ := Apparent(w, flanks[:1])
		better := w
		better.Rw += 3
		more, _ := Apparent(better, flanks)
		if got > w.Rw || got > fewer || more < got {
			t.Fatal(got, fewer, more)
		}
	})
}
