package store

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"errors"
	"slices"
	"strings"
	"time"

	bolt "go.etcd.io/bbolt"

	"bench/oilcan/model"
)

// Two indexes are for people: of a machine by when things happened, and by the end of an id. They are
// never believed over the journal: a record says up to which entry they were kept, every key read has
// a sum, and leads to an entry that must ask for it. Where they lack anything, as in a file that an
// older program wrote to, the journal is read instead, and the next to open the file for writing
// completes them.

// indexedKey stands in the bucket meta, which every transaction writes anyway: up to which entry the
// two indexes were kept.
var indexedKey = []byte("indexed")

// describedKey and a machine's id is in the index by time: what describes the machine.
const describedKey = "*described/"

// ixKey is a key of an index.
type ixKey struct{ bucket, key []byte }

// forPeople tells a key of the two indexes above; the others are for the fold.
func (k ixKey) forPeople() bool {
	return bytes.Equal(k.bucket, timeIndex) || bytes.Equal(k.bucket, idIndex)
}

func (k ixKey) forFold() bool { return !k.forPeople() }

// seq is the place of the entry the key leads to.
func (k ixKey) seq() uint64 { return binary.BigEndian.Uint64(k.key[len(k.key)-8:]) }

// indexKeys are the keys of an entry in all indexes. A walk fact changes only its session and is found
// by that. A strike stands with all that the struck action touched.
func indexKeys(e model.Entry, struck touches) (out []ixKey) {
	if e.Kind == model.KindWalk {
		return nil
	}
	for _, name := range places(e, struck) {
		out = append(out, ixKey{machineIndex, indexKey(name, e.Seq)})
		if !strings.HasPrefix(name, "*") {
			out = append(out, ixKey{timeIndex, timeKey(name, e.At, e.Seq)})
		}
	}
	if e.Fact.Machine != nil {
		out = append(out, ixKey{timeIndex, timeKey(describedKey+e.Machine, e.At, e.Seq)})
	}
	if model.ClassOf(e.Kind) == model.Dated {
		out = append(out, ixKey{actionIndex, indexKey(e.Action, e.Seq)})
	}
	return append(out, ixKey{idIndex, indexKey(backwards(e.ID), e.Seq)})
}

// places gives the names under which an entry stands in the machine index.
func places(e model.Entry, struck touches) []string {
	var out []string
	switch e.Kind {
	case model.KindStrike:
		out = append(out, strikesKey)
		if struck.drawer {
			out = append(out, drawerKey)
		}
		for _, id := range struck.machines {
			if id != e.Machine {
				out = append(out, id)
			}
		}
	case model.KindStock:
		out = append(out, drawerKey)
	case model.KindFinding, model.KindSettled, model.KindMoved:
		out = append(out, findingsKey+e.Machine)
	}
	if e.Machine != "" {
		out = append(out, e.Machine)
	}
	return out
}

// timeKey puts a name's entries in the order they happened, those of one instant as they were
// written.
func timeKey(name string, at time.Time, seq uint64) []byte {
	k := append(make([]byte, 0, len(name)+17), name...)
	k = append(k, 0)
	k = binary.BigEndian.AppendUint64(k, uint64(at.UnixMilli())^1<<63)
	return binary.BigEndian.AppendUint64(k, seq)
}

// backwards is an id in capitals, its end first.
func backwards(id string) string {
	b := []byte(strings.ToUpper(id))
	slices.Reverse(b)
	return string(b)
}

// indexedTo is up to which entry the indexes for people were kept; 0 where nothing says so.
func indexedTo(tx *bolt.Tx) (seq uint64) {
	v := tx.Bucket(metaBucket).Get(indexedKey)
	if v == nil || tx.Bucket(timeIndex) == nil || tx.Bucket(idIndex) == nil ||
		unsealJSON(metaBucket, indexedKey, v, &seq) != nil {
		return 0
	}
	return seq
}

// indexesKept tells whether the indexes for people hold all of the journal.
func indexesKept(tx *bolt.Tx) bool {
	return tx.Bucket(timeIndex) != nil && tx.Bucket(idIndex) != nil &&
		indexedTo(tx) == tx.Bucket(journalBucket).Sequence()
}

