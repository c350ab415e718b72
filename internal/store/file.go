package store

import (
	"context"
	"database/sql"
	"time"
)

// Kinds of files.
const (
	FileUnderlay = "underlay" // named by its level
	FilePrices   = "prices"   // price lists and rates, named as they came
	FilePicture  = "picture"  // small picture of the plan
	FileTables   = "tables"   // catalogues of the user's own, by the names that plans give them
)

// File is what belongs to a project beside its plan.
type File struct {
	Kind    string    `json:"-"`
	Name    string    `json:"name"`
	Type    string    `json:"type"` // media type
	Note    string    `json:"note,omitempty"`
	Changed time.Time `json:"changed"`
	Content []byte    `json:"-"`
}

func putFile(ctx context.Context, tx *sql.Tx, project string, f File, now int64) error {
	_, err := tx.ExecContext(ctx, `INSERT INTO files (project, kind, name, type, note, changed, content) VALUES ($1, $2, $3, $4, $5, $6, $7)
ON CONFLICT (project, kind, name) DO UPDATE SET type = excluded.type, note = excluded.note, changed = excluded.changed, content = excluded.content`,
		project, f.Kind, f.Name, f.Type, f.Note, now, f.Content)
	return err
}

// PutFile stores a file of a project; one of the same kind and name is replaced.
func (s *Store) PutFile(ctx context.Context, project string, f File) error {
	return s.in(ctx, func(tx *sql.Tx) error {
		var id string
		if err := tx.QueryRowContext(ctx, `SELECT id FROM projects WHERE id = $1`, project).Scan(&id); err != nil {
			return found(err)
		}
		return putFile(ctx, tx, project, f, s.now())
	})
}

// SetNote changes what is noted of a file.
func (s *Store) SetNote(ctx context.Context, project, kind, name, note string) error {
	return one(s.db.ExecContext(ctx, `UPDATE files SET note = $4, changed = $5 WHERE project = $1 AND kind = $2 AND name = $3`, project, kind, name, note, s.now()))
}

// File gives a file of a project.
func (s *Store) File(ctx context.Context, project, kind, name string) (File, error) {
	f := File{Kind: kind, Name: name}
	var changed int64
	err := s.db.QueryRowContext(ctx, `SELECT type, note, changed, content FROM files WHERE project = $1 AND kind = $2 AND name = $3`, project, kind, name).
		Scan(&f.Type, &f.Note, &changed, &f.Content)
	f.Changed = time.UnixMilli(changed).UTC()
	return f, found(err)
}

// Files lists the files of a kind by name, without their content.
func (s *Store) Files(ctx context.Context, project, kind string) ([]File, error) {
	rows, err := s.db.QueryContext(ctx, `SELECT name, type, note, changed FROM files WHERE project = $1 AND kind = $2 ORDER BY name`, project, kind)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	list := []File{}
	for rows.Next() {
		f := File{Kind: kind}
		var changed int64
		if err := rows.Scan(&f.Name, &f.Type, &f.Note, &changed); err != nil {
			return nil, err
		}
		f.Changed = time.UnixMilli(changed).UTC()
		list = append(list, f)
	}
	return list, rows.Err()
}

// DeleteFile removes a file of a project.
func (s *Store) DeleteFile(ctx context.Context, project, kind, name string) error {
	return one(s.db.ExecContext(ctx, `DELETE FROM files WHERE project = $1 AND kind = $2 AND name = $3`, project, kind, name))
}
