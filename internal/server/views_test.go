package server_test

import (
	"bufio"
	"compress/gzip"
	"context"
	"encoding/json"
	"encoding/xml"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
)

// TestDemo works the order and the price of the demo out once for all that it looks at.
func TestDemo(t *testing.T) {
	s := newSite(t)
	p := s.project("demo")
	t.Run("views", func(t *testing.T) { s.t = t; views(t, s, p) })
	t.Run("exports", func(t *testing.T) { s.t = t; exports(t, s, p) })
	s.t = t
}

// Everything that can be asked of the demo is there and is what it says to be.
func views(t *testing.T, s *site, p string) {
	for path, holds := range map[string]string{
		"/level/L0": `"outline":[[`, "/walls/L0-01": `"parts":[{`, "/findings": `"severity"`, "/totals": `"proof":{`, "/proof": `"checks":[`,
		"/model?wall=L0-01": `"parts"`, "/takeoff": `"walls":[{`, "/order": `"lines"`, "/cutting": `"zones"`, "/price": `"net"`, "/exports": `"takeoff.csv"`,
		"/underlays/L0/placement": "null", "/compare?from=1": `"before":[]`, "/jobs": "[]",
		"/programme?start=2027-01-11": `"gantt":["\u003csvg`, "/room-pairs": `"walls":[`, "/level/L0/found-rooms": `"changes":[`, "/level/L0/found-walls": `"changes":[`,
	} {
		a := s.ask("GET", p+path, "")
		a.want(t, 200, holds)
		if !json.Valid([]byte(a.body)) || a.header.Get("Content-Type") != "application/json" {
			t.Errorf("%s is no JSON: %s", path, a.header.Get("Content-Type"))
		}
	}
	for _, path := range []string{"/level/L9", "/walls/none", "/walls/none/drawing.svg?view=a1", "/walls/L0-01/drawing.svg?view=none", "/model?wall=none", "/export/none.csv", "/compare?from=9", "/jobs/9", "/cutting/none/none/1", "/level/L0?at=99"} {
		s.ask("GET", p+path, "").want(t, 404)
	}
	english := s.ask("GET", p+"/findings", "")
	if german := s.ask("GET", p+"/findings?language=de", ""); german.header.Get("Content-Language") != "de" || german.body == english.body || !strings.Contains(german.body, "Anforderungen") {
		t.Errorf("findings in German: %.300s", german.body)
	}
	if french := s.ask("GET", p+"/findings?language=fr", ""); french.body != english.body || french.header.Get("Content-Language") != "en" {
		t.Error("what is asked in a language that the program does not talk is not answered in English")
	}
	s.ask("GET", p+"/programme?start=monday", "").want(t, 400)
	s.ask("GET", "/api/catalogue", "").want(t, 200, `"id":"GKB-12.5"`)
	s.ask("GET", "/api/catalogue?project="+strings.TrimPrefix(p, "/api/projects/"), "").want(t, 200, `"buildups":[{"id":`)

	var view struct {
		Views []struct {
			ID string `json:"id"`
		} `json:"views"`
	}
	if err := json.Unmarshal([]byte(s.ask("GET", p+"/walls/L0-01", "").body), &view); err != nil || len(view.Views) == 0 {
		t.Fatal("the wall has no views", err)
	}
	for _, path := range []string{p + "/picture.svg", p + "/picture.svg?r=1", p + "/walls/L0-01/drawing.svg?units=imperial&view=" + view.Views[0].ID} {
		a := s.ask("GET", path, "")
		a.want(t, 200, "<svg")
		if err := xml.Unmarshal([]byte(a.body), new(struct{})); err != nil || a.header.Get("Content-Type") != "image/svg+xml" {
			t.Errorf("%s is no drawing: %v", path, err)
		}
	}
	s.json("POST", p+"/choose", map[string]any{"wall": "L0-01"}).want(t, 200, `"front":[`)
	s.json("POST", p+"/choose", map[string]any{"wall": "none"}).want(t, 422)
	s.json("POST", p+"/adopt", map[string]any{"build_up": map[string]any{"id": "new", "frame": map[string]any{"kind": "single", "stud": "CW75"}, "face_a": []string{"GKB-12.5"}, "face_b": []string{"GKB-12.5"}}, "walls": []string{"L0-01"}}).
		want(t, 200, `"kind":"buildups"`, `"kind":"walls"`)
}

