package main

import (
	"fmt"
	"os"
	"strings"
	"sync"
	"time"

	"golang.org/x/term"
)

func isTerminal(f *os.File) bool { return term.IsTerminal(int(f.Fd())) }

// progress draws one line on standard error while a person watches, at most
// ten times a second, and nothing otherwise.
type progress struct {
	c     *console
	mutex sync.Mutex
	last  time.Time
	drawn bool
}

// newProgress returns a progress line; a silent one where nobody watches or a
// program reads.
func newProgress(c *console, json bool) *progress {
	if !c.watched || json {
		return &progress{}
	}
	return &progress{c: c}
}

func (p *progress) report(work string, done, total int) {
	if p.c == nil || total == 0 {
		return
	}
	p.mutex.Lock()
	defer p.mutex.Unlock()
	if now := time.Now(); done < total && now.Sub(p.last) < 100*time.Millisecond {
		return
	} else {
		p.last = now
	}
	const width = 30
	full := width * done / total
	fmt.Fprintf(p.c.err, "\r\x1b[K%-18s [%s%s] %d of %d", work, strings.Repeat("#", full), strings.Repeat(".", width-full), done, total)
	p.drawn = true
}

// end wipes the line.
func (p *progress) end() {
	if p.drawn {
		fmt.Fprint(p.c.err, "\r\x1b[K")
		p.drawn = false
	}
}
