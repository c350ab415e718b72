package server

import "net/http"

func (s *Server) projects(w http.ResponseWriter, r *http.Request) error {
	list, err := s.Store.Projects(r.Context())
	if err != nil {
		return err
	}
	return reply(w, http.StatusOK, list)
}

// create starts a project from nothing or from the demo.
func (s *Server) create(w http.ResponseWriter, r *http.Request) error {
	var ask struct {
		From string `json:"from"`
		Name string `json:"name"`
	}
	if err := body(w, r, maxForm, &ask); err != nil {
		return err
	}
	var id string
	var err error
	switch ask.From {
	case "empty":
		id, err = s.Desk.Empty(r.Context(), ask.Name)
	case "demo":
		id, err = s.Desk.Demo(r.Context())
	default:
		return refuse(http.StatusBadRequest, "from is %q; it can be empty or demo", ask.From)
	}
	if err != nil {
		return err
	}
	return reply(w, http.StatusCreated, map[string]string{"id": id})
}

// take starts a project from a file.
func (s *Server) take(w http.ResponseWriter, r *http.Request) error {
	data, err := s.upload(w, r, maxImport)
	if err != nil {
		return err
	}
	id, found, err := s.Desk.Import(r.Context(), r.URL.Query().Get("name"), data)
	if err != nil {
		return err
	}
	if id == "" {
		return refused(found)
	}
	return reply(w, http.StatusCreated, map[string]any{"id": id, "findings": found})
}

func (s *Server) remove(w http.ResponseWriter, r *http.Request) error {
	if err := s.Desk.Delete(r.Context(), r.PathValue("project")); err != nil {
		return err
	}
	w.WriteHeader(http.StatusNoContent)
	return nil
}
