package server

import (
	"io/fs"
	"net/http"
	"path"
	"strings"
)

// unbuilt is shown in place of a page that has not been built.
const unbuilt = `<!doctype html><html lang="en"><meta charset="utf-8"><title>nogging</title>
<p>The page is not built into this program: run <code>make web</code>, then build it again.</p></html>
`

// page serves the built page: its one HTML file, never kept by browsers, and its
// assets, whose names change with their content, kept for ever.
func (s *Server) page() http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			w.Header().Set("Allow", "GET, HEAD")
			s.problem(w, r, refuse(http.StatusMethodNotAllowed, "this can only be read"))
			return
		}
		name := strings.TrimPrefix(path.Clean(r.URL.Path), "/")
		if name == "" {
			name = "index.html"
		}
		if !strings.HasSuffix(name, ".gz") && s.asset(w, r, name) {
			return
		}
		if name == "index.html" {
			w.Header().Set("Content-Type", "text/html; charset=utf-8")
			w.WriteHeader(http.StatusServiceUnavailable)
			w.Write([]byte(unbuilt))
			return
		}
		s.problem(w, r, notFound("there is no %s", name))
	})
}

// types are the media types of the page's files, whatever the machine's own table says.
var types = map[string]string{
	".html": "text/html; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".mjs": "text/javascript; charset=utf-8",
	".css": "text/css; charset=utf-8", ".svg": "image/svg+xml", ".png": "image/png", ".txt": "text/plain; charset=utf-8",
	".json": "application/json", ".webmanifest": "application/manifest+json",
}

// asset writes a file of the page, compressed where the browser takes that, and
// reports whether there is one.
func (s *Server) asset(w http.ResponseWriter, r *http.Request, name string) bool {
	kind, known := types[path.Ext(name)]
	if !known || !fs.ValidPath(name) {
		return false
	}
	text, err := fs.ReadFile(s.Page, name)
	if err != nil {
		return false
	}
	h := w.Header()
	h.Set("Content-Type", kind)
	h.Set("Cache-Control", "no-cache")
	if strings.HasPrefix(name, "assets/") {
		h.Set("Cache-Control", "public, max-age=31536000, immutable")
	}
	if packed, err := fs.ReadFile(s.Page, name+".gz"); err == nil {
		h.Set("Vary", "Accept-Encoding")
		if takesGzip(r) {
			h.Set("Content-Encoding", "gzip")
			text = packed
		}
	}
	if r.Method == http.MethodGet {
		w.Write(text)
	}
	return true
}

// takesGzip reports whether the browser reads gzip.
func takesGzip(r *http.Request) bool {
	for part := range strings.SplitSeq(r.Header.Get("Accept-Encoding"), ",") {
		name, weight, _ := strings.Cut(strings.TrimSpace(part), ";")
		if name == "gzip" && !strings.HasPrefix(strings.ReplaceAll(weight, " ", ""), "q=0") {
			return true
		}
	}
	return false
}
