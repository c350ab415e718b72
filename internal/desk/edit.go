package desk

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"

	"nogging/internal/finding"
	"nogging/internal/plan"
	"nogging/internal/store"
	"nogging/internal/words"
)

// Outcome is what became of an edit.
type Outcome struct {
	Revision int64         `json:"revision"`
	Label    string        `json:"label"`
	Changes  []plan.Change `json:"changes"`           // what was made of the plan now
	Applied  []plan.Change `json:"applied,omitempty"` // what others made of it since the base, in order
	CanUndo  bool          `json:"canUndo"`
	CanRedo  bool          `json:"canRedo"`
}

// Conflict says that objects of an edit were changed since its base, or that the
// newest edit is not the one that the person saw.
type Conflict struct {
	Revision int64    `json:"revision"`
	Objects  []Object `json:"conflicts"`
}

// Object is an object that two changed: how it stands now, and by whom.
type Object struct {
	Kind     string          `json:"kind"`
	ID       string          `json:"id"`
	Value    json.RawMessage `json:"value"` // null if it is gone
	Revision int64           `json:"revision"`
	Label    string          `json:"label"`
	Client   string          `json:"client"`
}

func (c *Conflict) Error() string {
	return fmt.Sprintf("the project was changed since, and is at revision %d now", c.Revision)
}

// Refused says that an edit cannot be made of the plan as it stands.
type Refused struct{ Findings finding.List }

func (r *Refused) Error() string { return "the edit cannot be taken" }

// Edit makes an edit that a person made on revision base. What others did since
// stays where it concerns other objects; else the error is a *Conflict.
func (p *Project) Edit(ctx context.Context, base int64, client string, edit plan.Edit) (Outcome, error) {
	return p.change(ctx, func(ctx context.Context) (Outcome, error) {
		since, err := p.desk.store.Revisions(ctx, p.id, base, p.head.Revision)
		if err != nil {
			return Outcome{}, err
		}
		if base > p.head.Revision || base < 1 {
			return Outcome{}, &Conflict{Revision: p.head.Revision}
		}
		others, err := p.merge(since, edit.Changes)
		if err != nil {
			return Outcome{}, err
		}
		out, err := p.append(ctx, store.Revision{Kind: store.KindEdit, Label: edit.Label, Client: client}, edit.Changes)
		out.Applied = others
		return out, err
	})
}

// merge gives what others changed, or a *Conflict where an edit changes the same.
func (p *Project) merge(since []store.Revision, mine []plan.Change) ([]plan.Change, error) {
	var others []plan.Change
	by := map[plan.Key]store.Revision{}
	for _, r := range since {
		changes, err := changesOf(r.Changes)
		if err != nil {
			return nil, err
		}
		for _, c := range changes {
			by[c.Key()] = r
		}
		others = append(others, changes...)
	}
	both := plan.Shared(mine, others)
	if len(both) == 0 {
		return others, nil
	}
	c := &Conflict{Revision: p.head.Revision}
	for _, k := range both {
		o := Object{Kind: k.Kind, ID: k.ID, Value: json.RawMessage("null"), Revision: by[k].Revision, Label: by[k].Label, Client: by[k].Client}
		if now, ok := p.plan.Object(k); ok {
			o.Value = now.Value
		}
		c.Objects = append(c.Objects, o)
	}
	return nil, c
}

func changesOf(text []byte) (list []plan.Change, err error) {
	err = json.Unmarshal(text, &list)
	return list, err
}

// Undo takes the newest edit back that has not been taken back. It is refused
// where base is not the newest revision: the person has not seen that edit yet.
func (p *Project) Undo(ctx context.Context, base int64, client string) (Outcome, error) {
	return p.step(ctx, base, client, store.KindUndo)
}

// Redo makes again what Undo took back last.
func (p *Project) Redo(ctx context.Context, base int64, client string) (Outcome, error) {
	return p.step(ctx, base, client, store.KindRedo)
}

