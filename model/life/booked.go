package life

import (
	"time"

	"bench/oilcan/model"
)

// bookedBy is when the prints booked reach a level of a gauge's meter, run one after another from
// now on; false where they do not. A gauge on the calendar is not moved by them.
func (f *Forecaster) bookedBy(g *model.Gauge, level float64) (time.Time, bool) {
	left := level - g.Used
	if len(f.m.Booked) == 0 || left <= 0 || g.Meter == model.Days {
		return time.Time{}, false
	}
	at := f.now
	for _, b := range f.m.Booked {
		n := b.Need[g.Meter]
		if g.Meter == model.Cuts {
			if n = b.Need[model.Changes]; g.Why.Kind != model.WithoutStarts {
				n += b.Need[model.Starts]
			}
		}
		long := b.Need[model.Hours] * float64(time.Hour)
		if n >= left {
			return at.Add(time.Duration(long * left / n)), true
		}
		left -= n
		at = at.Add(time.Duration(long))
	}
	return time.Time{}, false
}

// sooner moves a date forward to where the prints booked reach the level, if that is before it; a
// date that is not known (nil, or zero) is.
func sooner(at, booked time.Time) time.Time {
	if at.IsZero() || booked.Before(at) {
		return booked
	}
	return at
}
