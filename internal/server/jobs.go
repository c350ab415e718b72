package server

import (
	"bytes"
	"errors"
	"net/http"
	"slices"

	"nogging/internal/app"
	"nogging/internal/desk"
	"nogging/internal/document"
)

// startJob starts long work. What becomes of it is told as events, and under the
// address that comes back.
func (s *Server) startJob(w http.ResponseWriter, r *http.Request, p *desk.Project) error {
	var ask struct {
		Kind string `json:"kind"`
		app.PackChoice
	}
	if err := body(w, r, maxForm, &ask); err != nil {
		return err
	}
	if ask.Kind != "pack" {
		return refuse(http.StatusBadRequest, "kind is %q; it can be pack", ask.Kind)
	}
	for _, part := range ask.Parts {
		if !slices.Contains(document.Parts(), part) {
			return refuse(http.StatusUnprocessableEntity, "a pack has no part %q", part)
		}
	}
	j, err := p.StartPack(r.Context(), ask.PackChoice)
	if errors.Is(err, desk.ErrTooManyJobs) {
		return refuse(http.StatusTooManyRequests, "%v", err)
	}
	if err != nil {
		return err
	}
	return reply(w, http.StatusAccepted, j)
}

func (s *Server) jobs(w http.ResponseWriter, _ *http.Request, p *desk.Project) error {
	return reply(w, http.StatusOK, p.Jobs())
}

func (s *Server) job(w http.ResponseWriter, r *http.Request, p *desk.Project) error {
	j, _, ok := p.Job(r.PathValue("job"))
	if !ok {
		return notFound("there is no such job, or it was long ago")
	}
	return reply(w, http.StatusOK, j)
}

func (s *Server) stopJob(w http.ResponseWriter, r *http.Request, p *desk.Project) error {
	if !p.StopJob(r.PathValue("job")) {
		return notFound("there is no such job, or it was long ago")
	}
	return done(w)
}

// result gives what a job made.
func (s *Server) result(w http.ResponseWriter, r *http.Request, p *desk.Project) error {
	j, text, ok := p.Job(r.PathValue("job"))
	switch {
	case !ok:
		return notFound("there is no such job, or it was long ago")
	case j.State != desk.JobDone:
		return refuse(http.StatusConflict, "the job is not done: %s", j.State)
	}
	h := w.Header()
	h.Set("Content-Type", "application/pdf")
	h.Set("Cache-Control", "no-store")
	attach(h, "pack.pdf")
	allow(w, int64(len(text)))
	_, err := bytes.NewReader(text).WriteTo(w)
	return err
}
