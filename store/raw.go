package store

import (
	"bytes"
	"encoding/binary"
	"strings"

	bolt "go.etcd.io/bbolt"

	"bench/oilcan/model"
)

// Most of a large journal is the steps of sessions, which most readers pass over, and decoding is
// most of what reading costs. So the kind and the id of an entry are read off its record before:
// they stand before anything an entry says, and what is a text there has its quotes escaped.

// rawField reads a field of an entry's record that stands before what it says; "" where it must be
// decoded to tell.
func rawField(record []byte, field string) string {
	if len(record) < recordHead || record[1] != asIs {
		return ""
	}
	_, rest, found := bytes.Cut(record[recordHead:], []byte(field))
	if !found {
		return ""
	}
	value, _, found := bytes.Cut(rest, []byte{'"'})
	if !found {
		return ""
	}
	return string(value)
}

const (
	rawKind = `,"kind":"`
	rawID   = `,"id":"`
)

// Ending gives the entries whose id ends with a word, small letters or capitals, in the journal's
// order.
func (s *Store) Ending(word string) ([]model.Entry, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	end := strings.ToUpper(word)
	var seqs []uint64
	var out []model.Entry
	err := s.view(func(tx *bolt.Tx, _ state) error {
		read := 0
		err := tx.Bucket(journalBucket).ForEach(func(k, v []byte) error {
			if read++; read%(16*dropReads) == 0 {
				dropPages(tx)
			}
			if id := rawField(v, rawID); len(k) == 8 &&
				(id == "" || strings.HasSuffix(strings.ToUpper(id), end)) {
				seqs = append(seqs, binary.BigEndian.Uint64(k))
			}
			return nil
		})
		if err != nil {
			return err
		}
		entries, err := readEntries(tx, seqs)
		for _, e := range entries {
			if strings.HasSuffix(strings.ToUpper(e.ID), end) {
				out = append(out, e)
			}
		}
		return err
	})
	return out, err
}
