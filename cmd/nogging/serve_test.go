package main

import (
	"bytes"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"io"
	"math/big"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
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

// With a certificate the server speaks HTTPS only, HTTP/2 too, and the session never
// goes over the wire in clear.
func TestCertificate(t *testing.T) {
	dir := t.TempDir()
	cert, key := filepath.Join(dir, "cert.pem"), filepath.Join(dir, "key.pem")
	pool := certificate(t, cert, key)
	file := filepath.Join(dir, "projects.db")
	const password = "four words are long"
	var out, said bytes.Buffer
	if run([]string{"serve", "--data", file, "--set-password"}, &console{in: strings.NewReader(password), out: &out, err: &said}) != exitGood {
		t.Fatal(said.String())
	}
	p := startServe(t, "--data", file, "--cert", cert, "--key", key)
	client := &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: pool}, ForceAttemptHTTP2: true}}
	r, err := client.Post(p.address+"api/login", "application/json", strings.NewReader(`{"password":"`+password+`"}`))
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	if r.StatusCode != http.StatusNoContent || r.ProtoMajor != 2 || len(r.Cookies()) != 1 || !r.Cookies()[0].Secure {
		t.Errorf("%s %s %v", r.Proto, r.Status, r.Cookies())
	}
}

// certificate writes a certificate for 127.0.0.1 that signs itself.
func certificate(t *testing.T, cert, key string) *x509.CertPool {
	t.Helper()
	private, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	about := &x509.Certificate{SerialNumber: big.NewInt(1), NotAfter: time.Now().Add(time.Hour), IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)}}
	der, err := x509.CreateCertificate(rand.Reader, about, about, private.Public(), private)
	if err != nil {
		t.Fatal(err)
	}
	secret, err := x509.MarshalPKCS8PrivateKey(private)
	if err != nil {
		t.Fatal(err)
	}
	for name, block := range map[string]*pem.Block{cert: {Type: "CERTIFICATE", Bytes: der}, key: {Type: "PRIVATE KEY", Bytes: secret}} {
		if err := os.WriteFile(name, pem.EncodeToMemory(block), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	made, err := x509.ParseCertificate(der)
	if err != nil {
		t.Fatal(err)
	}
	pool := x509.NewCertPool()
	pool.AddCert(made)
	return pool
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
