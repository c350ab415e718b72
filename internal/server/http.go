package server

import (
	"net/http"
	"time"
)

// patience is how long clients may take for what is small.
var patience = 30 * time.Second

// HTTP makes a server that waits for slow clients only so long. Handlers that
// take or send much allow themselves more as it goes on.
func HTTP(h http.Handler) *http.Server {
	return &http.Server{
		Handler:           h,
		ReadHeaderTimeout: 10 * time.Second,
		ReadTimeout:       patience,
		WriteTimeout:      2 * patience,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    32 << 10,
	}
}
