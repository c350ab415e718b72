package yamlfile

import (
	"fmt"
	"strings"
)

// Nearest returns the known word that is most like the given one, if one alone
// is near enough to be what was meant: no more than one slip of the pen (a
// letter wrong, missing, added, or two changed over) for every three letters.
func Nearest(word string, known []string) (string, bool) {
	best, least, unique := "", len(word)/3+1, false
	folded := fold(word)
	for _, k := range known {
		if abs(len(k)-len(word)) > least {
			continue
		}
		switch d := slips(folded, fold(k)); {
		case d < least:
			best, least, unique = k, d, true
		case d == least && k != best:
			unique = false
		}
	}
	return best, unique
}

// Suggest says what to write instead of an unknown word: the nearest known
// one, or any of them, called by the plural given ("known keys").
func Suggest(word, plural string, known []string) string {
	if near, ok := Nearest(word, known); ok {
		return fmt.Sprintf("did you mean %q?", near)
	}
	const shown = 20
	switch {
	case len(known) == 0:
		return "there are no " + plural
	case len(known) > shown:
		return fmt.Sprintf("%s: %s and %d more", plural, strings.Join(known[:shown], ", "), len(known)-shown)
	}
	return plural + ": " + strings.Join(known, ", ")
}

var folding = strings.NewReplacer(" ", "_", "-", "_")

func fold(word string) string { return folding.Replace(strings.ToLower(word)) }

func abs(n int) int { return max(n, -n) }

// slips returns the least number of letters to change, add, take out or change
// over to get from a to b (optimal string alignment distance).
func slips(a, b string) int {
	if len(a) > 64 || len(b) > 64 {
		return max(len(a), len(b))
	}
	x, y := []rune(a), []rune(b)
	var rows [3][66]int
	before, last, row := &rows[0], &rows[1], &rows[2]
	for j := range len(y) + 1 {
		last[j] = j
	}
	for i := 1; i <= len(x); i++ {
		row[0] = i
		for j := 1; j <= len(y); j++ {
			change := 1
			if x[i-1] == y[j-1] {
				change = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(y)]
}
