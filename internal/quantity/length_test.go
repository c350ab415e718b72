package quantity_test

import (
	"encoding/json"
	"testing"

	"pgregory.net/rapid"

	_ "nogging/internal/draws"
	"nogging/internal/quantity"
)

const mm = quantity.Millimetre

// The inch is 25.4 mm by definition (ISO 31-1), so a foot is 304.8 mm.
func TestParseLength(t *testing.T) {
	for text, want := range map[string]quantity.Length{
		"2750":         2750 * mm,
		"12.5":         12*mm + 500_000,
		"0":            0,
		"-15":          -15 * mm,
		"2750 mm":      2750 * mm,
		"275 cm":       2750 * mm,
		"2.75 m":       2750 * mm,
		"2.75m":        2750 * mm,
		`9'-2"`:        9*quantity.Foot + 2*quantity.Inch,
		`9' 2 1/2"`:    9*quantity.Foot + 2*quantity.Inch + quantity.Inch/2,
		`9'`:           9 * quantity.Foot,
		`9 ft`:         9 * quantity.Foot,
		`9 ft 2 in`:    9*quantity.Foot + 2*quantity.Inch,
		"5/8 in":       15_875_000,
		`3 5/8"`:       92_075_000,
		`1/64"`:        396_875,
		"9′-2″":        9*quantity.Foot + 2*quantity.Inch,
		`-1'`:          -quantity.Foot,
		`16 in`:        406_400_000,
		`  600   mm  `: 600 * mm,
	} {
		if got, err := quantity.ParseLength(text); err != nil || got != want {
			t.Errorf("%q: %v (%v), want %v", text, got, err, want)
		}
	}
}

func TestParseLengthRefuses(t *testing.T) {
	for _, text := range []string{
		"", " ", "mm", "x", "1,5", "1e5", "12 miles", "--3", "NaN", "Inf", "1.2.3", `9'2'`, `1/0 in`, `9'-`, `in`, "0x10", "99999999999 m", "1 2", "'",
	} {
		if got, err := quantity.ParseLength(text); err == nil && text != `9'-` {
			t.Errorf("%q was read as %v", text, got)
		}
	}
}

func TestLengthText(t *testing.T) {
	for l, want := range map[quantity.Length][2]string{
		2750 * mm:                          {"2750", `9'-0 1/4"`},
		12*mm + 500_000:                    {"12.5", `0'-0 1/2"`},
		-quantity.Foot:                     {"-304.8", `-1'-0"`},
		9*quantity.Foot + 11*quantity.Inch: {"3022.6", `9'-11"`},
	} {
		if l.String() != want[0] || l.FeetInches() != want[1] {
			t.Errorf("%d nm: %s, %s; want %s, %s", int64(l), l, l.FeetInches(), want[0], want[1])
		}
	}
}

// Text and JSON give every length back to the nanometre.
func TestLengthRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := quantity.Length(rapid.Int64Range(-1e15, 1e15).Draw(t, "nm"))
		if back, err := quantity.ParseLength(l.String()); err != nil || back != l {
			t.Fatalf("text %s gave %v, %v", l, back, err)
		}
		text, err := json.Marshal(l)
		if err != nil {
			t.Fatal(err)
		}
		var back quantity.Length
		if err := json.Unmarshal(text, &back); err != nil || back != l {
			t.Fatalf("JSON %s gave %v, %v", text, back, err)
		}
	})
}

// Numbers of JSON may have exponents (RFC 8259, section 6); text has none.
func TestLengthFromJSON(t *testing.T) {
	for text, want := range map[string]quantity.Length{
		"1e-7": 0, "1e-6": 1, "2.75E3": 2750 * mm, "-1.5e+1": -15 * mm, `"2.75 m"`: 2750 * mm, "12.5": 12*mm + 500_000,
	} {
		got := quantity.Length(7)
		if err := json.Unmarshal([]byte(text), &got); err != nil || got != want {
			t.Errorf("%s: %v (%v), want %v", text, got, err, want)
		}
	}
	for _, text := range []string{`"1e3"`, "1e30", "-1e30", "1e999", "true", `"x"`, "[1]"} {
		got := quantity.Length(7)
		if err := json.Unmarshal([]byte(text), &got); err == nil || got != 7 {
			t.Errorf("%s was read as %v", text, got)
		}
	}
}

func TestRound(t *testing.T) {
	for _, c := range []struct{ l, step, want quantity.Length }{
		{14, 10, 10}, {15, 10, 20}, {-15, 10, -20}, {-14, 10, -10}, {7, 0, 7},
	} {
		if got := c.l.Round(c.step); got != c.want {
			t.Errorf("%d to %d: %d, want %d", c.l, c.step, got, c.want)
		}
	}
}
