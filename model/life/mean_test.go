package life

import (
	"testing"
	"time"

	"bench/oilcan/model"
)

// 100 cuts a day from 2,000 used: 3,000, 4,000 and 5,000 lie 10, 20 and 30 days ahead. What is on
// the calendar is exact, and a machine out of use has no dates.
func TestMeanDates(t *testing.T) {
	ty := newTyped(t, model.Home)
	for d := range 91 {
		ty.read(t, model.Changes, float64(d), 100*float64(d))
		if d == 70 {
			careDone(t, ty, 70, "blade", "glance")
		}
	}
	for _, c := range []struct {
		p    *model.Procedure
		want []float64
	}{{blade(), []float64{100, 110, 120}}, {glance(), []float64{100, 104, 108}}} {
		g := ByMean(ty.machine(), []*model.Procedure{c.p}, dayAt(90))[0]
		for i, want := range c.want {
			got := []*time.Time{g.DueLow, g.DueMid, g.DueHigh}[i]
			if got == nil || got.Sub(dayAt(want)).Abs() > time.Second {
				t.Errorf("%s: date %d is %v, want %v", c.p.ID, i, got, dayAt(want))
			}
		}
		if got := g.WhenLong(dayAt(90)); got != model.Day(dayAt(100), dayAt(90)) {
			t.Errorf("long date %q", got)
		}
	}
	out := ty.machine().MachineFact
	out.OutOfUse = true
	ty.fold(t, model.Entry{At: dayAt(91), Fact: model.Fact{Kind: model.KindMachine, Machine: &out}})
	if g := ByMean(ty.machine(), []*model.Procedure{blade()}, dayAt(92))[0]; g.DueLow != nil ||
		!g.Measured {
		t.Errorf("out of use it is due %v", g.DueLow)
	}
}

// growing makes a meter's readings: one a day, growing by so much to a value so many days ago, over
// a span of days.
func growing(value, perDay float64, lastAgo, span int) *model.Series {
	s := &model.Series{}
	for d := span; d >= 0; d-- {
		p := model.Point{At: meanNow.AddDate(0, 0, -lastAgo-d), Value: value - perDay*float64(d)}
		if s.N == 0 {
			s.First = p
		}
		s.Last, s.Days, s.N = p, append(s.Days, p), s.N+1
	}
	return s
}

var meanNow = time.Date(2026, 11, 25, 9, 14, 0, 0, time.UTC)

// When each gauge is due by the mean pace, as a person reads it.
func TestMeanDatesInWords(t *testing.T) {
	ago := func(days float64) time.Time {
		return meanNow.Add(-time.Duration(days * 24 * float64(time.Hour)))
	}
	done := func(days float64, base map[model.Meter]float64) *model.CareLast {
		return &model.CareLast{At: ago(days), Known: true, Base: base, Times: 1}
	}
	fans := &model.Procedure{ID: "fans-blow", Kind: model.Care, Intervals: []model.Interval{
		{Meter: model.Days, Low: 30, High: 37.5}, {Meter: model.Hours, Low: 200, High: 250}}}
	for _, c := range []struct {
		name string
		p    *model.Procedure
		set  func(m *model.Machine)
		want string
	}{
		{"no older than the machine", blade(), func(m *model.Machine) {
			m.Readings[model.Changes] = growing(1200, 10, 0, 20)
		}, "2027-05-24"},
		{"no older by the day it was bought new", fans, func(m *model.Machine) {
			m.Bought, m.Readings[model.Hours] = ago(6), growing(10, 1, 0, 5)
		}, "2026-12-19"},
		{"fresh by the calendar", fans, func(m *model.Machine) {
			m.Care["fans-blow"] = done(6, nil)
		}, "2026-12-19"},
		{"wearing", fans, func(m *model.Machine) { m.Care["fans-blow"] = done(24, nil) },
			"2026-12-01"},
		{"past the high end", fans, func(m *model.Machine) { m.Care["fans-blow"] = done(50, nil) },
			"12 d ago"},
		{"by hours", fans, func(m *model.Machine) {
			m.Readings[model.Hours] = growing(1100, 5, 0, 90)
			m.Care["fans-blow"] = done(6, map[model.Meter]float64{model.Hours: 1000})
		}, "2026-12-15"},
		{"reached today", fans, func(m *model.Machine) {
			m.Readings[model.Hours] = growing(1180, 50, 0, 90)
			m.Care["fans-blow"] = done(3, map[model.Meter]float64{model.Hours: 1010})
		}, "2026-11-25"},
		{"cuts are changes and starts", blade(), func(m *model.Machine) {
			m.Readings[model.Changes], m.Readings[model.Starts] = growing(9000, 100, 0,
				90), growing(500, 2, 0, 90)
			m.Care["blade"] = done(25,
				map[model.Meter]float64{model.Changes: 6500, model.Starts: 450})
		}, "2026-11-29"},
		{"cuts without starts", blade(), func(m *model.Machine) {
			m.Readings[model.Changes] = growing(9000, 100, 0, 90)
			m.Care["blade"] = done(25, map[model.Meter]float64{model.Changes: 6500})
		}, "2026-11-30"},
		{"the last reading is held", blade(), func(m *model.Machine) {
			m.Readings[model.Changes] = growing(7000, 10, 30, 90)
			m.Care["blade"] = done(60, map[model.Meter]float64{model.Changes: 6700})
		}, "2027-07-23"},
		{"nothing grew beyond what it was then", blade(), func(m *model.Machine) {
			m.Readings[model.Changes] = growing(50, 0, 0, 20)
			m.Care["blade"] = done(25, map[model.Meter]float64{model.Changes: 50})
		}, ""},
		{"out of use for a while: the rest is taken off", fans, func(m *model.Machine) {
			m.Rested, m.Care["fans-blow"] = 45, &model.CareLast{At: ago(46), Known: true, Rested: 5}
		}, "2026-12-19"},
	} {
		m := &model.Machine{MachineFact: model.MachineFact{Duty: model.Home},
			Readings: map[model.Meter]*model.Series{}, Care: map[string]*model.CareLast{}}
		c.set(m)
		if got := ByMean(m, []*model.Procedure{c.p}, meanNow)[0].WhenText(meanNow); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
