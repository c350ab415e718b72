package plan

import (
	"nogging/internal/geom"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// MovementJoint is a joint by which the structure of a level moves, as a
// straight line in plan.
type MovementJoint struct {
	Line  []Pt   `json:"line" jsonschema:"two points of the joint in plan"`
	Width Length `json:"width,omitempty" jsonschema:"width of the gap; the practice's width of a movement joint if left out"`
}

// usualJoint is how wide movement joints of buildings usually are.
var usualJoint = span{quantity.Millimetre, 200 * quantity.Millimetre, "up to 200 mm"}

// Usable reports whether the joint has a line.
func (m *MovementJoint) Usable() bool {
	return len(m.Line) == 2 && geom.Point(m.Line[0]).Dist(geom.Point(m.Line[1])) >= geom.Same && m.Width >= 0
}

// movementJoints checks the joints of a level's structure.
func (c *checker) movementJoints(l *Level, s *spot) {
	for i := range l.MovementJoints {
		m := &l.MovementJoints[i]
		at := s.entry("movement_joints", i, "")
		at.notNegative("width", m.Width)
		c.usual(at, "width", m.Width, usualJoint)
		if m.Width >= 0 && !m.Usable() {
			at.wrong("movement-joint-line", "line", words.F("the joint has %s, not 2 that lie apart; it is ignored", words.Count(len(m.Line), "1 point", "%d points")), "give two points of the joint, such as line: [[12000, 0], [12000, 9000]]")
		}
	}
}