func putIndexedTo(w writing, seq uint64) error {
	rec, err := sealJSON(metaBucket, indexedKey, seq)
	if err != nil {
		return err
	}
	return w.put(metaBucket, indexedKey, rec)
}

// keepIndexes completes the indexes for people, or makes them anew where one is bad. It walks all
// pages before: making a bucket anew frees whatever its pages say is theirs.
func (s *Store) keepIndexes() error {
	kept := false
	err := transact(s.path, access{write: true, wait: s.wait}, func(tx *bolt.Tx, _ state) error {
		w := writing{Tx: tx}
		end := tx.Bucket(journalBucket).Sequence()
		if err := checkEnd(tx.Bucket(journalBucket), end); err != nil {
			return err
		}
		if from := indexedTo(tx); !s.badIndex && from > 0 && from <= end {
			return nil
		}
		s.badIndex = false
		return emptyIndexes(w)
	})
	for err == nil && !kept {
		how := access{write: true, wait: s.wait, proof: &s.proof}
		err = transact(s.path, how, func(tx *bolt.Tx, st state) (err error) {
			kept, err = completeIndexes(writing{tx, st.guard})
			return err
		})
	}
	return err
}

// dropIndexes empties the indexes for people, and the marks, of a file that may come from anywhere: the
// next to open it makes them of its journal.
func dropIndexes(path string) error {
	return transact(path, access{write: true}, func(tx *bolt.Tx, _ state) error {
		w := writing{Tx: tx}
		return cmp.Or(emptyBuckets(w, markBucket), emptyIndexes(w))
	})
}

func emptyIndexes(w writing) error {
	return cmp.Or(emptyBuckets(w, timeIndex, idIndex), putIndexedTo(w, 0))
}

// mostKeys is how many keys, about, a transaction puts into an index. They are put in order: bbolt
// keeps what a transaction puts into one page in one list, and divides it at the end.
const mostKeys = 32 << 10

// completeIndexes puts into the indexes for people what was written behind them, or a part of it, and
// tells whether that was all.
func completeIndexes(w writing) (all bool, err error) {
	from, end := indexedTo(w.Tx), w.Bucket(journalBucket).Sequence()
	var keys []ixKey
	err = decodeAll(w.Tx, notSteps(w.Bucket(journalBucket).Cursor(), from),
		func(_ []byte, e linked, err error) error {
			if err != nil {
				return err
			}
			if len(keys) > mostKeys {
				end = e.Seq - 1
				return errEnough
			}
			var t touches
			if e.Strike != nil {
				if t, _, err = touchesOf(w.Tx, e.Strike.Action); err != nil {
					return err
				}
			}
			keys = append(keys, slices.DeleteFunc(indexKeys(e.Entry, t), ixKey.forFold)...)
			return nil
		})
	if err != nil && !errors.Is(err, errEnough) {
		return false, err
	}
	if err := putInOrder(w, keys); err != nil {
		return false, err
	}
	return end == w.Bucket(journalBucket).Sequence(), putIndexedTo(w, end)
}

// putInOrder puts index keys, each behind the one before it.
func putInOrder(w writing, keys []ixKey) error {
	slices.SortFunc(keys, func(a, b ixKey) int {
		return cmp.Or(bytes.Compare(a.bucket, b.bucket), bytes.Compare(a.key, b.key))
	})
	for _, k := range keys {
		if err := putIndex(w, k.bucket, k.key); err != nil {
			return err
		}
	}
	return nil
}

// notSteps gives the records of a journal behind an entry, without the steps of sessions.
func notSteps(c *bolt.Cursor, behind uint64) func() (k, v []byte) {
	k, v := c.Seek(seqKey(behind + 1))
	return func() (key, value []byte) {
		for k != nil && rawField(v, rawKind) == string(model.KindWalk) {
			k, v = c.Next()
		}
		if key, value = k, v; k != nil {
			k, v = c.Next()
		}
		return key, value
	}
}

// emptyBuckets makes buckets that are empty.
func emptyBuckets(w writing, names ...[]byte) error {
	for _, name := range names {
		if w.Bucket(name) != nil {
			if err := w.DeleteBucket(name); err != nil {
				return err
			}
		}
		if _, err := w.CreateBucket(name); err != nil {
			return err
		}
	}
	return nil
}
