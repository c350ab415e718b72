package layout

import (
	"cmp"
	"strconv"
	"strings"

	"nogging/internal/buildup"
	"nogging/internal/plan"
)

// rank decides which of two walls runs through where they meet: the one with
// the higher fire demand, then sound demand, then the thicker, then the longer,
// then the one that stands first in the plan (common practice: the better wall
// is not interrupted by the lesser).
type rank struct {
	fire, sound int
	thickness   Length
	length      Length
	ordinal     int
}

func rankOf(w *plan.Wall, spec *buildup.BuildUp, ordinal int) rank {
	return rank{
		fire: fireMinutes(w.Require.Fire), sound: firstNumber(w.Require.Sound),
		thickness: spec.Thickness, length: w.Length(), ordinal: ordinal,
	}
}

// over reports whether a wall of rank r runs through one of rank q.
func (r rank) over(q rank) bool {
	return cmp.Or(
		cmp.Compare(r.fire, q.fire),
		cmp.Compare(r.sound, q.sound),
		cmp.Compare(r.thickness, q.thickness),
		cmp.Compare(r.length, q.length),
		cmp.Compare(q.ordinal, r.ordinal),
	) > 0
}

// fireMinutes reads the duration out of a fire demand as people write it:
// "EI 60", "REI90", "F30-A", "1 h", "2 HR". Zero when there is none.
func fireMinutes(demand string) int {
	n := firstNumber(demand)
	if n > 0 && n <= 4 && strings.Contains(strings.ToLower(demand), "h") {
		return n * 60
	}
	return n
}

// firstNumber returns the first whole number in a text, or zero.
func firstNumber(text string) int {
	start := strings.IndexAny(text, "0123456789")
	if start < 0 {
		return 0
	}
	end := start
	for end < len(text) && text[end] >= '0' && text[end] <= '9' {
		end++
	}
	n, err := strconv.Atoi(text[start:end])
	if err != nil {
		return 0
	}
	return n
}
