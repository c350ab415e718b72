package plan

import (
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// Deck is the profile of a metal deck that forms a soffit: flutes, which are open
// from below, between ribs, whose undersides are the soffit.
type Deck struct {
	Pitch     Length  `json:"pitch" jsonschema:"from the middle of one flute to the middle of the next"`
	Depth     Length  `json:"depth" jsonschema:"depth of a flute"`
	Flute     Length  `json:"flute" jsonschema:"width of a flute at the soffit"`
	Crown     Length  `json:"crown,omitempty" jsonschema:"width of a flute at its top; as at the soffit if left out"`
	Direction float64 `json:"direction,omitempty" jsonschema:"direction of the flutes in degrees from x towards y"`
	At        *Pt     `json:"at,omitempty" jsonschema:"a point in plan under the middle of a flute; assumed under the origin if left out"`
}

// Usual sizes of metal decks.
var (
	usualPitch = span{50 * quantity.Millimetre, 1000 * quantity.Millimetre, "50 mm to 1 m"}
	usualDepth = span{10 * quantity.Millimetre, 300 * quantity.Millimetre, "10 mm to 300 mm"}
)

// Usable reports whether the deck's sizes make flutes.
func (d *Deck) Usable() bool {
	return d.Pitch >= usualPitch.least && d.Depth > 0 && d.Flute > 0 && d.Flute < d.Pitch && d.Crown >= 0 && d.Crown < 2*d.Pitch
}

// deck checks the profile of a metal deck.
func (c *checker) deck(l *Level, s *spot) {
	d := l.Deck
	switch {
	case d == nil && l.Soffit == MetalDeck:
		s.assumed("deck-unknown", "soffit", "the soffit is a metal deck of which no profile is given: its flutes are not closed, and anchors are not kept to its ribs", "give it, such as deck: {pitch: 207, depth: 85, flute: 119, crown: 40, direction: 90, at: [0, 0]}")
		return
	case d == nil:
		return
	case l.Soffit != MetalDeck:
		s.doubt("deck-without-soffit", "deck", "the profile of a metal deck is given, but the soffit is none; it is ignored", "write soffit: metal_deck, or take the profile out")
		return
	}
	at := s.part("deck")
	at.positive("pitch", d.Pitch)
	at.positive("depth", d.Depth)
	at.positive("flute", d.Flute)
	at.notNegative("crown", d.Crown)
	c.usual(at, "pitch", d.Pitch, usualPitch)
	c.usual(at, "depth", d.Depth, usualDepth)
	if d.Flute >= d.Pitch && d.Pitch > 0 {
		at.wrong("deck-without-ribs", "flute", words.F("flutes %s wide at %s leave no ribs", mm(d.Flute), mm(d.Pitch)), "give the width of the opening at the soffit, less than the pitch")
	}
	if d.At == nil {
		at.assumed("deck-place", "at", "it is not said where the flutes lie; the middle of one is taken to lie over the origin", "give a point under the middle of a flute, such as at: [0, 0]")
	}
}
