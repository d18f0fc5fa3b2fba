package model

import (
	"cmp"
	"time"
)

// limit is one interval of a procedure, measured.
type limit struct {
	meter           Meter
	word            GaugeWord
	used, low, high float64
	basis           string
	why             Reason
	unread          bool      // the meter was never read
	atMost          bool      // used is no more than that
	most            float64   // where unknown: all the machine has used
	since           *CareLast // what it counts from; nil: from the machine's first hour
}

// pendingTrigger is a procedure done since, after which this one is wanted.
type pendingTrigger struct {
	id   string
	care *CareLast
}

// shareWindow is how far back a share of the hours looks.
const shareWindow = 30 * 24 * time.Hour

// pending gives the triggers done later than the procedure itself, the latest first. What was told
// from memory when the machine was added sets off nothing where the procedure's own time is not
// known.
func pending(m *Machine, p *Procedure, fs FeatureSet) []pendingTrigger {
	var out []pendingTrigger
	own := m.Care[p.ID]
	for _, t := range p.Triggers {
		if !t.Only.OnMachine(fs, m.Settings) {
			continue
		}
		for _, id := range t.Done {
			c := m.Care[id]
			if c == nil || !c.Known {
				continue
			}
			if own != nil && own.Known {
				if !c.At.After(own.At) {
					continue
				}
			} else if c.Memory || c.Original {
				continue
			}
			pt := pendingTrigger{id, c}
			if len(out) > 0 && c.At.After(out[0].care.At) {
				out = append([]pendingTrigger{pt}, out...)
			} else {
				out = append(out, pt)
			}
		}
	}
	return out
}

// limitsOf measures every interval that holds on the machine. counted tells that a pending trigger
// starts a one-off count here, and so does not make the procedure due at once.
func limitsOf(m *Machine, p *Procedure, fs FeatureSet, pend []pendingTrigger, now time.Time) (
	out []limit, counted bool) {
	for i := range p.Intervals {
		iv := &p.Intervals[i]
		if !iv.Only.OnMachine(fs, m.Settings) || !whenHolds(m, iv.When, now) {
			continue
		}
		b, _ := BandOn(m, p, fs, i)
		if !(b.Low > 0) {
			continue
		}
		l := limit{meter: iv.Meter, low: b.Low, high: b.High, basis: b.Basis}
		switch {
		case !iv.Once:
			l.measure(m, m.Care[p.ID], now)
			out = append(out, l)
		case len(p.Triggers) > 0:
			counted = true
			for _, pt := range pend {
				one := l
				one.measure(m, pt.care, now)
				if one.why == (Reason{}) {
					one.why = Reason{AfterCare, pt.id}
				}
				out = append(out, one)
			}
		default:
			if l.fromNew(m, m.Care[p.ID]) {
				out = append(out, l)
			}
		}
	}
	return out, counted
}

// OwnRecord is the basis of a machine's own band.
const OwnRecord = "own record"

// BandOn is the band of a procedure's i-th interval on a machine: the machine's own, where it has
// one and the interval is the one that replaces, else by the machine's duty. High is no less than
// Low; Low is 0 where the file gives no band.
func BandOn(m *Machine, p *Procedure, fs FeatureSet, i int) (b Band, own bool) {
	iv := &p.Intervals[i]
	if o, ok := m.Bands[p.ID]; ok && o.Low > 0 && o.High >= o.Low &&
		i == OwnInterval(p, fs, m.Settings) {
		return Band{Low: o.Low, High: o.High, Basis: OwnRecord}, true
	}
	b = Band{Low: iv.Low, High: iv.High, Basis: iv.Basis}
	if iv.Meter == Days && iv.Production != nil && m.Duty == Production {
		b = Band{Low: iv.Production.Low, High: iv.Production.High,
			Basis: cmp.Or(iv.Production.Basis, iv.Basis)}
	}
	b.High = max(b.High, b.Low)
	return b, false
}

// governing is the limit that counts: the worst word, then the greatest fraction, then the first. A
// limit that cannot be measured gives way to any that can, save to one that is only bounded: where
// all the machine has used reaches the band by one meter, it is no use that it does not by another.
func governing(ls []limit) *limit {
	var best *limit
	for i := range ls {
		l := &ls[i]
		switch {
		case best == nil:
			best = l
		case l.word == WordUnknown:
			if best.atMost && l.why.Kind == LastUnknown {
				best = l
			}
		case best.word == WordUnknown:
			if !l.atMost || best.why.Kind != LastUnknown {
				best = l
			}
		case l.word.Rank() < best.word.Rank(),
			l.word == best.word && l.used/l.low > best.used/best.low:
			best = l
		}
	}
	return best
}

