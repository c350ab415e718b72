package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// execute runs a command line and returns its exit status and what it said.
func execute(args ...string) (status int, stdout, stderr string) {
	var out, err bytes.Buffer
	status = run(args, &console{out: &out, err: &err})
	return status, out.String(), err.String()
}

// What is said after the work stands on a line of its own, also where a person
// has watched it.
func TestProgressLineEnds(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "plan.yaml")
	if status, _, said := execute("new", file); status != exitGood {
		t.Fatal(said)
	}
	for _, args := range [][]string{{"check", file}, {"build", file, "-o", filepath.Join(dir, "out")}} {
		var out, err bytes.Buffer
		run(args, &console{out: &out, err: &err, watched: true})
		drawn, said, wiped := cutLast(err.String(), "\r\x1b[K")
		if !wiped || !strings.Contains(drawn, "laying out walls") || strings.Contains(said, "[#") || !strings.Contains(said, "laid out; ") {
			t.Errorf("%s: %q", args[0], err.String())
		}
	}
}

func cutLast(s, separator string) (before, after string, found bool) {
	if i := strings.LastIndex(s, separator); i >= 0 {
		return s[:i], s[i+len(separator):], true
	}
	return s, "", false
}

func TestExitStatus(t *testing.T) {
	dir := t.TempDir()
	good := filepath.Join(dir, "good.yaml")
	if status, _, said := execute("new", good); status != exitGood {
		t.Fatalf("new: status %d, %s", status, said)
	}
	text, err := os.ReadFile(good)
	if err != nil {
		t.Fatal(err)
	}
	bad := filepath.Join(dir, "bad.yaml")
	if err := os.WriteFile(bad, bytes.ReplaceAll(text, []byte("line: "), []byte("lines: ")), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args []string
		want int
	}{
		{[]string{"check", good}, exitGood},
		{[]string{"check", bad}, exitFindings},
		{[]string{"check", filepath.Join(dir, "none.yaml")}, exitMisuse},
		{[]string{"check"}, exitMisuse},
		{[]string{"--nonsense"}, exitMisuse},
		{[]string{"--help"}, exitGood},
		{[]string{"schema"}, exitGood},
	} {
		if status, _, said := execute(c.args...); status != c.want {
			t.Errorf("%s: status %d, want %d\n%s", strings.Join(c.args, " "), status, c.want, said)
		}
	}
}
