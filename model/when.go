package model

import (
	"fmt"
	"time"
)

// TimeLeft writes a time that is left as minutes and seconds, "05:00"; one that is over as "00:00".
func TimeLeft(d time.Duration) string {
	s := int(max(d, 0).Round(time.Second).Seconds())
	return fmt.Sprintf("%02d:%02d", s/60, s%60)
}

// Day writes the day of a time in the zone of now, which is that of the clock on the bench. The
// journal keeps its times in UTC, so that a time read from it is never written without a zone.
func Day(t, now time.Time) string { return t.In(now.Location()).Format(time.DateOnly) }

// Stamp writes day, hour and minute of a time in the zone of now.
func Stamp(t, now time.Time) string { return t.In(now.Location()).Format("2006-01-02 15:04") }

// Clock writes hour and minute of a time in the zone of now.
func Clock(t, now time.Time) string { return t.In(now.Location()).Format("15:04") }

// wall is a time as the clock in the zone of now shows it, on a calendar that knows no clock
// change.
func wall(t, now time.Time) time.Time {
	t = t.In(now.Location())
	return time.Date(t.Year(), t.Month(), t.Day(), t.Hour(), t.Minute(), t.Second(), t.Nanosecond(),
		time.UTC)
}

// DaysBetween is how many days lie between two times by the calendar in the zone of now: from nine
// in the morning to nine in the morning is a day, though the clock was changed in the night. Below
// nothing where b comes before a.
func DaysBetween(a, b, now time.Time) float64 { return inDays(wall(b, now).Sub(wall(a, now))) }

// AddDays is so many days after a time, whole ones and parts, by the calendar in the zone of now.
func AddDays(t time.Time, days float64, now time.Time) time.Time {
	w := wall(t, now).Add(time.Duration(days * 24 * float64(time.Hour)))
	return time.Date(w.Year(), w.Month(), w.Day(), w.Hour(), w.Minute(), w.Second(), w.Nanosecond(),
		now.Location())
}
