package yamlfile

import "testing"

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
		if got := Suggest(word, "known keys", known); got != want {
			t.Errorf("%q: %s, want %s", word, got, want)
		}
	}
	if got := Suggest("x", "levels", nil); got != "there are no levels" {
		t.Error(got)
	}
}
