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

// What German says: arguments in its order and in its words, numbers with its decimal
// sign, names as they are.
func TestGerman(t *testing.T) {
	gap := words.F("%s stops %s mm short of %s and is laid out as a free end", words.F("%s, or %s", "its end", "L1-08"), quantity.MM(12.5), "Room 1.02")
	for _, c := range []struct {
		text words.Text
		want string
	}{
		{"the plan has no walls", "der Plan hat keine Wände"},
		{words.Of("Room 1.02"), "Room 1.02"},
		{words.Of("12.5"), "12,5"},
		{words.F("write thickness: %s", words.Of("12.5")), "thickness: 12,5 eintragen"},
		{words.F("mend the weakest path first: %s, %.0f dB", words.Text("mineral wool in the cavity"), 41.6), "zuerst den schwächsten Weg verbessern: Mineralwolle im Hohlraum, 42 dB"},
		{words.F("%q is no level of these points: %g", "1.5", 1.5), `"1.5" is no level of these points: 1,5`},
		{words.F("row %d says %q of %s already", 3, "EI 60", "fire"), `Zeile 3 sagt zu fire schon "EI 60"`},
		{gap, "its end, oder L1-08 endet 12,5 mm vor Room 1.02 und wird als freies Ende ausgeführt"},
		{"the plan has no walls" + words.F(", or %s", words.Text("wetted")), "der Plan hat keine Wände, or angefeuchtet"},
	} {
		if got := c.text.In(words.German); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// A number of things is said in the singular or the plural of the language.
func TestCount(t *testing.T) {
	for n, want := range map[int][2]string{0: {"0 walls", "0 Wänden"}, 1: {"1 wall", "1 Wand"}, 2: {"2 walls", "2 Wänden"}} {
		c := words.Count(n, "1 wall", "%d walls")
		if got := [2]string{c.String(), c.In(words.German)}; got != want {
			t.Errorf("%d: %q, want %q", n, got, want)
		}
	}
}

// Errors made of texts are said in other languages, whatever wraps them; others as they are.
func TestErrors(t *testing.T) {
	err := words.Err("the plan has no walls")
	for _, c := range []struct {
		err  error
		want string
	}{
		{err, "der Plan hat keine Wände"},
		{fmt.Errorf("#5: %w: 12.5 %%", err), "#5: der Plan hat keine Wände: 12.5 %"},
		{errors.New("the plan has no walls, it seems"), "the plan has no walls, it seems"},
	} {
		if got := words.OfErr(c.err); got.In(words.German) != c.want || got.String() != c.err.Error() {
			t.Errorf("%q and %q, want %q", got, got.In(words.German), c.want)
		}
	}
}

// What would work is told apart from what is wrong: by its maker, or by a semicolon.
func TestFixOf(t *testing.T) {
	for _, c := range []struct {
		err       error
		what, fix string
	}{
		{words.ErrFix(words.F("%q is not a length", "a; b"), "write a number"), `"a; b" ist keine Länge`, "eine Zahl eintragen"},
		{words.Err("the plan has no walls"), "der Plan hat keine Wände", ""},
		{errors.New("too short; write more"), "too short", "write more"},
	} {
		if what, fix := words.FixOf(c.err); what.In(words.German) != c.what || fix.In(words.German) != c.fix {
			t.Errorf("%q and %q, want %q and %q", what.In(words.German), fix.In(words.German), c.what, c.fix)
		}
	}
}

// Marks in what comes from outside make no message, and what is broken off is said as
// far as it goes.
func TestMarksFromOutside(t *testing.T) {
	if got := words.F("%s", "a\x01b\x02\x03c").String(); got != "abc" {
		t.Errorf("%q", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		text := words.Text(rapid.StringOf(rapid.RuneFrom([]rune("\x01\x02\x03stwnifb%d;1"))).Draw(t, "text"))
		for _, l := range words.Languages() {
			_ = text.In(l) // stops, and does not panic
		}
	})
}

func TestTranslated(t *testing.T) {
	type inner struct{ What words.Text }
	type outer struct {
		List  []inner
		Of    map[string]*inner
		Any   any
		Plain *int
	}
	n := 1
	said := outer{[]inner{{"the plan has no walls"}}, map[string]*inner{"a": {"wetted"}}, inner{"dry"}, &n}
	got := words.Translated(said, words.German).(outer)
	if got.List[0].What.String() != "der Plan hat keine Wände" || got.Of["a"].What.String() != "angefeuchtet" || got.Any != (inner{"trocken"}) || got.Plain != &n {
		t.Errorf("%+v", got)
	}
	if said.List[0].What.String() != "the plan has no walls" || said.Of["a"].What.String() != "wetted" {
		t.Errorf("changed: %+v", said)
	}
}
