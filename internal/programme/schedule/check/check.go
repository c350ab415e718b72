// Package check holds a schedule against its problem, slot by slot. It trusts nothing
// that made the schedule and shares no code with it: it counts where the scheduler
// computes. It takes a problem and a solution and gives what is wrong.
package check

import (
	"fmt"

	"nogging/internal/programme/schedule"
)

// Verify lists every rule that the solution breaks; nothing where it is sound.
func Verify(p schedule.Problem, s schedule.Solution) []string {
	c := &checker{p: p, s: s}
	if len(s.Start) != len(p.Tasks) || len(s.End) != len(p.Tasks) {
		return []string{fmt.Sprintf("%d starts and %d ends for %d tasks", len(s.Start), len(s.End), len(p.Tasks))}
	}
	for i := range p.Tasks {
		c.task(i)
	}
	for i := range p.Links {
		c.link(i)
	}
	for i := range p.Resources {
		c.resource(i)
	}
	c.figures()
	return c.wrong
}

type checker struct {
	p     schedule.Problem
	s     schedule.Solution
	wrong []string
}

func (c *checker) say(format string, args ...any) {
	c.wrong = append(c.wrong, fmt.Sprintf(format, args...))
}

// open reports whether a calendar works in a slot.
func (c *checker) open(calendar, slot int) bool {
	if calendar == schedule.Always {
		return true
	}
	cal := c.p.Calendars[calendar]
	for slot >= len(cal.Working) {
		if cal.Repeat == 0 {
			return false
		}
		slot -= cal.Repeat
	}
	return cal.Working[slot]
}

// works reports whether a task works in a slot between its start and its end.
func (c *checker) works(i, slot int) bool {
	t := c.p.Tasks[i]
	if t.Fixed {
		return true
	}
	for _, d := range t.Demands {
		if d.Units > 0 && !c.open(c.p.Resources[d.Resource].Calendar, slot) {
			return false
		}
	}
	return c.open(t.Calendar, slot)
}

// task checks that a task has just the work it needs, in its calendar, and waits for
// its release.
func (c *checker) task(i int) {
	t, start, end := c.p.Tasks[i], c.s.Start[i], c.s.End[i]
	if t.Fixed {
		if start != t.Start || end != t.End {
			c.say("%s is done from %d to %d, not from %d to %d", t.ID, t.Start, t.End, start, end)
		}
		return
	}
	if start < t.Release || start < 0 {
		c.say("%s starts at %d, its release is %d", t.ID, start, t.Release)
	}
	work := 0
	for slot := start; slot < end; slot++ {
		if c.works(i, slot) {
			work++
		}
	}
	if work != t.Duration || end < start {
		c.say("%s has %d slots of work from %d to %d, it needs %d", t.ID, work, start, end, t.Duration)
	}
	if end > start && !(c.works(i, start) && c.works(i, end-1)) {
		c.say("%s starts or ends outside working time", t.ID)
	}
	if t.Duration == 0 && end != start {
		c.say("%s has no work, but lasts from %d to %d", t.ID, start, end)
	}
	if t.Whole && end-start != t.Duration {
		c.say("%s is broken", t.ID)
	}
}

// link walks from the first task's start until it has worked enough, lets the lag
// pass, and looks whether the second has started before.
func (c *checker) link(i int) {
	l := c.p.Links[i]
	from, to := c.p.Tasks[l.From], c.p.Tasks[l.To]
	if to.Fixed {
		return
	}
	at, left := c.s.Start[l.From], l.Work
	if l.Work == schedule.All {
		at, left = c.s.End[l.From], 0
	}
	for ; left > 0 && at < c.s.End[l.From]; at++ {
		if from.Fixed && c.opensFor(from, at) || !from.Fixed && c.works(l.From, at) {
			left--
		}
	}
	if c.s.Start[l.To] < at+l.Elapsed {
		c.say("%s starts at %d, but waits for %s until %d", to.ID, c.s.Start[l.To], from.ID, at+l.Elapsed)
	}
}

// opensFor reports whether the calendars of a task and its resources work in a slot.
func (c *checker) opensFor(t schedule.Task, slot int) bool {
	for _, d := range t.Demands {
		if d.Units > 0 && !c.open(c.p.Resources[d.Resource].Calendar, slot) {
			return false
		}
	}
	return c.open(t.Calendar, slot)
}

// resource counts what is held in each slot. Done work may have held more than there
// was, so only slots in which planned work takes part are held against the capacity.
func (c *checker) resource(r int) {
	held, planned := map[int]int{}, map[int]bool{}
	last := 0
	for i, t := range c.p.Tasks {
		for _, d := range t.Demands {
			for slot := c.s.Start[i]; d.Resource == r && d.Units > 0 && slot < c.s.End[i]; slot++ {
				if c.works(i, slot) {
					held[slot] += d.Units
					planned[slot] = planned[slot] || !t.Fixed
					last = max(last, slot)
				}
			}
		}
	}
	for slot := 0; slot <= last; slot++ {
		if there := capacity(c.p.Resources[r], slot); planned[slot] && held[slot] > there {
			c.say("%d units of %s are held in slot %d, there are %d", held[slot], c.p.Resources[r].ID, slot, there)
			return
		}
	}
}

// capacity gives how many units of a resource there are in a slot.
func capacity(r schedule.Resource, slot int) int {
	units := r.Capacity
	for _, ch := range r.Changes {
		if ch.At <= slot {
			units = ch.Capacity
		}
	}
	return units
}

// figures checks what the solution says about itself.
func (c *checker) figures() {
	finish, late := 0, 0
	for i, t := range c.p.Tasks {
		finish = max(finish, c.s.End[i])
		if t.Due > 0 && !t.Fixed && c.s.End[i] > t.Due {
			late += c.s.End[i] - t.Due
		}
	}
	if finish != c.s.Finish {
		c.say("the last task ends at %d, the solution says %d", finish, c.s.Finish)
	}
	if late != c.s.Late {
		c.say("tasks are %d late, the solution says %d", late, c.s.Late)
	}
	if c.s.Bound > finish {
		c.say("the bound %d lies after the end %d", c.s.Bound, finish)
	}
}
