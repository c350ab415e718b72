// Package desk holds the projects that people work on at this moment: it takes
// their edits in order, stores each before it is acknowledged, has the engine
// work out what follows, and tells everybody who listens.
//
// Two who work on one project never overwrite each other in silence: an edit
// names the revision on which it was made, and is refused where an object that it
// changes was changed since.
package desk

import (
	"context"
	"fmt"
	"log/slog"
	"sync"
	"time"

	"nogging/internal/catalogue"
	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/store"
)

// What is held in memory: so many projects, and of those that nobody works on only
// as many as have so many walls together with the others. A wall takes about 80 kB.
const (
	mostOpen = 16
	mostHeld = 12_000
)

// ErrBusy says that as many projects are in work as are held in memory.
var ErrBusy = fmt.Errorf("%d projects are open already, and somebody works on each; close one first", mostOpen)

// Desk holds the open projects. It may be used from several goroutines.
type Desk struct {
	store *store.Store
	log   *slog.Logger

	drawing chan struct{} // holds one while a small picture is drawn
	packing chan struct{} // holds one while a pack is made

	most int // walls that are held, see mostHeld

	mu   sync.Mutex
	open map[string]*Project
}

// New makes an empty desk.
func New(s *store.Store, log *slog.Logger) *Desk {
	return &Desk{store: s, log: log, most: mostHeld, drawing: make(chan struct{}, 1), packing: make(chan struct{}, 1), open: map[string]*Project{}}
}

// Open gives a project to work on. Call Done when the work is done.
func (d *Desk) Open(ctx context.Context, id string) (*Project, error) {
	p, err := d.hold(id)
	if err != nil {
		return nil, err
	}
	if err := p.load(ctx); err != nil {
		p.Done()
		return nil, err
	}
	d.weigh(p, len(p.State().Plan.Walls))
	return p, nil
}

// weigh notes how large a project is, and lets go of others while all that are held
// are too much.
func (d *Desk) weigh(p *Project, walls int) {
	d.mu.Lock()
	defer d.mu.Unlock()
	p.walls = walls
	for d.held() > d.most && d.makeRoom() {
	}
}

// held is how many walls the open projects have; d.mu is held.
func (d *Desk) held() int {
	n := 0
	for _, p := range d.open {
		n += p.walls
	}
	return n
}

// hold finds a project among the open ones, or puts it there. The one left alone
// longest makes room.
func (d *Desk) hold(id string) (*Project, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	p := d.open[id]
	if p == nil {
		if len(d.open) >= mostOpen && !d.makeRoom() {
			return nil, ErrBusy
		}
		p = newProject(d, id)
		d.open[id] = p
	}
	p.users++
	return p, nil
}

func (d *Desk) makeRoom() bool {
	var oldest *Project
	for _, p := range d.open {
		if p.users == 0 && (oldest == nil || p.left.Before(oldest.left)) {
			oldest = p
		}
	}
	if oldest == nil {
		return false
	}
	d.drop(oldest)
	return true
}

// drop forgets a project; d.mu is held.
func (d *Desk) drop(p *Project) {
	if d.open[p.id] == p {
		delete(d.open, p.id)
	}
	p.close()
}

// done notes that one user less works on a project.
func (d *Desk) done(p *Project) {
	d.mu.Lock()
	defer d.mu.Unlock()
	p.users--
	p.left = time.Now()
	if p.users == 0 && p.unusable() {
		d.drop(p)
	}
}

// CloseIdle closes projects on which nobody has worked for so long.
func (d *Desk) CloseIdle(longest time.Duration) {
	d.mu.Lock()
	defer d.mu.Unlock()
	for _, p := range d.open {
		if p.users == 0 && time.Since(p.left) >= longest {
			d.drop(p)
		}
	}
}

// CloseAll lets go of every project; whoever listens is let go, too.
func (d *Desk) CloseAll() {
	d.mu.Lock()
	defer d.mu.Unlock()
	for _, p := range d.open {
		d.drop(p)
	}
}

// Delete removes a project from the store; who listens to it is told.
func (d *Desk) Delete(ctx context.Context, id string) error {
	if err := d.store.Delete(ctx, id); err != nil {
		return err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if p := d.open[id]; p != nil {
		p.gone()
		d.drop(p)
	}
	return nil
}

// start stores a new project.
func (d *Desk) start(ctx context.Context, p *plan.Plan, label string, files ...store.File) (string, finding.List, error) {
	p, found := p.Distinct()
	text, err := p.MarshalJSON()
	if err != nil {
		return "", nil, err
	}
	id, err := d.store.Create(ctx, summary(p), text, label, files...)
	return id, found, err
}

// Practices lists the practices that ship.
func (d *Desk) Practices() []string {
	var list []string
	for i := range catalogue.Shipped().Practices {
		list = append(list, catalogue.Shipped().Practices[i].ID)
	}
	return list
}

// summary is what lists show of a plan.
func summary(p *plan.Plan) store.Summary {
	return store.Summary{Name: p.Project.Name, Number: p.Project.Number, Levels: len(p.Levels), Walls: len(p.Walls)}
}
