package main

import (
	"bytes"
	"io"
	"net/http"
	"path/filepath"
	"strings"
	"testing"
)

// Addresses that other machines reach are not listened on until a password is set,
// which is then asked for; it stands nowhere in clear.
func TestPasswordBeyondLoopback(t *testing.T) {
	file := filepath.Join(t.TempDir(), "projects.db")
	for _, address := range []string{"0.0.0.0:0", ":0", "[::]:0", "192.0.2.1:0", "site.example:0"} {
		status, said, why := execute("serve", "--data", file, "--listen", address)
		if status != exitMisuse || said != "" || !strings.Contains(why, "--set-password") {
			t.Errorf("%s: status %d, %s%s", address, status, said, why)
		}
	}
	set := func(password string) int {
		var out, err bytes.Buffer
		return run([]string{"serve", "--data", file, "--set-password"}, &console{in: strings.NewReader(password), out: &out, err: &err})
	}
	if set("too short\n") != exitMisuse {
		t.Error("a short password was taken")
	}
	if set("four words are long\n") != exitGood {
		t.Fatal("the password was not taken")
	}
	p := startServe(t, "--data", file, "--listen", "0.0.0.0:0")
	r, err := http.Get(p.address + "api/projects")
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	if text, _ := io.ReadAll(r.Body); r.StatusCode != http.StatusUnauthorized {
		t.Errorf("status %d: %s", r.StatusCode, text)
	}
}

// The demo is made once and then found again.
func TestServeDemo(t *testing.T) {
	file := filepath.Join(t.TempDir(), "projects.db")
	var last string
	for i := range 2 {
		p := startServe(t, "--data", file, "--demo")
		_, id, ok := strings.Cut(p.address, "#/p/")
		if !ok || i > 0 && id != last {
			t.Errorf("the demo is at %s, and was at %s", p.address, last)
		}
		last = id
		p.cmd.Process.Kill()
		p.cmd.Wait()
	}
}

func TestLoopback(t *testing.T) {
	for address, want := range map[string]bool{
		"127.0.0.1:1": true, "127.0.0.53:1": true, "[::1]:1": true, "localhost:1": true,
		"0.0.0.0:1": false, ":1": false, "[::]:1": false, "10.0.0.1:1": false, "localhost.example:1": false, "127.0.0.1": false, "": false,
	} {
		if got := loopback(address); got != want {
			t.Errorf("loopback(%q) is %v", address, got)
		}
	}
}
