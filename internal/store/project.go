package store

import (
	"context"
	"crypto/rand"
	"database/sql"
	"strings"
	"time"
)

// Summary is what a list shows of a project, taken from its newest plan.
type Summary struct {
	Name   string `json:"name"`
	Number string `json:"number"`
	Levels int    `json:"levels"`
	Walls  int    `json:"walls"`
}

// Project is a project without its plan.
type Project struct {
	ID string `json:"id"`
	Summary
	Changed  time.Time `json:"changed"`
	Revision int64     `json:"revision"`
	Undo     int64     `json:"-"` // revision that undo takes back; 0 for none
	Redo     int64     `json:"-"` // undoing revision that redo takes back; 0 for none
}

const projectColumns = `id, name, number, levels, walls, changed, revision, undo, redo`

func scanProject(row interface{ Scan(...any) error }) (p Project, err error) {
	var changed int64
	err = row.Scan(&p.ID, &p.Name, &p.Number, &p.Levels, &p.Walls, &changed, &p.Revision, &p.Undo, &p.Redo)
	p.Changed = time.UnixMilli(changed).UTC()
	return p, err
}

// Projects lists the projects, the last changed first.
func (s *Store) Projects(ctx context.Context) ([]Project, error) {
	rows, err := s.db.QueryContext(ctx, `SELECT `+projectColumns+` FROM projects ORDER BY changed DESC, id`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	list := []Project{}
	for rows.Next() {
		p, err := scanProject(rows)
		if err != nil {
			return nil, err
		}
		list = append(list, p)
	}
	return list, rows.Err()
}

// Project gives one project.
func (s *Store) Project(ctx context.Context, id string) (Project, error) {
	p, err := scanProject(s.db.QueryRowContext(ctx, `SELECT `+projectColumns+` FROM projects WHERE id = $1`, id))
	return p, found(err)
}

// Create stores a new project, whose first plan is revision 1, with files that
// belong to it, and gives its id.
func (s *Store) Create(ctx context.Context, about Summary, plan []byte, label string, files ...File) (id string, err error) {
	id = strings.ToLower(rand.Text()[:16])
	now := s.now()
	err = s.in(ctx, func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `INSERT INTO projects (`+projectColumns+`) VALUES ($1, $2, $3, $4, $5, $6, 1, 0, 0)`,
			id, about.Name, about.Number, about.Levels, about.Walls, now); err != nil {
			return err
		}
		first := Revision{Revision: 1, Kind: KindStart, Label: label, Changes: []byte("[]"), Inverse: []byte("[]")}
		if err := insertRevision(ctx, tx, id, first, now); err != nil {
			return err
		}
		if err := insertSnapshot(ctx, tx, id, 1, plan); err != nil {
			return err
		}
		for _, f := range files {
			if err := putFile(ctx, tx, id, f, now); err != nil {
				return err
			}
		}
		return nil
	})
	return id, err
}

// Delete removes a project with all that belongs to it.
func (s *Store) Delete(ctx context.Context, id string) error {
	return one(s.db.ExecContext(ctx, `DELETE FROM projects WHERE id = $1`, id))
}
