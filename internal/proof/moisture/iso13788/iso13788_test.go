package iso13788

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	_ "nogging/internal/draws"
	"nogging/internal/quantity"
	"nogging/internal/validation"
)

const (
	source = "worked test case of ISO 13788:2002 in an open building-physics code, reckoned again from its inputs"
	method = "ISO 13788"
)

func check(t *testing.T, name, unit string, want, got, tolerance float64) {
	t.Helper()
	validation.Check(t, validation.Case{
		Method: method, Name: name, Unit: unit, Source: source, Status: validation.Reworked,
		Expected: want, Got: got, Tolerance: tolerance,
	})
}

// worked is the wall of the test case, from outside to inside.
var worked = Wall{Cold: 0.04, Warm: 0.13, Layers: []Layer{
	{0.16491754, 1.10}, {0.02439024, 0.10}, {0.80, 0.60}, {0.06741573, 0.30}, {0.01754386, 0.06},
}}

var january = Month{Cold: Air{5, 0.96}, Warm: Air{20, 0.55}, Days: 30}

func TestWorkedCase(t *testing.T) {
	check(t, "resistance", "m²K/W", 1.24426738, float64(worked.Resistance()), 1e-8)
	for i, want := range []float64{5, 5.4822, 7.4703, 7.7644, 17.4086, 18.2213, 18.4328, 20} {
		check(t, "temperature of plane "+string(rune('0'+i)), "°C", want, float64(worked.Temperatures(5, 20)[i]), 5e-5)
	}
	check(t, "vapour pressure outside", "Pa", 836.99, float64(january.Cold.Pressure()), 0.005)
	check(t, "vapour pressure inside", "Pa", 1285.32, float64(january.Warm.Pressure()), 0.005)
	p := worked.planes(january)
	for i, want := range []float64{901.65, 1034.14, 1055.12, 1987.36, 2091.71, 2119.64} {
		check(t, "saturation at plane "+string(rune('1'+i)), "Pa", want, p.saturated[i], 0.005)
	}
	rates := p.rates(p.pressures(make([]float64, 6)))
	check(t, "condensation at the first plane", "kg/m²s", 6.1207e-9, rates[1], 5e-14)
	check(t, "condensation at the second plane", "kg/m²s", 5.9925e-9, rates[2], 5e-14)
	water := worked.Year([]Month{january})
	check(t, "condensate of a month of 30 days", "g/m²", 31.3975, 1000*water.Most, 5e-4)
	check(t, "of it at the first plane", "g/m²", 15.8649, 1000*water.Held[0][1], 5e-4)
	if water.Dries {
		t.Error("the only month of the year condenses, and the wall is said to dry")
	}
}

func TestSurface(t *testing.T) {
	check(t, "saturation at 20 °C", "Pa", 2336.9511, float64(Saturation(20)), 5e-5)
	check(t, "saturation at -20 °C", "Pa", 102.74, float64(Saturation(-20)), 0.005)
	least := LeastSurface(Air{20, 0.55})
	check(t, "least surface temperature against mould", "°C", 14.086, float64(least), 5e-4)
	check(t, "least temperature factor at 5 °C", "", 0.6057, Factor(least, 20, 5), 5e-5)
}

func TestDewPoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := quantity.Celsius(rapid.Float64Range(-40, 60).Draw(t, "t"))
		if back := DewPoint(Saturation(c)); math.Abs(float64(back-c)) > 1e-9 {
			t.Fatalf("saturated at %v °C, dew point %v °C", c, back)
		}
	})
}

// drawYear draws a wall and twelve months.
func drawYear(t *rapid.T) (Wall, []Month) {
	w := Wall{Cold: 0.13, Warm: 0.13}
	for range rapid.IntRange(1, 6).Draw(t, "layers") {
		w.Layers = append(w.Layers, Layer{
			Resistance: quantity.Resistance(rapid.Float64Range(0.02, 3).Draw(t, "R")), Sd: rapid.Float64Range(0.01, 5).Draw(t, "sd"),
		})
	}
	months := make([]Month, 12)
	for i := range months {
		months[i] = Month{
			Cold: Air{quantity.Celsius(rapid.Float64Range(-15, 25).Draw(t, "cold")), rapid.Float64Range(0.3, 0.95).Draw(t, "rh cold")},
			Warm: Air{quantity.Celsius(rapid.Float64Range(18, 26).Draw(t, "warm")), rapid.Float64Range(0.3, 0.9).Draw(t, "rh warm")}, Days: 30,
		}
	}
	return w, months
}

// No plane ever holds less than nothing, water gathers only where the pressure is
// that of saturation, and pressures stay at or below it.
func TestYear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, months := drawYear(t)
		water := w.Year(months)
		for i, m := range months {
			p := w.planes(m)
			value := p.pressures(make([]float64, len(w.Layers)+1))
			for k := 1; k < len(value)-1; k++ {
				if value[k] > p.saturated[k]*(1+1e-9)+1e-6 {
					t.Fatalf("month %d: %v Pa at plane %d, saturated at %v", i, value[k], k, p.saturated[k])
				}
			}
			for k, h := range water.Held[i] {
				if h < 0 {
					t.Fatalf("month %d: plane %d holds %v", i, k, h)
				}
				if h > 0 && (k == 0 || k == len(w.Layers)) {
					t.Fatalf("month %d: the surface holds water", i)
				}
			}
		}
	})
}

// What gathers in a cold month goes in a dry warm one, and not before: the amount
// that one warm month takes is the one that two halves of it take.
func TestDrying(t *testing.T) {
	warm := Month{Cold: Air{20, 0.3}, Warm: Air{20, 0.3}, Days: 30}
	water := worked.Year([]Month{january, warm})
	if !water.Dries || sum(water.Held[1]) != 0 {
		t.Errorf("a month at 30 %% on both sides leaves %v", water.Held[1])
	}
	half := warm
	half.Days = 0.1
	once := worked.Year([]Month{january, {warm.Cold, warm.Warm, 0.2}})
	twice := worked.Year([]Month{january, half, half})
	if a, b := sum(once.Held[1]), sum(twice.Held[2]); math.Abs(a-b) > 1e-9 || a == 0 {
		t.Errorf("a fifth of a day leaves %v, two tenths %v", a, b)
	}
	if dry := worked.Year([]Month{warm}); dry.Most != 0 || !dry.Dries {
		t.Errorf("a dry year leaves %v", dry.Most)
	}
}
