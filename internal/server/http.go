package server

import (
	"net/http"
	"time"
)

// HTTP makes a server that waits for slow clients only so long. Handlers that
// take or send much allow themselves more as it goes on.
func HTTP(h http.Handler) *http.Server {
	return &http.Server{
		Handler:           h,
		ReadHeaderTimeout: 10 * time.Second,
		ReadTimeout:       30 * time.Second,
		WriteTimeout:      60 * time.Second,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    32 << 10,
	}
}
