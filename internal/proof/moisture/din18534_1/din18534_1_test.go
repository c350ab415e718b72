package din18534_1

import (
	"testing"

	"nogging/internal/validation"
)

// DIN 18534-1, table of water action classes with examples: gypsum boards may be
// the ground up to W1-I and not beyond; the boards' own classes are the
// catalogue's.
func TestSuits(t *testing.T) {
	for _, c := range []struct {
		place string
		class Class
		board string // severest class of the board
		want  string
	}{
		{"wall above a washbasin, impregnated gypsum board", Low, "W1-I", "suits"},
		{"shower at home, impregnated gypsum board", Moderate, "W1-I", "suits"},
		{"shower of a sports hall, impregnated gypsum board", High, "W1-I", "does not suit"},
		{"shower of a sports hall, cement board", High, "W3-I", "suits"},
		{"pool surround, impregnated gypsum board", VeryHigh, "W1-I", "does not suit"},
		{"wall above a washbasin, plain gypsum board", Low, "", "does not suit"},
	} {
		got := "does not suit"
		if Suits(c.board, c.class) {
			got = "suits"
		}
		validation.Check(t, validation.Case{
			Method: "DIN 18534-1", Name: c.place, Source: "DIN 18534-1, table of water action classes", Status: validation.Read,
			ExpectedText: c.want, GotText: got,
		})
	}
}

func TestParse(t *testing.T) {
	for text, want := range map[string]Class{"W1-I": Moderate, "w2": High, " W0-I ": Low, "W4-I": "", "wet": "", "": ""} {
		if got, err := Parse(text); got != want || (err == nil) != (want != "") {
			t.Errorf("Parse(%q) = %q, %v", text, got, err)
		}
	}
}

func TestSeverest(t *testing.T) {
	if Severest(Low, High) != High || Severest(High, Low) != High || Severest("", Low) != Low {
		t.Error("the severer class does not count")
	}
	for _, c := range Classes() {
		if len(Sealing(c)) == 0 {
			t.Errorf("%s needs no sealing", c)
		}
	}
}
