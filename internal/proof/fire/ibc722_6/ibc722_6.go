// Package ibc722_6 follows the International Building Code 722.6, calculated fire
// resistance of wood-framed walls: the times of the exposed membranes and of the
// frame are added. It takes the membranes of both faces and gives minutes, at
// most 60, or says why the method does not apply. Its scope is wood framing at
// 16 in or less; it never rates a steel-framed wall.
package ibc722_6

import (
	"fmt"

	"nogging/internal/quantity"
)

// Framing is what the membranes are fixed to.
type Framing string

// The kinds of framing.
const (
	Wood  Framing = "wood"
	Steel Framing = "steel"
)

// Membrane is one finish of Table 722.6.2(1).
type Membrane string

// The membranes of gypsum of Table 722.6.2(1).
const (
	Gypsum3_8       Membrane = "3/8 in gypsum wallboard"
	Gypsum1_2       Membrane = "1/2 in gypsum wallboard"
	Gypsum5_8       Membrane = "5/8 in gypsum wallboard"
	TypeX1_2        Membrane = "1/2 in Type X"
	TypeX5_8        Membrane = "5/8 in Type X"
	DoubleGypsum3_8 Membrane = "double 3/8 in gypsum wallboard"
	Gypsum1_2And3_8 Membrane = "1/2 in + 3/8 in gypsum wallboard"
	DoubleGypsum1_2 Membrane = "double 1/2 in gypsum wallboard"
)

// minutes is Table 722.6.2(1).
var minutes = map[Membrane]int{
	Gypsum3_8: 10, Gypsum1_2: 15, Gypsum5_8: 30, TypeX1_2: 25, TypeX5_8: 40,
	DoubleGypsum3_8: 25, Gypsum1_2And3_8: 35, DoubleGypsum1_2: 40,
}

const (
	frameMinutes = 20 // wood studs at 16 in, Table 722.6.2(2), from memory
	most         = 60 // 722.6.1.1
	widest       = 16 * quantity.Inch
)

// Scope says why the method does not apply, or returns nil.
func Scope(framing Framing, spacing quantity.Length) error {
	if framing != Wood {
		return fmt.Errorf("IBC 722.6 does not apply: its scope is wood framing, and this is %s", framing)
	}
	if spacing > widest {
		return fmt.Errorf("IBC 722.6 does not apply: its times are for framing at %s mm or less, and this is %s mm apart", widest, spacing)
	}
	return nil
}

// Rating returns the fire resistance in minutes. The membrane of the side away
// from the fire is not counted, so a wall of two different faces has the rating of
// its weaker side.
func Rating(framing Framing, spacing quantity.Length, a, b Membrane) (int, error) {
	if err := Scope(framing, spacing); err != nil {
		return 0, err
	}
	ta, oka := minutes[a]
	tb, okb := minutes[b]
	if !oka || !okb {
		return 0, fmt.Errorf("IBC Table 722.6.2(1) has no time for %q and %q", a, b)
	}
	return min(min(ta, tb)+frameMinutes, most), nil
}
