package store

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"encoding/json"
	"math"
	"slices"

	bolt "go.etcd.io/bbolt"

	"bench/oilcan/model"
)

// A mark is a snapshot as it was behind an entry of the journal, kept now and then. The journal only
// grows, so what a mark says stays true. What is to be folded again, for something was struck or came
// late, is folded on from the newest mark that nothing written behind it reaches back over; where
// there is none, from the first entry. One that is harmed is passed over, and named by check.

// markEvery is over how many entries of the journal a machine and the drawer are marked again; over a
// part of that where they were folded again, which may have made the marks before useless.
const (
	markEvery = 8192
	markAgain = 16 // the part
)

// mark keeps a snapshot as a mark where the one before is long behind.
func (b *batch) mark(name string, snapshot any, refolded bool) error {
	end, every := b.tx.Bucket(journalBucket).Sequence(), b.every
	if refolded {
		every = max(1, every/markAgain)
	}
	if key, _ := markBefore(b.tx, name, math.MaxUint64); end-markedAt(key) < every {
		return nil
	}
	if _, err := b.tx.CreateBucketIfNotExists(markBucket); err != nil {
		return err
	}
	key := indexKey(name, end)
	rec, err := sealJSON(markBucket, key, snapshot)
	if err != nil {
		return err
	}
	return b.w.put(markBucket, key, rec)
}

// markBefore gives the newest mark under a name that stands before a place of the journal; nil where
// there is none.
func markBefore(tx *bolt.Tx, name string, place uint64) (key, record []byte) {
	b := tx.Bucket(markBucket)
	if b == nil {
		return nil, nil
	}
	c := b.Cursor()
	if k, _ := c.Seek(indexKey(name, place)); k == nil {
		key, record = c.Last()
	} else {
		key, record = c.Prev()
	}
	if len(key) != len(name)+9 || string(key[:len(name)]) != name || key[len(name)] != 0 {
		return nil, nil
	}
	return key, record
}

// markedAt is the place a mark's key ends with; 0 of none.
func markedAt(key []byte) uint64 {
	if key == nil {
		return 0
	}
	return binary.BigEndian.Uint64(key[len(key)-8:])
}

// marked is what a mark is of: a machine, or the drawer.
type marked struct {
	machine *model.Machine
	drawer  model.Drawer
}

// foldAll folds all entries under a name.
func foldAll(name string, entries []model.Entry, struck map[string]bool) marked {
	if name == drawerKey {
		return marked{drawer: model.FoldDrawer(entries, struck)}
	}
	return marked{machine: model.FoldMachine(name, entries, struck)}
}

// readMark reads a mark's record; it holds nothing where that cannot be gone by.
func readMark(name string, key, record []byte) (m marked) {
	if name == drawerKey {
		var s drawerSnapshot
		if unsealJSON(markBucket, key, record, &s) == nil && s.Fold == foldNow {
			m.drawer = s.Drawer
		}
		return m
	}
	var s machineSnapshot
	if unsealJSON(markBucket, key, record, &s) == nil && s.Fold == foldNow &&
		s.Machine != nil && s.Machine.ID == name {
		m.machine = s.Machine
	}
	return m
}

// foldOn folds entries behind a mark into it, and tells whether that is what folding all gives.
func (m marked) foldOn(behind []model.Entry, struck map[string]bool) bool {
	switch {
	case m.machine != nil:
		return model.FoldOn(m.machine, behind, struck)
	case m.drawer != nil:
		return m.drawer.FoldOn(behind, struck)
	}
	return false
}

// snapshot is the content of a mark's record.
func (m marked) snapshot() any {
	if m.machine != nil {
		return machineSnapshot{foldNow, m.machine}
	}
	return drawerSnapshot{foldNow, m.drawer}
}

