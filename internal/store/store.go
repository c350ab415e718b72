// Package store keeps projects with all their revisions, in a SQLite file or a
// PostgreSQL database: one SQL text serves both, and storetest holds both to one
// contract. It takes and gives plans and changes as bytes and knows nothing of
// what they mean.
//
// What Append has stored before it returns survives whatever happens to the
// program: SQLite writes its log through to the disk at each commit
// (synchronous=FULL).
package store

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"strings"
	"time"

	_ "github.com/jackc/pgx/v5/stdlib" // the driver "pgx"
	"github.com/pressly/goose/v3"
	_ "modernc.org/sqlite" // the driver "sqlite"
)

// ErrNotFound says that there is no such project, revision or file.
var ErrNotFound = errors.New("store: not found")

// ErrStale says that somebody else stored a revision of that number before.
var ErrStale = errors.New("store: the project has a newer revision")

//go:embed migrations
var migrations embed.FS

// Store is a database of projects. It may be used from several goroutines.
type Store struct {
	db    *sql.DB
	clock func() time.Time
}

// Open opens a database and brings its tables up to date: a PostgreSQL database
// where the name begins with postgres://, else a SQLite file, which is made if
// need be.
func Open(ctx context.Context, name string, clock func() time.Time) (*Store, error) {
	driver, source, dialect := "sqlite", sqliteSource(name), goose.DialectSQLite3
	if strings.HasPrefix(name, "postgres://") {
		driver, source, dialect = "pgx", name, goose.DialectPostgres
	}
	db, err := sql.Open(driver, source)
	if err != nil {
		return nil, err
	}
	if err := migrate(ctx, db, dialect, driver); err != nil {
		return nil, errors.Join(fmt.Errorf("the database could not be opened: %w", err), db.Close())
	}
	return &Store{db, clock}, nil
}

// sqliteSource names a SQLite file with what every connection has to keep to:
// wait for others, write-ahead log, every commit on the disk, references held,
// and transactions that take their lock before they read.
func sqliteSource(file string) string {
	q := url.Values{"_txlock": {"immediate"}, "_pragma": {
		"busy_timeout(10000)", "journal_mode(WAL)", "synchronous(FULL)", "foreign_keys(ON)", "trusted_schema(OFF)",
	}}
	return (&url.URL{Scheme: "file", Opaque: (&url.URL{Path: file}).EscapedPath(), RawQuery: q.Encode()}).String()
}

func migrate(ctx context.Context, db *sql.DB, dialect goose.Dialect, driver string) error {
	dir := map[string]string{"sqlite": "sqlite", "pgx": "postgres"}[driver]
	files, err := fs.Sub(migrations, "migrations/"+dir)
	if err != nil {
		return err
	}
	p, err := goose.NewProvider(dialect, db, files, goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return err
	}
	_, err = p.Up(ctx)
	return err
}

// Close closes the database.
func (s *Store) Close() error { return s.db.Close() }

// now is the time as it is stored: milliseconds since 1970.
func (s *Store) now() int64 { return s.clock().UnixMilli() }

// in runs work in one transaction.
func (s *Store) in(ctx context.Context, work func(*sql.Tx) error) error {
	tx, err := s.db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	if err := work(tx); err != nil {
		return errors.Join(err, tx.Rollback())
	}
	return tx.Commit()
}

// one turns a statement's outcome into ErrNotFound where it touched no row.
func one(r sql.Result, err error) error {
	if err != nil {
		return err
	}
	n, err := r.RowsAffected()
	if err == nil && n == 0 {
		return ErrNotFound
	}
	return err
}

// found turns "no rows" into ErrNotFound.
func found(err error) error {
	if errors.Is(err, sql.ErrNoRows) {
		return ErrNotFound
	}
	return err
}
