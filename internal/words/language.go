package words

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"nogging/internal/words/german"
)

// Language is one in which the program talks, by its code of ISO 639-1.
type Language string

// The languages.
const (
	English Language = "en"
	German  Language = "de"
)

// Languages lists every language, the program's own first.
func Languages() []Language { return []Language{English, German} }

// tables hold what other languages say for the English.
var tables = map[Language]map[string]string{German: german.Texts()}

// Says returns what a language says for an English text, and whether it has words
// of its own for it.
func (l Language) Says(english string) (string, bool) {
	other, ok := tables[l][english]
	return other, ok
}

// Known lists the English texts for which a language has words of its own.
func (l Language) Known() []string { return slices.Sorted(maps.Keys(tables[l])) }

// format returns what a language says for an English format or word.
func (l Language) format(english string) string {
	if other, ok := tables[l][english]; ok {
		return other
	}
	return english
}

// plain says text without messages: one that the language knows, or a number, or
// whatever came from outside.
func (l Language) plain(s string) string {
	if other, ok := tables[l][s]; ok {
		return other
	}
	if _, err := strconv.ParseFloat(s, 64); err == nil {
		return l.number(s)
	}
	return s
}

// number writes the decimal sign of a number as the language does.
func (l Language) number(s string) string {
	if l == German {
		return strings.Replace(s, ".", ",", 1)
	}
	return s
}
