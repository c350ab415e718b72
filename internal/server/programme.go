package server

import (
	"errors"
	"net/http"

	"nogging/internal/desk"
	"nogging/internal/programme"
	"nogging/internal/store"
)

// gangsFile is the name under which a project keeps its gangs.
const gangsFile = "gangs.yaml"

// programme plans the work from the day ?start= on, with the project's gangs where it
// has a file of them.
func (s *Server) programme(w http.ResponseWriter, r *http.Request, p *desk.Project) error {
	start, err := programme.ParseDate(r.URL.Query().Get("start"))
	if err != nil {
		return refuse(http.StatusBadRequest, "start: %v", err)
	}
	gangs, err := p.File(r.Context(), store.FileTables, gangsFile)
	if err != nil && !errors.Is(err, store.ErrNotFound) {
		return err
	}
	now, err := current(r, p, (*desk.Project).Settled)
	if err != nil {
		return err
	}
	return reply(w, http.StatusOK, now.ProgrammeView(p.Telling(r.Context()), gangs.Content, start))
}
