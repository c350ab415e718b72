package server

import (
	"encoding/json"
	"fmt"
	"net/http"
	"strconv"
	"time"

	"nogging/internal/desk"
)

// heartbeat is how often a quiet stream shows that it lives.
const heartbeat = 15 * time.Second

// events streams what happens to a project. A listener that comes back says what
// it saw last (Last-Event-ID, or ?after=), and is told what it missed; the event
// state tells where the project stands, and whether so much was missed that the
// whole has to be read again.
func (s *Server) events(w http.ResponseWriter, r *http.Request, p *desk.Project) error {
	seen := r.Header.Get("Last-Event-ID")
	if seen == "" {
		seen = r.URL.Query().Get("after")
	}
	after, err := strconv.ParseInt(seen, 10, 64)
	if err != nil {
		after = 0
	}
	missed, whole, events, stop, err := p.Listen(r.Context(), after)
	if err != nil {
		return err
	}
	defer stop()
	h := w.Header()
	h.Set("Content-Type", "text/event-stream")
	h.Set("Cache-Control", "no-store")
	h.Set("X-Accel-Buffering", "no")
	out := stream{w, http.NewResponseController(w)}
	for _, e := range missed {
		if out.send(desk.Event{Name: "edit", Revision: e.Revision, Data: e}) != nil {
			return nil
		}
	}
	if out.send(desk.Event{Name: "state", Data: map[string]any{"revision": p.State().Revision, "reload": whole}}) != nil {
		return nil
	}
	out.follow(r, events)
	return nil
}

// stream writes events, each within its time.
type stream struct {
	w  http.ResponseWriter
	rc *http.ResponseController
}

// follow passes events on until one side goes.
func (s stream) follow(r *http.Request, events <-chan desk.Event) {
	beat := time.NewTicker(heartbeat)
	defer beat.Stop()
	for {
		var err error
		select {
		case e, open := <-events:
			if !open {
				return
			}
			err = s.send(e)
		case <-beat.C:
			err = s.write(": still here\n\n")
		case <-r.Context().Done():
			return
		}
		if err != nil {
			return
		}
	}
}

func (s stream) send(e desk.Event) error {
	text, err := json.Marshal(e.Data)
	if err != nil {
		return err
	}
	id := ""
	if e.Revision > 0 {
		id = fmt.Sprintf("id: %d\n", e.Revision)
	}
	return s.write(fmt.Sprintf("%sevent: %s\ndata: %s\n\n", id, e.Name, text))
}

func (s stream) write(text string) error {
	if err := s.rc.SetWriteDeadline(time.Now().Add(patience)); err != nil {
		return err
	}
	if _, err := s.w.Write([]byte(text)); err != nil {
		return err
	}
	return s.rc.Flush()
}
