package plan

import (
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// rating doubts a sound insulation that nothing can be held against.
func (s *spot) rating(key, text string) {
	if text == "" {
		return
	}
	if _, err := quantity.ParseSound(text); err != nil {
		what, fix := words.FixOf(err)
		s.doubt("unknown-demand", key, words.F("%s, so nothing can be held against it", what), fix)
	}
}
