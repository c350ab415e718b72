package astm_e413

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

func TestPublishedClasses(t *testing.T) {
	const institute = "IRC-IR-761 (1998), "
	for _, tt := range []struct {
		name, source string
		losses       []quantity.Decibel
		want         string // class, sum of deficiencies, greatest
		status       validation.Status
	}{
		// The classes are published; sums and greatest deficiencies were reckoned by hand.
		{"wall TL-93-166, governed by the 8 dB rule", institute + "as transcribed", []quantity.Decibel{9, 16, 31, 34, 36, 43, 44, 44, 49, 51, 53, 54, 53, 45, 40, 43}, "33 12 8", validation.Read},
		{"wall TL-93-176", institute + "page 19, as transcribed", []quantity.Decibel{12.5, 11.4, 22.6, 32.7, 36.7, 42.0, 44.2, 48.4, 53.4, 56.1, 57.3, 57.4, 55.4, 45.5, 43.0, 47.4}, "32 11 8", validation.Read},
		{"wall TL-93-185", institute + "page 164, as transcribed", []quantity.Decibel{20.5, 28.6, 36.4, 43.7, 48.5, 54.0, 57.2, 61.0, 64.0, 67.0, 69.4, 70.0, 66.8, 55.4, 52.7, 56.0}, "45 11 8", validation.Read},
		{"worked example", "manual of an open-source acoustics package", []quantity.Decibel{11.66, 13.303, 14.825, 20.861, 22.868, 24.943, 26.881, 28.889, 30.964, 32.902, 34.84, 36.984, 38.923, 40.861, 27.557, 30.67}, "29 24 5", validation.SecondHand},
		{"second implementation", "test of an open-source acoustics package", []quantity.Decibel{18, 18, 17, 17, 20, 21, 22, 23, 25, 26, 26, 25, 25, 26, 30, 31}, "25 29 4", validation.SecondHand},
	} {
		s, err := band.From(125, tt.losses...)
		if err != nil {
			t.Fatal(err)
		}
		r, ok := Rate(&s)
		if !ok {
			t.Errorf("%s: not rated", tt.name)
		}
		validation.Check(t, validation.Case{Method: Source, Name: tt.name + ": STC, sum of deficiencies, greatest", Source: tt.source, Status: tt.status,
			ExpectedText: tt.want, GotText: fmt.Sprintf("%d %d %d", r.STC, r.Deficiencies, r.Greatest)})
	}
}

// The class is the greatest that both limits allow, by trying every one. Halves
// are rounded up before fitting.
func TestGreatestClass(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var s band.Spectrum
		for i := range s {
			s[i] = quantity.Decibel(rapid.IntRange(0, 180).Draw(t, "half decibels")) / 2
		}
		best := math.MinInt
		for class := -100; class < 200; class++ {
			sum, worst := 0.0, 0.0
			for i, c := range contour {
				d := max(0, float64(class+c)-math.Floor(float64(s[band.Hz125+i])+0.5))
				sum, worst = sum+d, max(worst, d)
			}
			if sum <= 32 && worst <= 8 {
				best = class
			}
		}
		if r, _ := Rate(&s); r.STC != best {
			t.Fatalf("%d, by trying %d", r.STC, best)
		}
	})
}

func TestMissingBands(t *testing.T) {
	s := band.Unknown()
	if _, ok := Rate(&s); ok {
		t.Error("rated nothing")
	}
}

func BenchmarkRate(b *testing.B) {
	s, _ := band.From(125, 18, 18, 17, 17, 20, 21, 22, 23, 25, 26, 26, 25, 25, 26, 30, 31)
	b.ReportAllocs()
	for b.Loop() {
		Rate(&s)
	}
}