func (p *Project) step(ctx context.Context, base int64, client, kind string) (Outcome, error) {
	return p.change(ctx, func(ctx context.Context) (Outcome, error) {
		if base != p.head.Revision {
			return Outcome{}, &Conflict{Revision: p.head.Revision}
		}
		top := p.head.Undo
		if kind == store.KindRedo {
			top = p.head.Redo
		}
		if top == 0 {
			return Outcome{}, &Refused{finding.List{{Code: "nothing-to-" + kind, Severity: finding.Error, What: words.F("there is nothing to %s", kind), Fix: "nothing need be done"}}}
		}
		was, err := p.desk.store.Revision(ctx, p.id, top)
		if err != nil {
			return Outcome{}, err
		}
		back, err := changesOf(was.Inverse)
		if err != nil {
			return Outcome{}, err
		}
		return p.append(ctx, store.Revision{Kind: kind, Label: was.Label, Client: client, Under: was.Under}, back)
	})
}

// Restore makes the plan of an earlier revision the newest one.
func (p *Project) Restore(ctx context.Context, base int64, client string, revision int64) (Outcome, error) {
	then, err := p.At(ctx, revision)
	if err != nil {
		return Outcome{}, err
	}
	return p.change(ctx, func(ctx context.Context) (Outcome, error) {
		if base != p.head.Revision {
			return Outcome{}, &Conflict{Revision: p.head.Revision}
		}
		r := store.Revision{Kind: store.KindRestore, Label: fmt.Sprintf("back to revision %d", revision), Client: client}
		return p.append(ctx, r, plan.Diff(p.plan, then))
	})
}

// change runs one edit while nobody else edits. It is not broken off when the one
// who asked goes away, so that what is held is what is stored.
func (p *Project) change(ctx context.Context, make func(context.Context) (Outcome, error)) (Outcome, error) {
	ctx = context.WithoutCancel(ctx)
	p.mu.Lock()
	defer p.mu.Unlock()
	if err := p.refresh(ctx); err != nil {
		return Outcome{}, err
	}
	out, err := make(ctx)
	if errors.Is(err, store.ErrStale) { // another server works on the same store
		p.fresh = false
		if err := p.refresh(ctx); err != nil {
			return Outcome{}, err
		}
		out, err = make(ctx)
	}
	return out, err
}

// append makes changes of the plan, stores them as the next revision and tells
// everybody. r.Under tells, of an undo or redo, what lay beneath the revision
// that it takes back.
func (p *Project) append(ctx context.Context, r store.Revision, changes []plan.Change) (Outcome, error) {
	next, inverse, found := p.plan.Apply(changes)
	if next == nil {
		return Outcome{}, &Refused{found}
	}
	if err := p.fill(&r, changes, inverse); err != nil {
		return Outcome{}, err
	}
	whole, err := p.whole(next, len(r.Changes))
	if err != nil {
		return Outcome{}, err
	}
	about := summary(next)
	if err := p.desk.store.Append(ctx, p.id, r, about, whole); err != nil {
		p.fresh = false // it may have been stored all the same
		return Outcome{}, err
	}
	p.plan, p.since = next, p.since+len(r.Changes)
	if whole != nil {
		p.since = 0
	}
	p.head.Revision, p.head.Undo, p.head.Redo, p.head.Summary = r.Revision, r.Undo, r.Redo, about
	out := Outcome{Revision: r.Revision, Label: r.Label, Changes: changes, CanUndo: r.Undo != 0, CanRedo: r.Redo != 0}
	p.engine.rouse()
	p.listeners.tell(Event{Name: "edit", Revision: r.Revision, Data: EditEvent{out.Revision, r.Kind, r.Client, out.Label, changes, out.CanUndo, out.CanRedo}})
	return out, nil
}

// fill numbers the next revision and puts it on the stacks of undo and redo.
func (p *Project) fill(r *store.Revision, changes, inverse []plan.Change) (err error) {
	if r.Changes, err = json.Marshal(changes); err != nil {
		return err
	}
	if r.Inverse, err = json.Marshal(inverse); err != nil {
		return err
	}
	beneath := r.Under
	r.Revision = p.head.Revision + 1
	switch r.Kind {
	case store.KindUndo:
		r.Undo, r.Redo, r.Under = beneath, r.Revision, p.head.Redo
	case store.KindRedo:
		r.Undo, r.Redo, r.Under = r.Revision, beneath, p.head.Undo
	default:
		r.Undo, r.Redo, r.Under = r.Revision, 0, p.head.Undo
	}
	return nil
}

// whole gives the whole plan where it is time to store it again.
func (p *Project) whole(next *plan.Plan, more int) ([]byte, error) {
	if p.since+more < wholeEvery {
		return nil, nil
	}
	return next.MarshalJSON()
}
