// Package schedule plans tasks that wait for each other and share what there is
// little of: the resource-constrained project scheduling problem with minimum time
// lags and calendars. It takes a Problem and gives a Solution with a proven bound on
// its end. It knows nothing of any trade.
//
// Time is counted in whole slots from the start of the programme; how long a slot is
// (15 minutes, say) is the caller's. A point of time t lies at the beginning of slot t.
// Work takes place in the working slots of calendars; lags, as of drying, run on
// through nights and holidays.
//
// Methods: serial and parallel schedule generation with priority rules, forward-backward
// improvement, a genetic algorithm on activity lists, destructive lower bounds.
package schedule

import "context"

// Problem is what to plan. Tasks, resources and calendars are named by their index.
type Problem struct {
	Tasks     []Task
	Links     []Link
	Resources []Resource
	Calendars []Calendar
}

// Always, as the calendar of a task or resource, is the one in which each slot works.
const Always = -1

// Task is a piece of work. It works in the slots in which its calendar and those of
// all resources that it needs work, from its start without a break other than theirs.
type Task struct {
	ID       string
	Duration int // working slots, 0 or more
	Demands  []Demand
	Calendar int  // index, or Always
	Whole    bool // must lie in one run of working slots; others go on after a break
	Release  int  // not before this point of time
	Due      int  // should end by this point of time; 0 where it does not matter
	Zone     int  // where it takes place, for counting moves; below 0 for nowhere
	Fixed    bool // work that is done: it stands from Start to End whatever the rest says
	Start    int  // of fixed tasks
	End      int  // of fixed tasks
}

// Demand is how many units of a resource a task holds in each slot in which it works.
// Fixed tasks hold them in all slots from start to end.
type Demand struct {
	Resource int
	Units    int
}

// All, as the work of a link, is all of the first task's work.
const All = -1

// Link makes a task wait for another: To starts no sooner than Elapsed slots, working
// or not, after From has worked for Work slots. A coat that dries has Work All and
// its drying time as Elapsed; a gang that follows a day behind has a day as Work.
type Link struct {
	From, To int
	Work     int // working slots of From, 0 to its duration, or All
	Elapsed  int // slots of any kind, 0 or more
}

// Resource is something of which only so many units can be in use at a time: gangs,
// lifts, places in a zone.
type Resource struct {
	ID       string
	Capacity int // units, until the first change
	Changes  []Change
	Calendar int  // index, or Always
	Crew     bool // people: their use is levelled and their moves between zones are counted
}

// Change sets a resource's capacity from a point of time on. Changes are in order of time.
type Change struct {
	At       int
	Capacity int
}

// Calendar says in which slots work goes on. After the last slot its last Repeat slots
// come again for ever; with Repeat 0 nothing works any more.
type Calendar struct {
	ID      string
	Working []bool
	Repeat  int
}

// Goal is what to better once the end cannot be.
type Goal string

const (
	// Level evens out the use of crews: the sum over all slots of squared units.
	Level Goal = "level"
	// Moves lets crews change from zone to zone seldom.
	Moves Goal = "moves"
)

// Options steer the search. The same options give the same solution on any machine.
type Options struct {
	Seed      uint64
	Schedules int    // how many schedules may be generated, each pass of a forward-backward improvement counting as one; at least one is
	Then      []Goal // after lateness at due dates and the end, in order of weight
	Progress  func(Progress)
}

// Progress tells how far a search has come.
type Progress struct {
	Schedules, Budget int
	End, Bound        int
}

// Solution is a schedule and how good it is.
type Solution struct {
	Start, End []int // points of time of each task
	Finish     int   // when the last task ends
	Bound      int   // proven: no schedule ends before
	Late       int   // slots past their due dates, over all tasks
	Roughness  int   // squared units of crews, over all slots
	Moves      int   // changes of zone of crews' units
	Chain      []Reason
	Schedules  int  // how many were generated
	Stopped    bool // the context ended before the budget was spent
}

// Gap returns how far above the bound the end may at most be, as a fraction of it.
func (s Solution) Gap() float64 {
	if s.Bound == 0 {
		return 0
	}
	return float64(s.Finish-s.Bound) / float64(s.Bound)
}

// Cause is why a task does not start sooner.
type Cause string

const (
	// AtOnce: it starts when the programme does.
	AtOnce Cause = "at-once"
	// AfterRelease: it may not start sooner.
	AfterRelease Cause = "release"
	// AfterWork: it waits for the work of another task.
	AfterWork Cause = "work"
	// AfterLag: it waits for time to pass after another task, as of drying.
	AfterLag Cause = "lag"
	// AfterResource: it waits for what another task holds.
	AfterResource Cause = "resource"
	// AfterCapacity: it waits until there are more units of a resource.
	AfterCapacity Cause = "capacity"
	// WasFixed: it is done work.
	WasFixed Cause = "fixed"
)

// Reason is one step of the critical chain: the tasks, first to last, of which each
// keeps the next from starting sooner and the last ends last.
type Reason struct {
	Task     int
	Cause    Cause
	By       int // the task it waits for, or -1
	Link     int // the link it waits for, or -1
	Resource int // the resource it waits for, or -1
	Ready    int // when the cause would let it start
	Calendar int // slots from then on until its calendar lets it start
}

// Solve plans the tasks: the sooner the end the better, then what the options say. It
// generates at least one schedule, and when the context ends it gives the best so far.
// The error is a Mistakes where the problem cannot be planned.
func Solve(ctx context.Context, p Problem, o Options) (Solution, error) {
	n, err := compile(p)
	if err != nil {
		return Solution{}, err
	}
	return n.solve(ctx, o)
}
