package prediction

import (
	"fmt"
	"math"
	"testing"

	"nogging/internal/proof/sound/astm_e413"
	"nogging/internal/proof/sound/band"
	"nogging/internal/proof/sound/iso717_1"
	"nogging/internal/quantity"
	"nogging/internal/validation"
)

// Two sets of parameters with which the model was reckoned before, by another
// program: n reproduces the handbook, p lies between it and DIN 4109-33.
var (
	n = &Parameters{Coincidence: 36, Loss: 0.05, Radiation: 2, Compliance: 1e-6, Fall: 1.5, Empty: 6}
	p = Fitted()
)

func layers(count int, mass quantity.MassPerArea, mm float64) []Board {
	boards := make([]Board, count)
	for i := range boards {
		boards[i] = Board{mass, quantity.MM(mm)}
	}
	return boards
}

// example is a wall of single boards in one or several layers on each face.
type example struct {
	a, b                 []Board
	depth, fill, spacing float64 // mm; no studs where the spacing is zero
}

func (e example) spectrum(p *Parameters) band.Spectrum {
	var studs *Studs
	if e.spacing > 0 {
		studs = p.NewStuds(quantity.MM(e.spacing), p.Compliance)
	}
	return Double(p.NewLeaf(e.a...), p.NewLeaf(e.b...), p.NewCavity(quantity.MM(e.depth), quantity.MM(e.fill)), studs)
}

var examples = map[string]example{
	"W1": {layers(1, 8.3, 12.7), layers(1, 8.3, 12.7), 65, 65, 610},
	"W2": {layers(2, 8.3, 12.7), layers(2, 8.3, 12.7), 90, 90, 610},
	"W3": {layers(1, 11, 16), layers(1, 11, 16), 92, 76, 610},
	"W4": {layers(1, 9, 12.5), layers(1, 9, 12.5), 50, 40, 625},
	"W5": {layers(2, 9, 12.5), layers(2, 9, 12.5), 205, 160, 0},
	"W6": {layers(1, 8.3, 12.7), layers(1, 8.3, 12.7), 90, 0, 610},
	"W7": {layers(1, 8.3, 12.7), layers(2, 8.3, 12.7), 65, 65, 610},
}

var vectors = []struct {
	set, wall string
	levels    []quantity.Decibel
	rating    string
}{
	{"N", "W1", []quantity.Decibel{15.0, 16.3, 17.7, 16.8, 19.3, 23.5, 27.9, 32.9, 38.3, 43.8, 47.1, 49.5, 51.3, 52.4, 53.0, 52.2, 48.4, 40.1, 46.4, 49.5, 52.4}, "42 (-3; -9) 43"},
	{"N", "W2", []quantity.Decibel{21.1, 20.8, 23.2, 26.5, 30.7, 36.2, 41.5, 46.7, 52.1, 57.4, 60.3, 62.3, 63.9, 65.2, 65.8, 65.0, 61.2, 53.1, 61.4, 64.6, 67.5}, "54 (-3; -10) 55"},
	{"N", "W3", []quantity.Decibel{17.5, 18.8, 17.1, 20.5, 24.0, 28.8, 33.8, 39.1, 44.5, 49.8, 52.6, 54.4, 55.7, 56.3, 55.7, 51.5, 42.7, 49.7, 52.7, 55.9, 58.8}, "46 (-3; -8) 47"},
	{"N", "W4", []quantity.Decibel{15.7, 17.0, 18.4, 19.8, 18.5, 23.2, 27.9, 33.0, 38.4, 43.9, 47.7, 50.6, 52.8, 54.2, 54.7, 54.1, 50.6, 43.1, 47.9, 51.0, 53.9}, "42 (-2; -8) 43"},
	{"N", "W5", []quantity.Decibel{24.9, 29.5, 34.4, 39.1, 44.0, 49.4, 54.5, 59.0, 61.5, 65.0, 68.3, 71.7, 75.4, 78.8, 82.2, 84.1, 83.3, 82.6, 84.1, 90.3, 96.2}, "67 (-3; -10) 68"},
	{"N", "W6", []quantity.Decibel{15.0, 16.3, 17.7, 12.2, 14.5, 19.5, 24.3, 29.3, 34.7, 40.2, 44.5, 47.9, 50.2, 51.8, 52.7, 52.0, 48.3, 40.1, 46.3, 49.4, 52.4}, "38 (-3; -9) 38"},
	{"N", "W7", []quantity.Decibel{18.6, 19.8, 19.9, 20.6, 24.4, 29.0, 34.0, 39.2, 44.6, 50.1, 53.3, 55.8, 57.7, 58.8, 59.4, 58.6, 54.8, 46.6, 53.9, 57.0, 59.9}, "47 (-3; -9) 48"},
	{"P", "W1", []quantity.Decibel{15.0, 16.3, 17.7, 17.4, 20.5, 25.3, 29.2, 32.3, 34.7, 36.8, 39.0, 41.9, 45.3, 48.7, 51.8, 54.3, 54.6, 49.2, 45.7, 51.1, 56.1}, "41 (-1; -7) 42"},
	{"P", "W2", []quantity.Decibel{21.1, 21.8, 25.2, 29.1, 32.3, 35.2, 37.2, 39.0, 41.8, 46.0, 50.1, 54.2, 58.3, 61.8, 64.9, 67.3, 67.5, 61.9, 60.6, 65.9, 70.8}, "51 (-1; -7) 52"},
	{"P", "W3", []quantity.Decibel{17.5, 18.8, 18.4, 22.6, 26.4, 30.0, 32.5, 34.4, 36.3, 39.2, 42.5, 46.2, 49.9, 53.1, 55.4, 55.7, 49.8, 46.7, 51.9, 57.3, 62.3}, "45 (-2; -7) 45"},
	{"P", "W4", []quantity.Decibel{15.7, 17.0, 18.4, 19.8, 19.4, 24.4, 28.6, 32.1, 34.9, 37.5, 40.0, 43.2, 46.9, 50.4, 53.5, 56.2, 56.6, 52.0, 47.2, 52.6, 57.6}, "42 (-2; -8) 42"},
	{"P", "W5", []quantity.Decibel{24.9, 29.5, 34.4, 39.1, 44.0, 49.4, 54.5, 59.0, 61.5, 65.0, 68.3, 71.7, 75.4, 78.8, 82.2, 85.4, 83.9, 81.8, 80.3, 85.0, 90.8}, "67 (-3; -10) 68"},
	{"P", "W6", []quantity.Decibel{15.0, 16.3, 17.7, 12.4, 14.8, 20.1, 24.8, 29.0, 32.7, 35.8, 38.5, 41.6, 45.0, 48.4, 51.5, 54.1, 54.2, 48.9, 45.5, 50.9, 56.0}, "38 (-3; -9) 39"},
	{"P", "W7", []quantity.Decibel{18.6, 19.8, 20.2, 21.7, 26.1, 30.4, 33.7, 36.1, 38.3, 40.9, 44.0, 47.6, 51.6, 55.2, 58.3, 60.8, 61.1, 55.5, 53.1, 58.5, 63.5}, "46 (-2; -7) 47"},
}

