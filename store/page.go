package store

import (
	"cmp"
	"encoding/binary"
	"slices"
	"strings"

	bolt "go.etcd.io/bbolt"

	"bench/oilcan/model"
)

// Page gives a part of a machine's book, or of the whole bench's where no machine is named, without
// the steps of sessions: at most so many entries behind the first skip, the latest first by when they
// happened; and how many there are in all.
func (s *Store) Page(machine string, skip, most int) (page []model.Entry, all int, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	err = s.view(func(tx *bolt.Tx, st state) error {
		if s.trusts(tx) {
			places, good := s.listed.of(tx, st, machine)
			if good {
				if page, good, err = pageByIndex(tx, places, skip, most); good {
					all = len(places)
					return err
				}
			}
			s.badIndex, s.listed = true, listed{}
		}
		page, all, err = pageByJournal(tx, machine, skip, most)
		return err
	})
	return page, all, err
}

// trusts tells whether the indexes for people can be asked.
func (s *Store) trusts(tx *bolt.Tx) bool { return !s.badIndex && indexesKept(tx) }

// pageByIndex tells besides whether the index is good; what is wrong with an entry is an error all the
// same.
func pageByIndex(tx *bolt.Tx, places []place, skip, most int) (
	page []model.Entry, good bool, err error) {
	wanted := places[min(skip, len(places)):min(skip+most, len(places))]
	seqs := make([]uint64, len(wanted))
	for i, p := range wanted {
		seqs[i] = p.seq
	}
	if !inJournal(tx, seqs) {
		return nil, false, nil
	}
	page, err = readEntries(tx, seqs)
	for i, e := range page {
		if e.At.UnixMilli() != wanted[i].at || e.Kind == model.KindWalk {
			return nil, false, nil
		}
	}
	return page, true, err
}

// inJournal tells whether the journal has come to such places.
func inJournal(tx *bolt.Tx, seqs []uint64) bool {
	end := tx.Bucket(journalBucket).Sequence()
	return !slices.ContainsFunc(seqs, func(n uint64) bool { return n == 0 || n > end })
}

// place is where an entry stands in the index by time: when it happened, ms, and its place in the
// journal.
type place struct {
	at  int64
	seq uint64
}

// byTime gives what stands under a name in the index by time, ascending.
func byTime(tx *bolt.Tx, name string) (out []place, err error) {
	err = eachKey(tx, timeIndex, append([]byte(name), 0), func(tail []byte) bool {
		if len(tail) == 16 {
			out = append(out, placeOf(tail))
		}
		return len(tail) == 16
	})
	return out, err
}

func pageByJournal(tx *bolt.Tx, machine string, skip, most int) ([]model.Entry, int, error) {
	var es []model.Entry
	f := Filter{Machine: machine, NoSteps: true}
	err := eachOfAll(tx, f, func(e model.Entry) error {
		if f.matches(e) {
			es = append(es, e)
		}
		return nil
	})
	if err != nil {
		return nil, 0, err
	}
	slices.SortFunc(es, func(a, b model.Entry) int {
		return cmp.Or(b.At.Compare(a.At), cmp.Compare(b.Seq, a.Seq))
	})
	return es[min(skip, len(es)):min(skip+most, len(es))], len(es), nil
}

// Ending gives the entries whose id ends with a word, small letters or capitals, in the journal's
// order; steps of sessions only where nothing else does.
func (s *Store) Ending(word string) (out []model.Entry, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	err = s.view(func(tx *bolt.Tx, _ state) error {
		out, err = s.ending(tx, word)
		return err
	})
	return out, err
}

func (s *Store) ending(tx *bolt.Tx, word string) ([]model.Entry, error) {
	if s.trusts(tx) {
		out, good, err := endingByIndex(tx, word)
		if good && (err != nil || len(out) > 0) {
			return out, err
		}
		s.badIndex = !good
	}
	return endingByJournal(tx, word)
}

