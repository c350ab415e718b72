package server

import (
	"net"
	"net/http"
	"slices"
	"strings"
)

// policy lets the page load only what this server sends, and nobody frame it.
const policy = "default-src 'self'; img-src 'self' blob: data:; worker-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"

// guard keeps out what must not come in before anything looks at a request:
// hosts that this server is not, and changes that a foreign page asks for.
func (s *Server) guard(next http.Handler) http.Handler {
	own := http.NewCrossOriginProtection()
	own.SetDenyHandler(s.answer(func(http.ResponseWriter, *http.Request) error {
		return refuse(http.StatusForbidden, "only this server's own page may change anything")
	}))
	next = own.Handler(next)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("X-Frame-Options", "DENY")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		if !s.knownHost(r.Host) {
			s.problem(w, r, refuse(http.StatusMisdirectedRequest, "this server does not go by the name %q; start it with --name to add one", r.Host))
			return
		}
		next.ServeHTTP(w, r)
	})
}

// knownHost reports whether a request was meant for this server. A name that
// somebody else owns can be made to lead here (DNS rebinding), and then that
// somebody's page would be of the same origin; an address or localhost cannot.
func (s *Server) knownHost(host string) bool {
	name := host
	if h, _, err := net.SplitHostPort(host); err == nil {
		name = h
	}
	name = strings.ToLower(strings.TrimSuffix(strings.Trim(name, "[]"), "."))
	return name == "localhost" || net.ParseIP(name) != nil || slices.ContainsFunc(s.Names, func(n string) bool { return strings.EqualFold(n, name) })
}
