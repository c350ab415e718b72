package en1995_1_1_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	_ "nogging/internal/draws"
	"nogging/internal/proof/structure/en1995_1_1"
)

// The limits of the method by the theory of bending: screws that do not resist
// slip leave stud and boards to bend by themselves; screws that do not slip make
// one section, whose stiffness is that of the parallel axis theorem.
func TestLimits(t *testing.T) {
	board := en1995_1_1.Board{E: 2000, Width: 600, Thickness: 12.5, Spacing: 250}
	const stud, axial, depth, span = 21e9, 22e6, 75.0, 3000.0
	axialBoard := 2000 * 600 * 12.5
	own := axialBoard * 12.5 * 12.5 / 12
	near(t, "loose", en1995_1_1.Stiffness(stud, axial, depth, span, board, board), stud+2*own)
	board.Slip = 1e12
	arm := (depth + 12.5) / 2
	near(t, "rigid", en1995_1_1.Stiffness(stud, axial, depth, span, board, board), stud+2*own+2*axialBoard*arm*arm)
	// boards on one face: two parts, one axis
	got := en1995_1_1.Stiffness(stud, axial, depth, span, board, en1995_1_1.Board{})
	near(t, "one face", got, stud+own+axial*axialBoard/(axial+axialBoard)*arm*arm)
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-4*want {
		t.Errorf("%s: %.6g, want %.6g", what, got, want)
	}
}

// More screws, and stiffer ones, never make a wall softer.
func TestMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := en1995_1_1.Board{E: 2000, Width: 600, Thickness: 12.5, Slip: rapid.Float64Range(0, 5000).Draw(t, "slip"), Spacing: rapid.Float64Range(100, 800).Draw(t, "spacing")}
		span := rapid.Float64Range(1000, 8000).Draw(t, "span")
		stiff := b
		stiff.Slip *= rapid.Float64Range(1, 3).Draw(t, "more")
		dense := b
		dense.Spacing *= rapid.Float64Range(.3, 1).Draw(t, "denser")
		base := en1995_1_1.Stiffness(21e9, 22e6, 75, span, b, b)
		for _, other := range []en1995_1_1.Board{stiff, dense} {
			if got := en1995_1_1.Stiffness(21e9, 22e6, 75, span, other, other); got < base*(1-1e-12) {
				t.Fatalf("%v gives %g, %v gives %g", b, base, other, got)
			}
		}
	})
}
