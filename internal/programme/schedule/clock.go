package schedule

import "slices"

// clock counts working slots. After its mask the last period of it comes again.
type clock struct {
	always  bool
	before  []int32 // working slots before each point of the mask, and before its end
	slots   []int32 // the working slots of the mask
	period  int
	cycle   int // working slots of a period
	longest int // slots of the longest run that comes again
	most    int // slots of the longest run there is
}

func newClock(mask []bool, period int) *clock {
	c := &clock{before: make([]int32, len(mask)+1), period: period}
	for t, works := range mask {
		c.before[t+1] = c.before[t]
		if works {
			c.before[t+1]++
			c.slots = append(c.slots, int32(t))
		}
	}
	c.cycle = int(c.before[len(mask)] - c.before[len(mask)-period])
	c.longest = longestRun(append(slices.Clone(mask[len(mask)-period:]), mask[len(mask)-period:]...))
	c.most = max(c.longest, longestRun(mask))
	return c
}

func longestRun(mask []bool) int {
	longest, run := 0, 0
	for _, works := range mask {
		if run++; !works {
			run = 0
		}
		longest = max(longest, run)
	}
	return longest
}

// never stands for a time that does not come.
const never = 1 << 40

// worked returns how many working slots there are before the point t.
func (c *clock) worked(t int) int {
	if c.always {
		return t
	}
	last := len(c.before) - 1
	if t <= last {
		return int(c.before[max(t, 0)])
	}
	if c.period == 0 {
		return len(c.slots)
	}
	over := t - last
	rest := last - c.period + over%c.period
	return len(c.slots) + over/c.period*c.cycle + int(c.before[rest]) - int(c.before[last-c.period])
}

// at returns the working slot that has k working slots before it, or never.
func (c *clock) at(k int) int {
	if c.always || k < 0 {
		return k
	}
	if k < len(c.slots) {
		return int(c.slots[k])
	}
	if c.cycle == 0 {
		return never
	}
	over := k - len(c.slots)
	return int(c.slots[len(c.slots)-c.cycle+over%c.cycle]) + (over/c.cycle+1)*c.period
}

// next returns the first working slot from t on.
func (c *clock) next(t int) int { return c.at(c.worked(t)) }

// working reports whether a slot is one of work.
func (c *clock) working(t int) bool { return c.always || c.worked(t+1) > c.worked(t) }

// between returns how many working slots there are from s to e.
func (c *clock) between(s, e int) int {
	if c.always {
		return e - s
	}
	return c.worked(e) - c.worked(s)
}

// after returns when work of w slots that starts at s is over.
func (c *clock) after(s, w int) int {
	if w == 0 {
		return s
	}
	if c.always {
		return s + w
	}
	return c.at(c.worked(s)+w-1) + 1
}

// latest returns the latest start of work of w slots that is over at e, below 0 where
// there is none.
func (c *clock) latest(e, w int) int {
	if w == 0 {
		return e
	}
	if c.always {
		return e - w
	}
	return c.at(c.worked(e) - w)
}

// whole returns the first start from t on of w slots on end, or never.
func (c *clock) whole(t, w int) int {
	s := c.next(t)
	for s < never && !c.always {
		broken := c.broken(s, w)
		if broken < 0 {
			return s
		}
		if s = broken; s >= len(c.before) && w > c.longest {
			return never
		}
	}
	return s
}

// broken returns the working slot after the first break in w slots from s on, or -1.
func (c *clock) broken(s, w int) int {
	if c.always || w == 0 {
		return -1
	}
	k := c.worked(s)
	if c.at(k+w-1) == s+w-1 {
		return -1
	}
	lo, hi := 0, w-1 // slot lo is on end with the first, hi is not
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; c.at(k+mid) == s+mid {
			lo = mid
		} else {
			hi = mid
		}
	}
	return c.at(k + hi)
}

// wholeLatest returns the latest start of w slots on end that are over at e, below 0
// where there is none.
func (c *clock) wholeLatest(e, w int) int {
	for {
		s := c.latest(e, w)
		if s < 0 {
			return s
		}
		broken := c.broken(s, w)
		if broken < 0 {
			return s
		}
		e = c.at(c.worked(broken)-1) + 1 // what lies after the break is too short
	}
}
