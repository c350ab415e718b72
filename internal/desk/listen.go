package desk

import (
	"sync"

	"nogging/internal/plan"
)

// Event is something that happened to a project.
type Event struct {
	Name     string
	Revision int64 // 0 for what belongs to no revision
	Data     any
}

// EditEvent tells that a revision was made.
type EditEvent struct {
	Revision int64         `json:"revision"`
	Kind     string        `json:"kind"`
	Client   string        `json:"client"`
	Label    string        `json:"label"`
	Changes  []plan.Change `json:"changes"`
	CanUndo  bool          `json:"canUndo"`
	CanRedo  bool          `json:"canRedo"`
}

// behind is how many events a listener may be behind before it is let go.
const behind = 256

// listeners are those who are told what happens. The zero value is ready.
type listeners struct {
	mu   sync.Mutex
	list map[chan Event]bool
}

// add adds a listener. The channel is closed when the listener is too slow, or the
// project is closed: it has to begin anew then.
func (l *listeners) add() (events <-chan Event, stop func()) {
	c := make(chan Event, behind)
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.list == nil {
		l.list = map[chan Event]bool{}
	}
	l.list[c] = true
	return c, func() {
		l.mu.Lock()
		defer l.mu.Unlock()
		l.drop(c)
	}
}

func (l *listeners) drop(c chan Event) {
	if l.list[c] {
		delete(l.list, c)
		close(c)
	}
}

// tell tells everybody and waits for nobody.
func (l *listeners) tell(e Event) {
	l.mu.Lock()
	defer l.mu.Unlock()
	for c := range l.list {
		select {
		case c <- e:
		default:
			l.drop(c)
		}
	}
}

// close lets everybody go.
func (l *listeners) close() {
	l.mu.Lock()
	defer l.mu.Unlock()
	for c := range l.list {
		l.drop(c)
	}
}
