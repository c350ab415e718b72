package programme

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	_ "nogging/internal/draws"
)

// The published table for a coat of 1/16 in, entry by entry (reference, 4e; from memory).
func TestDryingTable(t *testing.T) {
	temperatures := []float64{32, 40, 50, 60, 70, 80, 100}
	table := map[float64][]float64{
		0:  {38, 28, 19, 13, 9, 6, 3},
		20: {48, 34, 23, 16, 11, 8, 4},
		40: {60, 44, 29, 20, 14, 10, 5},
		50: {72, 48, 36, 24, 17, 12, 6},
		60: {84, 60, 42, 29, 20, 13.5, 8},
		70: {108, 84, 54, 38, 26, 19.5, 10},
		80: {168, 108, 78, 54, 38, 27, 14},
		90: {312, 216, 144, 108, 72, 49, 26},
		98: {1272, 912, 624, 432, 288, 216, 120},
	}
	for humidity, row := range table {
		for i, want := range row {
			got, ok := DryingHours(Air{(temperatures[i] - 32) / 1.8, humidity}, 25.4/16)
			if !ok || math.Abs(got-want) > 1e-6 {
				t.Errorf("%g °F, %g %%: %g h, want %g", temperatures[i], humidity, got, want)
			}
		}
	}
}

// Check cases 4.5 and 4.6 of the reference, and points between the rows: midway between
// 60 and 70 °F at 50 % lie 24 and 17 h, between 50 and 60 % at 70 °F 17 and 20 h.
func TestDryingBetween(t *testing.T) {
	for _, c := range []struct{ fahrenheit, humidity, coat, want float64 }{
		{70, 50, 1.5875, 17}, {60, 98, 1.5875, 432}, {65, 50, 1.5875, 20.5}, {70, 55, 1.5875, 18.5}, {70, 50, 0.79375, 8.5},
	} {
		got, ok := DryingHours(Air{(c.fahrenheit - 32) / 1.8, c.humidity}, c.coat)
		if !ok || math.Abs(got-c.want) > 1e-6 {
			t.Errorf("%v: %g", c, got)
		}
	}
}

func TestDryingOutside(t *testing.T) {
	for _, a := range []Air{{-0.1, 50}, {37.9, 50}, {20, 98.5}, {20, -1}, {math.NaN(), 50}} {
		if h, ok := DryingHours(a, 1); ok {
			t.Errorf("%v dries in %g h", a, h)
		}
	}
}

// Warmer and drier never dries slower, thicker never faster.
func TestDryingMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := Air{rapid.Float64Range(0, 37.7).Draw(t, "temperature"), rapid.Float64Range(0, 98).Draw(t, "humidity")}
		b := Air{rapid.Float64Range(a.Temperature, 37.7).Draw(t, "warmer"), rapid.Float64Range(0, a.Humidity).Draw(t, "drier")}
		coat := rapid.Float64Range(0.1, 3).Draw(t, "coat")
		slow, ok := DryingHours(a, coat)
		fast, ok2 := DryingHours(b, coat)
		thick, ok3 := DryingHours(a, coat*1.5)
		if !ok || !ok2 || !ok3 || fast > slow+1e-9 || thick < slow {
			t.Fatalf("%v: %g h, %v: %g h, thicker %g h", a, slow, b, fast, thick)
		}
	})
}

// A coat dries through days of different air: half of it at 24 h to the coat, the rest
// at 12 h, by the rows of the table for 60 and 80 °F at 50 %.
func TestDryingThroughDays(t *testing.T) {
	day := mustDate("2027-01-11")
	w := &weather{site: &Site{Climate: []Weather{{From: day, Temperature: 28 / 1.8, Humidity: 50}, {From: day + 1, Temperature: 48 / 1.8, Humidity: 50}}}}
	got, ok := w.dry("L0", day.At(12*60), tableCoat)
	if want := 12 + 0.5*12; !ok || math.Abs(got-want) > 1e-6 {
		t.Errorf("%g h, want %g", got, want)
	}
}

// Over whole forecasts, too, air that is warmer and drier on each day never dries slower.
func TestForecastMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cold, warm := &Site{}, &Site{}
		day := mustDate("2027-01-11")
		for k := range rapid.IntRange(1, 6).Draw(t, "rows") {
			a := Weather{From: day + Date(2*k), Temperature: rapid.Float64Range(0, 37).Draw(t, "temperature"), Humidity: rapid.Float64Range(0, 98).Draw(t, "humidity")}
			b := Weather{From: a.From, Temperature: rapid.Float64Range(a.Temperature, 37).Draw(t, "warmer"), Humidity: rapid.Float64Range(0, a.Humidity).Draw(t, "drier")}
			cold.Climate, warm.Climate = append(cold.Climate, a), append(warm.Climate, b)
		}
		at := day.At(rapid.IntRange(0, 8*1440).Draw(t, "drawn"))
		slow, ok := (&weather{site: cold}).dry("L0", at, 1)
		fast, ok2 := (&weather{site: warm}).dry("L0", at, 1)
		if !ok || !ok2 || fast > slow+1e-6 {
			t.Fatalf("%g h in warmer air, %g h in colder", fast, slow)
		}
	})
}

func mustDate(s string) Date {
	d, err := ParseDate(s)
	if err != nil {
		panic(err)
	}
	return d
}
