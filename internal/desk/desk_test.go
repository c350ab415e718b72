package desk_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"path/filepath"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"nogging/internal/desk"
	_ "nogging/internal/draws"
	"nogging/internal/plan"
	"nogging/internal/plantest"
	"nogging/internal/store"
)

var ctx = context.Background()

func openStore(t testing.TB) *store.Store {
	t.Helper()
	s, err := store.Open(ctx, filepath.Join(t.TempDir(), "test.db"), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

func newDesk(s *store.Store) *desk.Desk { return desk.New(s, slog.New(slog.DiscardHandler)) }

func must[T any](v T, err error) func(t interface {
	Helper()
	Fatal(...any)
}) T {
	return func(t interface {
		Helper()
		Fatal(...any)
	}) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// room is a change that puts a room, or removes it where the name is empty.
func room(id, name string) plan.Change {
	c := plan.Change{Kind: "rooms", ID: id, Value: json.RawMessage("null")}
	if name != "" {
		c.Value = json.RawMessage(fmt.Sprintf(`{"id":%q,"level":"L0","name":%q,"outline":[[0,0],[4000,0],[4000,3000]]}`, id, name))
	}
	return c
}

func edit(label string, changes ...plan.Change) plan.Edit {
	return plan.Edit{Label: label, Changes: changes}
}

func text(t interface {
	Helper()
	Fatal(...any)
}, p *plan.Plan) string {
	t.Helper()
	return string(must(json.Marshal(p))(t))
}

// However a project is edited, undone, redone and taken back to earlier
// revisions: each revision stays what it was, undo and redo walk the way that a
// list of plans tells, and a project opened anew is the same.
func TestHistory(t *testing.T) {
	s := openStore(t)
	rapid.Check(t, func(t *rapid.T) {
		d := newDesk(s)
		id := must(d.Empty(ctx, "history"))(t)
		p := must(d.Open(ctx, id))(t)
		all := []string{text(t, p.State().Plan)} // by revision
		var undo, redo []string                  // plans that undo and redo lead to
		steps := rapid.IntRange(1, 25).Draw(t, "steps")
		for range steps {
			base := int64(len(all))
			now := all[len(all)-1]
			var err error
			switch rapid.SampledFrom([]string{"edit", "edit", "edit", "undo", "undo", "redo", "redo", "restore", "reopen"}).Draw(t, "step") {
			case "edit":
				c := room(rapid.SampledFrom([]string{"A", "B", "C"}).Draw(t, "room"), rapid.SampledFrom([]string{"one", "two"}).Draw(t, "name"))
				_, err = p.Edit(ctx, base, "tab", edit("room", c))
				undo, redo = append(undo, now), nil
			case "undo":
				_, err = p.Undo(ctx, base, "tab")
				if len(undo) == 0 {
					wantRefused(t, err)
					continue
				}
				want := undo[len(undo)-1]
				undo, redo = undo[:len(undo)-1], append(redo, now)
				same(t, text(t, p.State().Plan), want)
			case "redo":
				_, err = p.Redo(ctx, base, "tab")
				if len(redo) == 0 {
					wantRefused(t, err)
					continue
				}
				want := redo[len(redo)-1]
				redo, undo = redo[:len(redo)-1], append(undo, now)
				same(t, text(t, p.State().Plan), want)
			case "restore":
				n := rapid.Int64Range(1, base).Draw(t, "revision")
				_, err = p.Restore(ctx, base, "tab", n)
				undo, redo = append(undo, now), nil
				same(t, text(t, p.State().Plan), all[n-1])
			case "reopen":
				p.Done()
				d = newDesk(s)
				p = must(d.Open(ctx, id))(t)
				same(t, text(t, p.State().Plan), now)
				continue
			}
			if err != nil {
				t.Fatal(err)
			}
			state := p.State()
			same(t, state.Revision, base+1)
			same(t, []bool{state.CanUndo, state.CanRedo}, []bool{len(undo) > 0, len(redo) > 0})
			all = append(all, text(t, state.Plan))
		}
		for i, want := range all {
			same(t, text(t, must(p.At(ctx, int64(i+1)))(t)), want)
		}
		p.Done()
	})
}

func wantRefused(t interface {
	Helper()
	Fatal(...any)
}, err error) {
	t.Helper()
	if r := (*desk.Refused)(nil); !errors.As(err, &r) || len(r.Findings) == 0 {
		t.Fatal("want it refused with a finding, got", err)
	}
}

func same(t interface {
	Helper()
	Fatal(...any)
}, got, want any) {
	t.Helper()
	if d := cmp.Diff(want, got); d != "" {
		t.Fatal("-want +got:\n" + d)
	}
}

// Two who edit on the same revision: other objects merge, the same object is
// refused with how it stands now, and nothing of the refused edit is left.
func TestConflict(t *testing.T) {
	d := newDesk(openStore(t))
	p := must(d.Open(ctx, must(d.Empty(ctx, "two tabs"))(t)))(t)
	defer p.Done()
	must(p.Edit(ctx, 1, "first", edit("put A", room("A", "one"))))(t)
	out := must(p.Edit(ctx, 1, "second", edit("put B", room("B", "one"))))(t)
	same(t, out.Applied, []plan.Change{room("A", "one")})

	before := text(t, p.State().Plan)
	_, err := p.Edit(ctx, 2, "second", edit("put A and B", room("A", "two"), room("B", "two")))
	var c *desk.Conflict
	if !errors.As(err, &c) {
		t.Fatal("want a conflict, got", err)
	}
	same(t, c.Revision, int64(3))
	same(t, len(c.Objects), 1)
	same(t, []any{c.Objects[0].Kind, c.Objects[0].ID, c.Objects[0].Revision, c.Objects[0].Label, c.Objects[0].Client}, []any{"rooms", "B", int64(3), "put B", "second"})
	var value plan.Room
	if err := json.Unmarshal(c.Objects[0].Value, &value); err != nil || value.Name != "one" {
		t.Errorf("the value that stands is %s", c.Objects[0].Value)
	}
	same(t, text(t, p.State().Plan), before)

	must(p.Edit(ctx, 3, "first", edit("remove B", room("B", ""))))(t)
	_, err = p.Edit(ctx, 3, "second", edit("put B", room("B", "two")))
	if !errors.As(err, &c) || string(c.Objects[0].Value) != "null" {
		t.Errorf("an object that is gone: %v", err)
	}
	for _, base := range []int64{-1, 0, 99} {
		if _, err := p.Edit(ctx, base, "second", edit("put C", room("C", "one"))); !errors.As(err, &c) {
			t.Errorf("base %d: %v", base, err)
		}
	}
	if _, err := p.Undo(ctx, 3, "second"); !errors.As(err, &c) {
		t.Errorf("undo of what was not seen: %v", err)
	}
}

// Two programs on one store never lose an edit to each other.
func TestTwoDesks(t *testing.T) {
	s := openStore(t)
	one, two := newDesk(s), newDesk(s)
	id := must(one.Empty(ctx, "shared"))(t)
	a, b := must(one.Open(ctx, id))(t), must(two.Open(ctx, id))(t)
	defer a.Done()
	defer b.Done()
	_, _, events, stop, err := a.Listen(ctx, 1)
	if err != nil {
		t.Fatal(err)
	}
	defer stop()
	must(a.Edit(ctx, 1, "a", edit("put A", room("A", "one"))))(t)
	must(b.Edit(ctx, 1, "b", edit("put B", room("B", "one"))))(t)
	var c *desk.Conflict
	if _, err := a.Edit(ctx, 2, "a", edit("put B", room("B", "two"))); !errors.As(err, &c) {
		t.Errorf("want a conflict with what the other stored, got %v", err)
	}
	same(t, text(t, a.State().Plan), text(t, b.State().Plan))
	same(t, len(a.State().Plan.Rooms), 2)
	for _, want := range []string{"put A", "put B"} {
		e := <-events
		for e.Name != "edit" {
			e = <-events
		}
		same(t, e.Data.(desk.EditEvent).Label, want)
	}
}

// Edits of the wrong kind or type are refused whole, with the place.
func TestRefusedEdit(t *testing.T) {
	d := newDesk(openStore(t))
	p := must(d.Open(ctx, must(d.Empty(ctx, "refused"))(t)))(t)
	defer p.Done()
	for _, c := range []plan.Change{
		{Kind: "chairs", ID: "1", Value: json.RawMessage(`{}`)},
		{Kind: "rooms", ID: "A", Value: json.RawMessage(`{"id":"A","outline":"round"}`)},
	} {
		_, err := p.Edit(ctx, 1, "tab", edit("bad", room("B", "one"), c))
		wantRefused(t, err)
	}
	same(t, p.State().Revision, int64(1))
	same(t, len(p.State().Plan.Rooms), 0)
}

// A listener that comes back is told what it missed, in order and once.
func TestListen(t *testing.T) {
	d := newDesk(openStore(t))
	p := must(d.Open(ctx, must(d.Empty(ctx, "listen"))(t)))(t)
	defer p.Done()
	put := func(id string) { must(p.Edit(ctx, p.State().Revision, "tab", edit("put "+id, room(id, "one"))))(t) }
	put("A")
	put("B")
	missed, whole, events, stop, err := p.Listen(ctx, 1)
	if err != nil {
		t.Fatal(err)
	}
	put("C")
	var seen []string
	for _, e := range missed {
		seen = append(seen, e.Label)
	}
	for len(seen) < 3 {
		if e := <-events; e.Name == "edit" {
			seen = append(seen, e.Data.(desk.EditEvent).Label)
		}
	}
	same(t, seen, []string{"put A", "put B", "put C"})
	same(t, whole, false)
	stop()
	if missed, whole, _, stop, err := p.Listen(ctx, 999); err != nil || !whole || len(missed) > 0 {
		t.Errorf("a revision that never was: %v %v %v", missed, whole, err)
	} else {
		stop()
	}
}

// A project that is deleted is gone for those who have it open.
func TestDelete(t *testing.T) {
	d := newDesk(openStore(t))
	id := must(d.Empty(ctx, "gone"))(t)
	p := must(d.Open(ctx, id))(t)
	_, _, events, stop, err := p.Listen(ctx, 1)
	if err != nil {
		t.Fatal(err)
	}
	defer stop()
	if err := d.Delete(ctx, id); err != nil {
		t.Fatal(err)
	}
	var last string
	for e := range events {
		last = e.Name
	}
	same(t, last, "gone")
	if _, err := p.Edit(ctx, 1, "tab", edit("late", room("A", "one"))); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("an edit of what is gone: %v", err)
	}
	p.Done()
	if _, err := d.Open(ctx, id); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("open of what is gone: %v", err)
	}
}

// Only so many projects are held; those that nobody uses make room.
func TestBounded(t *testing.T) {
	d := newDesk(openStore(t))
	var held []*desk.Project
	for {
		p, err := d.Open(ctx, must(d.Empty(ctx, "many"))(t))
		if errors.Is(err, desk.ErrBusy) {
			break
		}
		if err != nil || len(held) > 1000 {
			t.Fatal(len(held), err)
		}
		held = append(held, p)
	}
	held[0].Done()
	must(d.Open(ctx, must(d.Empty(ctx, "one more"))(t)))(t)
}

// Large projects that nobody works on are let go, small ones stay.
func TestHeld(t *testing.T) {
	d := newDesk(openStore(t))
	d.HoldMost(120)
	large := string(must(json.Marshal(plantest.Offices(70)))(t))
	var ids []string
	for range 2 {
		id, _, err := d.Import(ctx, "large.json", []byte(large))
		if err != nil {
			t.Fatal(err)
		}
		ids = append(ids, id)
	}
	small := must(d.Empty(ctx, "small"))(t)
	for _, id := range []string{ids[0], small, ids[1]} {
		must(d.Open(ctx, id))(t).Done()
	}
	same(t, []bool{d.Holds(ids[0]), d.Holds(small), d.Holds(ids[1])}, []bool{false, true, true})
}
