package server

import (
	"bytes"
	"net/http"

	"nogging/internal/desk"
)

// readDrawing reads a drawing without storing anything. The first line of the body says as
// JSON how it is to be read, and the drawing follows.
func (s *Server) readDrawing(w http.ResponseWriter, r *http.Request) error {
	data, err := s.upload(w, r, maxImport)
	if err != nil {
		return err
	}
	mapping, data, _ := bytes.Cut(data, []byte("\n"))
	if len(mapping) > maxEdit {
		return refuse(http.StatusRequestEntityTooLarge, "at most %s of layers can be sent", size(maxEdit))
	}
	read, err := desk.ReadDrawing(r.URL.Query().Get("name"), string(mapping), data)
	if err != nil {
		return err
	}
	return reply(w, http.StatusOK, read)
}

// readLayers reads a file that says what the layers of drawings show.
func (s *Server) readLayers(w http.ResponseWriter, r *http.Request) error {
	data, err := s.upload(w, r, maxTable)
	if err != nil {
		return err
	}
	m, err := desk.ReadMapping(r.URL.Query().Get("name"), data)
	if err != nil {
		return err
	}
	return reply(w, http.StatusOK, m)
}
