package plan

import (
	"strings"

	"nogging/internal/words"
)

// Seismic is the earthquake for which walls are to be proven. EN 1998-1 takes
// Ground and Soil, ASCE 7 takes SDS.
type Seismic struct {
	Ground      float64 `json:"ground,omitempty" jsonschema:"design ground acceleration over that of free fall, ag/g (EN 1998-1)"`
	Soil        float64 `json:"soil,omitempty" jsonschema:"soil factor S (EN 1998-1)"`
	SDS         float64 `json:"sds,omitempty" jsonschema:"design spectral acceleration at short periods over that of free fall, SDS (ASCE 7)"`
	Importance  float64 `json:"importance,omitempty" jsonschema:"importance factor of the walls, 1 or 1.5"`
	Base        Length  `json:"base,omitempty" jsonschema:"elevation of the building's base, as levels give theirs"`
	Height      Length  `json:"height,omitempty" jsonschema:"height of the building above its base"`
	PeriodRatio float64 `json:"period_ratio,omitempty" jsonschema:"period of the wall over that of the building, Ta/T1 (EN 1998-1); the worst, 1, if left out"`
}

// Duty is what a wall's faces have to withstand: an installation zone of
// DIN 4103-1, or a duty grade of BS 5234-2.
type Duty struct {
	Zone  int    // 1 or 2; 0 where a grade is asked
	Grade string // LD, MD, HD or SD
}

// duties lists the duties by the words for them, lightest first.
var duties = []struct {
	word string
	duty Duty
}{{"zone 1", Duty{Zone: 1}}, {"zone 2", Duty{Zone: 2}}, {"LD", Duty{Grade: "LD"}}, {"MD", Duty{Grade: "MD"}}, {"HD", Duty{Grade: "HD"}}, {"SD", Duty{Grade: "SD"}}}

// ParseDuty reads a duty as plans write it.
func ParseDuty(text string) (Duty, bool) {
	for _, d := range duties {
		if strings.EqualFold(strings.TrimSpace(text), d.word) {
			return d.duty, true
		}
	}
	return Duty{}, false
}

// Covers reports whether a wall that withstands d withstands the other as well.
// Zones and grades are of different standards and do not stand for each other.
func (d Duty) Covers(other Duty) bool {
	rank := func(d Duty) int {
		for i, known := range duties {
			if known.duty == d {
				return i
			}
		}
		return -1
	}
	return (d.Zone > 0) == (other.Zone > 0) && rank(d) >= rank(other)
}

// greatestPressure is far above any pressure on a partition, in Pa.
const greatestPressure = 10_000

// actions checks the loads that a wall is asked to bear.
func (s *spot) actions(r Requirements) {
	if _, ok := ParseDuty(r.Duty); r.Duty != "" && !ok {
		s.doubt("unknown-word", "duty", words.F("duty %q is not known, so nothing is proven for it", r.Duty), "write one of: zone 1, zone 2, LD, MD, HD, SD")
	}
	if !(r.Pressure >= 0 && r.Pressure <= greatestPressure) {
		s.wrong("out-of-range", "pressure", words.F("a pressure of %g Pa is not one on a partition", r.Pressure), "write pascals, such as 200 (5 psf are 239)")
	}
}

// loads checks what a level's floor is said to carry.
func (l *Level) loads(s *spot) {
	for _, one := range []struct {
		key   string
		value float64
	}{{"imposed", l.Imposed}, {"partitions", l.Partitions}} {
		if !(one.value >= 0 && one.value <= 100) {
			s.wrong("out-of-range", one.key, words.F("%g kN/m² is no load on a floor", one.value), "write kN/m², such as 2.0 (40 psf are 1.9)")
		}
	}
}

// check looks at the ranges of a site's earthquake.
func (q Seismic) check(s *spot) {
	for _, one := range []struct {
		key         string
		value, most float64
	}{{"ground", q.Ground, 2}, {"soil", q.Soil, 5}, {"sds", q.SDS, 5}, {"importance", q.Importance, 3}, {"period_ratio", q.PeriodRatio, 100}} {
		if !(one.value >= 0 && one.value <= one.most) {
			s.wrong("out-of-range", one.key, words.F("%s %g is not between 0 and %g", one.key, one.value, one.most), "write the factor as the standard has it")
		}
	}
	s.notNegative("height", q.Height)
}
