package prediction

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	_ "nogging/internal/draws"
	"nogging/internal/proof/sound/astm_e413"
	"nogging/internal/proof/sound/band"
	"nogging/internal/proof/sound/iso717_1"
	"nogging/internal/quantity"
)

func rateSTC(s *band.Spectrum) float64 {
	r, _ := astm_e413.Rate(s)
	return float64(r.STC)
}

// wall is one that a search could come across.
type wall struct {
	a, b        []Board
	depth, fill quantity.Length
	spacing     quantity.Length
	steel       quantity.Length
}

var boards = []Board{{6.5, quantity.MM(9.5)}, {8.5, quantity.MM(12.5)}, {10, quantity.MM(12.5)}, {12.5, quantity.MM(12.5)}, {12.8, quantity.MM(15)}, {15.4, quantity.MM(18)}, {21.4, quantity.MM(25)}}

func drawWall(t *rapid.T) wall {
	face := func(label string) []Board { return rapid.SliceOfN(rapid.SampledFrom(boards), 1, 3).Draw(t, label) }
	w := wall{a: face("a"), b: face("b")}
	w.depth = quantity.MM(rapid.Float64Range(45, 300).Draw(t, "depth"))
	w.fill = quantity.MM(rapid.Float64Range(20, 100).Draw(t, "fill"))
	w.spacing = quantity.MM(rapid.Float64Range(300, 625).Draw(t, "spacing"))
	w.steel = quantity.MM(rapid.Float64Range(0.45, 2).Draw(t, "steel"))
	return w
}

func (w *wall) spectrum() band.Spectrum {
	p := Fitted()
	return Double(p.NewLeaf(w.a...), p.NewLeaf(w.b...), p.NewCavity(w.depth, w.fill), p.NewStuds(w.spacing, p.Steel(w.steel)))
}

func (w *wall) bound() band.Spectrum {
	p := Fitted()
	return Bound(p.NewLeaf(w.a...), p.NewLeaf(w.b...), p.NewCavity(w.depth, w.fill), p.NewStuds(w.spacing, p.Steel(w.steel)))
}

func notLower(t *rapid.T, what string, better, worse *band.Spectrum) {
	t.Helper()
	for i := range better {
		if better[i] < worse[i]-1e-9 {
			t.Fatalf("%s: %g Hz falls from %.2f to %.2f dB", what, band.Frequency(i), worse[i], better[i])
		}
	}
}

// No wall exceeds its bound, nor the bound of a wall that is better in any way:
// a search may leave out what a bound already fails.
func TestBound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := drawWall(t)
		own, first := w.spectrum(), w.bound()
		notLower(t, "bound below the wall", &first, &own)
		one, more := w, w
		one.a = w.a[:1]
		more.a = slices.Repeat(w.a[:1], rapid.IntRange(2, 4).Draw(t, "layers"))
		single, layered := one.bound(), more.bound()
		notLower(t, "more layers of the same board", &layered, &single)
		better := w
		better.depth += quantity.MM(rapid.Float64Range(0, 200).Draw(t, "deeper"))
		deeper := better.bound()
		notLower(t, "deeper cavity", &deeper, &first)
		better = w
		better.fill += quantity.MM(rapid.Float64Range(0, 100).Draw(t, "more fill"))
		filled := better.bound()
		notLower(t, "more fill", &filled, &first)
		empty := w
		empty.fill = 0
		hollow := empty.bound()
		notLower(t, "fill", &first, &hollow)
	})
}

// The envelope of some faces is as good as each.
func TestEnvelope(t *testing.T) {
	p := Fitted()
	var leaves []*Leaf
	for _, b := range boards {
		leaves = append(leaves, p.NewLeaf(b), p.NewLeaf(b, b))
	}
	best := Envelope(leaves...)
	rapid.Check(t, func(t *rapid.T) {
		w := drawWall(t)
		c := p.NewCavity(w.depth, w.fill)
		a, b := rapid.SampledFrom(leaves).Draw(t, "a"), rapid.SampledFrom(leaves).Draw(t, "b")
		all, one := Bound(best, best, c, nil), Double(a, b, c, nil)
		notLower(t, "envelope", &all, &one)
		s := p.NewStuds(w.spacing, p.Steel(w.steel))
		all, one = Bound(best, best, c, s), Double(a, b, c, s)
		notLower(t, "envelope on studs", &all, &one)
	})
}

// step is what the model's levels may fall by although a wall gets better: its
// equations do not join smoothly at the mass-air-mass resonance and where the
// cavity stops gaining.
const step = 1

// What people add to a wall to make it quieter never makes it worse on paper by
// more than that step.
func TestMoreIsNotWorse(t *testing.T) {
	rw := func(w *wall) int { s := w.spectrum(); return iso717_1.Weighted(&s) }
	rapid.Check(t, func(t *rapid.T) {
		w := drawWall(t)
		w.a = slices.Repeat(w.a[:1], len(w.a)) // one board in layers
		w.b = w.a
		before := rw(&w)
		for what, change := range map[string]func(*wall){
			"one more layer each side": func(w *wall) { w.a = append(slices.Clone(w.a), w.a[0]); w.b = w.a },
			"deeper cavity":            func(w *wall) { w.depth += quantity.MM(25) },
			"studs farther apart":      func(w *wall) { w.spacing += quantity.MM(100) },
		} {
			better := w
			change(&better)
			if after := rw(&better); after < before-step {
				t.Fatalf("%s: Rw %d instead of %d", what, after, before)
			}
		}
		hollow := w
		hollow.fill = 0
		if without := rw(&hollow); without > before {
			t.Fatalf("empty: Rw %d, filled %d", without, before)
		}
	})
}

// The mass law: doubling the mass gains 6 dB, at every frequency.
func TestMassLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := quantity.MassPerArea(rapid.Float64Range(1, 500).Draw(t, "mass"))
		more := m + quantity.MassPerArea(rapid.Float64Range(0, 500).Draw(t, "more"))
		f := quantity.Frequency(rapid.Float64Range(50, 5000).Draw(t, "frequency"))
		if ForcedTransmission(f, more) < ForcedTransmission(f, m) {
			t.Fatal("heavier lets more through")
		}
		if gain := ForcedTransmission(f, 2*m) - ForcedTransmission(f, m); gain < 6.02 || gain > 6.03 {
			t.Fatal(gain)
		}
	})
}

func BenchmarkDouble(b *testing.B) {
	p := Fitted()
	leaf, cavity, studs := p.NewLeaf(boards[1]), p.NewCavity(quantity.MM(75), quantity.MM(60)), p.NewStuds(quantity.MM(600), p.Compliance)
	b.ReportAllocs()
	for b.Loop() {
		s := Double(leaf, leaf, cavity, studs)
		iso717_1.Weighted(&s)
	}
}

func BenchmarkBound(b *testing.B) {
	p := Fitted()
	leaf, cavity := p.NewLeaf(boards[1]), p.NewCavity(quantity.MM(75), quantity.MM(60))
	b.ReportAllocs()
	for b.Loop() {
		s := Bound(leaf, leaf, cavity, nil)
		iso717_1.Weighted(&s)
	}
}
