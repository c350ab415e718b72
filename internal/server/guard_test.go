package server_test

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"image"
	"image/png"
	"net"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"nogging/internal/server"
)

// A name that a stranger can point at this machine is not answered.
func TestHosts(t *testing.T) {
	s := newSite(t)
	for host, status := range map[string]int{
		"localhost": 200, "localhost:80": 200, "127.0.0.1": 200, "127.0.0.1:1": 200, "[::1]:80": 200, "192.168.1.5:80": 200, "site.example": 200, "SITE.example.:443": 200,
		"evil.example": 421, "localhost.evil.example": 421, "127.0.0.1.evil.example": 421, "evil.example:80": 421, "127.0.0.1:80:80": 421,
	} {
		s.ask("GET", "/api/projects", "", "Host", host).want(t, status)
	}
	s.ask("GET", "/", "", "Host", "evil.example").want(t, 421)
}

// What a foreign page's scripts or forms can send changes nothing.
func TestForeignPages(t *testing.T) {
	s := newSite(t)
	p := s.project("empty")
	const form = `{"from":"empty"}`
	for _, c := range [][]string{
		{"Origin", "http://evil.example"}, {"Origin", "null"}, {"Sec-Fetch-Site", "cross-site"}, {"Sec-Fetch-Site", "same-site"},
	} {
		header := append([]string{"Content-Type", "application/json"}, c...)
		for _, x := range [][2]string{{"POST", "/api/projects"}, {"POST", p + "/edits"}, {"POST", "/api/login"}, {"PUT", p + "/underlays/L0"}, {"DELETE", p}, {"POST", "/api/projects/import?name=a.yaml"}} {
			s.ask(x[0], x[1], form, header...).want(t, 403)
		}
	}
	for _, kind := range []string{"text/plain", "application/x-www-form-urlencoded", ""} {
		s.ask("POST", "/api/projects", form, "Content-Type", kind).want(t, 415)
	}
	s.ask("POST", "/api/projects", form, "Content-Type", "application/json", "Origin", s.url).want(t, 201)
	s.ask("POST", "/api/projects", form, "Content-Type", "application/json", "Sec-Fetch-Site", "same-origin").want(t, 201)
	if h := s.ask("GET", "/api/projects", "", "Origin", "http://evil.example").header; h.Get("Access-Control-Allow-Origin") != "" {
		t.Error("foreign pages may read")
	}
}

// Every answer tells browsers what the page may do.
func TestHeaders(t *testing.T) {
	s := newSite(t)
	for _, path := range []string{"/", "/assets/main-1234.js", "/api/projects", "/api/nothing", s.project("demo")} {
		a := s.ask("GET", path, "")
		for name, want := range map[string]string{
			"X-Content-Type-Options": "nosniff", "X-Frame-Options": "DENY", "Referrer-Policy": "no-referrer",
			"Cross-Origin-Opener-Policy": "same-origin", "Cross-Origin-Resource-Policy": "same-origin",
		} {
			if got := a.header.Get(name); got != want {
				t.Errorf("%s: %s is %q", path, name, got)
			}
		}
		policy := a.header.Get("Content-Security-Policy")
		for _, part := range []string{"default-src 'self'", "frame-ancestors 'none'", "object-src 'none'", "base-uri 'none'"} {
			if !strings.Contains(policy, part) {
				t.Errorf("%s: the policy %q lacks %s", path, policy, part)
			}
		}
		if strings.Contains(policy, "unsafe") || strings.Contains(policy, "http") {
			t.Errorf("%s: the policy %q lets strangers in", path, policy)
		}
		if got := a.header.Get("Content-Type"); got == "" {
			t.Errorf("%s says not what it is", path)
		}
	}
}

func TestPage(t *testing.T) {
	s := newSite(t)
	s.ask("GET", "/", "").want(t, 200, "the page")
	s.ask("GET", "/assets/main-1234.js", "").want(t, 200, "let plain")
	s.ask("GET", "/assets/main-1234.css", "", "Accept-Encoding", "gzip;q=0").want(t, 200, "body{}")
	if a := s.ask("GET", "/assets/main-1234.css", "", "Accept-Encoding", "br, gzip"); a.body != "packed" || a.header.Get("Content-Encoding") != "gzip" {
		t.Errorf("%+v", a)
	}
	for _, path := range []string{"/assets/none.js", "/assets", "/assets/", "/assets/main-1234.css.gz", "/secret.key"} {
		s.ask("GET", path, "").want(t, 404)
	}
	s.ask("POST", "/", "").want(t, 405)
}

