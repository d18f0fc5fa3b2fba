package store

import (
	"cmp"
	"encoding/binary"
	"slices"

	bolt "go.etcd.io/bbolt"
)

// listed is where the entries of a book stand, as last worked out: the pages of a long one are
// asked for one after the other.
type listed struct {
	at      state
	machine string
	places  []place // the latest first
}

// of gives where the entries of a machine's book stand, or of the whole bench's where no machine is
// named. good is false where the indexes do not agree.
func (l *listed) of(tx *bolt.Tx, st state, machine string) (places []place, good bool) {
	if l.machine == machine && l.at.same(st) {
		return l.places, true
	}
	if machine == "" {
		places, good = placesOfAll(tx)
	} else {
		places, good = placesOf(tx, machine)
	}
	if good {
		*l = listed{st, machine, places}
	}
	return places, good
}

// placesOf gives the places of a machine's entries, which two indexes must both know.
func placesOf(tx *bolt.Tx, machine string) (places []place, good bool) {
	places, err := byTime(tx, machine)
	if err != nil {
		return nil, false
	}
	beside, err := indexed(tx, machineIndex, machine)
	slices.Reverse(places)
	return places, err == nil && len(beside) == len(places)
}

// placesOfAll gives the places of all entries but the steps of sessions: as many as have their ids
// in an index. What is of no machine is moves of the drawer, and strikes of those.
func placesOfAll(tx *bolt.Tx) (places []place, good bool) {
	placed := make([]bool, tx.Bucket(journalBucket).Sequence()+1)
	good = true
	err := eachKey(tx, timeIndex, nil, func(key []byte) bool {
		n := len(key) - 16
		if n <= 0 || key[0] == '*' {
			return true
		}
		p := placeOf(key[n:])
		if good = p.seq < uint64(len(placed)); good && !placed[p.seq] { // a strike stands twice
			placed[p.seq], places = true, append(places, p)
		}
		return good
	})
	if err != nil || !good {
		return nil, false
	}
	others, err := ofNoMachine(tx, placed)
	if err != nil {
		return nil, false
	}
	places = append(places, others...)
	slices.SortFunc(places, func(a, b place) int {
		return cmp.Or(cmp.Compare(b.at, a.at), cmp.Compare(b.seq, a.seq))
	})
	ids := 0
	err = eachKey(tx, idIndex, nil, func([]byte) bool { ids++; return true })
	return places, err == nil && ids == len(places)
}

// ofNoMachine gives the places of what stands with the drawer or the strikes and has none yet.
func ofNoMachine(tx *bolt.Tx, placed []bool) (places []place, err error) {
	var seqs []uint64
	for _, name := range []string{drawerKey, strikesKey} {
		under, err := indexed(tx, machineIndex, name)
		if err != nil {
			return nil, err
		}
		seqs = append(seqs, under...)
	}
	if !inJournal(tx, seqs) {
		return nil, damaged("the index %s names what the journal has not", machineIndex)
	}
	slices.Sort(seqs)
	seqs = slices.DeleteFunc(slices.Compact(seqs), func(n uint64) bool { return placed[n] })
	entries, err := readEntries(tx, seqs)
	for _, e := range entries {
		places = append(places, place{e.At.UnixMilli(), e.Seq})
	}
	return places, err
}

// placeOf reads the end of a key of the index by time.
func placeOf(tail []byte) place {
	return place{int64(binary.BigEndian.Uint64(tail) ^ 1<<63), binary.BigEndian.Uint64(tail[8:])}
}
