package server

import (
	"bytes"
	"encoding/json"
	"net/http"

	"nogging/internal/app"
	"nogging/internal/desk"
	"nogging/internal/finding"
	"nogging/internal/store"
	"nogging/internal/words"
)

// intake tells what a schedule or measured points would change of a project. The first
// line of the body says as JSON how the table is to be read, and the table follows.
func (s *Server) intake(w http.ResponseWriter, r *http.Request, p *desk.Project) error {
	data, err := s.upload(w, r, maxTable)
	if err != nil {
		return err
	}
	head, data, _ := bytes.Cut(data, []byte("\n"))
	var ask app.TableAsk
	if err := json.Unmarshal(head, &ask); err != nil {
		return unreadable(err)
	}
	now, err := current(r, p, (*desk.Project).Current)
	if err != nil {
		return err
	}
	got, err := now.Intake(ask, data, func(name string) []byte {
		f, err := p.File(r.Context(), store.FileTables, name)
		if err != nil {
			return nil // nothing is remembered
		}
		return f.Content
	})
	if err != nil {
		return refused(finding.List{{Code: "list-unread", Severity: finding.Error, Place: finding.Place{File: ask.Name}, What: words.OfErr(err), Fix: "save it as a workbook (.xlsx) or as CSV again"}})
	}
	return reply(w, http.StatusOK, got)
}
