package server

import (
	"compress/gzip"
	"net"
	"net/http"
	"strings"
)

// compress packs answers of the API for browsers on other machines: the shapes of a
// whole building are megabytes. On one machine that would only take time.
func compress(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !strings.HasPrefix(r.URL.Path, "/api/") || !takesGzip(r) || fromHere(r) {
			next.ServeHTTP(w, r)
			return
		}
		p := &packer{ResponseWriter: w}
		defer p.close()
		next.ServeHTTP(p, r)
	})
}

// fromHere reports whether a request comes from this machine.
func fromHere(r *http.Request) bool {
	host, _, _ := net.SplitHostPort(r.RemoteAddr)
	ip := net.ParseIP(host)
	return ip != nil && ip.IsLoopback()
}

// packer compresses what is text and no stream of events.
type packer struct {
	http.ResponseWriter
	headed bool
	z      *gzip.Writer // nil while, or where, nothing is compressed
}

// Unwrap gives what deadlines are set on.
func (p *packer) Unwrap() http.ResponseWriter { return p.ResponseWriter }

func (p *packer) WriteHeader(status int) {
	p.headed = true
	h := p.Header()
	kind := h.Get("Content-Type")
	text := strings.HasPrefix(kind, "application/json") || strings.HasPrefix(kind, "image/svg+xml") || strings.HasPrefix(kind, "text/csv")
	if text && status == http.StatusOK && h.Get("Content-Encoding") == "" && h.Get("Content-Range") == "" {
		h.Set("Content-Encoding", "gzip")
		h.Add("Vary", "Accept-Encoding")
		h.Del("Content-Length")
		h.Del("ETag") // names the bytes as they were
		p.z, _ = gzip.NewWriterLevel(p.ResponseWriter, gzip.BestSpeed)
	}
	p.ResponseWriter.WriteHeader(status)
}

func (p *packer) Write(text []byte) (int, error) {
	if !p.headed {
		p.WriteHeader(http.StatusOK)
	}
	if p.z == nil {
		return p.ResponseWriter.Write(text)
	}
	return p.z.Write(text)
}

func (p *packer) close() {
	if p.z != nil {
		p.z.Close() // a reader who has gone needs no end
	}
}
