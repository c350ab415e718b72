package server

import (
	"bytes"
	"context"
	"errors"
	"net/http"
	"strconv"
	"time"

	"nogging/internal/app"
	"nogging/internal/desk"
	"nogging/internal/finding"
	"nogging/internal/plan"
)

// view answers from what was worked out of the project last. A request that names
// a revision (?at=) waits until that one, or a later one, is worked out.
type view func(w http.ResponseWriter, r *http.Request, now desk.Current) error

func (s *Server) view(v view) projectHandler { return s.viewOf((*desk.Project).Current, v) }

// settled answers as view does, from what is fit to order from.
func (s *Server) settled(v view) projectHandler { return s.viewOf((*desk.Project).Settled, v) }

// state takes a state from a project.
type state func(p *desk.Project, ctx context.Context, revision int64) (desk.Current, error)

func (s *Server) viewOf(of state, v view) projectHandler {
	return func(w http.ResponseWriter, r *http.Request, p *desk.Project) error {
		r = r.WithContext(p.Telling(r.Context()))
		now, err := current(r, p, of)
		if err != nil {
			return err
		}
		w.Header().Set("Nogging-Revision", strconv.FormatInt(now.Revision, 10))
		return v(w, r, now)
	}
}

func current(r *http.Request, p *desk.Project, of state) (desk.Current, error) {
	at, err := strconv.ParseInt(r.URL.Query().Get("at"), 10, 64)
	if err != nil {
		at = 0
	}
	if at > p.State().Revision {
		return desk.Current{}, notFound("there is no revision %d yet", at)
	}
	return of(p, r.Context(), at)
}

// value gives what a view answers with.
type value func(r *http.Request, now desk.Current) (any, error)

// table answers with a value.
func table(of value) view {
	return func(w http.ResponseWriter, r *http.Request, now desk.Current) error {
		v, err := of(r, now)
		if errors.Is(err, app.ErrNoPrices) {
			return notFound("%v", err)
		}
		if err != nil {
			return err
		}
		return reply(w, http.StatusOK, v)
	}
}

func findings(_ *http.Request, now desk.Current) (any, error) {
	return append(finding.List{}, now.Findings()...), nil
}
func totals(_ *http.Request, now desk.Current) (any, error) {
	return map[string]any{"revision": now.Revision, "totals": now.Totals()}, nil
}
func takeoff(_ *http.Request, now desk.Current) (any, error) { return now.Takeoff(), nil }
func order(r *http.Request, now desk.Current) (any, error)   { return now.Order(r.Context()) }
func cutting(r *http.Request, now desk.Current) (any, error) { return now.Cutting(r.Context()) }
func price(r *http.Request, now desk.Current) (any, error)   { return now.Price(r.Context()) }
func exports(*http.Request, desk.Current) (any, error)       { return app.Exports(), nil }

// proofs lists how the walls stand, without derivations, which are with each wall.
func proofs(r *http.Request, now desk.Current) (any, error) {
	if r.URL.Query().Has("whole") {
		return now.Proof(), nil
	}
	return now.ProofTable(), nil
}

// roomPairs lists which rooms are parted by which walls.
func roomPairs(_ *http.Request, now desk.Current) (any, error) {
	return append([]plan.RoomPair{}, now.RoomPairs()...), nil
}

// foundRooms and foundWalls give edits for the page to send: the rooms that a level's
// walls enclose, and the walls between its rooms.
func foundRooms(r *http.Request, now desk.Current) (any, error) {
	return edit{now.Revision, append([]plan.Change{}, now.FindRooms(r.PathValue("level"))...)}, nil
}

func foundWalls(r *http.Request, now desk.Current) (any, error) {
	return edit{now.Revision, append([]plan.Change{}, now.WallsBetween(r.PathValue("level"))...)}, nil
}

// edit is one that was worked out for the page, and on which revision.
type edit struct {
	Revision int64         `json:"revision"`
	Changes  []plan.Change `json:"changes"`
}

// level tells of a level; with ?outlines only where its walls stand, which is known
// before how they stand against what is asked.
func level(r *http.Request, now desk.Current) (any, error) {
	if r.URL.Query().Has("outlines") {
		return outlines(r, now)
	}
	v, ok := now.Level(r.PathValue("level"))
	if !ok {
		return nil, notFound("the plan has no level %q", r.PathValue("level"))
	}
	return struct {
		Revision int64 `json:"revision"`
		app.LevelView
	}{now.Revision, v}, nil
}

func outlines(r *http.Request, now desk.Current) (any, error) {
	walls, ok := now.LevelOutlines(r.PathValue("level"))
	if !ok {
		return nil, notFound("the plan has no level %q", r.PathValue("level"))
	}
	return struct {
		Revision int64           `json:"revision"`
		Walls    []app.WallBrief `json:"walls"`
	}{now.Revision, walls}, nil
}

func wall(r *http.Request, now desk.Current) (any, error) {
	v, ok := now.Wall(r.PathValue("wall"))
	if !ok {
		return nil, notFound("the plan has no wall %q", r.PathValue("wall"))
	}
	return struct {
		Revision int64 `json:"revision"`
		app.WallView
	}{now.Revision, v}, nil
}

func model(r *http.Request, now desk.Current) (any, error) {
	q := r.URL.Query()
	m, ok := now.Model(q.Get("wall"), q.Get("level"))
	if !ok {
		return nil, notFound("the plan has no such wall or level")
	}
	return m, nil
}

