package iso717_1

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

func spectrumFrom(t *testing.T, first quantity.Frequency, values ...quantity.Decibel) *band.Spectrum {
	t.Helper()
	s, err := band.From(first, values...)
	if err != nil {
		t.Fatal(err)
	}
	return &s
}

var annexC = []quantity.Decibel{20.4, 16.3, 17.7, 22.6, 22.4, 22.7, 24.8, 26.6, 28.0, 30.5, 31.8, 32.5, 33.4, 33.0, 31.0, 25.5}

func (r *Rating) full() string {
	text := r.String()
	for _, term := range []Term{C50to5000, Ctr50to5000} {
		if v, ok := r.Term(term); ok {
			text += fmt.Sprintf(" %s %d", term, v)
		}
	}
	return text
}

const (
	transcribed = "as transcribed in the reference data of an open-source acoustics library"
	secondLab   = "example sheet of an open-source acoustics library: a second implementation"
)

func TestPublishedRatings(t *testing.T) {
	wide := append(append([]quantity.Decibel{18.7, 19.2, 20.0}, annexC...), 26.8, 29.2)
	for _, tt := range []struct {
		name, source string
		status       validation.Status
		spectrum     *band.Spectrum
		want         string
	}{
		{"annex C, table C.1", Source + ", table C.1, " + transcribed, validation.Read, spectrumFrom(t, 100, annexC...), "30 (-2; -3)"},
		{"table C.2, enlarged range", Source + ", table C.2, " + transcribed, validation.Read, spectrumFrom(t, 50, wide...), "30 (-2; -3) C50-5000 -2 Ctr,50-5000 -4"},
		{"6 mm glass", secondLab, validation.SecondHand, spectrumFrom(t, 100, 15.7, 17.6, 19.7, 21.7, 23.6, 25.6, 27.7, 29.6, 31.6, 33.7, 35.6, 33.2, 30.6, 28.2, 31.1, 34.1), "31 (-1; -3)"},
		{"DnT in a building", secondLab, validation.SecondHand, spectrumFrom(t, 100, 39.1, 40.7, 43.0, 45.5, 48.0, 50.1, 52.2, 53.8, 55.3, 56.7, 57.7, 58.5, 59.0, 59.4, 59.6, 59.0), "57 (-2; -5)"},
		{"the reference curve itself", "identity: ISO 717-1, table 3, with ISO 10140-2's 32 dB exactly used up", validation.Reworked, spectrumFrom(t, 100, thirds[:]...), "54 (-2; -6)"},
	} {
		r, ok := Rate(tt.spectrum)
		if !ok {
			t.Errorf("%s: not rated", tt.name)
		}
		validation.Check(t, validation.Case{Method: Source, Name: tt.name, Source: tt.source, Status: tt.status, ExpectedText: tt.want, GotText: r.full()})
	}
}

