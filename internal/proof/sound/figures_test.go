package sound

import (
	"math"
	"strings"
	"testing"

	"nogging/internal/catalogue"
	"nogging/internal/proof/sound/astm_e413"
	"nogging/internal/proof/sound/composite"
	"nogging/internal/proof/sound/en12354_1"
	"nogging/internal/quantity"
)

// tested50 is the wall W between two rooms with a test report of Rw 50: 5 m by
// 2.5 m, so 12.5 m².
func tested50(t *testing.T, asked, openings string, change ...string) Input {
	in := input(t, "W", asked, openings, change...)
	better, worse := record(), record()
	better.ID, better.Ratings = "S-2", []string{"Rw 50"}
	worse.Ratings = []string{"Rw 47"}
	in.Evidence = []catalogue.SoundEvidence{worse, better, worse} // the better one decides
	return in
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 0.01 {
		t.Errorf("%s: %.3f, want %.3f", what, got, want)
	}
}

// By hand: a door of 0.885 m by 2.130 m and 32 dB in 12.5 m² of 50 dB.
func TestDoorFigure(t *testing.T) {
	const door = 0.885 * 2.130
	want := -10 * math.Log10(((12.5-door)*1e-5+door*math.Pow(10, -3.2))/12.5)
	checks := Prove(tested50(t, "Rw 48", "{kind: door, at: 1000, width: 885, height: 2130, leaf_mass: 25, sound: Rw 32}"))
	near(t, "with the door", checks[1].Got.Value, want)
	if note := checks[1].Got.From[1].Note; !strings.Contains(note, "costs 10.2 dB") {
		t.Error(note)
	}
	bare := Prove(tested50(t, "Rw 48", "{kind: bare, at: 1000, width: 1000, height: 2000}"))
	near(t, "with a bare opening", bare[1].Got.Value, -10*math.Log10((10.5e-5+2)/12.5))
}

// By hand: the smaller of two rooms of 50 and 25 m³ decides, and the model's
// standard deviation widens the range on both sides.
func TestRoomFigures(t *testing.T) {
	smaller := []string{"[5100, 4000], [100, 4000]", "[5100, 2000], [100, 2000]"}
	in := tested50(t, "DnT,w 40", "", smaller...)
	in.Flanks = []en12354_1.Flank{}
	got := Prove(in)[0].Got
	near(t, "R'w without flanks", got.From[0].Value, 50)
	near(t, "DnT,w", got.Value, 50+10*math.Log10(0.32*25/12.5))
	near(t, "lower end", got.Range.Low, got.Value-2)
	near(t, "upper end", got.Range.High, got.Value+2)
	in = tested50(t, "R'w 40", "", smaller...)
	in.Flanks = []en12354_1.Flank{}
	near(t, "R'w", Prove(in)[0].Got.Value, 50)
}

// Two gaps as long as the wall leak.
func TestLeakFigure(t *testing.T) {
	in := input(t, "W", "STC 40", "")
	c := CandidateOf(in.Build)
	s := c.Spectrum()
	leaking := composite.Leaking(&s, 12.5*quantity.SquareMetre, 10*quantity.Metre, quantity.Millimetre, quantity.MM(125), composite.AlongEdge)
	want, _ := astm_e413.Rate(&leaking)
	checks := Prove(in)
	near(t, checks[1].Name, checks[1].Got.Value, float64(want.STC))
}

// By hand, formula (D.2) with a cavity of 50 mm of studs and 20 mm of gap.
func TestLiningFigures(t *testing.T) {
	in := input(t, "LINING", "Rw 55", "")
	in.Behind = &Behind{Rw: 50, Mass: 240, Source: "entered"}
	got := Prove(in)[0].Got
	f0 := math.Sqrt(0.111e6/0.07*(1/240.0+1/8.5)) / (2 * math.Pi)
	near(t, "resonance", got.From[1].Value, f0)
	near(t, "Rw", got.Value, 50+74.4-20*math.Log10(63)-25) // in the third of 63 Hz
}
