package words_test

import (
	"errors"
	"fmt"
	"testing"

	"pgregory.net/rapid"

	_ "nogging/internal/draws"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

type kind string

// What is said in English is what fmt says of the same format and arguments.
func TestEnglishIsAsFmtSaysIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[a-z %äß"\n]{0,9}`).Draw(t, "text")
		n, x := rapid.Int().Draw(t, "n"), rapid.Float64().Draw(t, "x")
		l := quantity.Length(rapid.Int64Range(-1e15, 1e15).Draw(t, "l"))
		const format = "%s %q %d %05d %g %.2f %+.0f %s %[8]d %s %v %x %% %t %v"
		got := words.F(format, text, text, n, n, x, x, x, l, kind(text), kind(text), text, n > 0, errors.New(text))
		want := fmt.Sprintf(format, text, text, n, n, x, x, x, l, kind(text), kind(text), text, n > 0, errors.New(text))
		if got.String() != want {
			t.Fatalf("%q, want %q", got, want)
		}
	})
}
