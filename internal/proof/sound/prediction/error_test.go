package prediction

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"nogging/internal/proof/sound/band"
	"nogging/internal/quantity"
	"nogging/internal/validation"
)

// group is walls of one source that one set of parameters is held against, with
// the greatest errors that the model may have there.
type group struct {
	name, source    string
	p               *Parameters
	walls           []published
	spectra         []spectral
	mean, sd, worst float64 // greatest allowed, dB
}

func groups() []group {
	fitted := Fitted()
	noHandbook, noStandard, noTextbook := fit(fromStandard, fromTextbook), fit(fromHandbook, fromTextbook), fit(fromHandbook, fromStandard)
	channels := *fitted
	channels.Compliance = 1e-5
	return []group{
		// Held out: the parameters were fitted without the source. This is how far
		// the model may be off on a wall of somebody else's.
		{name: "held out: single frames, filled", source: handbook, p: &noHandbook, walls: handbookFilled, mean: 3.5, sd: 2, worst: 6},
		{name: "held out: single frames, filled", source: declared, p: &noStandard, walls: metalStuds, mean: 3.5, sd: 3, worst: 7},
		{name: "held out: single frames, filled, octave levels", source: textbook, p: &noTextbook, spectra: textbookFilled, mean: 1, sd: 8, worst: 15.5},
		// Never part of a fit.
		{name: "never fitted: single frames, empty, octave levels", source: textbook, p: fitted, spectra: textbookEmpty, mean: 4.5, sd: 6.5, worst: 15},
		{name: "never fitted: frames apart, octave levels", source: textbook, p: fitted, spectra: textbookApart, mean: 1, sd: 6.5, worst: 11},
		{name: "never fitted: frames apart", source: handbook, p: fitted, walls: handbookTwin, mean: 1, sd: 2, worst: 4},
		{name: "never fitted: frames apart", source: declared, p: fitted, walls: metalTwin, mean: 4, sd: 4, worst: 6},
		{name: "never fitted: frames apart", source: recent, p: fitted, walls: recentTwin, mean: 9, sd: 0, worst: 9},
		{name: "never fitted: resilient channels", source: handbook, p: &channels, walls: handbookChannels, mean: 1, sd: 3, worst: 4},
		{name: "never fitted: one face alone, octave levels", source: textbook, p: fitted, spectra: textbookSingle, mean: 1.5, sd: 4.5, worst: 10.5},
		// What the parameters were fitted to: this proves only that they fit.
		{name: "fitted: single frames, filled", source: handbook, p: fitted, walls: handbookFilled, mean: 2, sd: 1.5, worst: 4},
		{name: "fitted: single frames, filled", source: declared, p: fitted, walls: metalStuds, mean: 1.5, sd: 2, worst: 4},
		{name: "fitted: single frames, filled, octave levels", source: textbook, p: fitted, spectra: textbookFilled, mean: 2, sd: 6.5, worst: 13.5},
		{name: "fitted: single frames, empty", source: handbook, p: fitted, walls: handbookEmpty, mean: 0.5, sd: 1.5, worst: 2},
	}
}

// How far the model is off on every published number that was found of walls
// within its scope, before any cap on single numbers. Walls on timber studs are
// out of it.
func TestErrors(t *testing.T) {
	var table strings.Builder
	for _, g := range groups() {
		s := validation.Spread(append(off(g.p, g.walls), offBands(g.p, g.spectra)...))
		source, _, _ := strings.Cut(g.source, ",")
		fmt.Fprintf(&table, "%-52s %-32.32s %3d figures, mean %+5.1f, sd %4.1f, worst %+6.1f dB\n", g.name, source, s.N, s.Mean, s.SD, s.Worst)
		if math.Abs(s.Mean) > g.mean || s.SD > g.sd {
			t.Errorf("%s, %s: mean %.2f, standard deviation %.2f dB; %g and %g are allowed", g.name, source, s.Mean, s.SD, g.mean, g.sd)
		}
		g.check(t)
	}
	t.Log("\n" + table.String())
}

// check puts each figure of the group beside the published one.
func (g *group) check(t *testing.T) {
	one := func(name, unit string, expected, got float64) {
		validation.Check(t, validation.Case{Method: "Prediction of frame walls, " + g.name, Name: name, Source: g.source,
			Status: validation.Read, Unit: unit, Expected: expected, Got: got, Tolerance: g.worst})
	}
	for _, w := range g.walls {
		number := "Rw"
		if w.stc {
			number = "STC"
		}
		one(w.name, "dB "+number, w.rating, w.predicted(g.p))
	}
	for _, w := range g.spectra {
		for i, got := range w.predicted(g.p) {
			one(fmt.Sprintf("%s, %d Hz", w.name, 125<<i), "dB", float64(w.levels[i]), got)
		}
	}
}

// The only one-third-octave spectrum that was found of a wall of this kind.
func TestThirdOctaves(t *testing.T) {
	p := *Fitted()
	p.Compliance = 1e-5
	s := channelWall.spectrum(&p)
	for i, want := range channelLevels {
		validation.Check(t, validation.Case{Method: "Prediction of frame walls, never fitted: resilient channels, one-third octaves", Name: fmt.Sprintf("TL-93-185, %g Hz", band.Frequency(i)),
			Source: council, Status: validation.Read, Unit: "dB", Expected: float64(want), Got: float64(s[i]), Tolerance: 16})
	}
}

// What laboratories find when one thing changes.
func TestEffects(t *testing.T) {
	p := Fitted()
	stc := func(steel, spacing float64) float64 {
		leaf := p.NewLeaf(sixteen(1)...)
		s := Double(leaf, leaf, p.NewCavity(quantity.MM(92), quantity.MM(76)), p.NewStuds(quantity.MM(spacing), p.Steel(quantity.MM(steel))))
		return rateSTC(&s)
	}
	for _, c := range []validation.Case{
		{Name: "studs at 600 instead of 400 mm: STC", Source: "Construction Technology Update 1: 1 to 2 usually", Expected: 1.5, Got: stc(0.6, 600) - stc(0.6, 400), Tolerance: 1},
		{Name: "0.84 mm studs instead of 0.46 mm: STC", Source: "Betit: 4 to 5 worse", Status: validation.SecondHand, Expected: -4.5, Got: stc(0.84, 610) - stc(0.46, 610), Tolerance: 2},
		{Name: "1.37 mm studs instead of 0.84 mm: STC", Source: "Betit: no significant difference", Status: validation.SecondHand, Expected: 0, Got: stc(1.37, 610) - stc(0.84, 610)},
		{Name: "0.76 mm studs at 406 mm instead of 0.46 mm at 610 mm: STC", Source: "trade association's page on how walls affect sound", Status: validation.SecondHand, Expected: -4, Got: stc(0.76, 406) - stc(0.46, 610), Tolerance: 1.5},
	} {
		c.Method, c.Unit = "Prediction of frame walls, effect of one change", "dB"
		if c.Status == "" {
			c.Status = validation.Read
		}
		validation.Check(t, c)
	}
}
