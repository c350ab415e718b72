package server

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"net/http"
	"path"
	"slices"
	"strings"
	"time"

	"nogging/internal/desk"
	"nogging/internal/plan"
	"nogging/internal/store"
)

// underlay is a picture beneath a level, with where it lies.
type underlay struct {
	Level     string    `json:"level"`
	Type      string    `json:"type"`
	Changed   time.Time `json:"changed"`
	Placement placement `json:"placement"`
}

// placement says where a picture's lower left corner lies in the plan, how large
// its pixels are there, how far it is turned, anticlockwise, and faded.
type placement struct {
	X          float64 `json:"x"`          // mm
	Y          float64 `json:"y"`          // mm
	MMPerPixel float64 `json:"mmPerPixel"` // 0 until it is set
	Turn       float64 `json:"turn"`       // degrees
	Fade       float64 `json:"fade"`       // 0 (as it is) to 1 (gone)
}

func (p placement) valid() bool {
	for _, v := range []float64{p.X, p.Y, p.MMPerPixel, p.Turn} {
		if math.IsNaN(v) || math.Abs(v) > 1e9 {
			return false
		}
	}
	return p.MMPerPixel >= 0 && p.Fade >= 0 && p.Fade <= 1
}

func (s *Server) underlays(w http.ResponseWriter, r *http.Request, p *desk.Project) error {
	files, err := p.Files(r.Context(), store.FileUnderlay)
	if err != nil {
		return err
	}
	list := []underlay{}
	for _, f := range files {
		u := underlay{Level: f.Name, Type: f.Type, Changed: f.Changed}
		if f.Note != "" {
			if err := json.Unmarshal([]byte(f.Note), &u.Placement); err != nil {
				return err
			}
		}
		list = append(list, u)
	}
	return reply(w, http.StatusOK, list)
}

// putUnderlay lays a picture under a level; it takes the place of another, and has
// to be placed.
func (s *Server) putUnderlay(w http.ResponseWriter, r *http.Request, p *desk.Project) error {
	level, err := levelOf(r, p)
	if err != nil {
		return err
	}
	data, err := s.upload(w, r, maxPicture)
	if err != nil {
		return err
	}
	kind, err := picture(data)
	if err != nil {
		return err
	}
	if err := p.PutFile(r.Context(), store.File{Kind: store.FileUnderlay, Name: level, Type: kind, Content: data}); err != nil {
		return err
	}
	return done(w)
}

// placeOfUnderlay tells where a picture lies: null where there is none, or it was
// not placed yet.
func (s *Server) placeOfUnderlay(w http.ResponseWriter, r *http.Request, p *desk.Project) error {
	f, err := p.File(r.Context(), store.FileUnderlay, r.PathValue("name"))
	if errors.Is(err, store.ErrNotFound) || err == nil && f.Note == "" {
		f.Note, err = "null", nil
	}
	if err != nil {
		return err
	}
	return reply(w, http.StatusOK, json.RawMessage(f.Note))
}

func (s *Server) placeUnderlay(w http.ResponseWriter, r *http.Request, p *desk.Project) error {
	var at placement
	if err := body(w, r, maxForm, &at); err != nil {
		return err
	}
	if !at.valid() {
		return refuse(http.StatusUnprocessableEntity, "the placement is out of range")
	}
	note, err := json.Marshal(at)
	if err != nil {
		return err
	}
	if err := p.NoteFile(r.Context(), store.FileUnderlay, r.PathValue("name"), string(note)); err != nil {
		return err
	}
	return done(w)
}

// levelOf gives the level that a path names, if the plan has it.
func levelOf(r *http.Request, p *desk.Project) (string, error) {
	id := r.PathValue("name")
	if !slices.ContainsFunc(p.State().Plan.Levels, func(l plan.Level) bool { return l.ID == id }) {
		return "", notFound("the plan has no level %q", id)
	}
	return id, nil
}

// listFiles lists a project's files of one kind.
func (s *Server) listFiles(kind string) projectHandler {
	return func(w http.ResponseWriter, r *http.Request, p *desk.Project) error {
		list, err := p.Files(r.Context(), kind)
		if err != nil {
			return err
		}
		return reply(w, http.StatusOK, list)
	}
}

// tableTypes are the media types of price lists, rates and catalogues.
var tableTypes = map[string]string{
	".csv": "text/csv; charset=utf-8", ".yaml": "application/yaml", ".yml": "application/yaml",
	".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}

// putTable takes a price list, rates or a catalogue. What is wrong with it is told
// with the price, as with a file on disk.
func (s *Server) putTable(kind string, kinds ...string) projectHandler {
	return func(w http.ResponseWriter, r *http.Request, p *desk.Project) error {
		name := r.PathValue("name")
		ext := strings.ToLower(path.Ext(name))
		if !slices.Contains(kinds, ext) {
			return refuse(http.StatusUnsupportedMediaType, "%q cannot be taken here; %s can", name, strings.Join(kinds, ", "))
		}
		if !plainName(name) {
			return refuse(http.StatusUnprocessableEntity, "%q is no name of a file", name)
		}
		data, err := s.upload(w, r, maxTable)
		if err != nil {
			return err
		}
		if err := p.PutFile(r.Context(), store.File{Kind: kind, Name: name, Type: tableTypes[ext], Content: data}); err != nil {
			return err
		}
		return done(w)
	}
}

// plainName reports whether a name stands for a file and nothing else.
func plainName(name string) bool {
	return len(name) <= 200 && !strings.ContainsAny(name, `/\`) && !strings.HasPrefix(name, ".") &&
		!strings.ContainsFunc(name, func(r rune) bool { return r < ' ' || r == 0x7f })
}

func (s *Server) getFile(kind string) projectHandler {
	return func(w http.ResponseWriter, r *http.Request, p *desk.Project) error {
		f, err := p.File(r.Context(), kind, r.PathValue("name"))
		if err != nil {
			return err
		}
		h := w.Header()
		h.Set("Content-Type", f.Type)
		h.Set("Cache-Control", "private, no-cache")
		h.Set("ETag", fmt.Sprintf(`"%d"`, f.Changed.UnixMilli()))
		if kind != store.FileUnderlay {
			attach(h, f.Name)
		}
		allow(w, int64(len(f.Content)))
		http.ServeContent(w, r, "", f.Changed, bytes.NewReader(f.Content))
		return nil
	}
}

func (s *Server) removeFile(kind string) projectHandler {
	return func(w http.ResponseWriter, r *http.Request, p *desk.Project) error {
		if err := p.DeleteFile(r.Context(), kind, r.PathValue("name")); err != nil {
			return err
		}
		return done(w)
	}
}

func done(w http.ResponseWriter) error {
	w.WriteHeader(http.StatusNoContent)
	return nil
}
