// Package din18534_1 follows DIN 18534-1: water action classes of inner rooms and
// what a wall of gypsum boards needs for each. It takes a class and the boards of
// a face, and says whether they suit and what has to be sealed.
package din18534_1

import (
	"fmt"
	"slices"
	"strings"

	"nogging/internal/words"
)

// Class is a water action class.
type Class string

// The water action classes, mildest first.
const (
	Low      Class = "W0-I" // splashes now and then: walls above washbasins and sinks
	Moderate Class = "W1-I" // frequent splashes: walls above baths and in showers at home
	High     Class = "W2-I" // frequent splashes and standing water: showers of sports halls
	VeryHigh Class = "W3-I" // long and intense: pool surrounds, commercial kitchens
)

// Classes lists the classes, mildest first.
func Classes() []Class { return []Class{Low, Moderate, High, VeryHigh} }

// Severity returns the place of a class, from 0 for W0-I; -1 for none.
func (c Class) Severity() int { return slices.Index(Classes(), c) }

// Parse reads a class as people write it: "W1-I", "w1".
func Parse(text string) (Class, error) {
	t := strings.ToUpper(strings.ReplaceAll(text, " ", ""))
	for _, c := range Classes() {
		if t == string(c) || t == strings.TrimSuffix(string(c), "-I") {
			return c, nil
		}
	}
	return "", fmt.Errorf("%q is no water action class: write one of W0-I, W1-I, W2-I, W3-I", text)
}

// Severest returns the severer of two classes: a place that nothing parts from its
// neighbour takes the neighbour's class (DIN 18534-1, note to the table of
// classes).
func Severest(a, b Class) Class {
	if a.Severity() >= b.Severity() {
		return a
	}
	return b
}

// Suits reports whether a board that may stand in one class may stand in another;
// a board without a class is for dry rooms. A substrate of gypsum ends at W1-I.
func Suits(board string, asked Class) bool {
	return Class(board).Severity() >= asked.Severity()
}

// Sealing says what the surface needs in a class (DIN 18534-1; details of bonded
// waterproofing in DIN 18534-3, from memory).
func Sealing(c Class) []words.Text {
	switch c {
	case Low:
		return []words.Text{"water-repellent surface; bonded waterproofing where it is splashed"}
	case Moderate, High, VeryHigh:
		return []words.Text{
			"bonded waterproofing over the whole surface that is splashed, and the floor's turned up at the base",
			"sealing tape at the base and in inner corners, collars round pipes",
		}
	}
	return nil
}
