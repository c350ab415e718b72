package ical

import (
	"bytes"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"pgregory.net/rapid"

	_ "nogging/internal/draws"
)

var stamp = time.Date(2027, 1, 11, 0, 0, 0, 0, time.UTC)

func written(t interface{ Fatal(...any) }, e Event) string {
	var b bytes.Buffer
	if err := Write(&b, &Calendar{Name: "Site", Stamp: stamp, Events: []Event{e}}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// unfold undoes folding as RFC 5545, 3.1 says: a line break followed by one blank is
// taken away.
func unfold(s string) []string {
	return strings.Split(strings.TrimSuffix(strings.ReplaceAll(s, "\r\n ", ""), "\r\n"), "\r\n")
}

// The example of RFC 5545, 3.3.11 (from memory): a text of three lines with a comma.
func TestEscapes(t *testing.T) {
	got := escape("Project XYZ Final Review\nConference Room - 3B\nCome Prepared.")
	if want := `Project XYZ Final Review\nConference Room - 3B\nCome Prepared.`; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := escape(`a\b; c, d`+"\x07"), `a\\b\; c\, d`; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestEvent(t *testing.T) {
	got := unfold(written(t, Event{UID: "L1/03 tracks", Start: time.Date(2027, 1, 12, 7, 0, 0, 0, time.UTC), End: time.Date(2027, 1, 12, 16, 0, 0, 0, time.UTC),
		Summary: "Tracks, L1/03", Categories: []string{"frame", "a,b"}}))
	want := []string{"BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//nogging//programme//EN", "CALSCALE:GREGORIAN", "X-WR-CALNAME:Site",
		"BEGIN:VEVENT", "UID:L1/03 tracks", "DTSTAMP:20270111T000000Z", "DTSTART:20270112T070000", "DTEND:20270112T160000",
		`SUMMARY:Tracks\, L1/03`, `CATEGORIES:frame,a\,b`, "END:VEVENT", "END:VCALENDAR"}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s", strings.Join(got, "\n"))
	}
}

func TestWholeDay(t *testing.T) {
	got := written(t, Event{UID: "x", WholeDay: true, Start: stamp, End: stamp.AddDate(0, 0, 1), Summary: "s"})
	if !strings.Contains(got, "\r\nDTSTART;VALUE=DATE:20270111\r\nDTEND;VALUE=DATE:20270112\r\n") {
		t.Error(got)
	}
}

// No line is longer than 75 octets, each ends in CR LF, no character is parted, and
// unfolding gives the text again.
func TestFolding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOfN(rapid.SampledFrom([]rune("aé²€𝄞, ;\\\n")), 1, 300, -1).Draw(t, "text")
		out := written(t, Event{UID: "x", Start: stamp, End: stamp, Summary: text})
		for _, l := range strings.Split(strings.TrimSuffix(out, "\r\n"), "\r\n") {
			if len(l) > 75 || !utf8.ValidString(l) || strings.ContainsAny(l, "\r\n") {
				t.Fatalf("line of %d octets: %q", len(l), l)
			}
		}
		for _, l := range unfold(out) {
			if s, ok := strings.CutPrefix(l, "SUMMARY:"); ok {
				back := strings.NewReplacer(`\\`, `\`, `\;`, ";", `\,`, ",", `\n`, "\n").Replace(s)
				if back != text {
					t.Fatalf("%q came back as %q", text, back)
				}
				return
			}
		}
		t.Fatal("no summary")
	})
}
