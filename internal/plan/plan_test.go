package plan

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/finding"
)

var update = flag.Bool("update", false, "write what is found into the test files, to be read through before it is kept")

// The plans in testdata/bad hold mistakes. Below each line with a mistake
// stands a remark of the form
//
//	#^ column severity code object: what | fix
//
// for everything that has to be found there, and nothing else may be.
const mark = "#^ "

func TestBadPlans(t *testing.T) {
	files, err := filepath.Glob("testdata/bad/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal("no test files", err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			annotated, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			plain := withoutMarks(string(annotated))
			_, found := Parse(filepath.Base(file), []byte(plain))
			got := withMarks(t, plain, found)
			if *update {
				if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if diff := cmp.Diff(string(annotated), got); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

func withoutMarks(text string) string {
	var kept []string
	for _, line := range strings.SplitAfter(text, "\n") {
		if !strings.HasPrefix(line, mark) {
			kept = append(kept, line)
		}
	}
	return strings.Join(kept, "")
}

func withMarks(t *testing.T, text string, found finding.List) string {
	lines := strings.SplitAfter(text, "\n")
	var b strings.Builder
	for i, line := range lines {
		b.WriteString(line)
		for _, f := range found {
			if f.Place.Line == i+1 {
				fmt.Fprintf(&b, "%s%d %s %s %s: %s | %s\n", mark, f.Place.Column, f.Severity, f.Code, f.Object, f.What, f.Fix)
			}
		}
	}
	for _, f := range found {
		if f.Place.Line < 1 || f.Place.Line > len(lines) || f.Place.Text != strings.TrimRight(lines[f.Place.Line-1], "\n") {
			t.Errorf("%v stands at no line, or shows another: %q", f, f.Place.Text)
		}
		if f.Path == "" && f.Code != "unknown-key" || f.What == "" || f.Fix == "" && f.Code != "buildup-unusable" {
			t.Errorf("%+v says too little", f)
		}
	}
	return b.String()
}

func TestGoodPlans(t *testing.T) {
	for _, file := range goodPlans(t) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			p, found := Parse(file, data)
			for _, f := range found {
				if f.Severity.NeedsPerson() {
					t.Error(f)
				}
			}
			for i := range p.Walls {
				if !p.Usable(&p.Walls[i]) {
					t.Errorf("wall %s is not usable", p.Walls[i].ID)
				}
			}
		})
	}
}

// goodPlans lists the plans without mistakes: those of the tests, the starter,
// and the demo where it is there.
func goodPlans(t *testing.T) []string {
	files, err := filepath.Glob("testdata/good/*")
	if err != nil || len(files) == 0 {
		t.Fatal("no test files", err)
	}
	demo, err := filepath.Glob("../../demo/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return append(append(files, "starter.yaml"), demo...)
}

func TestStarterNeedsNobody(t *testing.T) {
	p, found := Parse("starter.yaml", Starter())
	if len(found) > 0 {
		t.Errorf("found %v", found)
	}
	if len(p.Walls) < 2 || len(p.Rooms) == 0 || !strings.Contains(string(Starter()), "#") {
		t.Error("the starter shows too little")
	}
}

// readBad reads one of the plans with mistakes.
func readBad(t *testing.T, name string) (*Plan, finding.List) {
	data, err := os.ReadFile("testdata/bad/" + name + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	return Parse(name+".yaml", data)
}

// The same file gives the same findings in the same order.
func TestFindingsAreStable(t *testing.T) {
	for _, name := range []string{"walls", "openings", "crossings", "references"} {
		_, first := readBad(t, name)
		for range 20 {
			if _, again := readBad(t, name); !cmp.Equal(first, again) {
				t.Fatal(cmp.Diff(first, again))
			}
		}
	}
}

// A file of nothing but mistakes neither fills the memory nor takes long.
func TestHopelessFileIsCutShort(t *testing.T) {
	head := "nogging: 1\nlevels: [{id: L1, clear_height: 2750}]\nwalls:\n"
	wall := "- {id: a, level: L2, line: [[0, 0], [0, 0]], height: -1, head: x, start: x, end: x}\n"
	for name, text := range map[string]string{"empty walls": head + strings.Repeat("-\n", 100_000), "wrong walls": head + strings.Repeat(wall, 20_000)} {
		if _, found := Parse("x.yaml", []byte(text)); len(found) > mostFindings+1 || !found.NeedsPerson() {
			t.Errorf("%s: %d findings", name, len(found))
		}
	}
}

func FuzzParse(f *testing.F) {
	files, _ := filepath.Glob("testdata/*/*")
	for _, file := range append(files, "starter.yaml") {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, places, found := Read("x.yaml", data)
		for _, x := range found {
			if x.Code == "" || x.What == "" || x.Place.File == "" {
				t.Fatalf("%+v says too little", x)
			}
		}
		for i := range p.Walls {
			p.Usable(&p.Walls[i])
		}
		places.Fill(p.CheckProducts(func(string) []string { return nil }))
		if _, err := Marshal(p); err != nil {
			t.Fatal(err)
		}
	})
}
