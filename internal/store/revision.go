package store

import (
	"context"
	"database/sql"
	"time"
)

// Kinds of revisions.
const (
	KindStart   = "start"
	KindEdit    = "edit"
	KindUndo    = "undo"
	KindRedo    = "redo"
	KindRestore = "restore"
)

// Revision is one step of a project: what was changed, and the changes that take
// it back. Undo and redo are stacks that live in the rows: Undo and Redo are
// their tops after this revision, Under is what lay beneath the revision on the
// stack onto which it was put.
type Revision struct {
	Revision int64
	Made     time.Time
	Kind     string
	Label    string
	Client   string // the tab that made it
	Changes  []byte
	Inverse  []byte
	Undo     int64
	Redo     int64
	Under    int64
	Mark     string // the name that a person gave the revision
}

const revisionColumns = `revision, made, kind, label, client, changes, inverse, undo, redo, under, mark`

func scanRevision(row interface{ Scan(...any) error }) (r Revision, err error) {
	var made int64
	err = row.Scan(&r.Revision, &made, &r.Kind, &r.Label, &r.Client, &r.Changes, &r.Inverse, &r.Undo, &r.Redo, &r.Under, &r.Mark)
	r.Made = time.UnixMilli(made).UTC()
	return r, err
}

func insertRevision(ctx context.Context, tx *sql.Tx, project string, r Revision, now int64) error {
	_, err := tx.ExecContext(ctx, `INSERT INTO revisions (project, `+revisionColumns+`) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)`,
		project, r.Revision, now, r.Kind, r.Label, r.Client, string(r.Changes), string(r.Inverse), r.Undo, r.Redo, r.Under, r.Mark)
	return err
}

func insertSnapshot(ctx context.Context, tx *sql.Tx, project string, revision int64, plan []byte) error {
	_, err := tx.ExecContext(ctx, `INSERT INTO snapshots (project, revision, plan) VALUES ($1, $2, $3)`, project, revision, plan)
	return err
}

// Append stores the next revision of a project, with the whole plan where it is
// given. ErrStale says that the project is not at the revision before; nothing is
// stored then.
func (s *Store) Append(ctx context.Context, project string, r Revision, about Summary, plan []byte) error {
	now := s.now()
	return s.in(ctx, func(tx *sql.Tx) error {
		err := one(tx.ExecContext(ctx, `UPDATE projects SET name = $3, number = $4, levels = $5, walls = $6, changed = $7, revision = $2, undo = $8, redo = $9 WHERE id = $1 AND revision = $2 - 1`,
			project, r.Revision, about.Name, about.Number, about.Levels, about.Walls, now, r.Undo, r.Redo))
		if err == ErrNotFound {
			return ErrStale
		}
		if err != nil {
			return err
		}
		if err := insertRevision(ctx, tx, project, r, now); err != nil || plan == nil {
			return err
		}
		return insertSnapshot(ctx, tx, project, r.Revision, plan)
	})
}

// Snapshot gives the newest whole plan that was stored at a revision or before it.
func (s *Store) Snapshot(ctx context.Context, project string, revision int64) (plan []byte, at int64, err error) {
	err = s.db.QueryRowContext(ctx, `SELECT plan, revision FROM snapshots WHERE project = $1 AND revision <= $2 ORDER BY revision DESC LIMIT 1`, project, revision).Scan(&plan, &at)
	return plan, at, found(err)
}

// Revision gives one revision of a project.
func (s *Store) Revision(ctx context.Context, project string, revision int64) (Revision, error) {
	r, err := scanRevision(s.db.QueryRowContext(ctx, `SELECT `+revisionColumns+` FROM revisions WHERE project = $1 AND revision = $2`, project, revision))
	return r, found(err)
}

// Revisions gives the revisions after one and up to another, in order.
func (s *Store) Revisions(ctx context.Context, project string, after, upTo int64) ([]Revision, error) {
	rows, err := s.db.QueryContext(ctx, `SELECT `+revisionColumns+` FROM revisions WHERE project = $1 AND revision > $2 AND revision <= $3 ORDER BY revision`, project, after, upTo)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var list []Revision
	for rows.Next() {
		r, err := scanRevision(rows)
		if err != nil {
			return nil, err
		}
		list = append(list, r)
	}
	return list, rows.Err()
}

// Entry is a revision as a list shows it.
type Entry struct {
	Revision int64     `json:"revision"`
	Made     time.Time `json:"when"`
	Kind     string    `json:"kind"`
	Label    string    `json:"label"`
	Client   string    `json:"client"`
	Mark     string    `json:"mark,omitempty"`
}

// History lists revisions before one (0 for all), the newest first, at most so
// many; with marked, only those that have a mark.
func (s *Store) History(ctx context.Context, project string, before int64, marked bool, most int) ([]Entry, error) {
	rows, err := s.db.QueryContext(ctx, `SELECT revision, made, kind, label, client, mark FROM revisions
WHERE project = $1 AND ($2 = 0 OR revision < $2) AND ($3 = 0 OR mark <> '') ORDER BY revision DESC LIMIT $4`, project, before, flag(marked), most)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	list := []Entry{}
	for rows.Next() {
		var e Entry
		var made int64
		if err := rows.Scan(&e.Revision, &made, &e.Kind, &e.Label, &e.Client, &e.Mark); err != nil {
			return nil, err
		}
		e.Made = time.UnixMilli(made).UTC()
		list = append(list, e)
	}
	return list, rows.Err()
}

func flag(b bool) int64 {
	if b {
		return 1
	}
	return 0
}

// Mark gives a revision a name; an empty one takes it away.
func (s *Store) Mark(ctx context.Context, project string, revision int64, mark string) error {
	return one(s.db.ExecContext(ctx, `UPDATE revisions SET mark = $3 WHERE project = $1 AND revision = $2`, project, revision, mark))
}
