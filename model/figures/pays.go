package figures

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mathext"

	"bench/oilcan/model"
)

// Rate is how often something happens in hours printed, with the interval that holds the true rate
// with 95 %.
type Rate struct {
	Times  int      `json:"times"`
	Hours  float64  `json:"hours"`
	Per100 *float64 `json:"per_100_hours"` // null without hours
	Low    *float64 `json:"low"`           // of the interval, per 100 hours
	High   *float64 `json:"high"`
}

// confidence is that of every interval here.
const confidence = 0.95

func rate(times int, hours float64) Rate {
	r := Rate{Times: times, Hours: hours}
	if hours > 0 {
		mean := 100 / hours * float64(times)
		low, high := Poisson(times, confidence)
		low, high = low*100/hours, high*100/hours
		r.Per100, r.Low, r.High = &mean, &low, &high
	}
	return r
}

// Poisson is the exact central interval of the mean of a Poisson count from 0 on, with a confidence
// in (0, 1): half of the chi-square quantiles of 2n and 2n+2 degrees of freedom (Garwood 1936,
// "Fiducial limits for the Poisson distribution", Biometrika 28).
func Poisson(count int, confidence float64) (low, high float64) {
	tail := (1 - confidence) / 2
	if count > 0 {
		low = mathext.GammaIncRegInv(float64(count), tail)
	}
	return low, mathext.GammaIncRegCompInv(float64(count)+1, tail)
}

// Shown is whether two rates are told apart.
type Shown string

// What the intervals of two rates show.
const (
	NotShown Shown = "not shown" // they overlap, or there are no hours on one side
	Fewer    Shown = "fewer after"
	More     Shown = "more after"
)

// Pays is how often prints failed before some care and after it.
type Pays struct {
	// "" for any session and any reason; of a procedure those reasons count that it may cure
	Procedure string `json:"procedure"`
	Title     string `json:"title"`
	Times     int    `json:"times"` // done
	Before    Rate   `json:"before"`
	After     Rate   `json:"after"`
	Shown     Shown  `json:"shown"`
}

// Window is how many hours printed before and after care count at most; none counts that lies
// nearer to another time of it.
const Window = 100

// AnySession is the title of the row of all sessions and reasons.
const AnySession = "any session"

// pays sets prints that failed before care beside those after it: of any session, and of each
// procedure done that may cure one of the reasons.
func (s *sum) pays(failed []event) {
	x := s.Machine.Readings[model.Hours]
	if len(failed) == 0 || x == nil {
		return
	}
	from := max(0, x.First.Value)
	if v, ok := x.At(s.first); ok {
		from = v
	}
	if p, ok := beside("", AnySession, s.sessions, failed, from, x.Last.Value); ok {
		s.out.Pays = append(s.out.Pays, p)
	}
	var rows []Pays
	for _, p := range s.Procs {
		cures := slices.DeleteFunc(slices.Clone(failed), func(f event) bool {
			return !slices.ContainsFunc(p.Symptoms, func(c model.Cure) bool {
				return c.Name == f.what
			})
		})
		done := slices.DeleteFunc(slices.Clone(s.cares), func(c event) bool {
			return c.what != p.ID
		})
		if row, ok := beside(p.ID, p.Title, done, cures, from, x.Last.Value); ok &&
			row.Before.Times+row.After.Times > 0 {
			rows = append(rows, row)
		}
	}
	slices.SortStableFunc(rows, func(a, b Pays) int {
		return cmp.Or(cmp.Compare(b.told(), a.told()),
			cmp.Compare(b.Before.Times+b.After.Times, a.Before.Times+a.After.Times),
			cmp.Compare(a.Title, b.Title))
	})
	s.out.Pays = append(s.out.Pays, rows...)
}

// told is 1 where the two rates are told apart.
func (p Pays) told() int {
	if p.Shown == NotShown {
		return 0
	}
	return 1
}

// beside counts what failed within the window before and after each time of care, between two
// values of the meter; false where it was done at no known hour.
func beside(id, title string, done, failed []event, from, to float64) (Pays, bool) {
	done = slices.DeleteFunc(slices.Clone(done), func(e event) bool { return e.hours < 0 })
	slices.SortStableFunc(done, event.compare)
	var hours [2]float64 // before, after
	for i, d := range done {
		low, high := max(from, d.hours-Window), min(to, d.hours+Window)
		if i > 0 {
			low = max(low, (done[i-1].hours+d.hours)/2)
		}
		if i < len(done)-1 {
			high = min(high, (done[i+1].hours+d.hours)/2)
		}
		hours[0] += d.hours - low
		hours[1] += high - d.hours
	}
	var times [2]int
	for _, f := range failed {
		if side := sideOf(f, done); side >= 0 {
			times[side]++
		}
	}
	p := Pays{Procedure: id, Title: title, Times: len(done), Before: rate(times[0], hours[0]),
		After: rate(times[1], hours[1])}
	p.Shown = compared(p.Before, p.After)
	return p, len(done) > 0
}

// compared says what two rates show.
func compared(before, after Rate) Shown {
	switch {
	case before.High == nil || after.High == nil:
	case *after.High < *before.Low:
		return Fewer
	case *after.Low > *before.High:
		return More
	}
	return NotShown
}

// CanTell tells whether as many failures could have shown anything, all of them on one side.
func (p Pays) CanTell() bool {
	all, b, a := p.Before.Times+p.After.Times, p.Before.Hours, p.After.Hours
	return compared(rate(all, b), rate(0, a)) != NotShown || compared(rate(0, b), rate(all, a)) != NotShown
}

// compare orders events by the meter, and those at one value by the time.
func (e event) compare(o event) int {
	return cmp.Or(cmp.Compare(e.hours, o.hours), e.at.Compare(o.at))
}

// sideOf tells whether a failure counts before (0) or after (1) the care nearest to it, -1 where
// none is within the window.
func sideOf(f event, done []event) int {
	i, _ := slices.BinarySearchFunc(done, f, event.compare)
	before, after := math.Inf(1), math.Inf(1)
	if i < len(done) {
		before = done[i].hours - f.hours
	}
	if i > 0 {
		after = f.hours - done[i-1].hours
	}
	switch {
	case min(before, after) > Window:
		return -1
	case before <= after:
		return 0
	}
	return 1
}