// No path leads out of what is served, however it is written.
func TestTraversal(t *testing.T) {
	s := newSite(t)
	p := s.project("empty")
	for _, path := range []string{
		"/../server_test.go", "/assets/../../../etc/passwd", "/%2e%2e/%2e%2e/etc/passwd", "/..%2f..%2fetc%2fpasswd", "/assets/..%5c..%5cboot.ini", "/assets//etc/passwd", "/%00",
		"/api/projects/..%2f..%2fetc", "/api/projects/../../etc/passwd", p + "/underlays/..%2f..%2fetc%2fpasswd", p + "/prices/..%2frates.yaml", p + "/tables/%2fetc%2fpasswd",
	} {
		if a := raw(t, s, "GET "+path+" HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n"); strings.Contains(a, "root:") || !strings.HasPrefix(a, "HTTP/1.1 4") && !strings.HasPrefix(a, "HTTP/1.1 30") {
			t.Errorf("%s: %.200q", path, a)
		}
	}
	for _, name := range []string{"..%2frates.yaml", "%2fetc%2frates.yaml", "a%5cb.yaml", ".hidden.yaml", "a%00.yaml", strings.Repeat("a", 300) + ".yaml"} {
		s.ask("PUT", p+"/prices/"+name, "currency: EUR").want(t, 422)
	}
}

