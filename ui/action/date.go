package action

import (
	"errors"
	"fmt"
	"regexp"
	"time"
)

// TwoDays is the error for a date that can be read two ways: it names both, and how each is typed.
type TwoDays struct {
	Text          string
	First, Second time.Time
}

func (e TwoDays) Error() string {
	return fmt.Sprintf("%q can be %s or %s: type %s or %s", e.Text,
		e.First.Format("2 January 2006"), e.Second.Format("2 January 2006"),
		e.First.Format(time.DateOnly), e.Second.Format(time.DateOnly))
}

// errShortYear is for a year of two digits, which may stand for a day as well.
var errShortYear = errors.New("write the year with four digits, like 2026-10-20")

// Dates as people write them beside the calendar date of ISO 8601: with the year first or last.
// Between points the day stands before the month wherever that is customary (common practice);
// between slashes and hyphens either may.
var (
	yearFirst  = regexp.MustCompile(`^([0-9]{4})[./]([0-9]{1,2})[./]([0-9]{1,2})$`)
	yearLast   = regexp.MustCompile(`^([0-9]{1,2})([./-])([0-9]{1,2})[./-]([0-9]{4})$`)
	monthFirst = regexp.MustCompile(`^([0-9]{1,2})[./]([0-9]{4})$`)
	shortYear  = regexp.MustCompile(`^[0-9]{1,2}[./-][0-9]{1,2}[./-][0-9]{2}$`)
)

// wordDates are the ways with the month as a word; those of a whole month last.
var wordDates = []string{"2 Jan 2006", "2 January 2006", "Jan 2 2006", "January 2 2006", "Jan 2006",
	"January 2006"}

// readDay reads a day, or a month, which counts from its first day: nothing done in it was done
// before. ok is false where the text is neither.
func readDay(s string, where *time.Location) (day time.Time, ok bool, err error) {
	for _, layout := range append([]string{time.DateOnly, "2006-01"}, wordDates...) {
		if t, err := time.ParseInLocation(layout, s, where); err == nil {
			return t, true, nil
		}
	}
	if m := yearFirst.FindStringSubmatch(s); m != nil {
		day, ok = dayOf(m[1], m[2], m[3], where)
		return day, ok, nil
	}
	if m := monthFirst.FindStringSubmatch(s); m != nil {
		day, ok = dayOf(m[2], m[1], "1", where)
		return day, ok, nil
	}
	if shortYear.MatchString(s) {
		return day, true, fmt.Errorf("%q: %w", s, errShortYear)
	}
	m := yearLast.FindStringSubmatch(s)
	if m == nil {
		return day, false, nil
	}
	first, isFirst := dayOf(m[4], m[3], m[1], where)
	second, isSecond := dayOf(m[4], m[1], m[3], where)
	switch {
	case m[2] == ".":
		return first, isFirst, nil
	case isFirst && isSecond && !first.Equal(second):
		return first, true, TwoDays{s, first, second}
	case isFirst:
		return first, true, nil
	}
	return second, isSecond, nil
}

// dayOf makes a day of its digits; ok is false where the calendar has none.
func dayOf(year, month, day string, where *time.Location) (t time.Time, ok bool) {
	t, err := time.ParseInLocation("2006-1-2", year+"-"+month+"-"+day, where)
	return t, err == nil
}
