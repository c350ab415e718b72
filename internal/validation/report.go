package validation

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"io/fs"
	"math"
	"slices"
	"strconv"
	"strings"
)

// ReadCases returns the cases that tests wrote into a folder, in the order of the
// report. A case that was written more than once is given once.
func ReadCases(folder fs.FS) ([]Case, error) {
	names, err := fs.Glob(folder, "*.jsonl")
	if err != nil {
		return nil, err
	}
	var all []Case
	for _, name := range names {
		text, err := fs.ReadFile(folder, name)
		if err != nil {
			return nil, err
		}
		for line := range bytes.Lines(text) {
			var c Case
			if err := json.Unmarshal(line, &c); err != nil {
				return nil, fmt.Errorf("%s: %w", name, err)
			}
			all = append(all, c)
		}
	}
	slices.SortFunc(all, compare)
	return slices.Compact(all), nil
}

func compare(a, b Case) int {
	return cmp.Or(
		cmp.Compare(a.Method, b.Method), cmp.Compare(a.Name, b.Name), cmp.Compare(a.Source, b.Source),
		cmp.Compare(a.Status, b.Status), cmp.Compare(a.Unit, b.Unit), cmp.Compare(a.Expected, b.Expected),
		cmp.Compare(a.Got, b.Got), cmp.Compare(a.Tolerance, b.Tolerance),
		cmp.Compare(a.ExpectedText, b.ExpectedText), cmp.Compare(a.GotText, b.GotText))
}

const intro = `# Validation

What the program reckons, beside what sources outside the project print. The
tests wrote this page (` + "`make validation`" + `); they fail where a deviation is
greater than the one allowed.

Status: *read*: in the source named, or in a transcription of it; *read and
reworked*: also found again from the source's own inputs; *second-hand*: where
another source quotes it; *reckoned*: by another program of ours or by hand from
the method's formulae. Figures from memory prove nothing and are not here.
`

// Report writes cases, as ReadCases orders them, as a page of Markdown.
func Report(cases []Case) []byte {
	b := bytes.NewBufferString(intro)
	for len(cases) > 0 {
		n := slices.IndexFunc(cases, func(c Case) bool { return c.Method != cases[0].Method })
		if n < 0 {
			n = len(cases)
		}
		section(b, cases[:n])
		cases = cases[n:]
	}
	return b.Bytes()
}

// section writes the cases of one method.
func section(b *bytes.Buffer, cases []Case) {
	fmt.Fprintf(b, "\n## %s\n\n%s| figure | expected | got | deviation | allowed | unit | status | source |\n| --- | ---: | ---: | ---: | ---: | --- | --- | --- |\n",
		cases[0].Method, summary(cases))
	for _, c := range cases {
		expected, got, off, allowed := c.ExpectedText, c.GotText, "", ""
		if !c.ofText() {
			expected, got, off, allowed = number(c.Expected, 6), number(c.Got, 6), number(c.Deviation(), 3), number(c.Tolerance, 3)
		}
		fmt.Fprintf(b, "| %s | %s | %s | %s | %s | %s | %s | %s |\n",
			cell(c.Name), cell(expected), cell(got), off, allowed, cell(c.Unit), c.Status, cell(c.Source))
	}
}

// summary tells, for each unit, how far the figures of a method are off: count,
// mean, standard deviation and worst.
func summary(cases []Case) string {
	var b strings.Builder
	units := map[string][]float64{}
	var order []string
	for _, c := range cases {
		if c.ofText() {
			continue
		}
		if _, known := units[c.Unit]; !known {
			order = append(order, c.Unit)
		}
		units[c.Unit] = append(units[c.Unit], c.Deviation())
	}
	slices.Sort(order)
	for _, unit := range order {
		s := Spread(units[unit])
		if s.N > 1 {
			fmt.Fprintf(&b, "%d figures in %s: deviation %s on average, standard deviation %s, worst %s.\n",
				s.N, cmp.Or(unit, "1"), number(s.Mean, 3), number(s.SD, 3), number(s.Worst, 3))
		}
	}
	if b.Len() > 0 {
		b.WriteByte('\n')
	}
	return b.String()
}

// Statistics sums up deviations.
type Statistics struct {
	N        int
	Mean, SD float64 // of the sample
	Worst    float64 // the one farthest from zero
}

// Spread sums up deviations.
func Spread(deviations []float64) Statistics {
	s := Statistics{N: len(deviations)}
	if s.N == 0 {
		return s
	}
	for _, d := range deviations {
		s.Mean += d / float64(s.N)
		if math.Abs(d) > math.Abs(s.Worst) {
			s.Worst = d
		}
	}
	for _, d := range deviations {
		s.SD += (d - s.Mean) * (d - s.Mean)
	}
	s.SD = math.Sqrt(s.SD / float64(max(s.N-1, 1)))
	return s
}

// number writes a figure with some significant digits; what is nothing but
// rounding is zero.
func number(v float64, digits int) string {
	if math.Abs(v) < rounding {
		return "0"
	}
	return strconv.FormatFloat(v, 'g', digits, 64)
}

// cell keeps text from breaking the table.
func cell(s string) string {
	return strings.NewReplacer("|", `\|`, "\n", " ").Replace(s)
}
