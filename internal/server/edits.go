package server

import (
	"encoding/json"
	"errors"
	"net/http"
	"strconv"

	"nogging/internal/desk"
	"nogging/internal/finding"
	"nogging/internal/plan"
)

// projectHandler answers a request about a project.
type projectHandler func(http.ResponseWriter, *http.Request, *desk.Project) error

// withProject opens the project of a request for a handler.
func (s *Server) withProject(h projectHandler) handler {
	return func(w http.ResponseWriter, r *http.Request) error {
		p, err := s.Desk.Open(r.Context(), r.PathValue("project"))
		if err != nil {
			return err
		}
		defer p.Done()
		return h(w, r, p)
	}
}

func (s *Server) project(w http.ResponseWriter, _ *http.Request, p *desk.Project) error {
	return reply(w, http.StatusOK, p.State())
}

// edit makes an edit.
func (s *Server) edit(w http.ResponseWriter, r *http.Request, p *desk.Project) error {
	var ask struct {
		Base    int64         `json:"base"`
		Client  string        `json:"client"`
		Label   string        `json:"label"`
		Changes []plan.Change `json:"changes"`
	}
	if err := body(w, r, maxEdit, &ask); err != nil {
		return err
	}
	if len(ask.Changes) == 0 {
		return refuse(http.StatusBadRequest, "the edit changes nothing")
	}
	out, err := p.Edit(r.Context(), ask.Base, ask.Client, plan.Edit{Label: ask.Label, Changes: ask.Changes})
	return outcome(w, out, err)
}

// rename gives the project another name, which is an edit like others.
func (s *Server) rename(w http.ResponseWriter, r *http.Request, p *desk.Project) error {
	var ask struct {
		Name   string `json:"name"`
		Client string `json:"client"`
	}
	if err := body(w, r, maxForm, &ask); err != nil {
		return err
	}
	now := p.State()
	about := now.Plan.Project
	about.Name = ask.Name
	value, err := json.Marshal(about)
	if err != nil {
		return err
	}
	out, err := p.Edit(r.Context(), now.Revision, ask.Client, plan.Edit{Label: "rename project", Changes: []plan.Change{{Kind: "project", Value: value}}})
	return outcome(w, out, err)
}

// step is what undo, redo and restore are asked with.
type step struct {
	Base   int64  `json:"base"`
	Client string `json:"client"`
}

func (s *Server) undo(w http.ResponseWriter, r *http.Request, p *desk.Project) error {
	var ask step
	if err := body(w, r, maxForm, &ask); err != nil {
		return err
	}
	out, err := p.Undo(r.Context(), ask.Base, ask.Client)
	return outcome(w, out, err)
}

func (s *Server) redo(w http.ResponseWriter, r *http.Request, p *desk.Project) error {
	var ask step
	if err := body(w, r, maxForm, &ask); err != nil {
		return err
	}
	out, err := p.Redo(r.Context(), ask.Base, ask.Client)
	return outcome(w, out, err)
}

func (s *Server) restore(w http.ResponseWriter, r *http.Request, p *desk.Project) error {
	n, err := number(r, "revision")
	if err != nil {
		return err
	}
	var ask step
	if err := body(w, r, maxForm, &ask); err != nil {
		return err
	}
	out, err := p.Restore(r.Context(), ask.Base, ask.Client, n)
	return outcome(w, out, err)
}

// outcome answers an edit. A conflict carries both sides: what was sent is with
// the sender, what stands now comes with it.
func outcome(w http.ResponseWriter, out desk.Outcome, err error) error {
	var conflict *desk.Conflict
	if errors.As(err, &conflict) {
		p := problem{Type: "about:blank", Title: http.StatusText(http.StatusConflict), Status: http.StatusConflict, Detail: conflict.Error()}
		if conflict.Objects == nil {
			conflict.Objects = []desk.Object{}
		}
		w.Header().Set("Content-Type", "application/problem+json")
		return reply(w, http.StatusConflict, struct {
			problem
			*desk.Conflict
		}{p, conflict})
	}
	if err != nil {
		return err
	}
	return reply(w, http.StatusOK, out)
}

// number reads a whole number of the path.
func number(r *http.Request, name string) (int64, error) {
	n, err := strconv.ParseInt(r.PathValue(name), 10, 64)
	if err != nil || n < 1 {
		return 0, notFound("%q is no %s", r.PathValue(name), name)
	}
	return n, nil
}

// revisions lists what was done to a project, the newest first, 200 at a time.
func (s *Server) revisions(w http.ResponseWriter, r *http.Request, p *desk.Project) error {
	q := r.URL.Query()
	before, err := strconv.ParseInt(q.Get("before"), 10, 64)
	if err != nil && q.Has("before") {
		return refuse(http.StatusBadRequest, "before is no revision")
	}
	list, err := s.Store.History(r.Context(), r.PathValue("project"), before, q.Has("marked"), 200)
	if err != nil {
		return err
	}
	return reply(w, http.StatusOK, list)
}

// revision gives the plan of a revision.
func (s *Server) revision(w http.ResponseWriter, r *http.Request, p *desk.Project) error {
	n, err := number(r, "revision")
	if err != nil {
		return err
	}
	then, err := p.At(r.Context(), n)
	if err != nil {
		return err
	}
	return reply(w, http.StatusOK, then)
}

// longestMark bounds the names of revisions, in bytes.
const longestMark = 200

func (s *Server) mark(w http.ResponseWriter, r *http.Request) error {
	n, err := number(r, "revision")
	if err != nil {
		return err
	}
	var ask struct {
		Mark string `json:"mark"`
	}
	if err := body(w, r, maxForm, &ask); err != nil {
		return err
	}
	if len(ask.Mark) > longestMark {
		return refused(finding.List{{Code: "mark-too-long", Severity: finding.Error, What: "the name is too long", Fix: "at most 200 letters"}})
	}
	if err := s.Store.Mark(r.Context(), r.PathValue("project"), n, ask.Mark); err != nil {
		return err
	}
	w.WriteHeader(http.StatusNoContent)
	return nil
}
