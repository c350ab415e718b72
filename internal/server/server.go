// Package server speaks HTTP for the page: it takes requests, keeps those out
// that must not come in, and has the desk do the work. It knows nothing of the
// trade: plans, edits and views pass through it as they are.
//
// Answers are JSON, and mistakes problem documents (RFC 9457) that carry findings
// where there are any. What happens to a project is told as server-sent events,
// whose ids are revisions.
package server

import (
	"io/fs"
	"log/slog"
	"net/http"
	"time"

	"nogging/internal/desk"
	"nogging/internal/store"
)

// Config is what a server needs of the world.
type Config struct {
	Store   *store.Store
	Desk    *desk.Desk
	Page    fs.FS    // the built page
	Version string   // of the program
	Names   []string // host names beside localhost and addresses under which browsers may ask
	Clock   func() time.Time
	Log     *slog.Logger
}

// Server answers requests.
type Server struct {
	Config
	handler http.Handler
	tries   tries
	hashing chan struct{} // holds one while a password is hashed
	uploads chan struct{} // holds one for each file that is taken in
}

// New makes a server.
func New(c Config) *Server {
	s := &Server{Config: c, hashing: make(chan struct{}, 1), uploads: make(chan struct{}, 2)}
	mux := http.NewServeMux()
	s.routes(mux)
	s.handler = s.guard(s.door(compress(mux)))
	return s
}

// ServeHTTP answers one request.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) { s.handler.ServeHTTP(w, r) }

// routes lists all that can be asked.
func (s *Server) routes(mux *http.ServeMux) {
	mux.Handle("/", s.page())
	api := func(pattern string, h handler) { mux.Handle(pattern, s.answer(h)) }
	api("/api/", func(http.ResponseWriter, *http.Request) error { return notFound("there is nothing of that name here") })
	api("GET /api/about", s.about)
	api("POST /api/login", s.login)
	api("POST /api/logout", s.logout)
	api("GET /api/projects", s.projects)
	api("POST /api/projects", s.create)
	api("POST /api/projects/import", s.take)
	api("POST /api/drawings", s.readDrawing)
	api("POST /api/drawings/layers", s.readLayers)
	api("DELETE /api/projects/{project}", s.remove)
	api("GET /api/projects/{project}/picture.svg", s.small)
	api("GET /api/catalogue", s.products)
	api("PUT /api/projects/{project}/revisions/{revision}/mark", s.mark)

	on := func(method, path string, h projectHandler) {
		api(method+" /api/projects/{project}"+path, s.withProject(h))
	}
	on("GET", "", s.project)
	on("PATCH", "", s.rename)
	on("POST", "/edits", s.edit)
	on("POST", "/undo", s.undo)
	on("POST", "/redo", s.redo)
	for path, of := range map[string]value{
		"/level/{level}": level, "/level/{level}/found-rooms": foundRooms, "/level/{level}/found-walls": foundWalls, "/room-pairs": roomPairs,
		"/walls/{wall}": wall, "/model": model, "/findings": findings, "/totals": totals, "/proof": proofs, "/takeoff": takeoff, "/exports": exports,
	} {
		on("GET", path, s.view(table(of)))
	}
	for path, of := range map[string]value{"/order": order, "/cutting": cutting, "/price": price} {
		on("GET", path, s.settled(table(of)))
	}
	on("GET", "/walls/{wall}/drawing.svg", s.view(drawing))
	on("GET", "/cutting/{zone}/{product}/{sheet}", s.settled(cutSheet))
	on("GET", "/export/{file}", s.settled(export))
	on("GET", "/programme", s.programme)
	on("GET", "/compare", s.compare)
	on("POST", "/choose", s.view(choose))
	on("POST", "/adopt", s.view(adopt))
	on("POST", "/intake", s.intake)
	on("GET", "/jobs", s.jobs)
	on("POST", "/jobs", s.startJob)
	on("GET", "/jobs/{job}", s.job)
	on("DELETE", "/jobs/{job}", s.stopJob)
	on("GET", "/jobs/{job}/result", s.result)
	on("GET", "/underlays", s.underlays)
	on("GET", "/underlays/{name}", s.getFile(store.FileUnderlay))
	on("PUT", "/underlays/{name}", s.putUnderlay)
	on("GET", "/underlays/{name}/placement", s.placeOfUnderlay)
	on("PUT", "/underlays/{name}/placement", s.placeUnderlay)
	on("DELETE", "/underlays/{name}", s.removeFile(store.FileUnderlay))
	s.tables(on, "/prices", store.FilePrices, ".csv", ".xlsx", ".yaml")
	s.tables(on, "/tables", store.FileTables, ".yaml", ".yml")
	on("GET", "/events", s.events)
	on("GET", "/revisions", s.revisions)
	on("GET", "/revisions/{revision}", s.revision)
	on("POST", "/revisions/{revision}/restore", s.restore)
}

// tables serves files of one kind that people bring.
func (s *Server) tables(on func(method, path string, h projectHandler), path, kind string, kinds ...string) {
	on("GET", path, s.listFiles(kind))
	on("GET", path+"/{name}", s.getFile(kind))
	on("PUT", path+"/{name}", s.putTable(kind, kinds...))
	on("DELETE", path+"/{name}", s.removeFile(kind))
}

// handler answers a request or returns why it cannot.
type handler func(http.ResponseWriter, *http.Request) error

// answer turns a handler's error into a problem document.
func (s *Server) answer(h handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		speak(w, r)
		if err := h(w, r); err != nil {
			s.problem(w, r, err)
		}
	})
}

// about tells what program this is, and whether it asks for a password first.
func (s *Server) about(w http.ResponseWriter, r *http.Request) error {
	hash, err := s.Store.Setting(r.Context(), PasswordSetting)
	if err != nil {
		return err
	}
	in, err := s.in(r)
	if err != nil {
		return err
	}
	return reply(w, http.StatusOK, struct {
		Version   string   `json:"version"`
		Password  bool     `json:"password"`     // one is set
		Required  bool     `json:"authRequired"` // and has to be given now
		Practices []string `json:"practices"`
	}{s.Version, hash != "", !in, s.Desk.Practices()})
}