// Every file that is offered can be had, and is of the kind that it says.
func exports(t *testing.T, s *site, p string) {
	var list []struct {
		Name string `json:"name"`
		Type string `json:"type"`
	}
	if err := json.Unmarshal([]byte(s.ask("GET", p+"/exports", "").body), &list); err != nil || len(list) < 10 {
		t.Fatal(list, err)
	}
	magic := map[string]string{".pdf": "%PDF-", ".xlsx": "PK\x03\x04", ".json": "{"}
	for _, e := range list {
		a := s.ask("GET", p+"/export/"+e.Name, "")
		a.want(t, 200, magic[e.Name[strings.LastIndex(e.Name, "."):]])
		if a.header.Get("Content-Type") != e.Type || a.header.Get("Content-Disposition") != "attachment; filename="+e.Name || len(a.body) < 100 {
			t.Errorf("%s: %d bytes, %v", e.Name, len(a.body), a.header)
		}
	}
	bare := s.project("empty")
	s.ask("GET", bare+"/price", "").want(t, 404, "rates")
	s.ask("GET", bare+"/export/bid.pdf", "").want(t, 404, "rates")
}

// A plan that asks for fewest boards is ordered as it is fitted to them, and what
// that changes in its walls is told.
func TestSaveBoards(t *testing.T) {
	s := newSite(t)
	plan := "nogging: 1\nsave_boards: true\nlevels: [{id: L0, clear_height: 2750}]\nbuildups: [{id: a, frame: {kind: single, stud: CW75}, face_a: [GKB-12.5], face_b: [GKB-12.5]}]\nwalls:\n" +
		"  - {id: W1, level: L0, line: [[0, 0], [5300, 0]], buildup: a}\n  - {id: W2, level: L0, line: [[0, 3000], [5300, 3000]], buildup: a}\n"
	var made struct {
		ID string `json:"id"`
	}
	if err := json.Unmarshal([]byte(s.ask("POST", "/api/projects/import?name=a.yaml", plan).body), &made); err != nil {
		t.Fatal(err)
	}
	p := "/api/projects/" + made.ID
	s.ask("GET", p+"/totals", "").want(t, 200)
	events := s.listen(p + "/events?after=1")
	<-events // state
	s.ask("GET", p+"/order", "").want(t, 200, `"lines"`)
	if first, second := <-events, <-events; first != "result" || second != "totals" {
		t.Errorf("told are %s and %s", first, second)
	}
}

