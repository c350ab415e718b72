package validation

import (
	"math"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func example(change func(*Case)) Case {
	c := Case{Method: "method", Name: "figure", Source: "book, table 1", Status: Read, Unit: "dB", Expected: 30, Got: 31, Tolerance: 1}
	change(&c)
	return c
}

func TestFault(t *testing.T) {
	for name, tt := range map[string]struct {
		change func(*Case)
		says   string // nothing: no fault
	}{
		"within":      {func(*Case) {}, ""},
		"off":         {func(c *Case) { c.Got = 31.01 }, "book, table 1"},
		"exact":       {func(c *Case) { c.Tolerance = 0 }, "1 off"},
		"no number":   {func(c *Case) { c.Got = math.NaN() }, "NaN"},
		"no source":   {func(c *Case) { c.Source = "" }, "needs"},
		"no status":   {func(c *Case) { c.Status = "" }, "needs"},
		"other words": {func(c *Case) { c.ExpectedText, c.GotText = "EI 60", "EI 30" }, `"EI 30"`},
		"no words":    {func(c *Case) { c.ExpectedText = "EI 60" }, `""`},
		"same words":  {func(c *Case) { c.ExpectedText, c.GotText = "EI 60", "EI 60" }, ""},
	} {
		got := example(tt.change).fault()
		if (got == "") != (tt.says == "") || !strings.Contains(got, tt.says) {
			t.Errorf("%s: %q", name, got)
		}
	}
}

// What tests write is read back in the report's order, each case once.
func TestReport(t *testing.T) {
	folder := t.TempDir()
	t.Setenv(Folder, folder)
	second := example(func(c *Case) { c.Name = "a | b"; c.Got = 30 })
	other := example(func(c *Case) { c.Method = "fire"; c.ExpectedText, c.GotText = "EI 60", "EI 60" })
	for _, c := range []Case{example(func(*Case) {}), second, other, second} {
		Check(t, c)
	}
	cases, err := ReadCases(os.DirFS(folder))
	if err != nil || len(cases) != 3 {
		t.Fatal(cases, err)
	}
	want := intro + `
## fire

| figure | expected | got | deviation | allowed | unit | status | source |
| --- | ---: | ---: | ---: | ---: | --- | --- | --- |
| figure | EI 60 | EI 60 |  |  | dB | read | book, table 1 |

## method

2 figures in dB: deviation 0.5 on average, standard deviation 0.707, worst 1.

| figure | expected | got | deviation | allowed | unit | status | source |
| --- | ---: | ---: | ---: | ---: | --- | --- | --- |
| a \| b | 30 | 30 | 0 | 1 | dB | read | book, table 1 |
| figure | 30 | 31 | 1 | 1 | dB | read | book, table 1 |
`
	if diff := cmp.Diff(want, string(Report(cases))); diff != "" {
		t.Error(diff)
	}
}