// foldedUpTo folds what stands under a name up to a place of the journal, given all strikes, from the
// newest mark before that place that still holds.
func foldedUpTo(tx *bolt.Tx, name string, strikes []model.Entry, upTo uint64) (marked, error) {
	struck, reach := struckUpTo(strikes, upTo), upTo
	var behind []model.Entry
	for from, tries := upTo, 0; from > 0; {
		key, record := markBefore(tx, name, min(from, reach))
		if tries == mostTries {
			key = nil
		}
		more, err := entriesBetween(tx, name, markedAt(key), from)
		if err != nil {
			return marked{}, err
		}
		if reach, err = reachOf(tx, more, reach); err != nil {
			return marked{}, err
		}
		behind, from = append(more, behind...), markedAt(key)
		if key == nil || from >= reach {
			continue
		}
		tries++
		if m := readMark(name, key, record); m.foldOn(behind, struck) {
			return m, nil
		}
	}
	return foldAll(name, behind, struck), nil
}

// struckUpTo gives the actions that did not count at a place of the journal.
func struckUpTo(strikes []model.Entry, upTo uint64) map[string]bool {
	n := len(strikes)
	for n > 0 && strikes[n-1].Seq > upTo {
		n--
	}
	return model.Struck(strikes[:n])
}

// mostTries is how many marks are tried for what came late, before all is folded.
const mostTries = 8

// entriesBetween gives the entries under a name behind one place of the journal and up to another.
func entriesBetween(tx *bolt.Tx, name string, behind, upTo uint64) ([]model.Entry, error) {
	var seqs []uint64
	err := eachKeyFrom(tx, machineIndex, append([]byte(name), 0), seqKey(behind+1),
		func(tail []byte) bool {
			if len(tail) != 8 || binary.BigEndian.Uint64(tail) > upTo {
				return false
			}
			seqs = append(seqs, binary.BigEndian.Uint64(tail))
			return true
		})
	if err != nil {
		return nil, err
	}
	return readEntries(tx, seqs)
}

// reachOf is the first entry that the strikes among some entries strike or put back, where it is
// before the one so far.
func reachOf(tx *bolt.Tx, entries []model.Entry, reach uint64) (uint64, error) {
	for _, e := range entries {
		if e.Strike == nil {
			continue
		}
		struck, err := indexed(tx, actionIndex, e.Strike.Action)
		if err != nil {
			return 0, err
		}
		reach = slices.Min(append(struck, reach))
	}
	return reach, nil
}

// compareMarks compares the marks with what the journal says up to their places: each is folded on
// from the one before it.
func (c *checker) compareMarks() error {
	b := c.tx.Bucket(markBucket)
	if b == nil {
		return nil
	}
	strikes, err := entriesOf(c.tx, machineIndex, strikesKey)
	if err != nil {
		return err
	}
	name, last, at := "", uint64(0), marked{}
	return b.ForEach(func(k, v []byte) error {
		if len(k) < 9 || string(k[:len(k)-9]) != name {
			name, last, at = string(k[:max(0, len(k)-9)]), 0, marked{}
			dropPages(c.tx)
		}
		at, err = at.upTo(c.tx, name, strikes, last, markedAt(k))
		got, e := unseal(markBucket, k, v)
		data, e2 := json.Marshal(at.snapshot())
		if err = cmp.Or(err, e, e2); err == nil && !bytes.Equal(got, data) {
			err = damaged("the mark %s differs from what the journal says", shown(k))
		}
		if last = markedAt(k); err != nil {
			c.problem("%v.", err)
		}
		return nil
	})
}

// upTo folds what was folded up to a place of the journal up to a later one.
func (m marked) upTo(tx *bolt.Tx, name string, strikes []model.Entry, from, place uint64) (marked,
	error) {
	more, err := entriesBetween(tx, name, from, place)
	if err != nil {
		return m, err
	}
	reach, err := reachOf(tx, more, place)
	if err != nil {
		return m, err
	}
	if reach > from && m.foldOn(more, struckUpTo(strikes, place)) {
		return m, nil
	}
	return foldedUpTo(tx, name, strikes, place)
}
