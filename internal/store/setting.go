package store

import (
	"context"
	"database/sql"
	"time"
)

// Setting gives a value of the database itself; empty where none is set.
func (s *Store) Setting(ctx context.Context, name string) (value string, err error) {
	err = s.db.QueryRowContext(ctx, `SELECT value FROM settings WHERE name = $1`, name).Scan(&value)
	if found(err) == ErrNotFound {
		return "", nil
	}
	return value, err
}

// SetSetting sets a value of the database itself and ends every session, since
// those were opened under other settings.
func (s *Store) SetSetting(ctx context.Context, name, value string) error {
	return s.in(ctx, func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `INSERT INTO settings (name, value) VALUES ($1, $2) ON CONFLICT (name) DO UPDATE SET value = excluded.value`, name, value); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `DELETE FROM sessions`)
		return err
	})
}

// AddSession stores a session by its token's hash, and forgets those that have ended.
func (s *Store) AddSession(ctx context.Context, token string, expires time.Time) error {
	return s.in(ctx, func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `DELETE FROM sessions WHERE expires <= $1`, s.now()); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `INSERT INTO sessions (token, expires) VALUES ($1, $2)`, token, expires.UnixMilli())
		return err
	})
}

// HasSession reports whether a session is open.
func (s *Store) HasSession(ctx context.Context, token string) (bool, error) {
	var n int
	err := s.db.QueryRowContext(ctx, `SELECT count(*) FROM sessions WHERE token = $1 AND expires > $2`, token, s.now()).Scan(&n)
	return n > 0, err
}

// EndSession ends a session.
func (s *Store) EndSession(ctx context.Context, token string) error {
	_, err := s.db.ExecContext(ctx, `DELETE FROM sessions WHERE token = $1`, token)
	return err
}
