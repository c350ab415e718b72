package store_test

import (
	"context"
	"database/sql"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"nogging/internal/store"
	"nogging/internal/store/storetest"
)

func TestSQLite(t *testing.T) {
	storetest.Run(t, func(t *testing.T, clock func() time.Time) *store.Store {
		s, err := store.Open(context.Background(), filepath.Join(t.TempDir(), "a ?%#.db"), clock)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { s.Close() })
		return s
	})
}

// Every connection keeps what the safety of data rests on. The driver ignores
// settings that it does not know, so they are read back.
func TestPragmas(t *testing.T) {
	db, err := sql.Open("sqlite", store.SQLiteSource(filepath.Join(t.TempDir(), "x.db")))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	for name, want := range map[string]string{"journal_mode": "wal", "synchronous": "2", "foreign_keys": "1", "busy_timeout": "10000", "trusted_schema": "0"} {
		var got string
		if err := db.QueryRow("PRAGMA " + name).Scan(&got); err != nil || got != want {
			t.Errorf("%s is %q (%v), want %q", name, got, err, want)
		}
	}
}

func TestStrictTables(t *testing.T) {
	text, err := os.ReadFile("migrations/sqlite/00001_projects.sql")
	if err != nil {
		t.Fatal(err)
	}
	if tables, strict := strings.Count(string(text), "CREATE TABLE"), strings.Count(string(text), ") STRICT;"); tables != strict {
		t.Errorf("%d tables, %d of them STRICT", tables, strict)
	}
}

// The driver works only with the very version of its C library that it was made
// with, and a newer one comes in silently with other modules.
func TestDriverLibrary(t *testing.T) {
	version := func(format, module string) string {
		out, err := exec.Command("go", "list", "-m", "-f", format, module).Output()
		if err != nil {
			t.Fatal(module, err)
		}
		return strings.TrimSpace(string(out))
	}
	made, err := os.ReadFile(version("{{.GoMod}}", "modernc.org/sqlite"))
	if err != nil {
		t.Fatal(err)
	}
	if used := version("{{.Version}}", "modernc.org/libc"); !strings.Contains(string(made), "modernc.org/libc "+used+"\n") {
		t.Errorf("modernc.org/libc is at %s; modernc.org/sqlite was made with another: go get modernc.org/libc at that version", used)
	}
}
