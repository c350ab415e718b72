package yamlfile

import (
	"strings"
	"testing"
)

// Distances of the literature: kitten and sitting lie 3 apart (Levenshtein's
// usual example); CA and ABC lie 3 apart when a pair that was changed over is
// not touched again (optimal string alignment).
func TestSlips(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"kitten", "sitting", 3}, {"ca", "abc", 3}, {"", "abc", 3}, {"same", "same", 0}, {"heigth", "height", 1}} {
		if got := slips(c.a, c.b); got != c.want {
			t.Errorf("%q to %q: %d, want %d", c.a, c.b, got, c.want)
		}
		if slips(c.a, c.b) != slips(c.b, c.a) {
			t.Errorf("%q and %q: not the same both ways", c.a, c.b)
		}
	}
}

func TestSuggest(t *testing.T) {
	known := []string{"id", "level", "line", "leaf_mass", "height", "heights"}
	for word, want := range map[string]string{
		"heigth":    `did you mean "height"?`,
		"Leaf-Mass": `did you mean "leaf_mass"?`,
		"lines":     `did you mean "line"?`,
		"ID":        `did you mean "id"?`,
		"colour":    "known keys: id, level, line, leaf_mass, height, heights",
		"heightz":   "known keys: id, level, line, leaf_mass, height, heights", // as near to height as to heights
	} {
		if got := Suggest(word, "known keys", known); got.String() != want {
			t.Errorf("%q: %s, want %s", word, got, want)
		}
	}
	if got := Suggest("x", "levels", nil); got.String() != "there are no levels" {
		t.Error(got)
	}
}

// Ids that were broken off, or written with a fraction where the catalogue has
// decimals.
func TestNearestID(t *testing.T) {
	known := []string{"GKB-12.5", "GKF-12.5", "GKF-12.5x1250", "GKF-15", "GWB-0.5", "GWB-0.625", "GWBX-0.625", "MW-60"}
	for word, want := range map[string]string{
		"GKF-12": "GKF-12.5", "gkf 12.5": "GKF-12.5", "GWB-5/8": "GWB-0.625", "GWB-1/2": "GWB-0.5", "GKF": "", "MW60": "MW-60", "x/0": "", "": "",
	} {
		if got, ok := Nearest(word, known); ok != (want != "") || ok && got != want {
			t.Errorf("%q: %q, want %q", word, got, want)
		}
	}
}

// Of a long list, what begins alike is shown.
func TestSuggestLikeFirst(t *testing.T) {
	var known []string
	for c := 'a'; c <= 'z'; c++ {
		known = append(known, string(c)+"-long-word-1", string(c)+"-long-word-2")
	}
	if got := Suggest("z-something", "ids", known); !strings.HasPrefix(got.String(), "ids: z-long-word-1, z-long-word-2, a-") || !strings.HasSuffix(got.String(), " and 32 more") {
		t.Error(got)
	}
}
