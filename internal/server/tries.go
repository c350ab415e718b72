package server

import (
	"sync"
	"time"
)

const (
	freeTries   = 5                // wrong passwords before there is a wait
	longestWait = 15 * time.Minute // between two tries
	mostOrigins = 10_000           // that are remembered
)

// tries slows down who guesses passwords: after a few wrong ones each further try
// has to wait twice as long. The zero value is ready.
type tries struct {
	mu   sync.Mutex
	list map[string]try
}

type try struct {
	wrong int
	next  time.Time
}

// wait is how long somebody has to wait before the next try.
func (t *tries) wait(who string, now time.Time) time.Duration {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.list[who].next.Sub(now)
}

// tried notes a try.
func (t *tries) tried(who string, right bool, now time.Time) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if right {
		delete(t.list, who)
		return
	}
	if t.list == nil || len(t.list) >= mostOrigins {
		t.list = map[string]try{}
	}
	x := t.list[who]
	x.wrong++
	if x.wrong >= freeTries {
		x.next = now.Add(min(time.Second<<min(x.wrong-freeTries, 30), longestWait))
	}
	t.list[who] = x
}
