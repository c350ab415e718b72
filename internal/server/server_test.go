package server_test

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/http/cookiejar"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"nogging/internal/desk"
	"nogging/internal/server"
	"nogging/internal/store"
)

// site is a server on a port of its own, asked by real requests.
type site struct {
	t      testing.TB
	url    string
	store  *store.Store
	client *http.Client

	handler http.Handler
	now     time.Time
}

func newSite(t testing.TB) *site {
	t.Helper()
	s := &site{t: t, now: time.Date(2027, 1, 11, 7, 0, 0, 0, time.UTC)}
	clock := func() time.Time { return s.now }
	db, err := store.Open(context.Background(), filepath.Join(t.TempDir(), "test.db"), clock)
	if err != nil {
		t.Fatal(err)
	}
	log := slog.New(slog.NewTextHandler(t.Output(), nil))
	d := desk.New(db, log)
	page := fstest.MapFS{
		"index.html":           {Data: []byte("<!doctype html>the page")},
		"assets/main-1234.js":  {Data: []byte("let plain")},
		"secret.key":           {Data: []byte("not of a kind that is served")},
		"assets/main-1234.css": {Data: []byte("body{}")}, "assets/main-1234.css.gz": {Data: []byte("packed")},
	}
	s.handler = server.New(server.Config{Store: db, Desk: d, Page: page, Version: "test", Names: []string{"site.example"}, Clock: clock, Log: log})
	web := server.HTTP(s.handler)
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	go web.Serve(l)
	t.Cleanup(func() { web.Close(); d.CloseAll(); db.Close() })
	jar, _ := cookiejar.New(nil) // fails never
	s.url, s.store, s.client = "http://"+l.Addr().String(), db, &http.Client{Jar: jar}
	return s
}

// answer is what came back.
type answer struct {
	status int
	header http.Header
	body   string
}

// ask sends one request; header holds names and values in turn.
func (s *site) ask(method, path, body string, header ...string) answer {
	s.t.Helper()
	r, err := http.NewRequest(method, s.url+path, strings.NewReader(body))
	if err != nil {
		s.t.Fatal(err)
	}
	for i := 0; i+1 < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	if host := r.Header.Get("Host"); host != "" {
		r.Host = host
	}
	a, err := s.client.Do(r)
	if err != nil {
		s.t.Fatal(err)
	}
	defer a.Body.Close()
	text, err := io.ReadAll(a.Body)
	if err != nil {
		s.t.Fatal(err)
	}
	return answer{a.StatusCode, a.Header, string(text)}
}

// json sends a value as JSON.
func (s *site) json(method, path string, v any) answer {
	s.t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		s.t.Fatal(err)
	}
	return s.ask(method, path, string(text), "Content-Type", "application/json")
}

// project starts a project and gives the path of its API.
func (s *site) project(from string) string {
	s.t.Helper()
	a := s.json("POST", "/api/projects", map[string]string{"from": from, "name": "a"})
	var made struct {
		ID string `json:"id"`
	}
	if err := json.Unmarshal([]byte(a.body), &made); err != nil || a.status != http.StatusCreated {
		s.t.Fatalf("%+v: %v", a, err)
	}
	return "/api/projects/" + made.ID
}

func (a answer) want(t testing.TB, status int, holds ...string) {
	t.Helper()
	if a.status != status {
		t.Errorf("status %d, want %d: %.300s", a.status, status, a.body)
	}
	for _, h := range holds {
		if !strings.Contains(a.body, h) {
			t.Errorf("answer %.300q holds no %q", a.body, h)
		}
	}
	if status >= 400 && a.header.Get("Content-Type") != "application/problem+json" {
		t.Errorf("status %d came as %q, not as a problem document", status, a.header.Get("Content-Type"))
	}
}

func TestProjects(t *testing.T) {
	s := newSite(t)
	s.ask("GET", "/api/projects", "").want(t, 200, "[]")
	p := s.project("demo")
	s.ask("GET", "/api/projects", "").want(t, 200, "Harbour clinic", `"revision":1`)
	s.ask("GET", p, "").want(t, 200, `"plan":{`, `"canUndo":false`)
	s.json("PATCH", p, map[string]string{"name": "Quay clinic"}).want(t, 200, `"revision":2`)
	s.ask("GET", "/api/projects", "").want(t, 200, "Quay clinic")
	s.json("POST", "/api/projects", map[string]string{"from": "air"}).want(t, 400, "empty or demo")
	s.ask("DELETE", p, "").want(t, 204)
	s.ask("GET", p, "").want(t, 404)
	s.ask("DELETE", p, "").want(t, 404)
	s.ask("GET", "/api/nothing", "").want(t, 404)
}