// endingByIndex tells besides whether the index is good.
func endingByIndex(tx *bolt.Tx, word string) (out []model.Entry, good bool, err error) {
	var seqs []uint64
	err = eachKey(tx, idIndex, []byte(backwards(word)), func(tail []byte) bool {
		if len(tail) >= 8 {
			seqs = append(seqs, binary.BigEndian.Uint64(tail[len(tail)-8:]))
		}
		return true
	})
	if err != nil {
		return nil, false, nil
	}
	slices.Sort(seqs)
	if !inJournal(tx, seqs) {
		return nil, false, nil
	}
	out, err = readEntries(tx, seqs)
	for _, e := range out {
		if !endsWith(e, word) {
			return nil, false, nil
		}
	}
	return out, true, err
}

func endsWith(e model.Entry, word string) bool {
	return strings.HasSuffix(strings.ToUpper(e.ID), strings.ToUpper(word))
}

// Referred gives what the words about entries refer to and is not among them: what was struck, and by
// which strike; the finding that was closed; the begin of a session; what a machine was before.
func (s *Store) Referred(of []model.Entry) (more []model.Entry, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	err = s.view(func(tx *bolt.Tx, _ state) error {
		r := referring{s: s, tx: tx, have: map[string]bool{}, acted: map[string]bool{}}
		for _, e := range of {
			r.have[e.ID] = true
		}
		if err := r.strikes(of); err != nil {
			return err
		}
		for all := slices.Clone(of); len(all) > 0; {
			e := all[0]
			found, err := r.to(e)
			if err != nil {
				return err
			}
			for _, x := range found {
				if !r.have[x.ID] {
					r.have[x.ID] = true
					r.more, all = append(r.more, x), append(all, x)
				}
			}
			all = all[1:]
		}
		more = r.more
		return nil
	})
	return more, err
}

// referring collects what entries refer to.
type referring struct {
	s     *Store
	tx    *bolt.Tx
	have  map[string]bool // by id
	acted map[string]bool // actions read
	more  []model.Entry
}

// strikes takes the strikes of what the entries were written with, and the strikes of those.
func (r *referring) strikes(of []model.Entry) error {
	strikes, err := entriesOf(r.tx, machineIndex, strikesKey)
	if err != nil || len(strikes) == 0 {
		return err
	}
	hit := map[string]bool{}
	for _, e := range of {
		hit[e.Action] = true
	}
	for _, e := range strikes { // a strike stands behind what it strikes
		if e.Strike != nil && hit[e.Strike.Action] {
			hit[e.Action] = true
			if !r.have[e.ID] {
				r.have[e.ID] = true
				r.more = append(r.more, e)
			}
		}
	}
	return nil
}

// to gives what one entry refers to.
func (r *referring) to(e model.Entry) ([]model.Entry, error) {
	switch {
	case e.Strike != nil && !r.acted[e.Strike.Action]:
		r.acted[e.Strike.Action] = true
		return entriesOf(r.tx, actionIndex, e.Strike.Action)
	case e.About() != "" && !r.have[e.About()]:
		return r.s.ending(r.tx, e.About())
	case (e.Closed != nil || e.Walk != nil) && !r.acted[e.Session]:
		r.acted[e.Session] = true
		return r.begin(e)
	case e.Fact.Machine != nil && !r.acted[describedKey+e.Machine]:
		r.acted[describedKey+e.Machine] = true
		return r.described(e.Machine)
	}
	return nil, nil
}

// begin gives the begin of an entry's session.
func (r *referring) begin(e model.Entry) ([]model.Entry, error) {
	steps, err := ofSession(r.tx, e.Session)
	if err != nil || len(steps) == 0 {
		return nil, err
	}
	return steps[:1], nil
}

// described gives all that describes a machine.
func (r *referring) described(machine string) ([]model.Entry, error) {
	if r.s.trusts(r.tx) {
		if places, err := byTime(r.tx, describedKey+machine); err == nil {
			var seqs []uint64
			for _, p := range places {
				seqs = append(seqs, p.seq)
			}
			slices.Sort(seqs)
			if inJournal(r.tx, seqs) {
				return readEntries(r.tx, seqs)
			}
		}
		r.s.badIndex = true
	}
	entries, err := entriesOf(r.tx, machineIndex, machine)
	return slices.DeleteFunc(entries, func(e model.Entry) bool { return e.Fact.Machine == nil }), err
}
