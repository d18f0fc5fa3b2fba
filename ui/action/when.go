package action

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"bench/oilcan/model"
)

// slack is how far a time may lie ahead: clocks differ.
const slack = 2 * time.Minute

// ErrFuture is in the chain of the error for a time that has not come yet.
var ErrFuture = errors.New("lies in the future")

// Time reads when something happened: now, today, yesterday, 3d and 2w (three days, two weeks ago),
// 2026-11-20 and the other ways of readDay, each of these days with a time of day behind it
// (yesterday 18:30, 2026-11-20 14:30), 14:30 (today), or RFC 3339. A day without a time of day is
// taken at noon, or now where noon has not come. A time in the future is refused.
func Time(text string, now time.Time) (time.Time, error) {
	t, err := readTime(text, now)
	if err != nil {
		return time.Time{}, err
	}
	if t.After(now.Add(slack)) {
		return time.Time{}, fmt.Errorf("%s %w: give when it happened, now or before",
			strings.TrimSpace(text), ErrFuture)
	}
	return t, nil
}

// Day reads a day, or a time of one, as Time does, and gives where it begins and where the next one
// does.
func Day(text string, now time.Time) (begin, end time.Time, err error) {
	t, err := Time(text, now)
	if err != nil {
		return begin, end, err
	}
	y, m, d := t.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, t.Location()),
		time.Date(y, m, d+1, 0, 0, 0, 0, t.Location()), nil
}

func readTime(text string, now time.Time) (time.Time, error) {
	s := strings.TrimSpace(text)
	switch strings.ToLower(s) {
	case "now", "today":
		return now, nil
	case "yesterday":
		return noon(now.AddDate(0, 0, -1), now), nil
	}
	if n, ok := days(s); ok {
		return noon(now.AddDate(0, 0, -n), now), nil
	}
	if day, ok, err := readDay(s, now.Location()); ok {
		return noon(day, now), err
	}
	if t, ok := timeOfDay(s, now); ok {
		return t, nil
	}
	for _, layout := range []string{"2006-01-02 15:04", "2006-01-02T15:04", "2006-01-02 15:04:05",
		time.RFC3339} {
		if t, err := time.ParseInLocation(layout, s, now.Location()); err == nil {
			return t, nil
		}
	}
	return time.Time{}, fmt.Errorf(
		"%q is no date: write today, yesterday, 3d, 2026-11-20 or \"2026-11-20 14:30\"", text)
}

// timeOfDay reads hours and minutes behind a day, or alone, which is today.
func timeOfDay(s string, now time.Time) (time.Time, bool) {
	words := strings.Fields(s)
	if len(words) == 1 {
		words = []string{"today", words[0]}
	}
	if len(words) != 2 || strings.EqualFold(words[0], "now") || strings.Contains(words[0], ":") {
		return time.Time{}, false
	}
	day, err := readTime(words[0], now)
	if err != nil {
		return time.Time{}, false
	}
	return OnDay(words[1], day)
}

// OnDay reads hours and minutes alone as a time of a day, in the zone the day is in; false where the
// text is anything else.
func OnDay(clock string, day time.Time) (time.Time, bool) {
	of, err := time.Parse("15:04", strings.TrimSpace(clock))
	y, m, d := day.Date()
	return time.Date(y, m, d, of.Hour(), of.Minute(), 0, 0, day.Location()), err == nil
}

// noon is the middle of a day; of today no later than now.
func noon(day, now time.Time) time.Time {
	y, m, d := day.Date()
	t := time.Date(y, m, d, 12, 0, 0, 0, now.Location())
	if ny, nm, nd := now.Date(); y == ny && m == nm && d == nd && t.After(now) {
		return now
	}
	return t
}

// Ahead reads a day to come, to look at something again: tomorrow, 7d and 2w (in seven days, in two
// weeks), 2026-12-01 and the other ways of readDay. It is taken at noon.
func Ahead(text string, now time.Time) (time.Time, error) {
	s := strings.ToLower(strings.TrimSpace(text))
	var day time.Time
	switch n, ok := days(s); {
	case s == "tomorrow":
		day = now.AddDate(0, 0, 1)
	case ok:
		day = now.AddDate(0, 0, n)
	default:
		t, ok, err := readDay(s, now.Location())
		switch {
		case err != nil:
			return time.Time{}, err
		case !ok:
			return time.Time{}, fmt.Errorf("%q is no day to come: write tomorrow, 7d or 2026-12-01",
				text)
		}
		day = t
	}
	y, m, d := day.Date()
	t := time.Date(y, m, d, 12, 0, 0, 0, now.Location())
	if t.Before(now) {
		return time.Time{}, fmt.Errorf("%s is past: give a day to come", strings.TrimSpace(text))
	}
	return t, nil
}

// days reads a number of days or weeks, up to a hundred years: 7d, 2w.
func days(s string) (n int, ok bool) {
	for unit, long := range map[string]int{"d": 1, "w": 7} {
		if n, ok := count(s, unit, 36499/long); ok {
			return n * long, true
		}
	}
	return 0, false
}

// count reads a whole number up to most with a unit's letter behind it, without which it is none.
func count(s, unit string, most int) (n int, ok bool) {
	if !strings.HasSuffix(strings.ToLower(s), unit) {
		return 0, false
	}
	n, err := model.ReadCount(s, unit, most)
	return n, err == nil
}

// Span reads a length of time: 14d, 36h, 2w.
func Span(text string) (time.Duration, error) {
	s := strings.ToLower(strings.TrimSpace(text))
	for _, u := range []struct {
		letter string
		length time.Duration
	}{{"h", time.Hour}, {"d", 24 * time.Hour}, {"w", 7 * 24 * time.Hour}} {
		if n, ok := count(s, u.letter, 9999); ok {
			return time.Duration(n) * u.length, nil
		}
	}
	return 0, fmt.Errorf("%q is no length of time: write 14d, 36h or 2w", text)
}
