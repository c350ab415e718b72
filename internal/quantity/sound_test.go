package quantity

import (
	"strings"
	"testing"
)

func TestParseSound(t *testing.T) {
	for text, want := range map[string]string{
		"Rw 53":                 "Rw 53",
		"rw53":                  "Rw 53",
		"Rw ≥ 53 dB":            "Rw 53",
		"Rw: 53":                "Rw 53",
		"Rw + C 50":             "Rw + C 50",
		"Rw+Ctr >= 50":          "Rw + Ctr 50",
		"Rw + C50-5000 52":      "Rw + C50-5000 52",
		"Rw + Ctr,50–3150 = 48": "Rw + Ctr,50-3150 48",
		"R'w 53":                "R'w 53",
		"R’w 53":                "R'w 53",
		"DnT,w 54":              "DnT,w 54",
		"DnTw 54.5":             "DnT,w 54.5",
		"DnT.w + Ctr 45":        "DnT,w + Ctr 45",
		"STC 50":                "STC 50",
		"astc 47":               "ASTC 47",
		"NNIC 45":               "NNIC 45",
	} {
		got, err := ParseSound(text)
		if err != nil || got.String() != want {
			t.Errorf("%q: %q, want %q; %v", text, got, want, err)
		}
	}
	for text, says := range map[string]string{
		"53":          "Rw 53",
		"loud":        "Rw 53",
		"":            "Rw 53",
		"RA 53":       "Rw + C",
		"DnT,A 53":    "DnT,w + C",
		"STC + Ctr 5": "STC alone",
		"Rw 5":        "from 10 to 90",
		"Rw 530":      "from 10 to 90",
		"Rw -53":      "Rw 53",
	} {
		if _, err := ParseSound(text); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v", text, err)
		}
	}
}

func FuzzParseSound(f *testing.F) {
	f.Add("Rw + Ctr,50-3150 >= 48 dB")
	f.Fuzz(func(t *testing.T, text string) {
		r, err := ParseSound(text)
		if err != nil {
			return
		}
		if again, err := ParseSound(r.String()); err != nil || again != r {
			t.Errorf("%q: %v, read back %v, %v", text, r, again, err)
		}
	})
}
