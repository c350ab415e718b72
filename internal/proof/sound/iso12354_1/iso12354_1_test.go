package iso12354_1

import (
	"errors"
	"testing"

	"nogging/internal/quantity"
	"nogging/internal/validation"
)

// Handbook of Acoustical Measurements and Noise Control, 3rd ed.,
// table 31.5: a block wall of 190 mm, STC 50, gains 10 dB from one board of 16 mm
// on filled studs of 65 mm. The mass of the blocks is not given; 240 kg/m² is
// taken. STC stands for Rw here, so that a few decibels are to be expected.
func TestLinedBlockWall(t *testing.T) {
	got, err := Improvement(Resonance(240, 11.3, quantity.MM(65)), 50)
	if err != nil {
		t.Fatal(err)
	}
	validation.Check(t, validation.Case{Method: Source, Name: "lining of one board on 65 mm of wool before 190 mm of blocks", Source: "Handbook of Acoustical Measurements and Noise Control, 3rd ed., table 31.5",
		Status: validation.Read, Unit: "dB", Expected: 10, Got: float64(got), Tolerance: 4})
}

// The rows of table D.1, and its ends. At 160 Hz the third of the octave ends at
// 178 Hz.
func TestTable(t *testing.T) {
	for _, tt := range []struct {
		f    quantity.Frequency
		bare quantity.Decibel
		want quantity.Decibel
	}{
		{100, 40, 14.4}, {96, 40, 14.4}, {100, 60, 4.4}, {31, 60, 14.43}, {150, 60, 0.32}, {177, 40, 10.32}, {179, 40, -1}, {250, 40, -3}, {320, 40, -5}, {400, 40, -7}, {500, 40, -9}, {630, 40, -10}, {1600, 40, -10}, {2000, 40, -5},
	} {
		got, err := Improvement(tt.f, tt.bare)
		if err != nil || got < tt.want-0.01 || got > tt.want+0.01 {
			t.Errorf("%g Hz, Rw %g: %g, want %g; %v", tt.f, tt.bare, got, tt.want, err)
		}
	}
	for _, out := range []struct {
		f    quantity.Frequency
		bare quantity.Decibel
	}{{29, 40}, {5001, 40}, {100, 19}, {100, 61}} {
		if _, err := Improvement(out.f, out.bare); !errors.Is(err, ErrScope) {
			t.Errorf("%v: %v", out, err)
		}
	}
}
