package life

import (
	"math"
	"time"

	"bench/oilcan/model"
)

// Pace is how fast a meter grows on one machine in the days ahead, as a gamma process in a time
// that runs by the week's rhythm: growth over t days has mean Mean·t and variance Noise·t +
// Drift·t².
//
// The first term is the gamma process itself (van Noortwijk 2009, "A survey of the application of
// gamma processes in maintenance", Reliability Engineering & System Safety 94). The second is the
// pace's own uncertainty, now and by its changes ahead: the process is mixed over it, and the
// mixture kept in gamma form by its first two moments, so that shape and rate depend on the
// horizon. Mean, Noise and Drift are those of the next 30 days; a date goes by its own horizon.
type Pace struct {
	Meter model.Meter
	Mean  float64   // units a day, a whole week's mean, >= 0
	Noise float64   // variance of a day's growth, units² a day, >= 0
	Drift float64   // variance of the pace itself, (units a day)², >= 0
	At    time.Time // of the last reading; now where there is none
	Span  float64   // days of readings it rests on, 0 … 400
	// false: no two readings a day apart, the duty's usual pace (from memory) stands in
	Own  bool
	Duty model.Duty

	week  rhythm
	usage *usage // how its own readings say it is used; nil: a pace that does not change
}

const (
	horizonDays = 1100 // some three years, beyond which a date says nothing
	weekBlock   = 6.5  // days of the shortest stretch whose growth is compared with the next
	usualAhead  = 30   // days ahead for which a pace is given in a figure
	surely      = 1e-9
)

// Estimate tells a meter's pace on one machine from its readings; s may be nil. What was out of use
// between them is cut out. The calendar (Days) is exact. Where no two readings lie a day apart, the
// pace is the duty's usual one and Own is false; where nothing can be said at all, Mean is 0.
//
// A change of pace is followed by a filter of its level (level.go): the logarithm of the pace
// drifts, as fast as the readings show, and the machine may come to stand still and run again
// (usage.go). From what is believed at the last reading the mean, noise and drift
// of the growth ahead are matched in their moments, for as long as what is left is likely to last.
func Estimate(s *model.Series, rests []model.Rest, duty model.Duty, meter model.Meter,
	now time.Time) Pace {
	if meter == model.Days {
		return Pace{Meter: meter, Mean: 1, At: now, Own: true, Duty: duty, week: evenly(now)}
	}
	p := estimate(readings(s), rests, priorOf(duty, meter), now)
	p.Meter, p.Duty = meter, duty
	return p
}

// readings are the points a pace is told from, oldest first: one a day for 400 days, and the first
// one where it alone says more.
func readings(s *model.Series) []model.Point {
	switch {
	case s == nil || s.N == 0:
		return nil
	case len(s.Days) == 0:
		return []model.Point{s.First, s.Last}
	case len(s.Days) == 1:
		return []model.Point{s.First, s.Days[0]}
	}
	return s.Days
}

func estimate(pts []model.Point, rests []model.Rest, pr prior, now time.Time) Pace {
	p := Pace{At: now, week: evenly(now), Mean: pr.mean, Noise: pr.noise * pr.mean * pr.mean,
		Drift: pr.cv2 * pr.mean * pr.mean}
	if len(pts) == 0 {
		return p
	}
	first, last := pts[0], pts[len(pts)-1]
	p.At, p.Span = last.At, last.At.Sub(first.At).Hours()/24
	if p.Span < 1 {
		p.Span = 0
		return p
	}
	p.Own = true
	p.week.learn(pts, rests)
	bs := p.week.blocks(pts, rests)
	if len(bs) == 0 { // out of use nearly all the time
		p.Own = false
		return p
	}
	p.usage = usageOf(bs, pr)
	if p.usage == nil {
		p.Mean, p.Noise, p.Drift = 0, 0, 0
		return p
	}
	soon := p.usage.near(usualAhead)
	p.Mean, p.Noise, p.Drift = soon.mean, soon.noise, soon.drift
	return p
}

// Reach gives when a meter of which used is used at its last reading reaches a level: with 10, 50
// and 90 % it is reached by then. No date lies before now; what is reached already is reached now.
// A date more than three years off is zero. ok is false where no pace is known or even the early
// date lies beyond that.
func (p *Pace) Reach(used, level float64, now time.Time) (early, mid, late time.Time, ok bool) {
	early, ok = p.reach(level-used, 0.1, now)
	if !ok {
		return time.Time{}, time.Time{}, time.Time{}, false
	}
	mid, _ = p.reach(level-used, 0.5, now)
	late, _ = p.reach(level-used, 0.9, now)
	mid = notBefore(mid, early)
	return early, mid, notBefore(late, mid), true
}

// notBefore is a date, or another one it cannot come before but does by what a search is good to;
// zero, more than three years off, comes before none and only after zero.
func notBefore(at, first time.Time) time.Time {
	if first.IsZero() || !at.IsZero() && at.Before(first) {
		return first
	}
	return at
}

// reach is the date by which what is left has been used with a probability q.
func (p *Pace) reach(left, q float64, now time.Time) (time.Time, bool) {
	switch {
	case left <= 0:
		return now, true
	case !(p.Mean > 0):
		return time.Time{}, false
	case p.Meter == model.Days:
		if !(left <= horizonDays) {
			return time.Time{}, false
		}
		return model.AddDays(now, left, now), true
	}
	c := p.course(left)
	t := c.quantile(q)
	if t > horizonDays {
		return time.Time{}, false
	}
	from := p.week.days(p.At)
	at, ok := later(p.At, p.week.when(p.week.at(from)+t)-from)
	if ok && at.Before(now) {
		at = now
	}
	return at, ok
}

// later is so many days after a time; false where that is more than three years.
func later(from time.Time, days float64) (time.Time, bool) {
	if !(days <= horizonDays) {
		return time.Time{}, false
	}
	return from.Add(time.Duration(days * 24 * float64(time.Hour))), true
}

// PassBefore is the probability, 0 … 1, that a meter of which used is used at its last reading has
// reached the level by a day. Before now it is 0 unless the level is reached already; where no pace
// is known it is 0 too (see Mean).
func (p *Pace) PassBefore(used, level float64, now, day time.Time) float64 {
	switch left := level - used; {
	case left <= 0:
		return 1
	case day.Before(now) || !(p.Mean > 0):
		return 0
	case p.Meter == model.Days:
		if model.DaysBetween(now, day, now) >= left-1e-9 {
			return 1
		}
		return 0
	default:
		c := p.course(left)
		return c.passed(p.ahead(day))
	}
}

// ahead is how many days of the week's rhythm lie between the last reading and a day.
func (p *Pace) ahead(day time.Time) float64 {
	return p.week.at(p.week.days(day)) - p.week.at(p.week.days(p.At))
}

// Ahead is how much more is expected to be used by a day than at the last reading, with its
// standard deviation; both in the meter's unit, never below nothing.
func (p *Pace) Ahead(day time.Time) (mean, sd float64) {
	t := p.ahead(day)
	if t <= 0 {
		return 0, 0
	}
	g := growth{p.Mean, p.Noise, p.Drift}
	if p.usage != nil {
		g = p.usage.near(t)
	}
	return g.mean * t, math.Sqrt(g.noise*t + g.drift*t*t)
}
