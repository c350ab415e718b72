package programme

import (
	"fmt"
	"time"

	"nogging/internal/words"
)

// Date is a calendar day: days from 1 January 1970. The zero Date stands for no date.
type Date int

const dateForm = "2006-01-02"

// ParseDate reads a date such as 2027-01-11 (ISO 8601).
func ParseDate(s string) (Date, error) {
	t, err := time.Parse(dateForm, s)
	if err != nil || t.Year() < 1971 || t.Year() > 2200 {
		return 0, fmt.Errorf("%q is no date; write year, month and day, such as 2027-01-11", s)
	}
	return Date(t.Unix() / 86400), nil
}

// UnmarshalText reads the date from a file.
func (d *Date) UnmarshalText(text []byte) (err error) {
	*d, err = ParseDate(string(text))
	return err
}

// Example shows how dates are written.
func (d *Date) Example() string { return "2027-01-11" }

// MarshalText writes the date as ISO 8601.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// String gives the date as ISO 8601; nothing for no date.
func (d Date) String() string {
	if d == 0 {
		return ""
	}
	return d.time().Format(dateForm)
}

func (d Date) time() time.Time { return time.Unix(int64(d)*86400, 0).UTC() }

// Weekday returns the day of the week.
func (d Date) Weekday() time.Weekday { return d.time().Weekday() }

// Monday returns the first day of the date's week.
func (d Date) Monday() Date { return d - Date((int(d.Weekday())+6)%7) }

// Week returns the week by ISO 8601, as in 2027-W02.
func (d Date) Week() string {
	year, week := d.time().ISOWeek()
	return fmt.Sprintf("%d-W%02d", year, week)
}

// Short gives day and month for people, as in Mon 11 Jan.
func (d Date) Short() string { return d.time().Format("Mon 2 Jan") }

// At returns the moment at minutes after midnight.
func (d Date) At(minutes int) Moment { return Moment(int(d)*1440 + minutes) }

// Moment is a minute of local time on site: minutes from the beginning of
// 1 January 1970. The zero Moment stands for none.
type Moment int

// Date returns the day.
func (m Moment) Date() Date { return Date(int(m) / 1440) }

// Clock returns the minutes since midnight.
func (m Moment) Clock() int { return int(m) % 1440 }

// last returns the last day of work that ends at the moment: the day before where
// it ends at midnight.
func (m Moment) last() Date { return (m - 1).Date() }

// String gives the moment, as in 2027-01-11T07:00 (ISO 8601, local time); nothing for
// none.
func (m Moment) String() string {
	if m == 0 {
		return ""
	}
	return fmt.Sprintf("%sT%02d:%02d", m.Date(), m.Clock()/60, m.Clock()%60)
}

// Short gives the moment for people, as in Mon 11 Jan 07:00.
func (m Moment) Short() string {
	return fmt.Sprintf("%s %02d:%02d", m.Date().Short(), m.Clock()/60, m.Clock()%60)
}

// MarshalText writes the moment as ISO 8601.
func (m Moment) MarshalText() ([]byte, error) { return []byte(m.String()), nil }

// Shift is a stretch of a working day, in minutes since midnight.
type Shift struct{ From, Until int }

// UnmarshalText reads a shift such as 07:00-12:00.
func (s *Shift) UnmarshalText(text []byte) error {
	var fh, fm, uh, um int
	n, err := fmt.Sscanf(string(text), "%d:%d-%d:%d", &fh, &fm, &uh, &um)
	from, until := fh*60+fm, uh*60+um
	wrong := n != 4 || err != nil || min(fh, fm, uh, um) < 0 || max(fm, um) > 59 || until > 24*60 || until <= from
	if wrong || from%slot != 0 || until%slot != 0 {
		return words.ErrFix(words.F("%q is no shift", text), words.F("write its hours within one day in steps of %d minutes, such as 07:00-12:00", slot))
	}
	*s = Shift{from, until}
	return nil
}

// Example shows how shifts are written.
func (s *Shift) Example() string { return `"07:00-12:00", in quotes` }

// MarshalText writes the shift.
func (s Shift) MarshalText() ([]byte, error) {
	return fmt.Appendf(nil, "%02d:%02d-%02d:%02d", s.From/60, s.From%60, s.Until/60, s.Until%60), nil
}

// slot is the length of the scheduler's slots in minutes.
const slot = 5
