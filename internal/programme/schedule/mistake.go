package schedule

import (
	"fmt"
	"strings"
)

// Kind is what makes a problem one that cannot be planned.
type Kind string

const (
	// Cycle: the tasks, in order, wait for each other in a ring; no ring is shorter.
	Cycle Kind = "cycle"
	// Unknown: a task, link or resource names an index that does not exist.
	Unknown Kind = "unknown"
	// Negative: a duration, demand, lag, time or capacity is below zero, or a link asks
	// for more work than its task has.
	Negative Kind = "negative"
	// NoResource: a task needs a resource of which there is never any.
	NoResource Kind = "no-resource"
	// TooMuch: a task needs more units than there ever are.
	TooMuch Kind = "too-much"
	// NoWork: the calendars of a task and its resources have no working slot in common.
	NoWork Kind = "no-work"
	// TooLong: a task that may not be broken is longer than any run of working slots.
	TooLong Kind = "too-long"
	// NoRoom: the tasks were left over when capacities or calendars ran out.
	NoRoom Kind = "no-room"
)

// Mistake is one thing that keeps a problem from being planned.
type Mistake struct {
	Kind     Kind
	Tasks    []int    // the tasks it is about
	IDs      []string // their ids
	Resource int      // index, or -1
	Calendar int      // index, or -1
	Need     int      // units or slots needed
	Have     int      // units or slots there are
}

// String says what is wrong in one line.
func (m Mistake) String() string {
	tasks := strings.Join(m.IDs, ", ")
	switch m.Kind {
	case Cycle:
		return "tasks wait for each other in a ring: " + strings.Join(append(m.IDs, m.IDs[0]), " → ")
	case NoResource:
		return fmt.Sprintf("%s needs resource %d, of which there is none", tasks, m.Resource)
	case TooMuch:
		return fmt.Sprintf("%s needs %d units of resource %d, of which there are never more than %d", tasks, m.Need, m.Resource, m.Have)
	case NoWork:
		return tasks + ": its calendar and those of its resources have no working time in common"
	case TooLong:
		return fmt.Sprintf("%s needs %d slots on end, the longest run of working time has %d", tasks, m.Need, m.Have)
	case NoRoom:
		return "there is no time left for " + tasks
	default:
		return fmt.Sprintf("%s: %s", m.Kind, tasks)
	}
}

// Mistakes are all that keeps a problem from being planned, as one error.
type Mistakes []Mistake

// Error lists the mistakes, a line each.
func (m Mistakes) Error() string {
	lines := make([]string, len(m))
	for i, one := range m {
		lines[i] = one.String()
	}
	return strings.Join(lines, "\n")
}
