// Package words holds what the program says to people as values that can still be
// put into another language: a Text is a message with its arguments, and is turned
// into a string only at the edge, by Text.In.
//
// The English format is the key of a message. What another language says instead
// stands in a table of its own (package german); English is what is said where a
// table has nothing, so a text can be missing but never empty. A test lists every
// message of the program and fails where one is missing or takes other arguments.
package words

import (
	"encoding"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
)

// Text is something to tell, in any language. Untyped constants are Texts as they
// stand; F makes one of a format and arguments; Texts can be added to each other.
// What was only known when the program ran, such as a name, is said as it is.
//
// A Text is text with messages in it. Each stands between the marks open and shut:
// its format, then each argument with its kind. So Texts compare, hash and add up as
// strings do.
type Text string

// The marks of a message. They are control characters, which no text holds.
const (
	open = '\x01' // a message begins with its format
	next = '\x02' // an argument begins with its kind
	shut = '\x03'
)

// The kinds of argument.
const (
	nested   = 't' // a Text
	word     = 'w' // a word of the program's own, such as a kind of thing: it may have another in other languages
	data     = 's' // a string that is said as it is
	truth    = 'b'
	integer  = 'i'
	fraction = 'f'
	measure  = 'n' // a number that writes itself, such as a length: the number, a semicolon, what it writes
)

// F is a message in the manner of fmt.Sprintf. Arguments that are Texts are put into
// the language of the message, as are words of types of the program's own; strings
// are said as they are, and numbers are written as the language writes them.
func F(format string, args ...any) Text {
	if false {
		_ = fmt.Sprintf(format, args...) // has vet check formats against arguments
	}
	b := make([]byte, 0, len(format)+16*len(args)+2)
	b = append(b, open)
	b = append(b, format...)
	for _, a := range args {
		b = append(b, next)
		b = appendArgument(b, a)
	}
	return Text(append(b, shut))
}

func appendArgument(b []byte, a any) []byte {
	switch v := a.(type) {
	case Text:
		return append(append(b, nested), v...)
	case string:
		return append(append(b, data), clean(v)...)
	case int:
		return strconv.AppendInt(append(b, integer), int64(v), 10)
	case float64:
		return appendFraction(b, v)
	case bool:
		return strconv.AppendBool(append(b, truth), v)
	case interface{ Words() Text }:
		return append(append(b, nested), v.Words()...)
	}
	v := reflect.ValueOf(a)
	s, says := a.(fmt.Stringer)
	switch k := v.Kind(); {
	case says && v.CanInt():
		return append(append(strconv.AppendInt(append(b, measure), v.Int(), 10), ';'), s.String()...)
	case says:
		return append(append(b, word), clean(s.String())...)
	case k == reflect.String:
		return append(append(b, word), clean(v.String())...)
	case v.CanInt():
		return strconv.AppendInt(append(b, integer), v.Int(), 10)
	case v.CanFloat():
		return appendFraction(b, v.Float())
	}
	return append(append(b, data), clean(fmt.Sprint(a))...)
}

func appendFraction(b []byte, v float64) []byte {
	return strconv.AppendFloat(append(b, fraction), v, 'g', -1, 64)
}

// clean takes the marks out of what came from outside.
func clean(s string) string {
	if strings.IndexFunc(s, isMark) < 0 {
		return s
	}
	return strings.Map(func(r rune) rune {
		if isMark(r) {
			return -1
		}
		return r
	}, s)
}

func isMark(r rune) bool { return r >= open && r <= shut }

// Of is a string that came from outside, or a number, as a Text.
func Of(s string) Text { return Text(clean(s)) }

// Join puts a separator between texts.
func Join[T ~string](list []T, separator Text) Text {
	var b strings.Builder
	for i, t := range list {
		if i > 0 {
			b.WriteString(string(separator))
		}
		b.WriteString(string(t))
	}
	return Text(b.String())
}

// Count says how many there are: one as it stands, any other number by a format.
func Count(n int, one, many Text) Text {
	if n == 1 {
		return one
	}
	return F(string(many), n)
}

// Equal reports whether two texts say the same in English; go-cmp compares by it.
func (t Text) Equal(other Text) bool { return t == other || t.String() == other.String() }

// String says it in English.
func (t Text) String() string { return t.In(English) }

// MarshalText says it in English; see Translated for other languages.
func (t Text) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

var _ encoding.TextMarshaler = Text("")

// In says it in a language.
func (t Text) In(l Language) string {
	s := string(t)
	if strings.IndexByte(s, open) < 0 {
		return l.plain(s)
	}
	var b strings.Builder
	for s != "" {
		at := strings.IndexByte(s, open)
		if at < 0 {
			at = len(s)
		}
		b.WriteString(l.plain(s[:at]))
		s = s[at:]
		if s != "" {
			end := length(s)
			b.WriteString(l.message(strings.TrimSuffix(s[1:end], string(shut))))
			s = s[end:]
		}
	}
	return b.String()
}

// length returns that of the message with which s begins, marks and all.
func length(s string) int {
	depth := 0
	for i := range len(s) {
		switch s[i] {
		case open:
			depth++
		case shut:
			if depth--; depth == 0 {
				return i + 1
			}
		}
	}
	return len(s)
}

// message says what stands between the marks of a message.
func (l Language) message(s string) string {
	format, rest := split(s)
	var args []any
	for rest != "" {
		var a string
		a, rest = split(rest)
		args = append(args, l.argument(a))
	}
	return fmt.Sprintf(l.format(format), args...)
}

// split parts the text up to the next argument of this message from the rest.
func split(s string) (first, rest string) {
	depth := 0
	for i := range len(s) {
		switch s[i] {
		case open:
			depth++
		case shut:
			depth--
		case next:
			if depth == 0 {
				return s[:i], s[i+1:]
			}
		}
	}
	return s, ""
}

// argument gives an argument as a value for fmt.
func (l Language) argument(s string) any {
	if s == "" {
		return ""
	}
	kind, s := s[0], s[1:]
	switch kind {
	case nested:
		return Text(s).In(l)
	case word:
		return l.format(s)
	case truth:
		return s == "true"
	case integer:
		n, _ := strconv.ParseInt(s, 10, 64)
		return n
	case fraction:
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			x = math.NaN()
		}
		return number{x, "", l}
	case measure:
		return measured(s, l)
	}
	return s
}

// number is a number that fmt writes with the decimal sign of a language.
type number struct {
	value    any
	text     string // as it writes itself, if it does
	language Language
}

func measured(s string, l Language) number {
	value, text, _ := strings.Cut(s, ";")
	n, _ := strconv.ParseInt(value, 10, 64)
	return number{n, text, l}
}

// Format writes the number by a verb of fmt.
func (n number) Format(f fmt.State, verb rune) {
	value := n.value
	if n.text != "" && (verb == 's' || verb == 'v') {
		value = n.text
	}
	fmt.Fprint(f, n.language.number(fmt.Sprintf(fmt.FormatString(f, verb), value)))
}
