package app_test

import (
	"bytes"
	"math"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"nogging/internal/app"
	"nogging/internal/document"
	"nogging/internal/takeoff"
)

// TestPackIsRead: another program (poppler) finds in the pack the mark of every wall, on
// its pages the marks and lengths of all its studs and tracks, and every total of the
// take-off in the line of its name.
func TestPackIsRead(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		missing(t, "pdftotext is not installed")
	}
	s := liveClinic(t, few).State()
	var out bytes.Buffer
	if err := s.Pack(t.Context(), app.PackChoice{Parts: []document.Part{document.PartWalls, document.PartTakeOff}}, app.Quiet, &out); err != nil {
		t.Fatal(err)
	}
	pages := strings.Split(pdfText(t, out.Bytes()), "\f")
	for _, w := range s.Layout().Walls {
		of := regexp.MustCompile(`(^|[\s-])` + regexp.QuoteMeta(w.ID) + `([\s,:]|$)`)
		var sheets []string
		for _, p := range pages {
			if of.MatchString(p) {
				sheets = append(sheets, p)
			}
		}
		text := strings.Join(sheets, "\n")
		if len(sheets) < 3 { // the list of sheets, and at least frame and boards
			t.Errorf("%s stands on %d pages", w.ID, len(sheets))
		}
		for _, m := range w.Members {
			if !regexp.MustCompile(`\b`+m.Mark()+`\b`).MatchString(text) && !inRange(text, m.Mark()) {
				t.Errorf("%s: no page says %s", w.ID, m.Mark())
			}
			if !strings.Contains(text, strconv.FormatFloat(math.Round(m.Cut.MM()), 'f', -1, 64)) { // sheets say whole millimetres
				t.Errorf("%s: no page says the length of %s, %s", w.ID, m.Mark(), m.Cut)
			}
		}
	}
	isTakeOff := func(p string) bool { return strings.Contains(p, "Measured quantities, without waste.") }
	sheet := strings.Join(slices.DeleteFunc(pages, func(p string) bool { return !isTakeOff(p) }), "\n")
	for _, l := range s.Takeoff().Total {
		if !stands(sheet, l) {
			t.Errorf("the take-off does not say %s, %.2f %s", l.Name, l.Quantity, l.Unit)
		}
	}
}

// inRange reports whether a mark such as S03 lies within one such as S01–S06.
func inRange(text, mark string) bool {
	n, _ := strconv.Atoi(mark[1:])
	for _, m := range regexp.MustCompile(mark[:1]+`(\d+)\s*–\s*`+mark[:1]+`(\d+)`).FindAllStringSubmatch(text, -1) {
		from, _ := strconv.Atoi(m[1])
		to, _ := strconv.Atoi(m[2])
		if from <= n && n <= to {
			return true
		}
	}
	return false
}

// stands reports whether a line of text has a quantity's name and ends with its total.
func stands(text string, l takeoff.Line) bool {
	for line := range strings.Lines(text) {
		fields := strings.Fields(line)
		if !strings.Contains(line, l.Name) || len(fields) < 2 {
			continue
		}
		if fields[len(fields)-1] < "a" && len(fields[len(fields)-1]) == 1 && fields[len(fields)-1] >= "A" {
			fields = fields[:len(fields)-1] // the letter of a field of the sheet's frame
		}
		if fields[len(fields)-1] == takeoff.Format(l.Quantity, l.Unit) {
			return true
		}
	}
	return false
}

// missing leaves a test out where a program is not installed, which CI does not accept.
func missing(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("CI") != "" {
		t.Fatal(what)
	}
	t.Skip(what)
}
