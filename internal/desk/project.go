package desk

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"nogging/internal/app"
	"nogging/internal/plan"
	"nogging/internal/store"
)

// Project is one open project.
type Project struct {
	desk *Desk
	id   string

	users int       // who holds it; guarded by desk.mu
	left  time.Time // when the last user went; guarded by desk.mu
	walls int       // of its plan when it was opened last; guarded by desk.mu

	mu     sync.Mutex // held over each edit, so that edits have an order
	loaded bool
	fresh  bool // what is held is what is stored
	head   store.Project
	plan   *plan.Plan
	since  int // bytes of changes since the last whole plan was stored

	engine *engine // from when the project was first loaded

	listeners listeners
	jobs      jobs
}

func newProject(d *Desk, id string) *Project { return &Project{desk: d, id: id} }

// hold keeps the project open until Done is called once more.
func (p *Project) hold() {
	p.desk.mu.Lock()
	defer p.desk.mu.Unlock()
	p.users++
}

// Done ends the work that Open began.
func (p *Project) Done() { p.desk.done(p) }

// State is a project as the page first sees it.
type State struct {
	ID       string     `json:"id"`
	Name     string     `json:"name"`
	Revision int64      `json:"revision"`
	CanUndo  bool       `json:"canUndo"`
	CanRedo  bool       `json:"canRedo"`
	Plan     *plan.Plan `json:"plan"`
}

// State gives the project as it stands. Its plan must not be changed.
func (p *Project) State() State {
	p.mu.Lock()
	defer p.mu.Unlock()
	return State{p.id, p.head.Name, p.head.Revision, p.head.Undo != 0, p.head.Redo != 0, p.plan}
}

// load reads the project from the store, unless it is in hand.
func (p *Project) load(ctx context.Context) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.refresh(ctx)
}

// refresh reads the project from the store where what is in hand may not be what
// is stored; p.mu is held.
func (p *Project) refresh(ctx context.Context) error {
	if p.fresh {
		return nil
	}
	head, err := p.desk.store.Project(ctx, p.id)
	if err != nil {
		return err
	}
	now, since, err := p.desk.planAt(ctx, p.id, head.Revision)
	if err != nil {
		return err
	}
	if p.loaded {
		if err := p.catchUp(ctx, head.Revision); err != nil {
			return err
		}
	}
	p.head, p.plan, p.since, p.fresh, p.loaded = head, now, since, true, true
	if p.engine == nil {
		p.engine = startEngine(p)
	}
	p.engine.rouse()
	return nil
}

// catchUp tells listeners what was stored past this desk; p.mu is held.
func (p *Project) catchUp(ctx context.Context, head int64) error {
	missed, err := p.edits(ctx, p.head.Revision, head)
	for _, e := range missed {
		p.listeners.tell(Event{Name: "edit", Revision: e.Revision, Data: e})
	}
	return err
}

// edits reads the edits after one revision and up to another.
func (p *Project) edits(ctx context.Context, after, upTo int64) ([]EditEvent, error) {
	list, err := p.desk.store.Revisions(ctx, p.id, after, upTo)
	var edits []EditEvent
	for _, r := range list {
		changes, bad := changesOf(r.Changes)
		err = errors.Join(err, bad)
		edits = append(edits, EditEvent{r.Revision, r.Kind, r.Client, r.Label, changes, r.Undo != 0, r.Redo != 0})
	}
	return edits, err
}

// newest gives the plan to work out.
func (p *Project) newest() (*plan.Plan, int64) {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.plan, p.head.Revision
}

// Current gives what was worked out last, of a revision or a later one.
func (p *Project) Current(ctx context.Context, revision int64) (Current, error) {
	return p.engine.current(ctx, revision)
}

// Settled gives what Current gives, fit to order from.
func (p *Project) Settled(ctx context.Context, revision int64) (Current, error) {
	return p.engine.settled(ctx, revision)
}

// Of gives what follows from a revision, such as an earlier one.
func (p *Project) Of(ctx context.Context, revision int64) (*app.State, error) {
	now, err := p.Current(ctx, 0)
	if err != nil {
		return nil, err
	}
	if revision == now.Revision {
		return now.State, nil
	}
	then, err := p.At(ctx, revision)
	if err != nil {
		return nil, err
	}
	return now.live.At(then), nil
}

// planAt gives the plan of a revision, and how many bytes of changes were made
// since the whole plan from which it was made.
func (d *Desk) planAt(ctx context.Context, project string, revision int64) (*plan.Plan, int, error) {
	text, at, err := d.store.Snapshot(ctx, project, revision)
	if err != nil {
		return nil, 0, err
	}
	p, err := plan.FromJSON(text)
	if err != nil {
		return nil, 0, err
	}
	list, err := d.store.Revisions(ctx, project, at, revision)
	if err != nil {
		return nil, 0, err
	}
	if at+int64(len(list)) != revision {
		return nil, 0, store.ErrNotFound
	}
	since := 0
	for _, r := range list {
		since += len(r.Changes)
		changes, err := changesOf(r.Changes)
		if err != nil {
			return nil, 0, fmt.Errorf("revision %d: %w", r.Revision, err)
		}
		next, _, found := p.Apply(changes)
		if next == nil {
			return nil, 0, fmt.Errorf("revision %d: %s", r.Revision, found[0].What)
		}
		p = next
	}
	return p, since, nil
}

// At gives the plan of a revision.
func (p *Project) At(ctx context.Context, revision int64) (*plan.Plan, error) {
	found, _, err := p.desk.planAt(ctx, p.id, revision)
	return found, err
}

// unusable reports whether the project never came to be held.
func (p *Project) unusable() bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	return !p.loaded
}

// wholeEvery is how many bytes of changes are stored before the whole plan is
// stored again, so that opening a project stays quick.
const wholeEvery = 256 << 10

// gone tells listeners that the project was deleted.
func (p *Project) gone() { p.listeners.tell(Event{Name: "gone"}) }

// close lets go of what the project holds.
func (p *Project) close() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.listeners.close()
	p.jobs.stopAll()
	if p.engine != nil {
		close(p.engine.stop)
	}
}

// mostMissed bounds how many edits a listener that comes back is told one by one.
const mostMissed = 500

// Listen tells what happens from now on. What was edited after a revision comes
// first; nothing does where that is too much, and whole says that the listener has
// to read the project anew. Call stop when done.
func (p *Project) Listen(ctx context.Context, after int64) (missed []EditEvent, whole bool, events <-chan Event, stop func(), err error) {
	p.mu.Lock()
	head := p.head.Revision
	events, stop = p.listeners.add()
	p.mu.Unlock()
	if after < 1 || after > head || head-after > mostMissed {
		return nil, after != head, events, stop, nil
	}
	missed, err = p.edits(ctx, after, head)
	if err != nil {
		stop()
		return nil, false, nil, nil, err
	}
	return missed, false, events, stop, nil
}