// imperial reports whether drawings are wanted in feet and inches.
func imperial(r *http.Request) bool { return r.URL.Query().Get("units") == "imperial" }

func drawing(w http.ResponseWriter, r *http.Request, now desk.Current) error {
	text, ok := now.Drawing(r.PathValue("wall"), r.URL.Query().Get("view"), imperial(r))
	if !ok {
		return notFound("there is no such drawing of this wall")
	}
	return scene(w, text)
}

// cutSheet draws one way to cut the boards of a product in a zone; sheets count from 1.
func cutSheet(w http.ResponseWriter, r *http.Request, now desk.Current) error {
	n, err := strconv.Atoi(r.PathValue("sheet"))
	if err != nil || n < 1 {
		return notFound("%q is no sheet", r.PathValue("sheet"))
	}
	list, err := now.CutSheets(r.Context(), r.PathValue("zone"), r.PathValue("product"), imperial(r))
	if err != nil {
		return err
	}
	if n > len(list) {
		return notFound("there are %d sheets", len(list))
	}
	return scene(w, list[n-1])
}

// scene writes a drawing.
func scene(w http.ResponseWriter, text []byte) error {
	w.Header().Set("Content-Type", "image/svg+xml")
	preset(w.Header(), "Cache-Control", "no-store")
	allow(w, int64(len(text)))
	_, err := w.Write(text)
	return err
}

// choose ranks what a wall could be made of.
func choose(w http.ResponseWriter, r *http.Request, now desk.Current) error {
	var ask app.ChoiceRequest
	if err := body(w, r, maxForm, &ask); err != nil {
		return err
	}
	chosen, err := now.Choose(ask)
	if err != nil {
		return refuse(http.StatusUnprocessableEntity, "%v", err)
	}
	return reply(w, http.StatusOK, chosen)
}

// adopt gives the edit that makes walls of a build-up; the page sends it like others.
func adopt(w http.ResponseWriter, r *http.Request, now desk.Current) error {
	var ask struct {
		BuildUp plan.BuildUp `json:"build_up"`
		Walls   []string     `json:"walls"`
	}
	if err := body(w, r, maxEdit, &ask); err != nil {
		return err
	}
	changes, found := now.Adopt(ask.BuildUp, ask.Walls)
	if changes == nil {
		return refused(found)
	}
	return reply(w, http.StatusOK, edit{now.Revision, changes})
}

// compare tells what changes between two revisions; to is the newest if left out.
func (s *Server) compare(w http.ResponseWriter, r *http.Request, p *desk.Project) error {
	from, err := strconv.ParseInt(r.URL.Query().Get("from"), 10, 64)
	if err != nil {
		return refuse(http.StatusBadRequest, "say which revision to compare from")
	}
	now, err := p.Current(r.Context(), p.State().Revision)
	if err != nil {
		return err
	}
	to := now.Revision
	if text := r.URL.Query().Get("to"); text != "" {
		if to, err = strconv.ParseInt(text, 10, 64); err != nil {
			return refuse(http.StatusBadRequest, "%q is no revision", text)
		}
	}
	after, err := p.Of(r.Context(), to)
	if err != nil {
		return err
	}
	before, err := p.Of(r.Context(), from)
	if err != nil {
		return err
	}
	c, err := after.Compare(r.Context(), before)
	if err != nil {
		return err
	}
	return reply(w, http.StatusOK, c)
}

// export gives a file to keep. It is made whole first, so that what fails is told
// and no half of a file comes down.
func export(w http.ResponseWriter, r *http.Request, now desk.Current) error {
	name := r.PathValue("file")
	var b bytes.Buffer
	err := now.Export(app.WithDate(r.Context(), time.Now()), name, &b)
	switch {
	case errors.Is(err, app.ErrNoExport), errors.Is(err, app.ErrNoPrices):
		return notFound("%v", err)
	case err != nil:
		return err
	}
	for _, e := range app.Exports() {
		if e.Name == name {
			w.Header().Set("Content-Type", e.Type)
		}
	}
	attach(w.Header(), name)
	preset(w.Header(), "Cache-Control", "no-store")
	allow(w, int64(b.Len()))
	_, err = b.WriteTo(w)
	return err
}

// products lists what plans can name, for pickers. With ?project= the project's own
// products and build-ups are among it.
func (s *Server) products(w http.ResponseWriter, r *http.Request) error {
	id := r.URL.Query().Get("project")
	if id == "" {
		return reply(w, http.StatusOK, app.ShippedProducts())
	}
	p, err := s.Desk.Open(r.Context(), id)
	if err != nil {
		return err
	}
	defer p.Done()
	now, err := current(r, p, (*desk.Project).Current)
	if err != nil {
		return err
	}
	return reply(w, http.StatusOK, now.Products())
}

// small serves the project's small picture.
func (s *Server) small(w http.ResponseWriter, r *http.Request) error {
	text, revision, err := s.Desk.Picture(r.Context(), r.PathValue("project"))
	if err != nil {
		return err
	}
	w.Header().Set("Cache-Control", "private, no-cache")
	if r.URL.Query().Get("r") == strconv.FormatInt(revision, 10) {
		w.Header().Set("Cache-Control", "private, max-age=31536000, immutable")
	}
	return scene(w, text)
}
