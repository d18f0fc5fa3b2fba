package store

import (
	"bytes"
	"encoding/binary"
	"slices"
	"time"

	bolt "go.etcd.io/bbolt"

	"bench/oilcan/model"
)

// The buckets. The journal is the truth; all others but texts and meta can be made from it again.
var (
	metaBucket    = []byte("meta")    // one record: what the file is
	journalBucket = []byte("journal") // sequence number -> entry
	// machine id, or a name below, 0, sequence -> sum of the key
	machineIndex = []byte("by-machine")
	// action id, 0, sequence -> sum of the key; dated facts only
	actionIndex = []byte("by-action")
	// machine id, 0, time, sequence -> sum of the key; none of the steps of sessions
	timeIndex = []byte("by-time")
	// entry id backwards, 0, sequence -> sum of the key; none of the steps of sessions
	idIndex       = []byte("by-id")
	machineBucket = []byte("machines") // machine id -> snapshot; the drawer's beside them
	// session id -> snapshot of a begun session, its latest entry
	sessionBucket = []byte("begun")
	closedBucket  = []byte("closed") // session id -> latest entry of a closed session
	textBucket    = []byte("texts")  // content hash -> text
	// machine id, or the drawer's name, 0, sequence -> snapshot as it was behind that entry
	markBucket = []byte("marks")
)

var allBuckets = [][]byte{metaBucket, journalBucket, machineIndex, actionIndex, timeIndex,
	idIndex, machineBucket, sessionBucket, closedBucket, textBucket, markBucket}

// Names that stand beside the machine and session ids; no id begins with a star.
const (
	drawerKey  = "*drawer"  // in the machine index its stock moves, among the machines its snapshot
	strikesKey = "*strikes" // in the machine index: strikes, whatever they strike
	countName  = "*count"   // among snapshots: how many there are

	// and a machine's id, in the machine index: what notes, moves or closes a finding
	findingsKey = "*findings/"
)

// fullPages is how full bbolt leaves pages of keys that only grow.
const fullPages = 0.9

const (
	appID     = "oilcan"
	schemaNow = 3 // of the buckets and records
	foldNow   = 9 // of the snapshots: raise it when the fold changes
)

var metaKey = []byte("meta")

// meta says what a file is.
type meta struct {
	App     string    `json:"app"`
	Schema  int       `json:"schema"`
	Fold    int       `json:"fold"`
	Created time.Time `json:"created"`
	// when the copy was made; zero in a file that is worked with
	Backup time.Time `json:"backup,omitzero"`
}

func readMeta(tx *bolt.Tx) (meta, error) {
	var m meta
	b := tx.Bucket(metaBucket)
	if b == nil {
		return m, damaged("%s", errAlien)
	}
	v := b.Get(metaKey)
	if v == nil {
		return m, damaged("%s", errAlien)
	}
	if err := unsealJSON(metaBucket, metaKey, v, &m); err != nil {
		return m, err
	}
	if m.App != appID {
		return m, damaged("%s", errAlien)
	}
	return m, nil
}

func writeMeta(w writing, m meta) error {
	rec, err := sealJSON(metaBucket, metaKey, m)
	if err != nil {
		return err
	}
	return w.put(metaBucket, metaKey, rec)
}

// current reads the meta record and refuses what this program cannot work with.
func current(tx *bolt.Tx, path string, schema int) (meta, error) {
	m, err := readMeta(tx)
	if err != nil {
		return m, err
	}
	if m.Schema > schema {
		return m, say(ErrNewer, nil,
			"%s was written by a newer oilcan (data schema %d, this one knows %d): use that one, nothing was changed", path, m.Schema, schema)
	}
	return m, nil
}

func seqKey(seq uint64) []byte { return binary.BigEndian.AppendUint64(nil, seq) }

func indexKey(id string, seq uint64) []byte {
	k := make([]byte, 0, len(id)+9)
	k = append(k, id...)
	k = append(k, 0)
	return binary.BigEndian.AppendUint64(k, seq)
}