func TestPublishedFigures(t *testing.T) {
	// ISO 12999-1:2020, annex B.
	lab := spectrumFrom(t, 50, 39.5, 40.3, 41.6, 43.1, 43.3, 43.1, 42.5, 44.7, 48.0, 50.5, 53.2, 55.9, 58.1, 60.0, 62.2, 63.7, 65.4, 66.8, 68.4, 68.8, 65.1)
	first := spectrumFrom(t, 100, annexC...)
	wide := spectrumFrom(t, 50, append(append([]quantity.Decibel{18.7, 19.2, 20.0}, annexC...), 26.8, 29.2)...)
	// A test of another implementation, in whole decibels.
	other := spectrumFrom(t, 100, 10, 11, 12, 13, 15, 18, 20, 20, 25, 22, 18, 15, 20, 25, 28, 30)
	c1, _ := Rate(first)
	c5, _ := Rate(other)
	identity, _ := Rate(spectrumFrom(t, 100, thirds[:]...))
	tenthOf := func(v quantity.Decibel) float64 { return math.Round(float64(v)*10) / 10 }
	const annexB = "ISO 12999-1:2020, annex B, " + transcribed
	const python = "test of an open-source acoustics package"
	for _, c := range []validation.Case{
		{Name: "table C.1: sum of unfavourable deviations", Source: Source + ", table C.1, " + transcribed, Expected: 31.8, Got: float64(c1.Unfavourable)},
		{Name: "table C.2: Rw + C50-5000 before rounding", Source: Source + ", table C.2, " + transcribed, Expected: 28.212, Got: float64(Weigh(wide, C50to5000)), Tolerance: 0.001},
		{Name: "table C.2: Rw + Ctr,50-5000 before rounding", Source: Source + ", table C.2, " + transcribed, Expected: 26.355, Got: float64(Weigh(wide, Ctr50to5000)), Tolerance: 0.001},
		{Name: "annex B: Rw in steps of 0.1 dB", Source: annexB, Expected: 57.4, Got: float64(WeightedTenths(lab))},
		{Name: "annex B: Rw + C50-5000", Source: annexB, Expected: 56.4, Got: tenthOf(Weigh(lab, C50to5000))},
		{Name: "annex B: Rw + Ctr,50-5000", Source: annexB, Expected: 51.1, Got: tenthOf(Weigh(lab, Ctr50to5000))},
		{Name: "the reference curve itself: sum of unfavourable deviations", Source: "identity", Expected: 32, Got: float64(identity.Unfavourable)},
		{Name: "second implementation: Rw", Source: python, Expected: 22, Got: float64(c5.Weighted)},
		{Name: "second implementation: Rw + C before rounding", Source: python, Expected: 19.65747, Got: float64(Weigh(other, C)), Tolerance: 5e-6},
		{Name: "second implementation: Rw + Ctr before rounding", Source: python, Expected: 18.03628, Got: float64(Weigh(other, Ctr)), Tolerance: 5e-6},
	} {
		c.Method, c.Unit, c.Status = Source, "dB", validation.Read
		validation.Check(t, c)
	}
	octave := RateOctaves(Octaves{31.5, 34.5, 37.5, 40, 43})
	validation.Check(t, validation.Case{Method: Source, Name: "facade in octaves", Source: secondLab, Status: validation.SecondHand, ExpectedText: "41 (-1; -3)", GotText: octave.String()})
}

func TestMissingBands(t *testing.T) {
	s := spectrumFrom(t, 125, annexC[1:]...)
	if _, ok := Rate(s); ok {
		t.Error("rated without 100 Hz")
	}
	r, _ := Rate(spectrumFrom(t, 100, annexC...))
	for _, term := range Terms()[2:] {
		if _, ok := r.Term(term); ok {
			t.Errorf("%s without its bands", term)
		}
	}
	if !math.IsNaN(float64(Weigh(s, C))) {
		t.Error("weighed without 100 Hz")
	}
}

func draw(t *rapid.T) *band.Spectrum {
	var s band.Spectrum
	for i := range s {
		s[i] = quantity.Decibel(rapid.Float64Range(0, 90).Draw(t, "R"))
	}
	return &s
}

// The rating is the greatest that the rule allows, by trying every one.
func TestGreatestShift(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := draw(t)
		got, _ := Rate(s)
		x := tenths(s)
		best := math.MinInt
		for shift := -100; shift < 150; shift++ {
			var sum quantity.Decibel
			for i, ref := range thirds {
				sum += max(0, ref+quantity.Decibel(shift)-x[band.Hz100+i])
			}
			if sum <= 32+rounding {
				best = shift + 52
			}
		}
		if got.Weighted != best {
			t.Fatalf("%d, by trying %d", got.Weighted, best)
		}
	})
}

// A wall that is better in one band is never rated worse, and 1 dB more in
// every band is 1 dB more.
func TestMonotonic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := draw(t)
		before, _ := Rate(s)
		better, louder := *s, *s
		better[rapid.IntRange(0, band.Count-1).Draw(t, "band")] += quantity.Decibel(rapid.Float64Range(0, 20).Draw(t, "more"))
		for i := range louder {
			louder[i]++
		}
		after, _ := Rate(&better)
		shifted, _ := Rate(&louder)
		if after.Weighted < before.Weighted || shifted.Weighted != before.Weighted+1 {
			t.Fatalf("%s, better %s, 1 dB more %s", before.String(), after.String(), shifted.String())
		}
		for _, term := range Terms() {
			a, _ := after.Term(term)
			b, _ := before.Term(term)
			if after.Weighted+a < before.Weighted+b {
				t.Fatalf("%s fell", term)
			}
		}
	})
}

func BenchmarkRate(b *testing.B) {
	s, _ := band.From(100, annexC...)
	b.ReportAllocs()
	for b.Loop() {
		Rate(&s)
	}
}
