package band

import (
	"math"
	"testing"

	"nogging/internal/quantity"
)

// Nominal frequencies are the exact ones of ISO 266, 10^(n/10), within 1.6 %.
func TestFrequencies(t *testing.T) {
	for i := range Count {
		exact := math.Pow(10, float64(17+i)/10)
		if off := math.Abs(float64(Frequency(i))/exact - 1); off > 0.016 {
			t.Errorf("band %d: %g Hz is %.1f %% off", i, Frequency(i), off*100)
		}
	}
}

func TestFrom(t *testing.T) {
	s, err := From(125, 1, 2)
	if err != nil || s[Hz125] != 1 || s[Hz125+1] != 2 || !s.Known(Hz125, Hz125+1) || s.Known(Hz100, Hz125) {
		t.Error(s, err)
	}
	if _, err := From(120, 1); err == nil {
		t.Error("120 Hz is no band")
	}
	if _, err := From(4000, 1, 2, 3); err == nil {
		t.Error("there is no band above 5000 Hz")
	}
}

func TestOctave(t *testing.T) {
	s, _ := From(100, 20, 20, 20)
	if got := s.Octave(Hz125); math.Abs(float64(got-20)) > 1e-12 {
		t.Error(got)
	}
	s, _ = From(100, 30, quantity.Decibel(math.Inf(1)), 30)
	if got := s.Octave(Hz125); math.Abs(float64(got)-31.76) > 0.01 { // two thirds pass
		t.Error(got)
	}
}
