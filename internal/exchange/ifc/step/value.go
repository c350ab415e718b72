package step

import (
	"bytes"
	"iter"
	"math"
	"strconv"
	"strings"
)

// Value is one argument as it stands in the file, without blanks and comments
// around it.
type Value []byte

// Args are the arguments of an instance.
type Args []Value

// At returns argument n, counted from 0, or an empty Value where the instance
// has fewer.
func (a Args) At(n int) Value {
	if n < len(a) {
		return a[n]
	}
	return nil
}

// items yields the arguments in the inside of a pair of brackets.
func items(inside []byte) iter.Seq[Value] {
	return func(yield func(Value) bool) {
		pos := skipSpace(inside, 0)
		if pos >= len(inside) {
			return
		}
		for {
			end := valueEnd(inside, pos)
			if !yield(Value(trimEnd(inside[pos:end]))) || end >= len(inside) {
				return
			}
			pos = skipSpace(inside, end+1)
		}
	}
}

// valueEnd returns the offset of the comma that ends the value at pos, or the
// end of the data.
func valueEnd(data []byte, pos int) int {
	depth := 0
	for pos < len(data) {
		switch data[pos] {
		case ',':
			if depth == 0 {
				return pos
			}
		case '(':
			depth++
		case ')':
			depth--
		case '\'':
			pos, _ = textEnd(data, pos)
			continue
		case '"':
			if i := bytes.IndexByte(data[pos+1:], '"'); i >= 0 {
				pos += i + 1
			}
		case '/':
			if pos+1 < len(data) && data[pos+1] == '*' {
				pos = commentEnd(data, pos)
				continue
			}
		}
		pos++
	}
	return len(data)
}

// trimEnd drops blanks and comments behind a value.
func trimEnd(v []byte) []byte {
	v = trimBlanks(v)
	for bytes.HasSuffix(v, []byte("*/")) {
		i := bytes.LastIndex(v, []byte("/*"))
		if i < 0 {
			break
		}
		v = trimBlanks(v[:i])
	}
	return v
}

func trimBlanks(v []byte) []byte {
	for len(v) > 0 && v[len(v)-1] <= ' ' {
		v = v[:len(v)-1]
	}
	return v
}

// IsNull reports whether the argument is not given ($), derived (*) or absent.
func (v Value) IsNull() bool { return len(v) == 0 || v[0] == '$' || v[0] == '*' }

// Ref returns the instance that the argument refers to.
func (v Value) Ref() (ID, bool) {
	if len(v) < 2 || v[0] != '#' {
		return 0, false
	}
	id, end := digits(v, 1)
	return id, id > 0 && end == len(v)
}

// IsList reports whether the argument is a list in brackets.
func (v Value) IsList() bool { return len(v) > 1 && v[0] == '(' && v[len(v)-1] == ')' }

// Items yields the elements of a list; nothing for any other argument.
func (v Value) Items() iter.Seq[Value] {
	if !v.IsList() {
		return func(func(Value) bool) {}
	}
	return items(v[1 : len(v)-1])
}

// Refs returns the instances that a list refers to, in order. A single
// reference counts as a list of one.
func (v Value) Refs() []ID {
	if id, ok := v.Ref(); ok {
		return []ID{id}
	}
	var ids []ID
	for item := range v.Items() {
		if id, ok := item.Ref(); ok {
			ids = append(ids, id)
		}
	}
	return ids
}

// Typed returns the keyword and the argument of a typed value such as
// IFCLABEL('x'), and "" with the value itself for any other.
func (v Value) Typed() (keyword string, inner Value) {
	end := keywordEnd(v, 0)
	open := skipSpace(v, end)
	if end == 0 || open >= len(v) || v[open] != '(' || v[len(v)-1] != ')' || v[0] >= '0' && v[0] <= '9' {
		return "", v
	}
	for item := range items(v[open+1 : len(v)-1]) {
		return strings.ToUpper(string(v[:end])), item
	}
	return "", v
}

// Enum returns the name in an enumeration such as .PARTITIONING., in upper
// case, or "" for any other argument.
func (v Value) Enum() string {
	if len(v) < 3 || v[0] != '.' || v[len(v)-1] != '.' {
		return ""
	}
	return strings.ToUpper(string(v[1 : len(v)-1]))
}

// Bool returns a boolean, plain or typed, and whether it is one that is known.
func (v Value) Bool() (value, known bool) {
	_, v = v.Typed()
	switch v.Enum() {
	case "T", "TRUE":
		return true, true
	case "F", "FALSE":
		return false, true
	}
	return false, false
}

// Real returns a number, plain or typed, and whether the argument is a finite
// one.
func (v Value) Real() (float64, bool) {
	if len(v) > 0 && v[0] > '9' {
		_, v = v.Typed()
	}
	if x, ok := plainReal(v); ok {
		return x, true
	}
	if len(v) > maxNumber || len(bytes.Trim(v, "0123456789+-.eE")) > 0 {
		return 0, false
	}
	x, err := strconv.ParseFloat(string(v), 64)
	return x, err == nil && !math.IsInf(x, 0)
}

// maxNumber is longer than any number that says more than a float64 holds.
const maxNumber = 400

// powers are the powers of ten that a float64 holds exactly.
var powers = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// plainReal reads the numbers that need no rounding but the last: up to 2^53
// as digits, divided by an exact power of ten. That is nearly all numbers in
// practice, and several times faster than the general case.
func plainReal(v []byte) (float64, bool) {
	i, negative := 0, false
	if len(v) > 0 && (v[0] == '-' || v[0] == '+') {
		i, negative = 1, v[0] == '-'
	}
	var mantissa uint64
	fraction, seen := -1, 0
	for ; i < len(v); i++ {
		c := v[i]
		switch {
		case c >= '0' && c <= '9':
			if mantissa = mantissa*10 + uint64(c-'0'); mantissa > 1<<53 {
				return 0, false
			}
			seen++
			if fraction >= 0 {
				fraction++
			}
		case c == '.' && fraction < 0:
			fraction = 0
		default:
			return 0, false
		}
	}
	if seen == 0 || fraction >= len(powers) {
		return 0, false
	}
	x := float64(mantissa)
	if fraction > 0 {
		x /= powers[fraction]
	}
	if negative {
		x = -x
	}
	return x, true
}

// Int returns a whole number, plain or typed.
func (v Value) Int() (int, bool) {
	x, ok := v.Real()
	if !ok || x != math.Trunc(x) || math.Abs(x) > 1<<53 {
		return 0, false
	}
	return int(x), true
}

// Three returns the first three numbers of a list, as of a point, and how many
// elements there are, up to three. It costs less than Reals.
func (v Value) Three() (x [3]float64, n int) {
	if !v.IsList() {
		return x, 0
	}
	inside := v[1 : len(v)-1]
	for pos := skipSpace(inside, 0); pos < len(inside) && n < len(x); n++ {
		end := valueEnd(inside, pos)
		x[n], _ = Value(trimEnd(inside[pos:end])).Real()
		pos = skipSpace(inside, min(end+1, len(inside)))
	}
	return x, n
}

// Reals appends the numbers of a list to dst. What is no number is left out.
func (v Value) Reals(dst []float64) []float64 {
	for item := range v.Items() {
		if x, ok := item.Real(); ok {
			dst = append(dst, x)
		}
	}
	return dst
}
