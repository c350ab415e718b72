package main

import (
	"bufio"
	"bytes"
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"math/rand/v2"
	"net/http"
	"os/exec"
	"path/filepath"
	"regexp"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"nogging/internal/desk"
	"nogging/internal/store"
)

// TestKilled kills the program with SIGKILL while many edit at once, again and
// again on one database, 200 streams of edits in all: whatever was acknowledged is
// there afterwards, and the file is sound.
func TestKilled(t *testing.T) {
	const rounds, streams = 20, 10
	file := filepath.Join(t.TempDir(), "projects.db")
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	var acknowledged, cut int
	for round := range rounds {
		chance := rand.New(rand.NewPCG(seed, uint64(round)))
		p := startServe(t, "--data", file)
		projects := []string{p.create(t), p.create(t), p.create(t)}
		list := make([]*editStream, streams)
		var all sync.WaitGroup
		var held atomic.Int64
		for i := range list {
			list[i] = &editStream{base: 1, client: fmt.Sprintf("%d.%d", round, i), address: p.address + "api/projects/" + projects[i%len(projects)],
				project: projects[i%len(projects)], chance: rand.New(rand.NewPCG(seed, uint64(1000*round+i))), held: &held}
			all.Go(list[i].run)
		}
		// Killed after so many edits of the round and a random moment more, so that a slow
		// machine kills amid as many edits as a quick one.
		for want, waited := int64(10+chance.IntN(60)), 0; held.Load() < want && waited < 10_000; waited++ {
			time.Sleep(time.Millisecond)
		}
		time.Sleep(time.Duration(chance.IntN(3000)) * time.Microsecond)
		if err := p.cmd.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		p.cmd.Wait() // ends with "killed"
		all.Wait()
		for _, s := range list {
			acknowledged += len(s.stored)
			if s.cut {
				cut++
			}
		}
		sound(t, file, list)
	}
	t.Logf("%d edits acknowledged in %d streams, %d of them cut off while an edit was under way", acknowledged, rounds*streams, cut)
	if acknowledged < 10*rounds || cut < rounds {
		t.Error("the streams were too short to show anything")
	}
}

// editStream is one person who edits as fast as the server answers.
type editStream struct {
	address, project, client string
	base                     int64
	chance                   *rand.Rand
	stored                   []acknowledgement
	held                     *atomic.Int64 // edits acknowledged in all streams
	cut                      bool          // an edit was under way when the program was killed
	bad                      []string
}

type acknowledgement struct {
	revision int64
	kind     string
	room     string // name that the edit gave
}

// run edits until the server is gone.
func (s *editStream) run() {
	for n := 0; ; n++ {
		verb, name := "edits", fmt.Sprintf("%s edit %d", s.client, n)
		id := fmt.Sprintf("R-%d", s.chance.IntN(8)) // others put the same
		ask := map[string]any{"base": s.base, "client": s.client}
		switch s.chance.IntN(10) {
		case 0:
			verb = "undo"
		case 1:
			verb = "redo"
		default:
			ask["label"] = name
			ask["changes"] = []any{map[string]any{"kind": "rooms", "id": id, "value": map[string]any{"id": id, "level": "L0", "name": name, "outline": [][2]int{{0, 0}, {4000, 0}, {4000, 3000}}}}}
		}
		status, revision, err := postJSON(s.address+"/"+verb, ask)
		switch {
		case err != nil:
			s.cut = true
			return
		case status == http.StatusOK:
			s.stored = append(s.stored, acknowledgement{revision, map[string]string{"edits": store.KindEdit, "undo": store.KindUndo, "redo": store.KindRedo}[verb], name})
			s.base = revision
			s.held.Add(1)
		case status == http.StatusConflict:
			s.base = revision
		case status == http.StatusUnprocessableEntity && verb != "edits": // nothing to undo
		default:
			s.bad = append(s.bad, fmt.Sprintf("%s: status %d", verb, status))
			return
		}
	}
}

func postJSON(address string, v any) (status int, revision int64, err error) {
	text, err := json.Marshal(v)
	if err != nil {
		return 0, 0, err
	}
	r, err := http.Post(address, "application/json", bytes.NewReader(text))
	if err != nil {
		return 0, 0, err
	}
	defer r.Body.Close()
	said, err := io.ReadAll(r.Body)
	if err != nil {
		return 0, 0, err
	}
	var answer struct {
		Revision int64 `json:"revision"`
	}
	return r.StatusCode, answer.Revision, json.Unmarshal(said, &answer)
}

// sound checks the file and that everything acknowledged is in it.
func sound(t *testing.T, file string, list []*editStream) {
	t.Helper()
	db, err := sql.Open("sqlite", file)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	var said string
	if err := db.QueryRow("PRAGMA integrity_check").Scan(&said); err != nil || said != "ok" {
		t.Fatalf("integrity_check: %q, %v", said, err)
	}
	rows, err := db.Query("PRAGMA foreign_key_check")
	if err != nil || rows.Next() {
		t.Fatal("foreign_key_check found rows", err)
	}
	rows.Close()

	ctx := context.Background()
	s, err := store.Open(ctx, file, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	d := desk.New(s, slog.New(slog.DiscardHandler))
	defer d.CloseAll()
	for _, stream := range list {
		for _, bad := range stream.bad {
			t.Error(bad)
		}
		p, err := d.Open(ctx, stream.project) // makes the plan of all that is stored
		if err != nil {
			t.Fatal(err)
		}
		head := p.State().Revision
		for _, a := range stream.stored {
			r, err := s.Revision(ctx, stream.project, a.revision)
			if err != nil || a.revision > head || r.Client != stream.client || r.Kind != a.kind || r.Kind == store.KindEdit && (r.Label != a.room || !bytes.Contains(r.Changes, []byte(a.room))) {
				t.Errorf("revision %d was acknowledged as %s %q; stored is %+v (%v)", a.revision, a.kind, a.room, r, err)
			}
		}
		p.Done()
	}
}

// served is a program that serves.
type served struct {
	cmd     *exec.Cmd
	address string
}

var says = regexp.MustCompile(`nogging is at (\S+)`)

// startServe starts `nogging serve` on a free port.
func startServe(t *testing.T, args ...string) *served {
	t.Helper()
	cmd := exec.Command("nogging", append([]string{"serve", "--listen=127.0.0.1:0"}, args...)...)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	var log bytes.Buffer
	cmd.Stderr = &log
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { cmd.Process.Kill(); cmd.Wait() })
	line, err := bufio.NewReader(out).ReadString('\n')
	m := says.FindStringSubmatch(line)
	if m == nil {
		t.Fatalf("serve said %q, %v\n%s", line, err, log.String())
	}
	return &served{cmd, m[1]}
}

func (p *served) create(t *testing.T) string {
	t.Helper()
	r, err := http.Post(p.address+"api/projects", "application/json", bytes.NewReader([]byte(`{"from":"empty"}`)))
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	var made struct {
		ID string `json:"id"`
	}
	if err := json.NewDecoder(r.Body).Decode(&made); err != nil || made.ID == "" {
		t.Fatal("no project was made", r.Status, err)
	}
	return made.ID
}
