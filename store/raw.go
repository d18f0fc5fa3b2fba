package store

import (
	"bytes"
	"encoding/binary"
	"slices"
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

// endingByJournal reads the ids of all records, each against its sum: one that was changed is not one
// that never was.
func endingByJournal(tx *bolt.Tx, word string) ([]model.Entry, error) {
	end := strings.ToUpper(word)
	var seqs []uint64
	read := 0
	err := tx.Bucket(journalBucket).ForEach(func(k, v []byte) error {
		if read++; read%(16*dropReads) == 0 {
			dropPages(tx)
		}
		if !sealed(journalBucket, k, v) {
			return damaged("record %s of %s is not what was written (checksum)", shown(k),
				journalBucket)
		}
		if id := rawField(v, rawID); len(k) == 8 &&
			(id == "" || strings.HasSuffix(strings.ToUpper(id), end)) {
			seqs = append(seqs, binary.BigEndian.Uint64(k))
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	entries, err := readEntries(tx, seqs)
	return slices.DeleteFunc(entries, func(e model.Entry) bool { return !endsWith(e, end) }), err
}
