package server

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"net"
	"net/http"
	"strconv"
	"strings"
	"time"
)

const (
	// session is the name of the cookie, and how long it opens the door.
	session       = "nogging_session"
	sessionLength = 14 * 24 * time.Hour
)

// door lets nobody but those who know the password reach the API, where one is set.
func (s *Server) door(next http.Handler) http.Handler {
	open := map[string]bool{"/api/about": true, "/api/login": true, "/api/logout": true}
	return s.answer(func(w http.ResponseWriter, r *http.Request) error {
		if strings.HasPrefix(r.URL.Path, "/api/") && !open[r.URL.Path] {
			in, err := s.in(r)
			if err != nil {
				return err
			}
			if !in {
				return refuse(http.StatusUnauthorized, "give the password first")
			}
		}
		next.ServeHTTP(w, r)
		return nil
	})
}

// in reports whether a request comes from somebody who may do everything.
func (s *Server) in(r *http.Request) (bool, error) {
	hash, err := s.Store.Setting(r.Context(), PasswordSetting)
	if err != nil || hash == "" {
		return err == nil, err
	}
	c, err := r.Cookie(session)
	if err != nil {
		return false, nil
	}
	return s.Store.HasSession(r.Context(), tokenHash(c.Value))
}

// tokenHash is what is stored of a session, so that who reads the store cannot
// take it over.
func tokenHash(token string) string {
	sum := sha256.Sum256([]byte(token))
	return hex.EncodeToString(sum[:])
}

// login opens a session for who knows the password.
func (s *Server) login(w http.ResponseWriter, r *http.Request) error {
	var ask struct {
		Password string `json:"password"`
	}
	if err := body(w, r, maxForm, &ask); err != nil {
		return err
	}
	hash, err := s.Store.Setting(r.Context(), PasswordSetting)
	if err != nil {
		return err
	}
	if err := s.try(w, r, ask.Password, hash); err != nil {
		return err
	}
	token := rand.Text()
	if err := s.Store.AddSession(r.Context(), tokenHash(token), s.Clock().Add(sessionLength)); err != nil {
		return err
	}
	http.SetCookie(w, &http.Cookie{Name: session, Value: token, Path: "/", MaxAge: int(sessionLength / time.Second),
		HttpOnly: true, SameSite: http.SameSiteStrictMode, Secure: r.TLS != nil})
	w.WriteHeader(http.StatusNoContent)
	return nil
}

// try holds a password against the hash: one try after another, since each takes
// 64 MB, and not sooner than who asks may.
func (s *Server) try(w http.ResponseWriter, r *http.Request, password, hash string) error {
	select {
	case s.hashing <- struct{}{}:
		defer func() { <-s.hashing }()
	case <-r.Context().Done():
		return r.Context().Err()
	}
	who := origin(r.RemoteAddr)
	if wait := s.tries.wait(who, s.Clock()); wait > 0 {
		seconds := int(wait/time.Second) + 1
		w.Header().Set("Retry-After", strconv.Itoa(seconds))
		return refuse(http.StatusTooManyRequests, "too many tries; wait %d seconds", seconds)
	}
	right := hash != "" && passwordIs(password, hash)
	s.tries.tried(who, right, s.Clock())
	if !right {
		return refuse(http.StatusForbidden, "this is not the password")
	}
	return nil
}

// logout ends the session.
func (s *Server) logout(w http.ResponseWriter, r *http.Request) error {
	if c, err := r.Cookie(session); err == nil {
		if err := s.Store.EndSession(r.Context(), tokenHash(c.Value)); err != nil {
			return err
		}
	}
	http.SetCookie(w, &http.Cookie{Name: session, Path: "/", MaxAge: -1, HttpOnly: true, SameSite: http.SameSiteStrictMode, Secure: r.TLS != nil})
	w.WriteHeader(http.StatusNoContent)
	return nil
}

// origin is the network from which somebody asks: an address, or the half of an
// IPv6 address that one subscriber holds.
func origin(address string) string {
	host, _, err := net.SplitHostPort(address)
	if err != nil {
		host = address
	}
	ip := net.ParseIP(host)
	if ip == nil || ip.To4() != nil {
		return host
	}
	return ip.Mask(net.CIDRMask(64, 128)).String()
}
