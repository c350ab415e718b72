// Package finding holds what the program has to tell a person about a plan:
// mistakes, doubts and assumptions, as values that are collected on the way
// and printed only at the edge.
//
// A finding says what is wrong, where, by how much, and what would work.
package finding

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"nogging/internal/words"
)

// Severity ranks findings by what they ask of the reader.
type Severity string

const (
	// Error: the object named could not be laid out or read; the rest was.
	Error Severity = "error"
	// Warning: it was laid out, but a person has to look before building it.
	Warning Severity = "warning"
	// Assumed: something was not given and a stated value was taken.
	Assumed Severity = "assumed"
	// Note: worth knowing; nothing to do.
	Note Severity = "note"
)

// Severities lists every severity, gravest first.
func Severities() []Severity { return []Severity{Error, Warning, Assumed, Note} }

// NeedsPerson reports whether somebody has to act on a finding of this kind.
func (s Severity) NeedsPerson() bool { return s == Error || s == Warning }

// Place is a spot in a file. Lines and columns count from 1.
type Place struct {
	File   string `json:"file,omitempty"`
	Line   int    `json:"line,omitempty"`
	Column int    `json:"column,omitempty"`
	Text   string `json:"text,omitempty"` // the offending line as it stands in the file
}

// IsZero reports whether the place is unknown.
func (p Place) IsZero() bool { return p == Place{} }

// String gives file:line:column, leaving out what is not known.
func (p Place) String() string {
	if p.Line == 0 {
		return p.File
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
}

// Finding is one thing to tell. Code is a short stable name for programs, such
// as "opening-outside-wall". Object names what it is about: a wall or opening
// id, or an entity of a model file such as "#123 IfcWall".
type Finding struct {
	Code     string     `json:"code"`
	Severity Severity   `json:"severity"`
	Object   string     `json:"object,omitempty"`
	Other    string     `json:"other,omitempty"` // the second object, where it is about two
	Path     string     `json:"path,omitempty"`  // where in the plan, as in walls[3].openings[0].width
	Place    Place      `json:"place,omitzero"`
	What     words.Text `json:"what"`
	Fix      words.Text `json:"fix,omitempty"`
}

// String gives the finding on one line, as compilers do.
func (f Finding) String() string {
	var b strings.Builder
	if !f.Place.IsZero() {
		b.WriteString(f.Place.String())
		b.WriteString(": ")
	}
	b.WriteString(string(f.Severity))
	b.WriteString(": ")
	if f.Object != "" {
		b.WriteString(f.Object)
		b.WriteString(": ")
	}
	b.WriteString(f.What.String())
	return b.String()
}

// List collects findings in the order in which they are met.
type List []Finding

// Add appends a finding.
func (l *List) Add(f Finding) { *l = append(*l, f) }

// Count returns how many findings of the given severity the list holds.
func (l List) Count(s Severity) int {
	n := 0
	for _, f := range l {
		if f.Severity == s {
			n++
		}
	}
	return n
}

// NeedsPerson reports whether any finding in the list asks for a person.
func (l List) NeedsPerson() bool {
	return slices.ContainsFunc(l, func(f Finding) bool { return f.Severity.NeedsPerson() })
}

// Sort puts the list in the order of the file, then of severity, object, code
// and text, so that the same plan always gives the same list.
func (l List) Sort() {
	slices.SortStableFunc(l, func(a, b Finding) int {
		return cmp.Or(
			cmp.Compare(a.Place.File, b.Place.File),
			cmp.Compare(a.Place.Line, b.Place.Line),
			cmp.Compare(a.Place.Column, b.Place.Column),
			cmp.Compare(slices.Index(Severities(), a.Severity), slices.Index(Severities(), b.Severity)),
			cmp.Compare(a.Object, b.Object),
			cmp.Compare(a.Code, b.Code),
			cmp.Compare(a.What.String(), b.What.String()),
		)
	})
}
