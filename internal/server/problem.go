package server

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
	"time"

	"nogging/internal/desk"
	"nogging/internal/finding"
	"nogging/internal/store"
	"nogging/internal/words"
)

// problem is why a request was not met (RFC 9457).
type problem struct {
	Type     string       `json:"type"`
	Title    string       `json:"title"`
	Status   int          `json:"status"`
	Detail   string       `json:"detail,omitempty"`
	Findings finding.List `json:"findings,omitempty"`
}

func (p *problem) Error() string { return p.Detail }

func refuse(status int, format string, args ...any) error {
	return &problem{Type: "about:blank", Title: http.StatusText(status), Status: status, Detail: fmt.Sprintf(format, args...)}
}

func notFound(format string, args ...any) error { return refuse(http.StatusNotFound, format, args...) }

// refused tells that what was sent cannot be taken, and why.
func refused(found finding.List) error {
	return &problem{Type: "about:blank", Title: http.StatusText(http.StatusUnprocessableEntity), Status: http.StatusUnprocessableEntity,
		Detail: "this cannot be taken as it is", Findings: found}
}

// problem writes an error. What a person cannot mend is logged, not shown.
func (s *Server) problem(w http.ResponseWriter, r *http.Request, err error) {
	var large *http.MaxBytesError
	var p *problem
	var bad *desk.Refused
	switch {
	case errors.As(err, &p):
	case errors.As(err, &bad):
		err = refused(bad.Findings)
	case errors.Is(err, desk.ErrBusy):
		err = refuse(http.StatusServiceUnavailable, "%v", err)
	case errors.Is(err, store.ErrNotFound):
		err = notFound("this is not here, or no longer")
	case errors.As(err, &large):
		w.Header().Set("Connection", "close")
		err = refuse(http.StatusRequestEntityTooLarge, "at most %s can be sent here", size(large.Limit))
	case errors.Is(err, context.Canceled) || r.Context().Err() != nil:
		return // nobody waits for the answer
	default:
		s.Log.Error("request failed", "method", r.Method, "path", r.URL.Path, "error", err)
		err = refuse(http.StatusInternalServerError, "the server could not do this; its log says why")
	}
	errors.As(err, &p)
	w.Header().Set("Content-Type", "application/problem+json")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(p.Status)
	json.NewEncoder(w).Encode(words.Translated(p, spoken(w))) // a reader who has gone needs no answer
}

func size(bytes int64) string {
	if bytes >= 1<<20 {
		return fmt.Sprintf("%d MB", bytes>>20)
	}
	return fmt.Sprintf("%d kB", bytes>>10)
}

// reply writes a value as JSON, in the language of the answer.
func reply(w http.ResponseWriter, status int, v any) error {
	text, err := json.Marshal(words.Translated(v, spoken(w)))
	if err != nil {
		return err
	}
	preset(w.Header(), "Content-Type", "application/json")
	preset(w.Header(), "Cache-Control", "no-store")
	allow(w, int64(len(text)))
	w.WriteHeader(status)
	_, err = w.Write(text)
	return err
}

// allow gives an answer of so many bytes the time that it needs from now on.
func allow(w http.ResponseWriter, size int64) {
	http.NewResponseController(w).SetWriteDeadline(time.Now().Add(allowance(size))) // where this cannot be, the server's own limit holds
}

// attach has browsers store an answer as a file.
func attach(h http.Header, name string) {
	h.Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": name}))
}

// preset sets a header that is not set yet.
func preset(h http.Header, name, value string) {
	if h.Get(name) == "" {
		h.Set(name, value)
	}
}

// Largest bodies by what they are.
const (
	maxForm   = 64 << 10
	maxEdit   = 8 << 20
	maxImport = 256 << 20
)

// body reads a JSON body of at most so many bytes. Only requests that say that
// they carry JSON are taken, which no form of a foreign page can.
func body(w http.ResponseWriter, r *http.Request, most int64, into any) error {
	if kind, _, _ := mime.ParseMediaType(r.Header.Get("Content-Type")); kind != "application/json" {
		return refuse(http.StatusUnsupportedMediaType, "send this as application/json")
	}
	d := json.NewDecoder(http.MaxBytesReader(w, r.Body, most))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return unreadable(err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return refuse(http.StatusBadRequest, "send one JSON value")
	}
	return nil
}

func unreadable(err error) error {
	var large *http.MaxBytesError
	if errors.As(err, &large) {
		return err
	}
	return refuse(http.StatusBadRequest, "this JSON could not be read: %v", err)
}
