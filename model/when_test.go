package model

import (
	"testing"
	"time"
	_ "time/tzdata"
)

// In the zone of Berlin the clock was put back an hour on 2026-10-25, and forward on 2026-03-29
// (Directive 2000/84/EC: the last Sundays of March and October). A day is a day all the same, and
// days added and counted agree.
func TestDaysAcrossAClockChange(t *testing.T) {
	berlin, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	at := func(month time.Month, day, hour, minute int) time.Time {
		return time.Date(2026, month, day, hour, minute, 0, 0, berlin)
	}
	for _, c := range []struct {
		from, to time.Time
		days     float64
	}{
		{at(10, 24, 9, 0), at(10, 25, 9, 0), 1},
		{at(10, 20, 0, 30), at(11, 19, 0, 30), 30},
		{at(3, 28, 23, 0), at(3, 29, 23, 0), 1},
		{at(3, 1, 6, 0), at(4, 1, 18, 0), 31.5},
		{at(11, 19, 0, 30), at(10, 20, 0, 30), -30},
	} {
		if got := DaysBetween(c.from.UTC(), c.to.UTC(), c.to); got != c.days {
			t.Errorf("from %v to %v: %v days, want %v", c.from, c.to, got, c.days)
		}
		if got := AddDays(c.from.UTC(), c.days, c.to); !got.Equal(c.to) {
			t.Errorf("%v days from %v: %v, want %v", c.days, c.from, got, c.to)
		}
	}
	m := machine()
	m.Care["fans-blow"] = &CareLast{At: at(10, 20, 0, 30).UTC(), Known: true}
	if g := Gauges(m, []*Procedure{daysCare()}, at(11, 19, 0, 30))[0]; g.Used != 30 ||
		g.Word != WordDue {
		t.Errorf("after 30 days %v are used, and it is %s", g.Used, g.Word)
	}
}
