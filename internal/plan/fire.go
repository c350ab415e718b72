package plan

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// FireScheme is the scheme in which fire resistance is classified. Classes of
// different schemes are not exchanged: which stands for which is for the local
// code to say.
type FireScheme string

// The schemes of fire classes.
const (
	FireEN    FireScheme = "EN 13501-2" // E 30, EI 60, EW 30, REI 90
	FireDIN   FireScheme = "DIN 4102-2" // F 90-A
	FireHours FireScheme = "hours"      // 1 h, as ASTM E119 and CAN/ULC-S101 give it
)

// FireClass is a fire resistance, as it is asked of a wall or stated in a
// document.
type FireClass struct {
	Scheme   FireScheme
	Criteria string // E, EI, EW, REI …; empty in other schemes
	Minutes  int
}

// String writes the class as its scheme does.
func (c FireClass) String() string {
	switch c.Scheme {
	case FireEN:
		return fmt.Sprintf("%s %d", c.Criteria, c.Minutes)
	case FireDIN:
		return fmt.Sprintf("F %d", c.Minutes)
	}
	return strconv.FormatFloat(float64(c.Minutes)/60, 'f', -1, 64) + " h"
}

// Covers reports whether a wall of class c is good for what is asked: the same
// scheme, at least the same criteria and at least as long.
func (c FireClass) Covers(asked FireClass) bool {
	if c.Scheme != asked.Scheme || c.Minutes < asked.Minutes {
		return false
	}
	for _, letter := range asked.Criteria {
		if letter != 'W' && !strings.ContainsRune(c.Criteria, letter) {
			return false
		}
		// Insulation bounds the radiation too (EN 13501-2, 5.2.4, from memory).
		if letter == 'W' && !strings.ContainsAny(c.Criteria, "WI") {
			return false
		}
	}
	return true
}

var (
	fireEN    = regexp.MustCompile(`^(R?E[IW]?) *-?(\d+)$`)
	fireDIN   = regexp.MustCompile(`^F *-?(\d+)(-?[AB]B?)?$`)
	fireHours = regexp.MustCompile(`^([\d.]+|[\d.]*-?1/2) *-? *(H|HR|HRS|HOURS?)$`)
	fireMin   = regexp.MustCompile(`^(\d+) *MIN(UTES)?$`)
)

// longestFire bounds what is taken for a fire class, in minutes.
const longestFire = 480

// ParseFire reads a fire class as people write it: "EI 60", "REI90", "F30-A",
// "1 h", "1.5 hr". A bare number or a text without a scheme is an error, since
// nobody can tell which class is meant; minutes count as hours' scheme.
func ParseFire(text string) (FireClass, error) {
	t := strings.ToUpper(strings.TrimSpace(text))
	var c FireClass
	switch {
	case fireEN.MatchString(t):
		m := fireEN.FindStringSubmatch(t)
		c = FireClass{Scheme: FireEN, Criteria: m[1]}
		c.Minutes, _ = strconv.Atoi(m[2])
	case fireDIN.MatchString(t):
		c = FireClass{Scheme: FireDIN}
		c.Minutes, _ = strconv.Atoi(fireDIN.FindStringSubmatch(t)[1])
	case fireMin.MatchString(t):
		c = FireClass{Scheme: FireHours}
		c.Minutes, _ = strconv.Atoi(fireMin.FindStringSubmatch(t)[1])
	case fireHours.MatchString(t):
		c = FireClass{Scheme: FireHours, Minutes: hours(fireHours.FindStringSubmatch(t)[1])}
	}
	if c.Minutes <= 0 || c.Minutes > longestFire {
		return FireClass{}, fmt.Errorf("%q is no fire class: write one such as EI 60, F90-A or 1 h", text)
	}
	return c, nil
}

// hours turns "1", "1.5", "1/2" or "1-1/2" hours into minutes; 0 where it is none.
func hours(text string) int {
	half := 0
	if rest, ok := strings.CutSuffix(text, "1/2"); ok {
		text, half = strings.TrimSuffix(rest, "-"), 30
		if text == "" {
			return half
		}
	}
	h, err := strconv.ParseFloat(text, 64)
	if err != nil || h > longestFire {
		return 0
	}
	return int(h*60+0.5) + half
}
