package words

import (
	"errors"
	"strings"
)

// fault is an error that can be said in any language: what is wrong, and what would
// work, where that is known.
type fault struct{ what, fix Text }

func (f *fault) text() Text {
	if f.fix == "" {
		return f.what
	}
	return F("%s; %s", f.what, f.fix)
}

func (f *fault) Error() string { return f.text().String() }

// Err makes an error of what is wrong.
func Err(what Text) error { return &fault{what: what} }

// ErrFix makes an error of what is wrong and what would work.
func ErrFix(what, fix Text) error { return &fault{what, fix} }

// OfErr is an error as a Text. What Err made can be said in any language, whatever
// other errors wrap it; the rest is said as it is.
func OfErr(err error) Text {
	var f *fault
	if !errors.As(err, &f) {
		return Of(err.Error())
	}
	before, after, _ := strings.Cut(err.Error(), f.Error())
	return F("%s%s%s", before, f.text(), after)
}

// FixOf parts what is wrong from what would work: as ErrFix was told, and of other
// errors at the first semicolon.
func FixOf(err error) (what, fix Text) {
	if f, ok := err.(*fault); ok {
		return f.what, f.fix
	}
	w, x, _ := strings.Cut(err.Error(), "; ")
	return Of(w), Of(x)
}
