package server

import (
	"net/http"

	"golang.org/x/text/language"

	"nogging/internal/words"
)

var languages = func() language.Matcher {
	var tags []language.Tag
	for _, l := range words.Languages() {
		tags = append(tags, language.Make(string(l)))
	}
	return language.NewMatcher(tags)
}()

// speak chooses the language of an answer: the one that ?language= names, or else the
// one that the reader understands best (RFC 9110, 12.5.4). The answer's head says it.
func speak(w http.ResponseWriter, r *http.Request) {
	_, i := language.MatchStrings(languages, r.URL.Query().Get("language"), r.Header.Get("Accept-Language"))
	w.Header().Set("Content-Language", string(words.Languages()[i]))
}

// spoken returns the language of an answer.
func spoken(w http.ResponseWriter) words.Language {
	return words.Language(w.Header().Get("Content-Language"))
}