// Prices that are brought count at once.
func TestBringPrices(t *testing.T) {
	s := newSite(t)
	demo, p := s.project("demo"), s.project("empty")
	for _, name := range []string{"rates.yaml", "prices.csv"} {
		s.ask("PUT", p+"/prices/"+name, s.ask("GET", demo+"/prices/"+name, "").body).want(t, 204)
	}
	for range 1200 {
		if s.ask("GET", p+"/price", "").status == 200 {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	t.Error("the price is not there")
}

// follow listens to events and, once the server has said where the project stands, gives
// the first of a name that holds a text when it comes.
func (s *site) follow(path, name, holds string) <-chan string {
	s.t.Helper()
	ctx, stop := context.WithTimeout(context.Background(), 2*time.Minute)
	s.t.Cleanup(stop)
	r, err := http.NewRequestWithContext(ctx, "GET", s.url+path, nil)
	if err != nil {
		s.t.Fatal(err)
	}
	a, err := s.client.Do(r)
	if err != nil {
		s.t.Fatal(err)
	}
	s.t.Cleanup(func() { a.Body.Close() })
	lines := bufio.NewReader(a.Body)
	next := func(name, holds string) string {
		for event := ""; ; {
			line, err := lines.ReadString('\n')
			if err != nil {
				s.t.Errorf("no event %s with %s: %v", name, holds, err)
				return ""
			}
			if e, ok := strings.CutPrefix(line, "event: "); ok {
				event = strings.TrimSpace(e)
			}
			if d, ok := strings.CutPrefix(line, "data: "); ok && event == name && strings.Contains(d, holds) {
				return d
			}
		}
	}
	next("state", "")
	told := make(chan string, 1)
	go func() { told <- next(name, holds) }()
	return told
}

// After an edit the walls that look otherwise come by themselves, and the totals.
func TestLiveResults(t *testing.T) {
	s := newSite(t)
	p := s.project("demo")
	s.ask("GET", p+"/level/L0", "").want(t, 200) // worked out once
	result, totals := s.follow(p+"/events?after=1", "result", `"revision":2`), s.follow(p+"/events?after=1", "totals", `"revision":2`)
	s.json("POST", p+"/edits", map[string]any{"base": 1, "client": "tab", "label": "new wall", "changes": []any{map[string]any{"kind": "walls", "id": "L0-99",
		"value": map[string]any{"id": "L0-99", "level": "L0", "line": [][2]int{{-9000, -9000}, {-6000, -9000}}, "thickness": 100}}}}).want(t, 200)
	if d := <-result; !strings.Contains(d, `"id":"L0-99"`) {
		t.Errorf("the result tells not of the new wall: %.300s", d)
	}
	<-totals
	s.ask("GET", p+"/walls/L0-99?at=2", "").want(t, 200, `"revision":2`)
}

// A pack is made with progress, can be had, and can be stopped on the way.
func TestPack(t *testing.T) {
	s := newSite(t)
	p := s.project("demo")
	s.json("POST", p+"/jobs", map[string]any{"kind": "tea"}).want(t, 400)
	s.json("POST", p+"/jobs", map[string]any{"kind": "pack", "parts": []string{"lid"}}).want(t, 422)
	told := s.follow(p+"/events?after=1", "job", `"state":"done"`)
	s.json("POST", p+"/jobs", map[string]any{"kind": "pack", "parts": []string{"set_out"}}).want(t, 202, `"id":"1"`)
	<-told
	s.ask("GET", p+"/jobs/1", "").want(t, 200, `"state":"done"`)
	a := s.ask("GET", p+"/jobs/1/result", "")
	a.want(t, 200, "%PDF-", "%%EOF")

	s.json("POST", p+"/jobs", map[string]any{"kind": "pack"}).want(t, 202, `"id":"2"`)
	s.ask("GET", p+"/jobs/2/result", "").want(t, 409)
	s.ask("DELETE", p+"/jobs/2", "").want(t, 204)
	state := ""
	for range 3000 {
		if state = s.ask("GET", p+"/jobs/2", "").body; !strings.Contains(state, `"running"`) {
			break
		}
		time.Sleep(20 * time.Millisecond)
	}
	if !strings.Contains(state, `"stopped"`) {
		t.Errorf("the job was stopped, and is %s", state)
	}
	s.ask("DELETE", p+"/jobs/2", "").want(t, 204)
	s.ask("GET", p+"/jobs/2", "").want(t, 404)
}

// Browsers on other machines get what is large compressed; events go as they come.
func TestCompressed(t *testing.T) {
	s := newSite(t)
	s.project("empty")
	ask := func(from, path string) *httptest.ResponseRecorder {
		r := httptest.NewRequest("GET", "http://localhost"+path, nil)
		r.RemoteAddr = from
		r.Header.Set("Accept-Encoding", "gzip")
		w := httptest.NewRecorder()
		s.handler.ServeHTTP(w, r)
		return w
	}
	far := ask("192.0.2.1:5000", "/api/projects")
	z, err := gzip.NewReader(far.Body)
	if err != nil || far.Header().Get("Content-Encoding") != "gzip" || far.Header().Get("Vary") != "Accept-Encoding" {
		t.Fatal(far.Header(), err)
	}
	text, err := io.ReadAll(z)
	if near := ask("127.0.0.1:5000", "/api/projects"); err != nil || near.Body.String() != string(text) || near.Header().Get("Content-Encoding") != "" {
		t.Errorf("far %s (%v), near %s", text, err, near.Body)
	}
	if bad := ask("192.0.2.1:5000", "/api/nothing"); bad.Header().Get("Content-Encoding") != "" {
		t.Error("a problem is compressed")
	}
}
