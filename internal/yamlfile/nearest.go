package yamlfile

import (
	"cmp"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"nogging/internal/words"
)

// Nearest returns the known word that is most like the given one, if one alone
// is near enough to be what was meant: no more than one slip of the pen (a
// letter wrong, missing, added, or two changed over) for every three letters.
// A word that is the beginning of one alone was broken off. Fractions are the
// same as decimals: 5/8 is 0.625.
func Nearest(word string, known []string) (string, bool) {
	folded := fold(word)
	if whole, ok := begunBy(folded, known); ok {
		return whole, true
	}
	best, least, unique := "", len(word)/3+1, false
	for _, k := range known {
		if abs(len(k)-len(folded)) > least {
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
func Suggest(word string, plural words.Text, known []string) words.Text {
	if near, ok := Nearest(word, known); ok {
		return words.F("did you mean %q?", near)
	}
	const shown = 20
	switch {
	case len(known) == 0:
		return words.F("there are no %s", plural)
	case len(known) > shown:
		return words.F("%s: %s and %d more", plural, strings.Join(likeFirst(word, known)[:shown], ", "), len(known)-shown)
	}
	return words.F("%s: %s", plural, strings.Join(known, ", "))
}

// likeFirst puts the words that begin as the given one does before the others.
func likeFirst(word string, known []string) []string {
	folded := fold(word)
	common := func(k string) int {
		k = fold(k)
		n := 0
		for n < min(len(k), len(folded)) && k[n] == folded[n] {
			n++
		}
		return n
	}
	known = slices.Clone(known)
	slices.SortStableFunc(known, func(a, b string) int { return cmp.Compare(common(b), common(a)) })
	return known
}

var folding = strings.NewReplacer(" ", "_", "-", "_")

var fraction = regexp.MustCompile(`\d+/[1-9]\d*`)

func fold(word string) string {
	word = folding.Replace(strings.ToLower(word))
	if !strings.Contains(word, "/") {
		return word
	}
	return fraction.ReplaceAllStringFunc(word, func(s string) string {
		above, below, _ := strings.Cut(s, "/")
		n, _ := strconv.ParseFloat(above, 64)
		d, _ := strconv.ParseFloat(below, 64)
		return strconv.FormatFloat(n/d, 'f', -1, 64)
	})
}

// begunBy returns the one known word that begins with the folded one, which has
// to be at least half of it; or that stands before all others of which it is
// the beginning in turn, as GKF-12.5 before GKF-12.5x1250.
func begunBy(folded string, known []string) (string, bool) {
	shortest := ""
	for _, k := range known {
		if strings.HasPrefix(fold(k), folded) && (shortest == "" || len(k) < len(shortest)) {
			shortest = k
		}
	}
	if shortest == "" || len(folded) < 3 || 2*len(folded) < len(shortest) {
		return "", false
	}
	for _, k := range known {
		if strings.HasPrefix(fold(k), folded) && !strings.HasPrefix(fold(k), fold(shortest)) {
			return "", false
		}
	}
	return shortest, true
}

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