// raw sends bytes as they are and reads to the end.
func raw(t *testing.T, s *site, text string) string {
	t.Helper()
	c, err := net.Dial("tcp", strings.TrimPrefix(s.url, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	c.SetDeadline(time.Now().Add(10 * time.Second))
	if _, err := c.Write([]byte(text)); err != nil {
		t.Fatal(err)
	}
	var said bytes.Buffer
	said.ReadFrom(c)
	return said.String()
}

func TestPassword(t *testing.T) {
	s := newSite(t)
	s.ask("GET", "/api/about", "").want(t, 200, `"authRequired":false`)
	p := s.project("empty")
	hash := server.HashPassword("four words are long")
	if err := s.store.SetSetting(context.Background(), server.PasswordSetting, hash); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(hash, "words") || hash == server.HashPassword("four words are long") {
		t.Error("the hash tells the password, or has no salt of its own")
	}
	for _, x := range [][2]string{{"GET", "/api/projects"}, {"GET", p}, {"GET", p + "/events"}, {"POST", p + "/edits"}, {"DELETE", p}, {"PUT", p + "/prices/a.csv"}, {"GET", "/api/nothing"}} {
		s.ask(x[0], x[1], "{}", "Content-Type", "application/json").want(t, 401)
	}
	s.ask("GET", p, "", "Cookie", "nogging_session=guess").want(t, 401)
	s.ask("GET", "/", "").want(t, 200)
	s.ask("GET", "/api/about", "").want(t, 200, `"authRequired":true`)

	login := func(password string) answer {
		return s.json("POST", "/api/login", map[string]string{"password": password})
	}
	login("three words are long").want(t, 403)
	a := login("four words are long")
	a.want(t, 204)
	cookie := a.header.Get("Set-Cookie")
	for _, part := range []string{"HttpOnly", "SameSite=Strict", "Path=/", "Max-Age="} {
		if !strings.Contains(cookie, part) {
			t.Errorf("the cookie %q lacks %s", cookie, part)
		}
	}
	s.ask("GET", p, "").want(t, 200)
	s.now = s.now.Add(15 * 24 * time.Hour)
	s.ask("GET", p, "").want(t, 401)
	login("four words are long").want(t, 204)
	s.ask("GET", p, "").want(t, 200)
	s.ask("POST", "/api/logout", "").want(t, 204)
	s.ask("GET", p, "").want(t, 401)
}

// Guessing gets slower with each wrong try, also for who then has the right one.
func TestTries(t *testing.T) {
	s := newSite(t)
	if err := s.store.SetSetting(context.Background(), server.PasswordSetting, server.HashPassword("four words are long")); err != nil {
		t.Fatal(err)
	}
	login := func(password string) answer {
		return s.json("POST", "/api/login", map[string]string{"password": password})
	}
	for range 5 {
		login("guess").want(t, 403)
	}
	a := login("four words are long")
	a.want(t, 429)
	if a.header.Get("Retry-After") != "2" {
		t.Errorf("Retry-After %q", a.header.Get("Retry-After"))
	}
	s.now = s.now.Add(2 * time.Second)
	login("guess").want(t, 403)
	s.now = s.now.Add(time.Second)
	login("guess").want(t, 429) // the wait doubled
	s.now = s.now.Add(2 * time.Second)
	login("four words are long").want(t, 204)
}

// Bodies are bounded, whatever they say of their length.
func TestSizes(t *testing.T) {
	s := newSite(t)
	p := s.project("empty")
	long := strings.Repeat(" ", 9<<20)
	s.ask("POST", p+"/edits", `{"label":"`+long+`"}`, "Content-Type", "application/json").want(t, 413, "8 MB")
	s.ask("POST", "/api/login", `{"password":"`+long[:1<<20]+`"}`, "Content-Type", "application/json").want(t, 413)
	s.ask("PUT", p+"/prices/a.csv", long).want(t, 413)
	for _, length := range []string{"Content-Length: 300000000", "Content-Length: 99999999999999999999", "Content-Length: -1"} {
		a := raw(t, s, "POST /api/projects/import?name=a.ifc HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n"+length+"\r\n\r\n")
		if !strings.HasPrefix(a, "HTTP/1.1 413") && !strings.HasPrefix(a, "HTTP/1.1 400") {
			t.Errorf("%s: %.100q", length, a)
		}
	}
	if a := raw(t, s, "GET / HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\nX: "+strings.Repeat("x", 64<<10)+"\r\n\r\n"); !strings.HasPrefix(a, "HTTP/1.1 431") {
		t.Errorf("a long header: %.100q", a)
	}
}

// A client that dribbles its body is let go.
func TestSlowClient(t *testing.T) {
	defer server.SetPatience(server.SetPatience(200 * time.Millisecond))
	s := newSite(t)
	p := s.project("empty")
	start := time.Now()
	c, err := net.Dial("tcp", strings.TrimPrefix(s.url, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	if _, err := c.Write([]byte("PUT " + p + "/prices/a.csv HTTP/1.1\r\nHost: localhost\r\nContent-Length: 1000\r\n\r\nabc")); err != nil {
		t.Fatal(err)
	}
	c.SetReadDeadline(time.Now().Add(10 * time.Second))
	var said bytes.Buffer
	if _, err := said.ReadFrom(c); err != nil || time.Since(start) > 5*time.Second {
		t.Errorf("after %v the client is still waited for: %v %q", time.Since(start), err, said.String())
	}
	s.ask("GET", p+"/prices", "").want(t, 200, "[]")
	h := server.HTTP(http.NotFoundHandler())
	if h.ReadHeaderTimeout == 0 || h.ReadTimeout == 0 || h.WriteTimeout == 0 || h.IdleTimeout == 0 {
		t.Error("a time has no limit")
	}
}

func picture(t *testing.T, width, height int) string {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, width, height))); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestUnderlays(t *testing.T) {
	s := newSite(t)
	p := s.project("demo")
	s.ask("PUT", p+"/underlays/L0", picture(t, 300, 200)).want(t, 204)
	s.ask("PUT", p+"/underlays/L9", picture(t, 300, 200)).want(t, 404)
	a := s.ask("GET", p+"/underlays/L0", "")
	a.want(t, 200)
	if a.header.Get("Content-Type") != "image/png" {
		t.Error("it comes back as", a.header.Get("Content-Type"))
	}
	s.ask("GET", p+"/underlays/L0", "", "If-None-Match", a.header.Get("ETag")).want(t, 304)
	s.json("PUT", p+"/underlays/L0/placement", map[string]float64{"x": 10, "y": -20, "mmPerPixel": 25.4, "turn": 90, "fade": 0.5}).want(t, 204)
	s.json("PUT", p+"/underlays/L0/placement", map[string]float64{"fade": 2}).want(t, 422)
	s.json("PUT", p+"/underlays/L1/placement", map[string]float64{}).want(t, 404)
	s.ask("GET", p+"/underlays", "").want(t, 200, `"level":"L0"`, `"mmPerPixel":25.4`)
	s.ask("DELETE", p+"/underlays/L0", "").want(t, 204)
	s.ask("GET", p+"/underlays/L0", "").want(t, 404)
}

// What is no picture, or unpacks to a far larger one, is not taken.
func TestPictureBombs(t *testing.T) {
	s := newSite(t)
	p := s.project("demo")
	for name, c := range map[string]struct {
		data   string
		status int
	}{
		"pixels":      {pngHead(10_000, 10_000), 413},
		"side":        {pngHead(30_000, 1), 413},
		"overflow":    {pngHead(1<<31-1, 1<<31-1), 415},
		"page of PDF": {"%PDF-1.7", 415},
		"SVG":         {`<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>`, 415},
		"HTML":        {"<!doctype html><script>alert(1)</script>", 415},
		"nothing":     {"", 415},
		"too long":    {strings.Repeat("x", 33<<20), 413},
	} {
		t.Run(name, func(t *testing.T) {
			s.t = t
			s.ask("PUT", p+"/underlays/L0", c.data, "Content-Type", "image/png").want(t, c.status)
		})
	}
	s.t = t
	s.ask("GET", p+"/underlays", "").want(t, 200, "[]")
}

// Files that are small and mean much are refused, or read in little time.
func TestImportBombs(t *testing.T) {
	s := newSite(t)
	anchors := "nogging: 1\na0: &a0 [x, x, x, x, x, x, x, x, x, x]\n"
	for i := range 12 {
		anchors += fmt.Sprintf("a%d: &a%d [%s]\n", i+1, i+1, strings.TrimSuffix(strings.Repeat(fmt.Sprintf("*a%d, ", i), 10), ", "))
	}
	walls := strings.Repeat("  - {id: W, level: L0, line: [[0, 0], [4000, 0]], buildup: none}\n", 20_001)
	for name, data := range map[string]string{
		"aliases.yaml":   anchors + "levels: *a12\n",
		"deep.yaml":      "levels: " + strings.Repeat("[", 100_000),
		"deep.json":      `{"levels":` + strings.Repeat(`{"a":`, 100_000),
		"walls.yaml":     "nogging: 1\nlevels: [{id: L0, clear_height: 2750}]\nwalls:\n" + walls,
		"instances.ifc":  "ISO-10303-21;\nDATA;\n" + strings.Repeat("#1=A();", 8_000_001),
		"zipped.ifc":     "PK\x03\x04",
		"bomb.ifczip":    zipOf(t, "model.ifc", strings.Repeat(" ", 64<<20)),
		"entities.ifc":   `<!DOCTYPE x [<!ENTITY a "a">]><x>&a;</x>`,
		"../../etc.yaml": "",
	} {
		s.ask("POST", "/api/projects/import?name="+url.QueryEscape(name), data).want(t, 422, "findings")
	}
	s.ask("GET", "/api/projects", "").want(t, 200, "[]")
}

// zipOf returns a zip archive of one file.
func zipOf(t *testing.T, name, content string) string {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, err := z.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	_, err = w.Write([]byte(content))
	if err := errors.Join(err, z.Close()); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// A price list that unpacks to more than memory holds is refused when it comes in.
func TestListBombs(t *testing.T) {
	s := newSite(t)
	p := s.project("empty")
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, err := z.Create("xl/worksheets/sheet1.xml")
	if err != nil {
		t.Fatal(err)
	}
	zeros := make([]byte, 1<<20)
	for range 200 {
		w.Write(zeros)
	}
	z.Close()
	s.ask("PUT", p+"/prices/list.xlsx", b.String()).want(t, 422, "limit")
	s.ask("PUT", p+"/prices/list.xlsx", "no workbook").want(t, 422, "findings")
	s.ask("PUT", p+"/prices/list.exe", "MZ").want(t, 415)
	s.ask("PUT", p+"/prices/list.csv", "code;price").want(t, 204)
	s.ask("GET", p+"/prices", "").want(t, 200, `"name":"list.csv"`)
	a := s.ask("GET", p+"/prices/list.csv", "")
	a.want(t, 200, "code;price")
	if a.header.Get("Content-Disposition") != "attachment; filename=list.csv" {
		t.Error("it would be shown:", a.header)
	}
}

// pngHead is the head of a PNG picture of a size (RFC 2083, section 4.1.1).
func pngHead(width, height uint32) string {
	head := []byte("IHDR")
	head = binary.BigEndian.AppendUint32(head, width)
	head = binary.BigEndian.AppendUint32(head, height)
	head = append(head, 8, 0, 0, 0, 0)
	b := binary.BigEndian.AppendUint32([]byte("\x89PNG\r\n\x1a\n"), uint32(len(head)-4))
	return string(binary.BigEndian.AppendUint32(append(b, head...), crc32.ChecksumIEEE(head)))
}
