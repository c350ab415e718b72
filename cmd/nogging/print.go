package main

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"nogging/internal/app"
	"nogging/internal/finding"
	"nogging/internal/takeoff"
)

// colours by severity; a severity is always written out as well.
var colours = map[finding.Severity]string{
	finding.Error: "\x1b[31m", finding.Warning: "\x1b[33m", finding.Assumed: "\x1b[36m", finding.Note: "\x1b[2m",
}

const plain = "\x1b[0m"

// printFindings writes findings as compilers do, with the line they are about
// and what would work.
func printFindings(c *console, found finding.List) {
	for _, f := range found {
		line := f.String()
		if c.colour {
			word := string(f.Severity) + ":"
			line = strings.Replace(line, word, colours[f.Severity]+word+plain, 1)
		}
		fmt.Fprintln(c.out, line)
		if f.Place.Text != "" {
			printLine(c.out, f.Place)
		}
		if f.Fix != "" {
			fmt.Fprintln(c.out, "  hint:", f.Fix)
		}
	}
}

// printLine shows the line in question with a caret under the column.
func printLine(out io.Writer, p finding.Place) {
	const most = 120
	text := strings.ReplaceAll(p.Text, "\t", " ")
	if utf8.RuneCountInString(text) > most {
		text = string([]rune(text)[:most]) + " …"
	}
	head := fmt.Sprintf("%6d | ", p.Line)
	fmt.Fprintf(out, "%s%s\n", head, text)
	if p.Column <= most {
		fmt.Fprintf(out, "%s^\n", strings.Repeat(" ", len(head)+max(p.Column-1, 0)))
	}
}

// printVerdict sums up what was found.
func printVerdict(c *console, j *app.Job) {
	var parts []string
	for _, s := range finding.Severities() {
		if n := j.Findings.Count(s); n > 0 {
			parts = append(parts, count(n, nouns[s]))
		}
	}
	text := "nothing to mend in the plan; nogging prove holds the walls against strength and demands"
	if len(parts) > 0 {
		text = "findings: " + strings.Join(parts, ", ")
	}
	fmt.Fprintf(c.err, "%d of %s laid out; %s\n", len(j.Layout.Walls), count(len(j.Plan.Walls), "wall"), text)
}

// nouns are what findings of a severity are called when they are counted.
var nouns = map[finding.Severity]string{
	finding.Error: "error", finding.Warning: "warning", finding.Assumed: "assumption", finding.Note: "note",
}

// count writes a number of things.
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// printTakeoff writes the take-off as a table, numbers flush right.
func printTakeoff(out io.Writer, lines []takeoff.Line) {
	rows := make([][4]string, len(lines))
	var widest [4]int
	for i, l := range lines {
		pieces := ""
		if l.Pieces > 0 {
			pieces = fmt.Sprintf("%d pcs", l.Pieces)
		}
		rows[i] = [4]string{l.Name, takeoff.Format(l.Quantity, l.Unit), l.Unit, pieces}
		for k, cell := range rows[i] {
			widest[k] = max(widest[k], utf8.RuneCountInString(cell))
		}
	}
	group := takeoff.Group("")
	for i, l := range lines {
		if l.Group != group {
			group = l.Group
			fmt.Fprintf(out, "\n%s\n", strings.ToUpper(string(group)))
		}
		r := rows[i]
		line := fmt.Sprintf("  %s  %s %s  %s", padRight(r[0], widest[0]), padLeft(r[1], widest[1]), padRight(r[2], widest[2]), padLeft(r[3], widest[3]))
		fmt.Fprintln(out, strings.TrimRight(line, " "))
	}
	fmt.Fprintln(out, "\nNet quantities as laid out. Not counted: waste, packs.")
}

func padRight(s string, n int) string {
	return s + strings.Repeat(" ", max(n-utf8.RuneCountInString(s), 0))
}

func padLeft(s string, n int) string {
	return strings.Repeat(" ", max(n-utf8.RuneCountInString(s), 0)) + s
}
