package programme

import (
	"slices"
)

// calendarAt returns the index of a calendar by its id; the first where none is named,
// -1 where there is none.
func (s *Site) calendarAt(id string) int {
	if id == "" && len(s.Calendars) > 0 {
		return 0
	}
	return slices.IndexFunc(s.Calendars, func(c Calendar) bool { return c.ID == id })
}

// calendar returns a calendar by its index, nil for none.
func (s *Site) calendar(i int) *Calendar {
	if i < 0 || i >= len(s.Calendars) {
		return nil
	}
	return &s.Calendars[i]
}

// works reports whether a day is worked.
func (c *Calendar) works(d Date) bool {
	if len(c.Shifts) == 0 || slices.Contains(c.Holidays, d) {
		return false
	}
	day := weekdays[(int(d.Weekday())+6)%7]
	return slices.Contains(c.Extra, d) || slices.Contains(c.Days, day)
}

// dayMinutes returns the minutes of a working day.
func (c *Calendar) dayMinutes() int {
	sum := 0
	for _, s := range c.Shifts {
		sum += s.Until - s.From
	}
	return sum
}

// slotsBetween counts the working slots of the days from and until, both included.
func (c *Calendar) slotsBetween(from, until Date) int {
	days := 0
	for d := from; d <= until; d++ {
		if c.works(d) {
			days++
		}
	}
	return days * c.dayMinutes() / slot
}

// back returns the day that lies working days before a day, and is worked itself.
func (c *Calendar) back(d Date, days int) Date {
	for range 4000 { // a calendar with no more working days ends somewhere
		if days <= 0 && c.works(d) {
			return d
		}
		d--
		if c.works(d) {
			days--
		}
	}
	return d
}

// last returns the last day that the calendar says something of by itself.
func (c *Calendar) last() Date {
	return max(slices.Max(append([]Date{0}, c.Holidays...)), slices.Max(append([]Date{0}, c.Extra...)))
}

const daySlots = 24 * 60 / slot

// mask returns which slots work from a day on, and how many of the last of them come
// again for ever: a week. Days for which absent is true are not worked.
func (c *Calendar) mask(start, last Date, absent func(Date) bool) (working []bool, repeat int) {
	last = max(last, c.last(), start) + 8
	working = make([]bool, int(last-start)*daySlots)
	for d := start; d < last; d++ {
		if !c.works(d) || absent(d) {
			continue
		}
		at := int(d-start) * daySlots
		for _, s := range c.Shifts {
			for k := s.From / slot; k < s.Until/slot; k++ {
				working[at+k] = true
			}
		}
	}
	return working, 7 * daySlots
}
