package desk

import (
	"context"
	"fmt"
	"io/fs"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"time"

	"nogging/internal/app"
	"nogging/internal/plan"
	"nogging/internal/store"
)

// Current is what was worked out of a revision.
type Current struct {
	*app.State
	Revision int64
	live     *app.Live
}

// engine works out what follows from a project's plan, one revision after another;
// those that are overtaken while it works are left out.
type engine struct {
	project *Project
	wake    chan struct{} // holds one while there is something new
	stop    chan struct{} // closed at the end

	mu    sync.Mutex
	now   Current
	news  chan struct{} // closed when now changes
	files bool          // files beside the plan have changed
	fault error         // what kept the newest revision from being worked out
}

func startEngine(p *Project) *engine {
	e := &engine{project: p, wake: make(chan struct{}, 1), stop: make(chan struct{}), news: make(chan struct{})}
	go e.run()
	e.rouse()
	return e
}

// rouse tells the engine that there is something new.
func (e *engine) rouse() {
	select {
	case e.wake <- struct{}{}:
	default:
	}
}

// refile tells the engine that files beside the plan have changed.
func (e *engine) refile() {
	e.mu.Lock()
	e.files = true
	e.mu.Unlock()
	e.rouse()
}

func (e *engine) run() {
	var live *app.Live
	for {
		select {
		case <-e.wake:
			next, revision := e.project.newest()
			l, err := e.workOut(live, next, revision)
			if err != nil {
				e.project.desk.log.Error("a revision could not be worked out", "project", e.project.id, "revision", revision, "error", err)
				e.publish(Current{}, err)
				continue // the next revision may do better
			}
			live = l
		case <-e.stop:
			return
		}
	}
}

// workOut takes one revision in and tells what it changed. A fault in the engine
// must not take the server, and the edits of others, with it.
func (e *engine) workOut(live *app.Live, next *plan.Plan, revision int64) (_ *app.Live, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("%v\n%s", r, debug.Stack())
		}
	}()
	start := time.Now()
	live, delta, err := e.advance(live, next)
	if err != nil {
		return nil, err
	}
	e.mu.Lock()
	before := e.now
	e.mu.Unlock()
	now := Current{live.State(), revision, live}
	e.publish(now, nil)
	if before.State != nil {
		// First where the walls stand, then how they stand against what is asked.
		e.project.listeners.tell(Event{Name: "layout", Data: Result{revision, now.Outlines(delta.Walls), delta.Removed, milliseconds(start)}})
		walls, removed := now.Since(before.State)
		e.project.listeners.tell(Event{Name: "result", Data: Result{revision, walls, removed, milliseconds(start)}})
	}
	e.project.listeners.tell(Event{Name: "totals", Data: Totals{revision, now.Totals(), milliseconds(start)}})
	return live, nil
}

// advance gives the engine the newest plan, and the files beside it where those have
// changed.
func (e *engine) advance(live *app.Live, next *plan.Plan) (*app.Live, app.Delta, error) {
	e.mu.Lock()
	refile := e.files
	e.files = false
	e.mu.Unlock()
	if live != nil && !refile {
		return live, live.Set(next), nil
	}
	files, err := e.project.liveFiles()
	if err != nil {
		e.mu.Lock()
		e.files = true // the next revision tries again
		e.mu.Unlock()
		return nil, app.Delta{}, err
	}
	if live == nil {
		return app.NewLive(next, files), app.Delta{}, nil
	}
	live.Use(files)
	return live, live.Set(next), nil
}

// Result tells which walls look otherwise than before: as event layout where they
// stand, as event result with findings and proofs.
type Result struct {
	Revision int64           `json:"revision"`
	Walls    []app.WallBrief `json:"walls"`
	Removed  []string        `json:"removed"`
	MS       float64         `json:"ms"` // from when the engine took the revision in
}

// Totals tells the sums of a revision.
type Totals struct {
	Revision int64    `json:"revision"`
	Totals   app.Sums `json:"totals"`
	MS       float64  `json:"ms"`
}

// Work tells how far a long piece of work has come.
type Work struct {
	Work  string `json:"work"` // as of app.Telling
	Done  int    `json:"done"`
	Total int    `json:"total"`
}

// Telling returns a context under which long works tell everybody how far they are.
func (p *Project) Telling(ctx context.Context) context.Context {
	return app.Telling(ctx, func(work string, done, total int) {
		p.listeners.tell(Event{Name: "work", Data: Work{work, done, total}})
	})
}

func milliseconds(since time.Time) float64 {
	return float64(time.Since(since).Microseconds()) / 1000
}

// publish makes a state the newest; a fault leaves the one before.
func (e *engine) publish(c Current, fault error) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.fault = fault
	if fault == nil {
		e.now = c
	}
	close(e.news)
	e.news = make(chan struct{})
}

// current waits until a revision, or a later one, is worked out.
func (e *engine) current(ctx context.Context, revision int64) (Current, error) {
	for {
		e.mu.Lock()
		now, news, fault := e.now, e.news, e.fault
		e.mu.Unlock()
		if now.State != nil && now.Revision >= revision {
			return now, nil
		}
		if fault != nil {
			return Current{}, fmt.Errorf("revision %d could not be worked out: %w", revision, fault)
		}
		select {
		case <-news:
		case <-e.stop:
			return Current{}, store.ErrNotFound
		case <-ctx.Done():
			return Current{}, ctx.Err()
		}
	}
}

// settled gives the newest revision with its walls fitted to boards where the plan
// asks for that. What this changes is told like what an edit changes.
func (e *engine) settled(ctx context.Context, revision int64) (Current, error) {
	now, err := e.current(ctx, revision)
	if err != nil || !now.Plan().SaveBoards {
		return now, err
	}
	state, _, err := now.live.Settled(ctx)
	if err != nil {
		return Current{}, err
	}
	e.mu.Lock()
	defer e.mu.Unlock()
	before := e.now
	if before.State == state || before.Plan() != state.Plan() {
		return Current{state, now.Revision, now.live}, nil // told by another, or overtaken
	}
	e.now.State = state
	walls, removed := state.Since(before.State)
	e.project.listeners.tell(Event{Name: "result", Data: Result{Revision: before.Revision, Walls: walls, Removed: removed}})
	e.project.listeners.tell(Event{Name: "totals", Data: Totals{Revision: before.Revision, Totals: state.Totals()}})
	return e.now, nil
}

// liveFiles gives the files beside the plan as they are now.
func (p *Project) liveFiles() (app.LiveFiles, error) {
	ctx := context.Background()
	list, err := p.desk.store.Files(ctx, p.id, store.FilePrices)
	if err != nil {
		return app.LiveFiles{}, err
	}
	files := app.LiveFiles{Read: p.read}
	for _, f := range list {
		switch {
		case f.Name == app.RatesFile:
			files.Rates = f.Name
		case !strings.HasSuffix(f.Name, ".yaml"):
			files.Prices = append(files.Prices, f.Name)
		}
	}
	slices.Sort(files.Prices)
	return files, nil
}

// read gives a file beside the plan by its name.
func (p *Project) read(name string) ([]byte, error) {
	for _, kind := range []string{store.FileTables, store.FilePrices} {
		f, err := p.desk.store.File(context.Background(), p.id, kind, name)
		if err == nil {
			return f.Content, nil
		}
		if err != store.ErrNotFound {
			return nil, err
		}
	}
	return nil, fs.ErrNotExist
}
