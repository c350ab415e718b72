package plan

import (
	"strconv"

	"nogging/internal/quantity"
	"nogging/internal/words"
)

// span is what a size usually is. It keeps slips of the pen out; it is no rule
// of the trade. A greatest of 0 is no limit.
type span struct {
	least, most Length
	words       string
}

// Common practice: what the sizes of partitions usually are.
var (
	usualHeight    = span{300 * quantity.Millimetre, 15 * quantity.Metre, "300 mm to 15 m"}
	usualDoor      = span{400 * quantity.Millimetre, 6 * quantity.Metre, "400 mm to 6 m"}
	usualOpening   = span{least: 30 * quantity.Millimetre, words: "30 mm or more"}
	usualThickness = span{25 * quantity.Millimetre, quantity.Metre, "25 mm to 1 m"}
	usualMasonry   = span{5 * quantity.Millimetre, 3 * quantity.Metre, "5 mm to 3 m"}
	usualGap       = span{most: quantity.Metre, words: "up to 1 m"}
	usualSpacing   = span{LeastSpacing, 1250 * quantity.Millimetre, "100 mm to 1250 mm"}
	usualLength    = span{most: longestWall, words: "up to 500 m"}
)

// LeastSpacing is the least distance of stud centres: closer, the flanges of
// the studs nearly touch.
const LeastSpacing = 100 * quantity.Millimetre

// Beyond these no wall is laid out: what is written is a slip, and laying it
// out would take long and fill sheets for nobody.
const (
	longestWall = 500 * quantity.Metre
	highestWall = 60 * quantity.Metre
)

// usualLeaf is the greatest mass of a door leaf in kg, of steel or lead-lined.
const usualLeaf = 300

// smallest is the height below which nothing can be built as a wall; upstands of
// some 300 mm are.
const smallest = 100 * quantity.Millimetre

func (u span) holds(l Length) bool { return l >= u.least && (u.most == 0 || l <= u.most) }

// meant says what was probably meant by a size that is not usual: the same
// number in another unit, or with its decimal point elsewhere.
func (c *checker) meant(l Length, u span) words.Text {
	type unit struct {
		name string
		size Length
	}
	units := []unit{{"m", quantity.Metre}, {"cm", 10 * quantity.Millimetre}}
	if c.plan.Practice == US {
		units = append([]unit{{"ft", quantity.Foot}, {"in", quantity.Inch}}, units...)
	}
	if l < u.least {
		for _, as := range units {
			if v := quantity.MM(l.MM() * as.size.MM()); u.holds(v) {
				return words.F("did you mean %s %s? lengths without a unit are millimetres", l, as.name)
			}
		}
	}
	for _, factor := range []float64{10, 100, 1000} {
		moved := quantity.MM(l.MM() * factor)
		if l > u.least {
			moved = quantity.MM(l.MM() / factor)
		}
		if u.holds(moved) {
			return words.F("did you mean %s mm?", moved)
		}
	}
	return "check it; lengths without a unit are millimetres"
}

// usual doubts a size that is given and far from what is usual.
func (c *checker) usual(s *spot, key string, l Length, u span) {
	if l > 0 && !u.holds(l) {
		s.doubt("implausible", key, words.F("%s is %s; usual is %s", key, mm(l), u.words), c.meant(l, u))
	}
}

// spacing checks a stud spacing. Studs that nearly touch are a slip.
func (c *checker) spacing(s *spot, l Length) {
	if l > 0 && l < LeastSpacing {
		s.wrong("implausible", "spacing", words.F("spacing is %s: studs cannot stand so close; usual is %s", mm(l), usualSpacing.words), c.meant(l, usualSpacing))
		return
	}
	c.usual(s, "spacing", l, usualSpacing)
}

// height checks a height to which walls are built. None can be lower than the
// smallest or higher than the highest.
func (c *checker) height(s *spot, key string, h Length) {
	if h > 0 && h < smallest {
		s.wrong("implausible", key, words.F("%s is %s: no wall so low can be built; usual is %s", key, mm(h), usualHeight.words), c.meant(h, usualHeight))
		return
	}
	if h > highestWall {
		s.wrong("implausible", key, words.F("%s is %s; nothing above %s is laid out, and usual is %s", key, mm(h), mm(highestWall), usualHeight.words), c.meant(h, usualHeight))
		return
	}
	c.usual(s, key, h, usualHeight)
}

// length doubts a line that is too long.
func (c *checker) length(s *spot, l Length) {
	if !usualLength.holds(l) {
		s.doubt("implausible", "line", words.F("it is %s long; usual is %s", mm(l), usualLength.words), c.meant(l, usualLength))
	}
}

// overSoffit is by how much a wall may be higher than the clear height, for
// what is rounded or taken on site.
const overSoffit = 50 * quantity.Millimetre

// sloping returns the levels whose soffit is not at one height: a height
// profile on them, which is the soffit itself, goes above the clear height.
func (p *Plan) sloping() map[string]bool {
	levels := map[string]bool{}
	for i := range p.Walls {
		for _, h := range p.Walls[i].Heights {
			if l := p.LevelByID(p.Walls[i].Level); l != nil && h.Height > l.ClearHeight+overSoffit {
				levels[l.ID] = true
			}
		}
	}
	return levels
}

// underSoffit checks that a wall does not rise through a level soffit.
func (c *checker) underSoffit(w *Wall, s *spot) {
	level := c.plan.LevelByID(w.Level)
	if level == nil || len(w.Heights) > 0 || !usualHeight.holds(level.ClearHeight) || !usualHeight.holds(w.Height) || w.Height <= level.ClearHeight+overSoffit {
		return
	}
	s.doubt("wall-above-soffit", "height",
		words.F("the wall is %s high, which is %s more than the clear height of level %s, %s", mm(w.Height), mm(w.Height-level.ClearHeight), level.ID, mm(level.ClearHeight)),
		"leave the height out for a wall up to the soffit, mend the level's clear_height, or give heights along the wall where the soffit is higher")
}

// leaf doubts the mass of a door leaf.
func (s *spot) leaf(mass float64) {
	if mass <= usualLeaf {
		return
	}
	fix := words.Text("write the mass of the leaf with its hardware in kg")
	if mass/10 <= usualLeaf {
		fix = words.F("did you mean %s kg?", strconv.FormatFloat(mass/10, 'f', -1, 64))
	}
	s.doubt("implausible", "leaf_mass", words.F("leaf_mass is %g kg; usual is up to %d kg", mass, usualLeaf), fix)
}