// measure sets how much is used since the care, and the word.
func (l *limit) measure(m *Machine, c *CareLast, now time.Time) {
	l.word = WordUnknown
	if c == nil || !c.Known {
		l.bound(m, now)
		return
	}
	used, why, ok := usedSince(m, c, l.meter, now)
	l.why = why
	switch {
	case !ok && c.Undated && l.meter == Days:
		l.bound(m, now)
		return
	case !ok:
		l.unread = why.Kind == NeverRead
		return
	}
	l.since, l.used = c, used
	l.word = wordFor(used, l.low, l.high)
}

// bound measures a limit whose last time is not known: no part is older than its machine, so where
// all that the machine has used does not reach the band, it is at most that. What is not so bounded
// stays unknown.
func (l *limit) bound(m *Machine, now time.Time) {
	age := &CareLast{Known: true, Original: true}
	used, why, ok := usedSince(m, age, l.meter, now)
	switch {
	case ok && used < l.low:
		l.since, l.used, l.atMost = age, used, true
		l.word, l.why = wordFor(used, l.low, l.high), why
	case !ok && why.Kind == NeverRead:
		l.why = why
	default:
		l.why, l.most = Reason{Kind: LastUnknown}, used
	}
}

// fromNew measures a one-off limit without a trigger: the first hours of a new machine, until done
// once. It says nothing of a machine that came to the bench beyond them.
func (l *limit) fromNew(m *Machine, c *CareLast) bool {
	s := m.Readings[l.meter]
	if c != nil && c.Known || s == nil || s.N == 0 || s.First.Value > l.high {
		return false
	}
	l.used = max(0, s.Last.Value)
	l.word, l.why = wordFor(l.used, l.low, l.high), Reason{Kind: FirstTime}
	return true
}

// wordFor names how far a limit is used up; low > 0, high >= low.
func wordFor(used, low, high float64) GaugeWord {
	switch {
	case used > high:
		return WordPast
	case used >= low:
		return WordDue
	case used/low >= WearingFrom:
		return WordWearing
	}
	return WordFresh
}

// usedSince is how far a meter went since care was done: its last reading (held) less its value
// then, never below nothing. why says what is missing.
func usedSince(m *Machine, c *CareLast, meter Meter, now time.Time) (used float64, why Reason,
	ok bool) {
	switch meter {
	case Days:
		switch {
		case c.Undated:
			return 0, Reason{Kind: LastUnknown}, false
		case !c.Original:
			return daysSince(m, c, now), Reason{}, true
		}
		if m.Bought.IsZero() {
			return 0, Reason{Kind: NotBought}, false
		}
		return daysSince(m, &CareLast{At: m.Bought}, now), Reason{}, true
	case Cuts:
		return cutsSince(m, c)
	}
	s := m.Readings[meter]
	if s == nil || s.N == 0 {
		return 0, Reason{NeverRead, string(meter)}, false
	}
	base, have := c.Base[meter]
	switch {
	case c.Original && (m.Recounts || s.Younger):
		return 0, Reason{Replaced, string(meter)}, false
	case !have && !c.Original:
		return 0, Reason{NotReadThen, string(meter)}, false
	}
	return max(0, s.Last.Value-base), Reason{}, true
}

// cutsSince adds changes and starts; without starts read, changes alone count and it says so.
func cutsSince(m *Machine, c *CareLast) (used float64, why Reason, ok bool) {
	used, why, ok = usedSince(m, c, Changes, time.Time{})
	if !ok {
		return used, why, false
	}
	starts, _, have := usedSince(m, c, Starts, time.Time{})
	if !have {
		return used, Reason{Kind: WithoutStarts}, true
	}
	return used + starts, Reason{}, true
}

// daysSince is the calendar as a meter: days since the care, less those the machine was out of use.
func daysSince(m *Machine, c *CareLast, now time.Time) float64 {
	rested := max(0, m.RestedBy(now)-c.Rested)
	return max(0, DaysBetween(c.At, now, now)-rested)
}

// whenHolds tells whether enough of the hours of the last 30 days were of the meter asked for.
func whenHolds(m *Machine, w *When, now time.Time) bool {
	if w == nil {
		return true
	}
	hours, part := grown(m.Readings[Hours], now.Add(-shareWindow)), grown(m.Readings[w.Meter],
		now.Add(-shareWindow))
	return hours > 0 && part/hours >= w.Share
}

// grown is how far a meter went since a time, by its readings.
func grown(s *Series, since time.Time) float64 {
	if s == nil || s.N == 0 {
		return 0
	}
	base, ok := s.At(since)
	if !ok {
		base = s.First.Value
	}
	return max(0, s.Last.Value-base)
}

// inDays is a duration in days of 24 hours.
func inDays(d time.Duration) float64 { return d.Hours() / 24 }
