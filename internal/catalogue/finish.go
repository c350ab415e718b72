package catalogue

import (
	"fmt"
	"strings"
)

// FinishLevel is one surface level: how often joints, inner corners and screw
// heads are coated, and what is done to the rest of the face. The coat in which
// the tape is bedded is the first; there are never more coats than the practice
// gives widths for.
type FinishLevel struct {
	Level  string `json:"level"`           // Q1 to Q4, L0 to L5
	Coats  int    `json:"coats"`           // over joints between boards
	Angles int    `json:"angles"`          // over inner corners
	Heads  int    `json:"heads"`           // over screw heads and beads
	Close  bool   `json:"close,omitempty"` // the pores of the whole face are closed with a coat drawn off sharply
	Skim   bool   `json:"skim,omitempty"`  // a skim over the whole face
	Source string `json:"source,omitempty"`
}

// FinishFor returns the row of the practice for a surface level; the usual level
// where none is given.
func (p *Practice) FinishFor(level string) (FinishLevel, bool) {
	if level == "" {
		level = p.UsualFinish.Value
	}
	for _, l := range p.FinishLevels.Value {
		if l.Level == level {
			return l, true
		}
	}
	return FinishLevel{}, false
}

// String says what the level asks for.
func (l FinishLevel) String() string {
	parts := []string{fmt.Sprintf("%d on joints, %d on inner corners, %d on screw heads and beads", l.Coats, l.Angles, l.Heads)}
	if l.Close {
		parts = append(parts, "pores closed")
	}
	if l.Skim {
		parts = append(parts, "skim")
	}
	return l.Level + ": " + strings.Join(parts, ", ")
}

// finishConflict says what is wrong with the surface levels, or nothing.
func finishConflict(p *Practice) string {
	seen := map[string]bool{}
	for i, l := range p.FinishLevels.Value {
		switch {
		case l.Level == "" || seen[l.Level]:
			return fmt.Sprintf("row %d has no level of its own", i+1)
		case min(l.Coats, l.Angles, l.Heads) < 0:
			return fmt.Sprintf("%s asks for fewer coats than none", l.Level)
		}
		seen[l.Level] = true
	}
	if p.UsualFinish.given() && !seen[p.UsualFinish.Value] {
		return fmt.Sprintf("the usual level %q is not among them", p.UsualFinish.Value)
	}
	return ""
}
