// Package storetest holds a store to its contract, whichever database is behind it.
package storetest

import (
	"context"
	"errors"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"nogging/internal/store"
)

// Run runs the contract; open gives a store on an empty database whose clock is
// the one given.
func Run(t *testing.T, open func(t *testing.T, clock func() time.Time) *store.Store) {
	for _, c := range []struct {
		name string
		run  func(*testing.T, *suite)
	}{
		{"Projects", projects},
		{"Append", appends},
		{"Race", race},
		{"Snapshots", snapshots},
		{"History", history},
		{"Files", files},
		{"Settings", settings},
		{"Sessions", sessions},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := &suite{now: time.Date(2027, 1, 11, 7, 0, 0, 0, time.UTC)}
			s.Store = open(t, func() time.Time { return s.now })
			c.run(t, s)
		})
	}
}

type suite struct {
	*store.Store
	now time.Time
}

var (
	ctx   = context.Background()
	about = store.Summary{Name: "Harbour clinic", Number: "27-014", Levels: 2, Walls: 35}
)

func (s *suite) create(t *testing.T) string {
	t.Helper()
	id, err := s.Create(ctx, about, []byte(`{"nogging":1}`), "new project")
	must(t, err)
	return id
}

// edit is a revision as a person's edit makes it.
func edit(n int64) store.Revision {
	return store.Revision{Revision: n, Kind: store.KindEdit, Label: "move wall", Client: "tab", Changes: []byte(`[{"kind":"walls"}]`), Inverse: []byte(`[]`), Undo: n, Under: n - 1}
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func same(t *testing.T, got, want any) {
	t.Helper()
	if d := cmp.Diff(want, got, cmpopts.EquateEmpty()); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
}

func is(t *testing.T, err, want error) {
	t.Helper()
	if !errors.Is(err, want) {
		t.Errorf("error %v, want %v", err, want)
	}
}

func projects(t *testing.T, s *suite) {
	list, err := s.Projects(ctx)
	must(t, err)
	same(t, list, []store.Project{})
	first := s.create(t)
	s.now = s.now.Add(time.Hour)
	second := s.create(t)
	list, err = s.Projects(ctx)
	must(t, err)
	same(t, list, []store.Project{
		{ID: second, Summary: about, Changed: s.now, Revision: 1},
		{ID: first, Summary: about, Changed: s.now.Add(-time.Hour), Revision: 1},
	})
	must(t, s.Delete(ctx, first))
	is(t, s.Delete(ctx, first), store.ErrNotFound)
	_, err = s.Project(ctx, first)
	is(t, err, store.ErrNotFound)
	_, err = s.Revision(ctx, first, 1) // what belonged to it is gone with it
	is(t, err, store.ErrNotFound)
	p, err := s.Project(ctx, second)
	must(t, err)
	same(t, p, list[0])
}

func appends(t *testing.T, s *suite) {
	id := s.create(t)
	s.now = s.now.Add(time.Minute)
	changed := about
	changed.Walls++
	must(t, s.Append(ctx, id, edit(2), changed, nil))
	is(t, s.Append(ctx, id, edit(2), about, nil), store.ErrStale)
	is(t, s.Append(ctx, id, edit(4), about, nil), store.ErrStale)
	is(t, s.Append(ctx, "nobody", edit(2), about, nil), store.ErrStale)
	p, err := s.Project(ctx, id)
	must(t, err)
	same(t, p, store.Project{ID: id, Summary: changed, Changed: s.now, Revision: 2, Undo: 2})
	list, err := s.Revisions(ctx, id, 1, 9)
	must(t, err)
	want := edit(2)
	want.Made = s.now
	same(t, list, []store.Revision{want})
}

// Of many who store the same revision one wins, and the others are told.
func race(t *testing.T, s *suite) {
	id := s.create(t)
	var all sync.WaitGroup
	errs := make([]error, 8)
	for i := range errs {
		all.Go(func() { errs[i] = s.Append(ctx, id, edit(2), about, nil) })
	}
	all.Wait()
	won := 0
	for _, err := range errs {
		if err == nil {
			won++
			continue
		}
		is(t, err, store.ErrStale)
	}
	same(t, won, 1)
}

func snapshots(t *testing.T, s *suite) {
	id := s.create(t)
	for n := int64(2); n <= 6; n++ {
		var plan []byte
		if n == 4 {
			plan = []byte("four")
		}
		must(t, s.Append(ctx, id, edit(n), about, plan))
	}
	for _, c := range []struct {
		at, want int64
		plan     string
	}{{1, 1, `{"nogging":1}`}, {3, 1, `{"nogging":1}`}, {4, 4, "four"}, {6, 4, "four"}} {
		plan, at, err := s.Snapshot(ctx, id, c.at)
		must(t, err)
		same(t, string(plan), c.plan)
		same(t, at, c.want)
	}
	_, _, err := s.Snapshot(ctx, id, 0)
	is(t, err, store.ErrNotFound)
}

func history(t *testing.T, s *suite) {
	id := s.create(t)
	must(t, s.Append(ctx, id, edit(2), about, nil))
	must(t, s.Append(ctx, id, edit(3), about, nil))
	must(t, s.Mark(ctx, id, 2, "issue C"))
	is(t, s.Mark(ctx, id, 9, "issue D"), store.ErrNotFound)
	at := func(n int64, kind, label, client, mark string) store.Entry {
		return store.Entry{Revision: n, Made: s.now, Kind: kind, Label: label, Client: client, Mark: mark}
	}
	third, second, first := at(3, "edit", "move wall", "tab", ""), at(2, "edit", "move wall", "tab", "issue C"), at(1, "start", "new project", "", "")
	for _, c := range []struct {
		before int64
		marked bool
		most   int
		want   []store.Entry
	}{
		{0, false, 9, []store.Entry{third, second, first}},
		{0, false, 1, []store.Entry{third}},
		{3, false, 9, []store.Entry{second, first}},
		{0, true, 9, []store.Entry{second}},
	} {
		list, err := s.History(ctx, id, c.before, c.marked, c.most)
		must(t, err)
		same(t, list, c.want)
	}
}

func files(t *testing.T, s *suite) {
	id := s.create(t)
	f := store.File{Kind: store.FileUnderlay, Name: "L1", Type: "image/png", Note: "{}", Content: []byte{0, 1, 255}}
	must(t, s.PutFile(ctx, id, f))
	f.Content = []byte{7}
	must(t, s.PutFile(ctx, id, f))
	must(t, s.SetNote(ctx, id, f.Kind, f.Name, `{"turn":90}`))
	is(t, s.PutFile(ctx, "nobody", f), store.ErrNotFound)
	is(t, s.SetNote(ctx, id, f.Kind, "L2", ""), store.ErrNotFound)
	got, err := s.File(ctx, id, f.Kind, f.Name)
	must(t, err)
	f.Note, f.Changed = `{"turn":90}`, s.now
	same(t, got, f)
	list, err := s.Files(ctx, id, f.Kind)
	must(t, err)
	f.Content = nil
	same(t, list, []store.File{f})
	must(t, s.DeleteFile(ctx, id, f.Kind, f.Name))
	is(t, s.DeleteFile(ctx, id, f.Kind, f.Name), store.ErrNotFound)
	_, err = s.File(ctx, id, f.Kind, f.Name)
	is(t, err, store.ErrNotFound)
}

func settings(t *testing.T, s *suite) {
	v, err := s.Setting(ctx, "password")
	must(t, err)
	same(t, v, "")
	must(t, s.AddSession(ctx, "token", s.now.Add(time.Hour)))
	must(t, s.SetSetting(ctx, "password", "a"))
	must(t, s.SetSetting(ctx, "password", "b"))
	v, err = s.Setting(ctx, "password")
	must(t, err)
	same(t, v, "b")
	open, err := s.HasSession(ctx, "token") // a new password ends what the old one opened
	must(t, err)
	same(t, open, false)
}

func sessions(t *testing.T, s *suite) {
	holds := func(token string, want bool) {
		t.Helper()
		got, err := s.HasSession(ctx, token)
		must(t, err)
		same(t, got, want)
	}
	must(t, s.AddSession(ctx, "short", s.now.Add(time.Hour)))
	must(t, s.AddSession(ctx, "long", s.now.Add(3*time.Hour)))
	holds("short", true)
	s.now = s.now.Add(2 * time.Hour)
	holds("short", false)
	holds("long", true)
	must(t, s.EndSession(ctx, "long"))
	holds("long", false)
}
