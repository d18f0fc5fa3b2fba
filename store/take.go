package store

import (
	"bytes"
	"encoding/json"

	bolt "go.etcd.io/bbolt"

	"bench/oilcan/model"
)

// Taken says what came of a record that was taken in, in entries.
type Taken struct {
	New   int // written
	Known int // on record already
}

// TakeIn writes entries of another bench with their ids, times and names, and the texts they name,
// in one synced transaction: all or none. They come in the order of their journal, and each is
// judged as what is typed is, by what stands before it. An entry whose id is on record is left out;
// where it says something else there, nothing is taken in.
func (s *Store) TakeIn(entries []model.Entry, texts map[string][]byte) (Taken, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.beforeWrite()
	var t Taken
	err := s.update(func(w writing) error {
		b := s.newBatch(w)
		if err := b.keepIndexes(); err != nil {
			return err
		}
		here, err := onRecord(w.Tx)
		if err != nil {
			return err
		}
		if err := b.putTexts(texts); err != nil {
			return err
		}
		for i, e := range entries {
			s.watched.at(i, len(entries))
			have := here.said[e.ID]
			switch {
			case have != nil && !bytes.Equal(have, bare(e)):
				return refuse("entry %s is on record and says something else: nothing was taken in",
					e.ID)
			case have != nil:
				t.Known++
				continue
			case here.struck[e.Action] && model.ClassOf(e.Kind) == model.Dated:
				return refuse("entry %s belongs to an action that was struck here without it: nothing was taken in", e.ID)
			}
			if err := b.take(e); err != nil {
				return say(ErrRefused, err, "entry %s: %s", e.ID, err)
			}
			here.note(e)
			t.New++
		}
		return b.finish()
	})
	if err != nil {
		return Taken{}, err
	}
	return t, nil
}

// record is what a journal holds already.
type record struct {
	said   map[string][]byte // entry id -> what it says
	struck map[string]bool   // actions that a strike names, whether or not it stands
}

func onRecord(tx *bolt.Tx) (record, error) {
	r := record{map[string][]byte{}, map[string]bool{}}
	err := eachOfAll(tx, Filter{}, func(e model.Entry) error {
		r.note(e)
		return nil
	})
	return r, err
}

func (r record) note(e model.Entry) {
	r.said[e.ID] = bare(e)
	if e.Strike != nil {
		r.struck[e.Strike.Action] = true
	}
}

// bare is what an entry says whatever its place in the journal. An entry always has a written form:
// it was read from one.
func bare(e model.Entry) []byte {
	e.Seq = 0
	data, err := json.Marshal(e)
	if err != nil {
		return []byte(err.Error())
	}
	return data
}

// take writes one entry of another bench behind the journal's end.
func (b *batch) take(e model.Entry) error {
	e.At, e.Written = e.At.UTC(), e.Written.UTC()
	switch {
	case e.ID == "" || e.Action == "":
		return refuse("it has no id")
	case e.V < 1 || e.V > model.EntryVersion:
		return say(ErrNewer, nil, "it has format %d, which this oilcan does not know: use the newer one that wrote it", e.V)
	case e.Written.After(b.now.Add(ahead)):
		return refuse("it was written on %s, which is not yet: check the clock",
			model.Stamp(e.Written, b.now.In(b.zone)))
	case e.Kind == model.KindMachine && e.Fact.Machine != nil && e.Fact.Machine.ID != e.Machine:
		return refuse("it describes another machine than it is about")
	}
	if err := judge(e); err != nil {
		return err
	}
	here := b.now
	b.now = e.Written // what could be said is judged by the clock of then
	defer func() { b.now = here }()
	p := &planned{at: e.At, by: e.By, machine: e.Machine, session: e.Session, action: e.Action}
	if err := b.follows(p, e); err != nil {
		return err
	}
	if err := b.allow(p, e.Fact); err != nil {
		return err
	}
	e, err := b.put(e, p)
	if err != nil {
		return err
	}
	return b.fold(e)
}

// follows wants a session fact at its place, and dated facts of a session that is on record.
func (b *batch) follows(p *planned, e model.Entry) error {
	s, err := b.session(p.session)
	if err != nil {
		return err
	}
	if e.Kind == model.KindMachine || model.ClassOf(e.Kind) == model.Dated {
		if p.session != "" && b.last[p.session] == 0 {
			return refuse("there is no session with the id %q", p.session)
		}
		return nil
	}
	if p.session == "" {
		return refuse("it names no session")
	}
	return b.checkOrdinal(p, s, e.Ordinal, e.Kind == model.KindBegun)
}
