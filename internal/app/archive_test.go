package app_test

import (
	"bytes"
	"errors"
	"os"
	"strings"
	"sync"
	"testing"

	"nogging/internal/app"
	"nogging/internal/programme"
	"nogging/internal/validation/pdfa"
	"nogging/internal/yamlfile"
)

// TestPDFsAreForArchives: every PDF that is written keeps ISO 19005-2 level U; the pack,
// which carries its plan, 19005-3.
func TestPDFsAreForArchives(t *testing.T) {
	j, _, bid := clinicBid(t)
	out := &memory{made: map[string]*bytes.Buffer{"bid.pdf": bid["bid.pdf"]}}
	if _, err := j.Compare(j, nil, nil, yamlfile.Places{}).WriteVariation(out); err != nil {
		t.Fatal(err)
	}
	for name, file := range clinicProgramme(t) {
		out.made[name] = file
	}
	s := liveClinic(t, few).State()
	out.made["pack.pdf"] = &bytes.Buffer{}
	if err := s.Pack(t.Context(), app.PackChoice{}, app.Quiet, out.made["pack.pdf"]); err != nil {
		t.Fatal(err)
	}
	seen := 0
	for name, file := range out.made {
		if !strings.HasSuffix(name, ".pdf") {
			continue
		}
		seen++
		part := 2
		if name == "pack.pdf" {
			part = 3
		}
		faults, err := pdfa.Check(file.Bytes(), part, t.TempDir())
		if errors.Is(err, pdfa.ErrNoReader) && os.Getenv("CI") == "" {
			t.Skip(err)
		}
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
		for _, f := range faults {
			t.Errorf("%s: %s", name, f)
		}
	}
	if seen != 7 {
		t.Errorf("%d PDFs, want bid, variation, pack, two charts and two reports", seen)
	}
}

// clinicProgramme is the demo's programme as it is written, made once for all tests.
func clinicProgramme(t *testing.T) map[string]*bytes.Buffer {
	t.Helper()
	j, _, _ := clinicBid(t)
	clinicSite.Do(func() {
		gangs, err := os.ReadFile("../../demo/site/gangs.yaml")
		if err != nil {
			t.Fatal(err)
		}
		site, _ := programme.ReadSite("gangs.yaml", gangs)
		start, _ := programme.ParseDate("2027-01-11")
		out := &memory{made: map[string]*bytes.Buffer{}}
		if _, err := j.WriteProgramme(j.Programme(t.Context(), app.Works{Site: site, Start: start, Schedules: 1}), out); err != nil {
			t.Fatal(err)
		}
		clinicSite.files = out.made
	})
	return clinicSite.files
}

var clinicSite struct {
	sync.Once
	files map[string]*bytes.Buffer
}
