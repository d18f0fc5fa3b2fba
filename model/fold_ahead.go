package model

import (
	"slices"
	"time"
)

// aheadSlack is how far ahead of the clock an entry may be dated and still count at once: clocks
// differ, and are put right (from memory).
const aheadSlack = time.Hour

// AheadOf tells whether a time lies further ahead of the clock than clocks differ.
func AheadOf(at, now time.Time) bool { return at.After(now.Add(aheadSlack)) }

// Ahead tells whether the fold took in anything dated ahead of the clock. Then what it says is that
// of another day: the gauge of a part renewed under a clock that was wrong would be fresh until
// then.
func (m *Machine) Ahead(now time.Time) bool { return AheadOf(m.latest(), now) }

// latest is the latest time the fold took in.
func (m *Machine) latest() time.Time {
	out := m.LastAt
	for _, t := range []time.Time{m.Added, m.Described} {
		if t.After(out) {
			out = t
		}
	}
	if s := m.LastSession; s != nil && s.At.After(out) {
		out = s.At
	}
	return out
}

// Latest is the latest time anything on the bench is dated.
func (b *Bench) Latest() time.Time {
	var out time.Time
	for _, m := range b.Machines {
		if t := m.latest(); t.After(out) {
			out = t
		}
	}
	if t := b.Drawer.Latest(); t.After(out) {
		out = t
	}
	return out
}

// Latest is the latest time anything in the drawer is dated.
func (d Drawer) Latest() time.Time {
	var out time.Time
	for _, s := range d {
		if s.At.After(out) {
			out = s.At
		}
	}
	return out
}

// ByClock gives the entries to be folded at a time, in the journal's order, and those dated ahead
// of it that were not struck. Of these, what renews, closes, reads or counts is left out until its
// time comes. What warns stays: a finding, a tag, what is now due; so does what says what a machine
// is and how a session went. Its date becomes the latest it can have been: that of the first entry
// written behind it under a clock that was right, else now.
func ByClock(entries []Entry, struck map[string]bool, now time.Time) (kept, ahead []Entry) {
	es := slices.Clone(entries)
	slices.SortStableFunc(es, compareSeq)
	latest := now
	for i := len(es) - 1; i >= 0; i-- {
		e := es[i]
		if e.Written.Before(latest) {
			latest = e.Written
		}
		if !AheadOf(e.At, now) {
			kept = append(kept, e)
			continue
		}
		if ClassOf(e.Kind) == Dated && e.Kind != KindStrike && !struck[e.Action] {
			ahead = append(ahead, e)
		}
		if e.stands() {
			e.At = latest
			kept = append(kept, e)
		}
	}
	slices.Reverse(kept)
	slices.Reverse(ahead)
	return kept, ahead
}

// stands tells whether an entry counts though it is dated ahead of the clock.
func (e Entry) stands() bool {
	switch e.Kind {
	case KindFinding, KindDue, KindBooked, KindStrike:
		return true
	case KindTag:
		return e.Tag != nil && !e.Tag.Clear && e.Tag.Kind != ""
	}
	return ClassOf(e.Kind) != Dated
}
