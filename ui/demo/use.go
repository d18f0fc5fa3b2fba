package demo

import (
	"math"
	"math/rand/v2"
	"time"

	"bench/oilcan/model"
)

// calendar is the bench's days: when it is open, and how busy the house is.
type calendar struct {
	now    time.Time
	first  time.Time // midnight of the first day
	closed map[int]bool
	busy   []float64 // by week, 1 is usual
}

// newCalendar draws the closed days (the turn of the year, two weeks in summer) and the bursts.
func newCalendar(now time.Time, rng *rand.Rand) *calendar {
	y, m, d := now.Date()
	c := &calendar{now: now, first: time.Date(y, m, d, 0, 0, 0, 0, now.Location()).AddDate(0, 0,
		-Span), closed: map[int]bool{}}
	summer := 180 + rng.IntN(35) // day of the year on which the summer closing begins
	for i := 0; i <= Span; i++ {
		day := c.day(i)
		turn := day.Month() == time.December && day.Day() >= 24 || day.Month() == time.January &&
			day.Day() == 1
		c.closed[i] = turn || day.YearDay() >= summer && day.YearDay() < summer+14
	}
	for w := 0; w <= Span/7; w++ {
		c.busy = append(c.busy, 1)
	}
	for w := 0; w <= Span/7; w++ {
		if rng.Float64() < 0.12 {
			for i := w; i < min(len(c.busy), w+1+rng.IntN(2)); i++ {
				c.busy[i] = 1.6
			}
		}
	}
	return c
}

// day is the midnight that begins a day.
func (c *calendar) day(i int) time.Time { return c.first.AddDate(0, 0, i) }

// index is the day a time lies in.
func (c *calendar) index(t time.Time) int {
	i := int(t.Sub(c.first).Hours() / 24)
	for i > 0 && c.day(i).After(t) {
		i--
	}
	for !c.day(i + 1).After(t) {
		i++
	}
	return max(i, 0)
}

// back is so many days before now.
func (c *calendar) back(days float64) time.Time {
	return c.now.Add(-time.Duration(days * 24 * float64(time.Hour)))
}

// workday tells whether somebody is at the bench.
func (c *calendar) workday(i int) bool {
	wd := c.day(i).Weekday()
	return wd != time.Saturday && wd != time.Sunday && !c.closed[i]
}

// rhythm is how much of the usual is printed on a day: long prints are put on before the weekend.
var rhythm = map[time.Weekday]float64{time.Monday: 1, time.Tuesday: 1.15, time.Wednesday: 1.15,
	time.Thursday: 1.1,
	time.Friday:   1.25, time.Saturday: 0.8, time.Sunday: 0.55}

// use is what a machine really did, day by day; a counter shows the whole units of the running
// sums.
type use struct {
	cal   *calendar
	sums  map[model.Meter][]float64 // at the midnight that begins each day
	start map[model.Meter]float64
}

// Limits of a day. A machine never prints more than 20 hours of one, nor changes filament more than
// 14 times an hour, so no reading can break the rules for typed values (24 hours a day, 60 changes
// an hour).
const (
	mostHours   = 20.0
	mostChanges = 14.0 // an hour printed
)

func newUse(p profile, cal *calendar, rng *rand.Rand) *use {
	u := &use{cal: cal, sums: map[model.Meter][]float64{}, start: map[model.Meter]float64{
		model.Hours: p.hours, model.Changes: p.changes, model.Starts: p.starts,
		model.StyrenicHours: math.Floor(p.hours * p.styrenic), model.AbrasiveHours: math.Floor(
			p.hours * p.abrasive)}}
	for m, v := range u.start {
		u.sums[m] = []float64{v}
	}
	many := false
	for i := 0; i <= Span; i++ {
		if i%7 == 0 {
			many = rng.Float64() < p.multi
		}
		for m, v := range u.draw(p, i, many, rng) {
			s := u.sums[m]
			u.sums[m] = append(s, s[len(s)-1]+v)
		}
	}
	return u
}

// draw takes one day's use by chance, from the rhythm of the week: seldom anything while the bench
// is closed.
func (u *use) draw(p profile, i int, many bool, rng *rand.Rand) map[model.Meter]float64 {
	usual := p.hoursWeek / 7 * rhythm[u.cal.day(i).Weekday()] * u.cal.busy[i/7]
	if u.cal.closed[i] {
		usual *= 0.15
	}
	hours := min(mostHours, usual*math.Exp(0.45*rng.NormFloat64()-0.1))
	if rng.Float64() < 0.08 { // nothing printed
		hours = 0
	}
	starts, each := 0.0, 0.3 // filament changed by hand now and then
	if p.jobHours > 0 && hours > 0.3 {
		starts = max(1, math.Round(hours/p.jobHours*(0.7+0.6*rng.Float64())))
	}
	switch {
	case many:
		each = 25 + 50*rng.Float64()
	case p.multi > 0:
		each = 2 + 6*rng.Float64()
	}
	return map[model.Meter]float64{model.Hours: hours, model.Starts: starts,
		model.Changes:       math.Round(min(starts*each, mostChanges*hours)),
		model.StyrenicHours: min(hours, hours*p.styrenic*(0.6+0.8*rng.Float64())),
		model.AbrasiveHours: min(hours, hours*p.abrasive*(0.4+1.2*rng.Float64()))}
}

// at is what a counter stands at, to the fraction.
func (u *use) at(m model.Meter, t time.Time) float64 {
	if m == model.Cuts {
		return u.at(model.Changes, t) + u.at(model.Starts, t)
	}
	i := min(u.cal.index(t), Span)
	from, to := u.cal.day(i), u.cal.day(i+1)
	share := min(1, float64(t.Sub(from))/float64(to.Sub(from)))
	s := u.sums[m]
	return s[i] + (s[i+1]-s[i])*share
}
