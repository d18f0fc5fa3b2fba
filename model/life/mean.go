package life

import (
	"math"
	"time"

	"bench/oilcan/model"
)

// meanWindow is how far back a mean pace looks.
const meanWindow = 60 * 24 * time.Hour

// ByMean gives the gauges of model.Gauges with dates by the mean pace of the last 60 days of
// readings alone: a tenth of the work of Gauges, for a first frame. Dates of the calendar are
// exact.
func ByMean(m *model.Machine, procs []*model.Procedure, now time.Time) []model.Gauge {
	gs := model.Gauges(m, procs, now)
	for i := range gs {
		meanDates(m, &gs[i], now)
	}
	return gs
}

// meanDates sets when low, the middle and high are reached by the mean pace. A machine out of use
// has none: its calendar waits, and nothing is printed.
func meanDates(m *model.Machine, g *model.Gauge, now time.Time) {
	if !g.Measured || m.OutOfUse {
		return
	}
	perDay, at := 1.0, now
	switch g.Meter {
	case model.Days:
	case model.Cuts:
		perDay, at = meanPace(m, model.Changes)
		if g.Why.Kind != model.WithoutStarts {
			more, _ := meanPace(m, model.Starts)
			perDay += more
		}
	default:
		perDay, at = meanPace(m, g.Meter)
	}
	if !(perDay > 0) {
		return
	}
	reach := func(value float64) *time.Time {
		d := (value - g.Used) / perDay
		if math.Abs(d) > horizonDays {
			return nil
		}
		t := at.Add(time.Duration(d * 24 * float64(time.Hour)))
		if g.Meter == model.Days {
			t = model.AddDays(at, d, now)
		}
		if t.Before(g.Since) {
			t = g.Since
		}
		return &t
	}
	g.DueLow, g.DueMid, g.DueHigh = reach(g.Low), reach((g.Low+g.High)/2), reach(g.High)
}

// meanPace is a meter's mean growth a day over the last 60 days of its readings, and when it was
// last read; without the time out of use. 0 where fewer than two readings lie a day apart or
// nothing grew.
func meanPace(m *model.Machine, meter model.Meter) (perDay float64, at time.Time) {
	s := m.Readings[meter]
	if s == nil || s.N < 2 {
		return 0, time.Time{}
	}
	from, found := s.First, false
	for i := len(s.Days) - 1; i >= 0; i-- {
		back := s.Last.At.Sub(s.Days[i].At)
		if back < 24*time.Hour {
			continue
		}
		if found && back > meanWindow {
			break
		}
		from, found = s.Days[i], true
	}
	days := s.Last.At.Sub(from.At).Hours()/24 - model.RestedIn(m.Rests, from.At, s.Last.At)
	if days < 1 || s.Last.Value <= from.Value {
		return 0, s.Last.At
	}
	return (s.Last.Value - from.Value) / days, s.Last.At
}