// The same equations in another program's hands give the same levels; above the
// ceiling only this package caps them.
func TestSameEquations(t *testing.T) {
	for _, v := range vectors {
		set := n
		if v.set == "P" {
			set = p
		}
		s := examples[v.wall].spectrum(set)
		worst := 0.0
		for i, want := range v.levels {
			worst = max(worst, math.Abs(float64(s[i]-min(want, Ceiling))))
		}
		name := fmt.Sprintf("parameters %s, wall %s", v.set, v.wall)
		const source = "the project's own reckoning of the model in another language"
		validation.Check(t, validation.Case{Method: "Prediction of frame walls: same equations twice", Name: name + ": greatest difference in any of 21 bands",
			Source: source, Status: validation.Regression, Unit: "dB", Got: worst, Tolerance: 0.05001})
		if v.wall == "W5" { // capped here
			continue
		}
		rw, _ := iso717_1.Rate(&s)
		stc, _ := astm_e413.Rate(&s)
		validation.Check(t, validation.Case{Method: "Prediction of frame walls: same equations twice", Name: name + ": Rw (C; Ctr) STC",
			Source: source, Status: validation.Regression, ExpectedText: v.rating, GotText: fmt.Sprintf("%s %d", rw.String(), stc.STC)})
	}
}

// ISO 15186-3:2002, table A.1: a board of 10 kg/m² and 10 m², by mass alone.
func TestForcedTransmission(t *testing.T) {
	for i, want := range []float64{10.7, 11.9, 13.4, 14.8, 16.3, 17.9} {
		validation.Check(t, validation.Case{Method: "Prediction of frame walls: forced transmission", Name: fmt.Sprintf("10 kg/m², %g Hz", band.Frequency(i)),
			Source: "ISO 15186-3:2002, table A.1, as transcribed in the reference data of an open-source acoustics library", Status: validation.Read, Unit: "dB",
			Expected: want, Got: float64(ForcedTransmission(band.Frequency(i), 10)), Tolerance: 0.13})
	}
}

// Building Acoustics (2008), page 281: two leaves of 7.2 kg/m² at 50 mm
// resonate at 140 Hz, as printed without decimals.
func TestResonance(t *testing.T) {
	leaf := p.NewLeaf(Board{7.2, quantity.MM(9)})
	got := p.NewCavity(quantity.MM(50), 0).Resonance(leaf, leaf)
	validation.Check(t, validation.Case{Method: "Prediction of frame walls: mass-air-mass resonance", Name: "2 x 7.2 kg/m², 50 mm", Source: "Building Acoustics (2008), page 281",
		Status: validation.Reworked, Unit: "Hz", Expected: 140, Got: float64(got), Tolerance: 2})
}