// putIndex writes an index key. Its value is a sum of the key: a key that was changed on the disk
// would otherwise simply be one that is not found.
func putIndex(w writing, bucket, key []byte) error {
	return w.put(bucket, key, keySum(bucket, key))
}

func keySum(bucket, key []byte) []byte {
	return binary.BigEndian.AppendUint32(nil, recordSum(bucket, key, make([]byte, recordHead)))
}

// indexed gives the sequence numbers under one id, ascending.
func indexed(tx *bolt.Tx, bucket []byte, id string) ([]uint64, error) {
	var out []uint64
	err := eachKey(tx, bucket, append([]byte(id), 0), func(tail []byte) bool {
		if len(tail) == 8 {
			out = append(out, binary.BigEndian.Uint64(tail))
		}
		return len(tail) == 8
	})
	return out, err
}

// eachKey goes over the keys of an index with a prefix, ascending, as long as more are wanted, and
// gives what follows the prefix. The keys on both sides are checked too: one of them may be what is
// left of a key that belongs here.
func eachKey(tx *bolt.Tx, bucket, prefix []byte, more func(tail []byte) bool) error {
	return eachKeyFrom(tx, bucket, prefix, nil, more)
}

// eachKeyFrom is eachKey from a tail on.
func eachKeyFrom(tx *bolt.Tx, bucket, prefix, from []byte, more func(tail []byte) bool) error {
	first := slices.Concat(prefix, from)
	c := tx.Bucket(bucket).Cursor()
	k, v := c.Seek(first)
	if k != nil && bytes.Compare(k, first) < 0 {
		return damaged("the index %s is out of order", bucket)
	}
	for ; k != nil; k, v = c.Next() {
		if !bytes.Equal(v, keySum(bucket, k)) {
			return damaged("the index %s holds a key that was not written", bucket)
		}
		if !bytes.HasPrefix(k, prefix) || !more(k[len(prefix):]) {
			break
		}
	}
	c.Seek(first)
	if k, v = c.Prev(); k != nil &&
		(bytes.Compare(k, first) >= 0 || !bytes.Equal(v, keySum(bucket, k))) {
		return damaged("the index %s is out of order", bucket)
	}
	return nil
}

// entriesOf gives the entries under one id of an index, in the journal's order.
func entriesOf(tx *bolt.Tx, bucket []byte, id string) ([]model.Entry, error) {
	seqs, err := indexed(tx, bucket, id)
	if err != nil {
		return nil, err
	}
	return readEntries(tx, seqs)
}

// readLinked reads one entry of the journal.
func readLinked(journal *bolt.Bucket, seq uint64) (linked, error) {
	key := seqKey(seq)
	return decodeEntry(key, journal.Get(key))
}

func decodeEntry(key, value []byte) (linked, error) {
	var e linked
	if len(key) != 8 {
		return e, damaged("the journal holds a key that is no number")
	}
	if value == nil {
		return e, damaged("entry %d is missing", binary.BigEndian.Uint64(key))
	}
	if err := unsealJSON(journalBucket, key, value, &e); err != nil {
		return e, err
	}
	if e.Seq != binary.BigEndian.Uint64(key) {
		return e, damaged("entry %d stands in the place of entry %d", e.Seq,
			binary.BigEndian.Uint64(key))
	}
	if e.V > model.EntryVersion {
		return e, say(ErrNewer, nil,
			"entry %d has format %d, which this oilcan does not know: use the newer one that wrote it", e.Seq, e.V)
	}
	return e, nil
}

func readEntries(tx *bolt.Tx, seqs []uint64) ([]model.Entry, error) {
	journal, read := tx.Bucket(journalBucket), 0
	out := make([]model.Entry, 0, len(seqs))
	err := decodeAll(tx, func() (k, v []byte) {
		if read == len(seqs) {
			return nil, nil
		}
		k = seqKey(seqs[read])
		read++
		return k, journal.Get(k)
	}, func(_ []byte, e linked, err error) error {
		out = append(out, e.Entry)
		return err
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}
