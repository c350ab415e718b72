// Package en1995_1_2 follows EN 1995-1-2:2004, 3.4.3.3: when gypsum boards that
// protect timber let it begin to char. It takes thicknesses of boards and gives
// minutes, or says why the method does not apply. Its scope is timber behind
// gypsum boards of types A, F and H (EN 520); it never rates a steel-framed wall.
package en1995_1_2

import (
	"fmt"

	"nogging/internal/quantity"
)

// Framing is what the boards protect.
type Framing string

// The kinds of framing.
const (
	Timber Framing = "timber"
	Steel  Framing = "steel"
)

// Type is a type of gypsum board by EN 520.
type Type string

// The types of board that the method knows.
const (
	A Type = "A"
	F Type = "F"
	H Type = "H"
)

// Scope says why the method does not apply, or returns nil.
func Scope(framing Framing) error {
	if framing != Timber {
		return fmt.Errorf("EN 1995-1-2 does not apply: its scope is timber behind gypsum boards, and this is %s", framing)
	}
	return nil
}

// widestGap is the greatest gap at joints for which joints count as closed.
const widestGap = 2 * quantity.Millimetre

// Charring returns the minutes until charring begins behind one board
// (equations 3.11 and 3.12); gap is that of the joints, 0 where they are filled.
func Charring(thickness, gap quantity.Length) float64 {
	return charring(thickness.MM(), gap)
}

// CharringTwo is Charring behind two layers of one type with filled joints: the
// inner counts half where the outer can fall off, and 0.8 where it is of type F
// (3.4.3.3(3)).
func CharringTwo(outer, inner quantity.Length, of Type) float64 {
	part := 0.5
	if of == F {
		part = 0.8
	}
	return charring(outer.MM()+part*inner.MM(), 0)
}

func charring(hp float64, gap quantity.Length) float64 {
	less := 14.0
	if gap > widestGap {
		less = 23
	}
	return max(2.8*hp-less, 0)
}
