package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime"
	"syscall"
	"time"

	"golang.org/x/net/netutil"

	"nogging/internal/desk"
	"nogging/internal/server"
	"nogging/internal/store"
	"nogging/web"
)

type serveCommand struct {
	Listen      string   `default:"127.0.0.1:7340" placeholder:"ADDRESS" help:"Address and port to listen on; port 0 takes a free one."`
	Data        string   `placeholder:"FILE" help:"SQLite file, or postgres:// address, that holds the projects; by default one in your own folder of settings."`
	Name        []string `placeholder:"HOST" help:"Host name by which browsers reach this machine, beside its addresses. May be repeated."`
	Cert        string   `placeholder:"FILE" help:"Certificate (PEM), to speak HTTPS; with --key."`
	Key         string   `placeholder:"FILE" help:"Private key (PEM) of the certificate."`
	SetPassword bool     `help:"Set the password, asked for or read from standard input, and end. Addresses other machines reach need one."`
	Open        bool     `help:"Open the page in the browser."`
	Demo        bool     `help:"Go to the demo project, which is made if there is none."`
}

func (s *serveCommand) Run(c *console) error {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	file, err := s.file()
	if err != nil {
		return err
	}
	db, err := store.Open(ctx, file, time.Now)
	if err != nil {
		return err
	}
	defer db.Close()
	if s.SetPassword {
		return setPassword(ctx, c, db)
	}
	listener, err := s.listen(ctx, db)
	if err != nil {
		return err
	}
	log := slog.New(slog.NewTextHandler(c.err, nil))
	d := desk.New(db, log)
	address, err := s.address(ctx, d, db, listener.Addr().String())
	if err != nil {
		return errors.Join(err, listener.Close())
	}
	fmt.Fprintf(c.out, "nogging is at %s\n", address)
	fmt.Fprintf(c.err, "projects are kept in %s; Ctrl-C ends\n", file)
	if s.Open {
		if err := browse(address); err != nil {
			fmt.Fprintln(c.err, "the browser could not be opened; open the address yourself")
		}
	}
	handler := server.New(server.Config{Store: db, Desk: d, Page: web.Dist(), Version: version, Names: s.Name, Clock: time.Now, Log: log})
	return s.serve(ctx, listener, handler, d)
}

// listen takes the address. One that other machines reach needs a password.
func (s *serveCommand) listen(ctx context.Context, db *store.Store) (net.Listener, error) {
	hash, err := db.Setting(ctx, server.PasswordSetting)
	if err != nil {
		return nil, err
	}
	if hash == "" && !loopback(s.Listen) {
		return nil, fmt.Errorf("%s can be reached from other machines, and no password is set\n  hint: nogging serve --set-password sets one; without --listen only this machine gets in", s.Listen)
	}
	l, err := net.Listen("tcp", s.Listen)
	if err != nil {
		return nil, fmt.Errorf("%w\n  hint: --listen 127.0.0.1:0 takes a free port", err)
	}
	return netutil.LimitListener(l, mostConnections), nil
}

// mostConnections bounds how many connections are served at once.
const mostConnections = 500

// loopback reports whether only this machine reaches an address.
func loopback(address string) bool {
	host, _, err := net.SplitHostPort(address)
	if err != nil {
		return false
	}
	ip := net.ParseIP(host)
	return host == "localhost" || ip != nil && ip.IsLoopback()
}

// idle is how long a project stays in memory when nobody works on it.
const idle = 10 * time.Minute

// serve answers requests until the context ends.
func (s *serveCommand) serve(ctx context.Context, l net.Listener, handler http.Handler, d *desk.Desk) error {
	web := server.HTTP(handler)
	done := make(chan error, 1)
	go func() {
		if s.Cert != "" || s.Key != "" {
			done <- web.ServeTLS(l, s.Cert, s.Key)
			return
		}
		done <- web.Serve(l)
	}()
	tick := time.NewTicker(time.Minute)
	defer tick.Stop()
	for {
		select {
		case err := <-done:
			return err
		case <-tick.C:
			d.CloseIdle(idle)
		case <-ctx.Done():
			d.CloseAll()
			last, cancel := context.WithTimeout(context.Background(), 5*time.Second)
			defer cancel()
			return web.Shutdown(last)
		}
	}
}

// file is where projects are kept.
func (s *serveCommand) file() (string, error) {
	if s.Data != "" {
		return s.Data, nil
	}
	dir, err := os.UserConfigDir()
	if err != nil {
		return "", fmt.Errorf("%w\n  hint: name a file with --data", err)
	}
	dir = filepath.Join(dir, "nogging")
	return filepath.Join(dir, "projects.db"), os.MkdirAll(dir, 0o700)
}

// address is what to open in a browser.
func (s *serveCommand) address(ctx context.Context, d *desk.Desk, db *store.Store, listens string) (string, error) {
	host, port, err := net.SplitHostPort(listens)
	if err != nil {
		return "", err
	}
	if ip := net.ParseIP(host); ip != nil && ip.IsUnspecified() {
		host = "localhost"
	}
	scheme := "http"
	if s.Cert != "" {
		scheme = "https"
	}
	address := scheme + "://" + net.JoinHostPort(host, port) + "/"
	if !s.Demo {
		return address, nil
	}
	id, err := s.demo(ctx, d, db)
	return address + "#/p/" + id, err
}

// demo finds the project made of the demo, or makes it.
func (s *serveCommand) demo(ctx context.Context, d *desk.Desk, db *store.Store) (string, error) {
	list, err := db.Projects(ctx)
	if err != nil {
		return "", err
	}
	for _, p := range list {
		if r, err := db.Revision(ctx, p.ID, 1); err == nil && r.Label == desk.DemoLabel {
			return p.ID, nil
		}
	}
	return d.Demo(ctx)
}

// browse opens an address in the person's browser.
func browse(address string) error {
	name, args := "xdg-open", []string{address}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", address}
	}
	return exec.Command(name, args...).Start()
}
