package store

import (
	"bytes"
	"maps"
	"slices"

	bolt "go.etcd.io/bbolt"

	"bench/oilcan/model"
)

// The entries of a session are linked backwards: each names the one before it, the session's record
// the last one. So a step of a walk costs no index page, and no step can vanish unnoticed.

// linked is an entry as it stands in the journal.
type linked struct {
	model.Entry
	Prev uint64 `json:"prev,omitempty"` // place of the session's entry before this one
}

// sessionRecord is the record of a begun session: its snapshot, and the place of its latest entry.
type sessionRecord struct {
	Fold    int            `json:"fold"`
	Last    uint64         `json:"last"`
	Session *model.Session `json:"session"`
}

// load is loadSession with a memory. The session given may be changed by the caller.
func (m *warm) load(tx *bolt.Tx, id string) (*model.Session, uint64, error) {
	v := tx.Bucket(sessionBucket).Get([]byte(id))
	if v != nil && m.session != nil && m.session.ID == id && bytes.Equal(v, m.sessionRaw) {
		s := *m.session
		s.Latched = maps.Clone(s.Latched)
		return &s, m.last, nil
	}
	return loadSession(tx, id)
}

// put is putSession, and remembers what it wrote.
func (m *warm) put(w writing, id string, s *model.Session, last uint64) error {
	m.session = nil
	if err := putSession(w, id, s, last); err != nil || s == nil {
		return err
	}
	m.sessionRaw, m.session, m.last = bytes.Clone(w.Bucket(sessionBucket).Get([]byte(id))), s, last
	return nil
}

func putSession(w writing, id string, s *model.Session, last uint64) error {
	if err := putSnapshot(w, sessionBucket, id, sessionRecord{foldNow, last, s},
		s == nil); err != nil || s != nil {
		return err
	}
	rec, err := sealJSON(closedBucket, []byte(id), last)
	if err != nil {
		return err
	}
	return w.put(closedBucket, []byte(id), rec)
}

// loadSession gives a begun session, nil where it is closed or there is none, and the place of the
// session's latest entry, 0 where there is none.
func loadSession(tx *bolt.Tx, id string) (s *model.Session, last uint64, err error) {
	v, err := lookup(tx, sessionBucket, []byte(id))
	if err != nil {
		return nil, 0, err
	}
	if v != nil {
		return decodeSession(tx, id, v)
	}
	if v, err = lookup(tx, closedBucket, []byte(id)); v != nil {
		err = unsealJSON(closedBucket, []byte(id), v, &last)
	}
	return nil, last, err
}

func decodeSession(tx *bolt.Tx, id string, v []byte) (*model.Session, uint64, error) {
	var r sessionRecord
	if err := unsealJSON(sessionBucket, []byte(id), v, &r); err != nil {
		return nil, 0, err
	}
	if r.Fold != foldNow {
		entries, err := chain(tx, id, r.Last)
		if err != nil {
			return nil, 0, err
		}
		r.Session = model.FoldSession(entries)
	}
	if r.Session == nil || r.Session.ID != id {
		return nil, 0, damaged("the snapshot of session %s is that of another", id)
	}
	return r.Session, r.Last, nil
}

// chain follows a session's entries back from its last one; they come in the journal's order.
func chain(tx *bolt.Tx, id string, last uint64) ([]model.Entry, error) {
	journal := tx.Bucket(journalBucket)
	var out []model.Entry
	for seq := last; seq != 0; {
		e, err := readLinked(journal, seq)
		if err != nil {
			return nil, err
		}
		if e.Session != id || e.Prev >= seq {
			return nil, damaged("the steps of session %s do not hang together at entry %d", id, seq)
		}
		out = append(out, e.Entry)
		seq = e.Prev
	}
	slices.Reverse(out)
	return out, nil
}

// ofSession gives all entries of a session.
func ofSession(tx *bolt.Tx, id string) ([]model.Entry, error) {
	_, last, err := loadSession(tx, id)
	if err != nil {
		return nil, err
	}
	return chain(tx, id, last)
}
