package words

import (
	"errors"
	"strings"
)

// fault is an error that can be said in any language.
type fault struct{ Text }

func (f *fault) Error() string { return f.String() }

// Err makes an error of a text.
func Err(t Text) error { return &fault{t} }

// OfErr is an error as a Text. What Err made can be said in any language, whatever
// other errors wrap it; the rest is said as it is.
func OfErr(err error) Text {
	var f *fault
	if !errors.As(err, &f) {
		return Of(err.Error())
	}
	before, after, _ := strings.Cut(err.Error(), f.Error())
	return F("%s%s%s", before, f.Text, after)
}
