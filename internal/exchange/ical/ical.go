// Package ical writes calendars in the iCalendar format of RFC 5545, for the calendar
// programs of people on site. Times are local ("floating", 3.3.5, form 1): they mean
// the hour on site wherever they are read. It takes a Calendar and asks no clock.
package ical

import (
	"bufio"
	"io"
	"strings"
	"time"
	"unicode/utf8"
)

// Calendar is a list of events under a name.
type Calendar struct {
	Name   string
	Stamp  time.Time // when it was made, as the caller says
	Events []Event
}

// Event is one entry. Of Start and End only the local date and time count; whole days
// have no hours, and End is then the first day after.
type Event struct {
	UID         string // unique and lasting: the same event of a later calendar replaces it
	Start, End  time.Time
	WholeDay    bool
	Summary     string
	Location    string
	Description string
	Categories  []string
}

const (
	dateForm  = "20060102"
	localForm = "20060102T150405"
	utcForm   = "20060102T150405Z"
)

// Write writes the calendar.
func Write(w io.Writer, c *Calendar) error {
	out := &writer{w: bufio.NewWriter(w)}
	out.line("BEGIN:VCALENDAR")
	out.line("VERSION:2.0")
	out.line("PRODID:-//nogging//programme//EN")
	out.line("CALSCALE:GREGORIAN")
	out.text("X-WR-CALNAME", c.Name)
	for i := range c.Events {
		out.event(&c.Events[i], c.Stamp)
	}
	out.line("END:VCALENDAR")
	if out.err != nil {
		return out.err
	}
	return out.w.Flush()
}

type writer struct {
	w   *bufio.Writer
	err error
}

func (w *writer) event(e *Event, stamp time.Time) {
	w.line("BEGIN:VEVENT")
	w.text("UID", e.UID)
	w.line("DTSTAMP:" + stamp.UTC().Format(utcForm))
	if e.WholeDay {
		w.line("DTSTART;VALUE=DATE:" + e.Start.Format(dateForm))
		w.line("DTEND;VALUE=DATE:" + e.End.Format(dateForm))
	} else {
		w.line("DTSTART:" + e.Start.Format(localForm))
		if e.End.After(e.Start) { // no end is the start (3.6.1)
			w.line("DTEND:" + e.End.Format(localForm))
		}
	}
	w.text("SUMMARY", e.Summary)
	w.text("LOCATION", e.Location)
	w.text("DESCRIPTION", e.Description)
	if len(e.Categories) > 0 {
		list := make([]string, len(e.Categories))
		for i, c := range e.Categories {
			list[i] = escape(c)
		}
		w.line("CATEGORIES:" + strings.Join(list, ","))
	}
	w.line("END:VEVENT")
}

// text writes a property of type TEXT; none where it is empty.
func (w *writer) text(name, value string) {
	if value != "" {
		w.line(name + ":" + escape(value))
	}
}

// escape writes a text as a value of type TEXT (RFC 5545, 3.3.11). Signs that lines
// cannot hold are left out.
func escape(s string) string {
	s = strings.ReplaceAll(s, "\r\n", "\n")
	s = strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\n", `\n`).Replace(s)
	return strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' || r == 0x7f {
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\uFFFD"))
}

// longest is how many octets a line may have without its end (RFC 5545, 3.1).
const longest = 75

// line writes a content line, folded where it is too long: never within a character.
func (w *writer) line(s string) {
	for room := longest; len(s) > room; room = longest - 1 {
		at := room
		for !utf8.RuneStart(s[at]) {
			at--
		}
		w.write(s[:at] + "\r\n ")
		s = s[at:]
	}
	w.write(s + "\r\n")
}

func (w *writer) write(s string) {
	if w.err == nil {
		_, w.err = w.w.WriteString(s)
	}
}
