package life

import (
	"math"
	"time"

	"bench/oilcan/model"
)

// rhythm is how the use of a week falls on its days: a clock that runs faster on busy weekdays, so
// that in its time use grows evenly. A whole week always counts seven days of it.
type rhythm struct {
	offset float64 // of the wall clock, days east of UTC
	// share of a week gone by the start of a weekday (Monday first), in days: 0 … 7
	upTo [8]float64
}

// What the weekday shares are learned from, and how slowly (chosen on the calibration benches).
const (
	rhythmDays    = 182 // days back
	rhythmLongest = 6   // days between two readings beyond which they say nothing of weekdays
	rhythmRounds  = 8
	rhythmPrior   = 3 // even days each weekday is taken to have been seen for
)

// mondayZero is the number of days from a Monday midnight to the Unix epoch, a Thursday.
const mondayZero = 3

// evenly is the clock of a week without a rhythm.
func evenly(now time.Time) rhythm {
	_, east := now.Zone()
	r := rhythm{offset: float64(east)/86400 + mondayZero}
	for d := range r.upTo {
		r.upTo[d] = float64(d)
	}
	return r
}

// days is a time as days since a Monday midnight by the wall clock.
func (r *rhythm) days(t time.Time) float64 {
	return float64(t.Unix())/86400 + float64(t.Nanosecond())/86400e9 + r.offset
}

// at is the reading of the clock at a time given by days.
func (r *rhythm) at(day float64) float64 {
	week := math.Floor(day / 7)
	in := day - 7*week
	d := min(6, int(in))
	return 7*week + r.upTo[d] + (r.upTo[d+1]-r.upTo[d])*(in-float64(d))
}

// when is the time, as days, at which the clock reads v: the inverse of at.
func (r *rhythm) when(v float64) float64 {
	week := math.Floor(v / 7)
	in := v - 7*week
	d := 0
	for d < 6 && r.upTo[d+1] < in {
		d++
	}
	share := r.upTo[d+1] - r.upTo[d]
	if share <= 0 {
		return 7*week + float64(d)
	}
	return 7*week + float64(d) + min(1, (in-r.upTo[d])/share)
}

// learn sets the weekday shares from readings a few days apart: the expectation-maximisation of a
// sum of seven Poisson rates of which only totals over known days are seen (Dempster, Laird and
// Rubin 1977; the same step is Richardson and Lucy's), with a gamma prior that draws every day to
// the mean. Readings a week apart hold whole weeks and leave the shares even.
func (r *rhythm) learn(pts []model.Point, rests []model.Rest) {
	var seen [rhythmDays]stretch
	n, used, days := 0, 0.0, 0.0
	last := r.days(pts[len(pts)-1].At)
	for i := len(pts) - 1; i > 0 && n < len(seen); i-- {
		a, b := r.days(pts[i-1].At), r.days(pts[i].At)
		if last-a > rhythmDays {
			break
		}
		if b-a > rhythmLongest || b <= a || model.RestedIn(rests, pts[i-1].At, pts[i].At) > 0 {
			continue
		}
		seen[n] = stretch{from: a, to: b, used: pts[i].Value - pts[i-1].Value}
		seen[n].split()
		used, days = used+seen[n].used, days+b-a
		n++
	}
	if n < 7 || used <= 0 {
		return
	}
	mean := used / days
	rate := [7]float64{mean, mean, mean, mean, mean, mean, mean}
	for range rhythmRounds {
		rate = step(seen[:n], rate, rhythmPrior*mean, rhythmPrior)
	}
	sum := 0.0
	for _, v := range rate {
		sum += v
	}
	for d, v := range rate {
		r.upTo[d+1] = r.upTo[d] + 7*v/sum
	}
	r.upTo[7] = 7
}

// step is one round of the expectation-maximisation.
func step(seen []stretch, rate [7]float64, priorUsed, priorDays float64) [7]float64 {
	var got, had [7]float64
	for i := range seen {
		s := &seen[i]
		sum := 0.0
		for k := range s.n {
			sum += s.share[k] * rate[s.day[k]]
		}
		if sum <= 0 {
			continue
		}
		for k := range s.n {
			d := s.day[k]
			got[d] += s.used * s.share[k] * rate[d] / sum
			had[d] += s.share[k]
		}
	}
	for d := range rate {
		rate[d] = (priorUsed + got[d]) / (priorDays + had[d])
	}
	return rate
}

// stretch is the use between two readings, and how much of each weekday lies between them.
type stretch struct {
	from, to, used float64
	n              int
	day            [rhythmLongest + 2]uint8
	share          [rhythmLongest + 2]float64
}

func (s *stretch) split() {
	for d := math.Floor(s.from); d < s.to; d++ {
		s.day[s.n] = uint8(int(d) % 7)
		s.share[s.n] = min(s.to, d+1) - max(s.from, d)
		s.n++
	}
}
