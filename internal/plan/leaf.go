package plan

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"nogging/internal/words"
)

// Leaf is a door as it hangs in its opening: its leaf, or its pair of leaves, and its
// frame. What is left out is not known.
type Leaf struct {
	Count      int    `json:"count,omitempty" jsonschema:"number of leaves, 1 or 2"`
	Hinge      string `json:"hinge,omitempty" jsonschema:"side of the opening at which the only leaf hangs: start or end"`
	Opens      Face   `json:"opens,omitempty" jsonschema:"face of the wall to which it opens: a or b"`
	Width      Length `json:"width,omitempty" jsonschema:"width of the leaf, of two the wider"`
	Height     Length `json:"height,omitempty" jsonschema:"height of the leaf"`
	Frame      Length `json:"frame,omitempty" jsonschema:"width of the frame's members, as seen from the front"`
	FrameDepth Length `json:"frame_depth,omitempty" jsonschema:"depth of the frame across the wall"`
	Fire       string `json:"fire,omitempty" jsonschema:"fire resistance as asked of the door, such as EI2 30-C, T30 or 45 min"`
}

// hung checks a door's leaf against its opening.
func (c *checker) hung(o *Opening, s *spot) {
	l := &o.Leaf
	if *l == (Leaf{}) {
		return
	}
	s = s.part("leaf")
	if o.Kind != Door && o.Kind != Hatch {
		s.doubt("leaf-not-used", "", words.F("a %s has no leaf; it is ignored", o.Kind), "take it out, or write kind: door")
		return
	}
	if l.Count < 0 || l.Count > 2 {
		s.wrong("leaf-count", "count", words.F("a door of %d leaves is not known", l.Count), "write 1 or 2")
	}
	s.choice("Leaf", "hinge", l.Hinge)
	s.choice("Leaf", "opens", string(l.Opens))
	s.notNegative("frame", l.Frame)
	s.notNegative("frame_depth", l.FrameDepth)
	s.fits("width", l.Width, o.Width)
	s.fits("height", l.Height, o.Height)
	if l.Fire != "" {
		if err := CheckDoorFire(l.Fire); err != nil {
			s.doubt("unknown-demand", "fire", words.F("%s, so nothing can be held against it", err.Error()), "write one such as EI2 30-C, T30 or 45 min")
		}
	}
}

// fits checks that a leaf is no larger than its opening.
func (s *spot) fits(key string, leaf, opening Length) {
	s.notNegative(key, leaf)
	if over := leaf - opening; over > 0 && opening > 0 {
		s.wrong("leaf-larger", key, words.F("the leaf's %s is %s more than the opening's", key, mm(over)), words.F("write %s or less; the opening is the structural one, with room for the frame", mm(opening)))
	}
}

var (
	// doorEN are classes of EN 13501-2, with self-closing (C) and smoke (S); from memory.
	doorEN = regexp.MustCompile(`^(?:E|EW|EI[12₁₂]?) ?-?(\d+)(?:[- ]?C[0-5]?)?(?:[- /]?S(?:A|200|M)?)?$`)
	// doorDIN are classes of DIN 4102-5; from memory.
	doorDIN = regexp.MustCompile(`^T ?-?(\d+)(?:-?[12])?(?:[- ]?RS)?$`)
	// doorHours are parts of an hour, as fire doors are listed by NFPA 80; from memory.
	doorHours = regexp.MustCompile(`^([13]/[34]) *-? *(?:H|HR|HRS|HOURS?)$`)
)

// shortestDoor is the least class of a door in minutes, so that EI2 is no class of 2.
const shortestDoor = 10

// CheckDoorFire says what is wrong with a fire resistance asked of a door: nothing where
// it is a class of EN 13501-2 or DIN 4102-5, or a time.
func CheckDoorFire(text string) error {
	t := strings.ToUpper(strings.TrimSpace(text))
	for _, known := range []*regexp.Regexp{doorEN, doorDIN} {
		if m := known.FindStringSubmatch(t); m != nil {
			if n, err := strconv.Atoi(m[1]); err == nil && n >= shortestDoor && n <= longestFire {
				return nil
			}
		}
	}
	if doorHours.MatchString(t) {
		return nil
	}
	if c, err := ParseFire(text); err == nil && c.Scheme == FireHours {
		return nil
	}
	return fmt.Errorf("%q is no fire class of a door", text)
}
