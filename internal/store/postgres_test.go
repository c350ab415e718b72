//go:build unix

package store_test

import (
	"bytes"
	"context"
	"database/sql"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strconv"
	"syscall"
	"testing"
	"time"

	"nogging/internal/store"
	"nogging/internal/store/storetest"
)

// TestPostgreSQL runs the contract on a server of its own, which is made for the
// test and listens on no network. It is left out where none is installed.
func TestPostgreSQL(t *testing.T) {
	address := postgres(t)
	admin, err := sql.Open("pgx", address("postgres"))
	if err != nil {
		t.Fatal(err)
	}
	defer admin.Close()
	n := 0
	storetest.Run(t, func(t *testing.T, clock func() time.Time) *store.Store {
		n++
		name := fmt.Sprintf("test%d", n)
		if _, err := admin.Exec("CREATE DATABASE " + name); err != nil {
			t.Fatal(err)
		}
		s, err := store.Open(context.Background(), address(name), clock)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { s.Close() })
		return s
	})
}

// postgres starts a server and gives the addresses of its databases.
func postgres(t *testing.T) (address func(database string) string) {
	t.Helper()
	initdb, server := tool("initdb"), tool("postgres")
	if initdb == "" || server == "" {
		t.Skip("no PostgreSQL server is installed here (Debian: apt install postgresql); the contract was held to SQLite only")
	}
	// The server's socket has a name of at most 107 bytes, so its folder is a short one.
	dir, err := os.MkdirTemp("", "pg")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	who := person(t, dir)
	data := filepath.Join(dir, "data")
	var log bytes.Buffer
	run := func(name string, args ...string) *exec.Cmd {
		cmd := exec.Command(name, args...)
		cmd.Dir, cmd.Stdout, cmd.Stderr = dir, &log, &log
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: who}
		return cmd
	}
	if err := run(initdb, "-D", data, "-U", "test", "--auth", "trust", "--no-sync", "--locale", "C", "--encoding", "UTF8").Run(); err != nil {
		t.Fatalf("initdb: %v\n%s", err, log.String())
	}
	cmd := run(server, "-D", data, "-k", dir, "-c", "listen_addresses=", "-c", "fsync=off")
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		cmd.Process.Signal(syscall.SIGINT) // fast shutdown
		cmd.Wait()
	})
	address = func(database string) string {
		return "postgres:///" + database + "?" + url.Values{"host": {dir}, "user": {"test"}}.Encode()
	}
	db, err := sql.Open("pgx", address("postgres"))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	for range 200 {
		if db.Ping() == nil {
			return address
		}
		time.Sleep(50 * time.Millisecond)
	}
	t.Fatalf("the server does not answer\n%s", log.String())
	return nil
}

// tool finds a program of the server, which Debian keeps off the path.
func tool(name string) string {
	if path, err := exec.LookPath(name); err == nil {
		return path
	}
	found, _ := filepath.Glob("/usr/lib/postgresql/*/bin/" + name)
	if len(found) == 0 {
		return ""
	}
	return found[len(found)-1]
}

// person gives who runs the server: it refuses to be run by root, so then the
// folder is handed to somebody else.
func person(t *testing.T, dir string) *syscall.Credential {
	t.Helper()
	if os.Getuid() != 0 {
		return nil
	}
	u, err := user.Lookup("postgres")
	if err != nil {
		if u, err = user.Lookup("nobody"); err != nil {
			t.Skip("there is nobody but root to run the server")
		}
	}
	uid, err1 := strconv.Atoi(u.Uid)
	gid, err2 := strconv.Atoi(u.Gid)
	if err1 != nil || err2 != nil {
		t.Skip("there is nobody but root to run the server")
	}
	if err := os.Chown(dir, uid, gid); err != nil {
		t.Fatal(err)
	}
	return &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}
}
