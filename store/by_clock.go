package store

import (
	"fmt"
	"time"

	bolt "go.etcd.io/bbolt"

	"bench/oilcan/model"
)

// What stands in the file is the fold of all entries, whatever they are dated. What is shown is the
// fold by the clock: an entry dated ahead of it, written while the clock was wrong, would else
// silence its gauge until then.

// holds tells whether what is shown is still that of the clock.
func (c *cache) holds(now time.Time) bool {
	if c.shown == c.bench {
		return !model.AheadOf(c.bench.Latest(), now)
	}
	return !now.Before(c.asOf) && model.AheadOf(c.until, now)
}

// byClock makes what is shown at a time of the bench as read.
func (c *cache) byClock(tx *bolt.Tx, now time.Time) error {
	c.shown, c.asOf = c.bench, now
	if !model.AheadOf(c.bench.Latest(), now) {
		return nil
	}
	struck, err := struckActions(tx)
	if err != nil {
		return err
	}
	shown := &model.Bench{Machines: map[string]*model.Machine{}, Sessions: c.bench.Sessions,
		Drawer: c.bench.Drawer}
	for id, m := range c.bench.Machines {
		if m.Ahead(now) {
			if m, err = machineBy(tx, id, struck, now, shown); err != nil {
				return err
			}
		}
		shown.Machines[id] = m
	}
	if model.AheadOf(c.bench.Drawer.Latest(), now) {
		entries, err := entriesOf(tx, machineIndex, drawerKey)
		if err != nil {
			return err
		}
		kept, ahead := model.ByClock(entries, struck, now)
		shown.Drawer = model.FoldDrawer(kept, struck)
		for _, e := range ahead {
			if e.Machine == "" { // the others are told with their machine
				shown.Ahead = append(shown.Ahead, e)
			}
		}
	}
	c.shown, c.until = shown, soonest(shown.Ahead, c.bench.Latest())
	return nil
}

// machineBy folds a machine as of a time, and adds what is ahead of it to the bench shown.
func machineBy(tx *bolt.Tx, id string, struck map[string]bool, now time.Time, shown *model.Bench) (
	*model.Machine, error) {
	entries, err := entriesOf(tx, machineIndex, id)
	if err != nil {
		return nil, err
	}
	kept, ahead := model.ByClock(entries, struck, now)
	shown.Ahead = append(shown.Ahead, ahead...)
	m := model.FoldWhole(id, kept, struck)
	if m == nil {
		return nil, damaged("the entries of machine %s do not say what it is", id)
	}
	return m, nil
}

// soonest is when the first of the entries ahead comes to count.
func soonest(ahead []model.Entry, latest time.Time) time.Time {
	for _, e := range ahead {
		if e.At.Before(latest) {
			latest = e.At
		}
	}
	return latest
}

// longUnused is after how long without an entry a clock that has jumped is likelier than a bench
// that was left alone.
const longUnused = 2 * 365 * 24 * time.Hour

// ClockWarning says in a sentence what speaks against the clock, by when the latest entry was
// written as the file was opened; "" where nothing does.
func (s *Store) ClockWarning() string {
	now, last := s.now(), s.lastWritten
	switch {
	case last.IsZero():
	case model.AheadOf(last, now):
		return fmt.Sprintf("the clock of this computer says %s, but the latest entry was written on %s: set the clock right before anything is logged, or strike what was logged while it was wrong",
			model.Stamp(now, now), model.Day(last, now))
	case now.Sub(last) > longUnused:
		return fmt.Sprintf("the clock of this computer says %s, and the latest entry was written on %s: look whether the clock is right before anything is logged",
			model.Stamp(now, now), model.Day(last, now))
	}
	return ""
}

// writtenLast is when the latest entry was written; zero where there is none that can be read,
// which is said where it is needed.
func writtenLast(tx *bolt.Tx) time.Time {
	journal := tx.Bucket(journalBucket)
	if journal == nil {
		return time.Time{}
	}
	k, v := journal.Cursor().Last()
	if k == nil {
		return time.Time{}
	}
	e, err := decodeEntry(k, v)
	if err != nil {
		return time.Time{}
	}
	return e.Written
}
