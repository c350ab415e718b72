package server

import "time"

// SetPatience changes how long slow clients are waited for, and gives what it was.
func SetPatience(d time.Duration) time.Duration {
	was := patience
	patience = d
	return was
}