func TestImport(t *testing.T) {
	s := newSite(t)
	plan := "nogging: 1\nlevels: [{id: L0, clear_height: 2750}]\nwalls:\n  - {id: W, level: L0, line: [[0, 0], [4000, 0]], buildup: none}\n"
	a := s.ask("POST", "/api/projects/import?name=our+plan.yaml", plan)
	a.want(t, 201, `"id"`, `"findings"`)
	s.ask("GET", "/api/projects", "").want(t, 200, "our plan", `"walls":1`)
	s.ask("POST", "/api/projects/import?name=..%2F..%2Fetc%2Fpasswd.yaml", plan).want(t, 201)
	if list := s.ask("GET", "/api/projects", ""); strings.Contains(list.body, "/") {
		t.Error("a path came in as a name", list.body)
	}
	drawing := "0\nSECTION\n2\nENTITIES\n0\nLINE\n8\nWALL\n10\n0\n20\n0\n11\n4000\n21\n0\n0\nLINE\n8\nWALL\n10\n0\n20\n100\n11\n4000\n21\n100\n0\nENDSEC\n0\nEOF\n"
	s.ask("POST", "/api/projects/import?name=floor.DXF", drawing).want(t, 201, `"id"`, "recognised with a confidence")
	s.ask("GET", "/api/projects", "").want(t, 200, `"name":"floor"`)
	s.ask("POST", "/api/projects/import?name=a.dxf", "no drawing").want(t, 422, "is no DXF drawing")
	s.ask("POST", "/api/projects/import?name=a.exe", "MZ").want(t, 422, "cannot be read", "fix")
	s.ask("POST", "/api/projects/import?name=a.ifc", "no model").want(t, 422, "findings")
	s.ask("POST", "/api/projects/import?name=a.json", "{").want(t, 422, "findings")
}

func TestEdits(t *testing.T) {
	s := newSite(t)
	p := s.project("empty")
	put := func(base int, name string) answer {
		return s.json("POST", p+"/edits", map[string]any{"base": base, "client": "tab", "label": "climate " + name,
			"changes": []any{map[string]any{"kind": "project", "value": map[string]string{"name": name}}}})
	}
	put(1, "one").want(t, 200, `"revision":2`)
	put(1, "two").want(t, 409, `"conflicts":[{"kind":"project"`, `"name":"one"`, `"revision":2`)
	put(2, "two").want(t, 200, `"revision":3`)
	s.json("POST", p+"/undo", map[string]any{"base": 2}).want(t, 409, `"conflicts":[]`)
	s.json("POST", p+"/undo", map[string]any{"base": 3}).want(t, 200, `"revision":4`, `"canRedo":true`)
	s.json("POST", p+"/redo", map[string]any{"base": 4}).want(t, 200, `"revision":5`)
	s.json("POST", p+"/redo", map[string]any{"base": 5}).want(t, 422, "nothing to redo")
	s.json("POST", p+"/revisions/2/restore", map[string]any{"base": 5}).want(t, 200, `"revision":6`, `"one"`)
	s.json("POST", p+"/edits", map[string]any{"base": 6, "changes": []any{map[string]any{"kind": "walls", "id": "W", "value": map[string]any{"id": "W", "length": 5}}}}).
		want(t, 422, `"path":"changes[0]`)
	s.json("POST", p+"/edits", map[string]any{"base": 6, "changes": []any{}}).want(t, 400)
	s.json("PUT", p+"/revisions/2/mark", map[string]string{"mark": "issue C"}).want(t, 204)
	s.json("PUT", p+"/revisions/99/mark", map[string]string{"mark": "issue C"}).want(t, 404)
	s.ask("GET", p+"/revisions?marked", "").want(t, 200, `"mark":"issue C"`)
	s.ask("GET", p+"/revisions/2", "").want(t, 200, `"name":"one"`)
	for _, n := range []string{"0", "-1", "99", "x", "99999999999999999999"} {
		s.ask("GET", p+"/revisions/"+n, "").want(t, 404)
	}
}

// Events come in order, and who comes back gets what was missed.
func TestEvents(t *testing.T) {
	s := newSite(t)
	p := s.project("empty")
	for base := 1; base <= 2; base++ {
		s.json("PATCH", p, map[string]string{"name": strings.Repeat("x", base)}).want(t, 200)
	}
	r, err := http.NewRequest("GET", s.url+p+"/events?after=1", nil)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Last-Event-ID", "2")
	ctx, stop := context.WithTimeout(context.Background(), 10*time.Second)
	defer stop()
	a, err := s.client.Do(r.WithContext(ctx))
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	if kind := a.Header.Get("Content-Type"); kind != "text/event-stream" {
		t.Error("events come as", kind)
	}
	s.json("PATCH", p, map[string]string{"name": "last"}).want(t, 200)
	var said bytes.Buffer
	for !strings.Contains(said.String(), `"name":"last"`) {
		if _, err := io.CopyN(&said, a.Body, 1); err != nil {
			t.Fatal(err, said.String())
		}
	}
	text := said.String()
	at := func(s string) int { return strings.Index(text, s) }
	if missed, state, news := at("id: 3\nevent: edit"), at("event: state"), at("id: 4\nevent: edit"); missed != 0 || state < missed || news < state {
		t.Errorf("events came as\n%s", text)
	}
	stop()
}
