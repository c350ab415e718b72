package plan

import (
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// What a wall stands on.
const (
	OnFloor = "floor" // the floor as the level gives it
	OnSlab  = "slab"  // the slab, before screed or raised floor go in
)

// usualFloor is how deep screeds and raised floors usually are.
var usualFloor = span{20 * quantity.Millimetre, 1500 * quantity.Millimetre, "20 mm to 1.5 m"}

// stands checks what a wall is said to stand on.
func (c *checker) stands(w *Wall, s *spot) {
	s.choice("Wall", "stands", w.Stands)
	level := c.plan.LevelByID(w.Level)
	if w.Stands != OnSlab || level == nil {
		return
	}
	if w.Base != 0 {
		s.doubt("base-on-slab", "base", words.F("the wall stands on the slab, so that its foot cannot be %s above the floor as well; the slab is taken", mm(w.Base)), "keep one of the two")
	}
	if level.FloorDepth == 0 {
		s.assumed("floor-depth-unknown", "stands", "the wall stands on the slab, and the level does not say how deep that lies under the floor; it is taken to lie at the floor's height", "write the level's floor_depth")
	}
}

// Foot returns the height of the wall's foot above the floor: negative where it
// stands on the slab.
func (w *Wall) Foot(l *Level) Length {
	if w.Stands == OnSlab {
		return -max(l.FloorDepth, 0)
	}
	return w.Base
}
