package store

import (
	"bytes"
	"cmp"
	"encoding/json"
	"maps"
	"slices"
	"time"

	"github.com/oklog/ulid/v2"
	bolt "go.etcd.io/bbolt"

	"bench/oilcan/model"
)

// Append writes one action: all its facts in one synced transaction, or none. It returns the
// entries as written, with their places in the journal, their ids and, for session facts, their
// ordinals.
//
// A machine fact without an id makes a new machine, a begun fact without a session a new session;
// the other facts of the action are about it. Refused are, each with one sentence: session facts
// whose ordinal is not the next of their session (ErrStale), a second session of one machine
// (ErrBegun), and what cannot be (ErrRefused): an unknown machine, a name that is taken, a strike
// of something that is not there, a date a day or more ahead of the clock.
func (s *Store) Append(a model.Action) ([]model.Entry, error) {
	return s.AppendAll([]model.Action{a})
}

// AppendAll writes several actions in one synced transaction, in their order: all or none. It is
// for imports and for forms that tell many things at once.
func (s *Store) AppendAll(as []model.Action) ([]model.Entry, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.beforeWrite()
	var written []model.Entry
	err := s.update(func(w writing) error {
		b := s.newBatch(w)
		if err := b.keepIndexes(); err != nil {
			return err
		}
		for i, a := range as {
			s.watched.at(i, len(as))
			if err := b.append(a); err != nil {
				return err
			}
		}
		written = b.written
		return b.finish()
	})
	if err != nil {
		return nil, err
	}
	return written, nil
}

// batch is one transaction in the making: what it read, and what it has to write.
type batch struct {
	tx    *bolt.Tx
	w     writing // the same
	now   time.Time
	zone  *time.Location // of the clock, in which a day is said
	newID func() (string, error)
	warm  *warm

	bench    *model.Bench
	machines map[string]bool   // id -> to be folded again at the end; present: to be written
	sessions map[string]bool   // loaded; true: to be written, or removed
	last     map[string]uint64 // session -> place of its latest entry
	drawer   touch
	kept     bool   // the indexes for people hold all that was written before
	every    uint64 // see markEvery
	written  []model.Entry
}

// touch says how far the drawer was changed.
type touch int

const (
	unread touch = iota
	clean
	folded
	again // to be folded again at the end
)

func (s *Store) newBatch(w writing) *batch {
	now := s.now().UTC()
	b := &batch{
		tx: w.Tx, w: w, warm: &s.warm, every: cmp.Or(s.every, markEvery), now: now.Truncate(time.Millisecond), zone: s.Zone(),
		bench:    model.NewBench(),
		machines: map[string]bool{}, sessions: map[string]bool{}, last: map[string]uint64{},
	}
	b.newID = func() (string, error) {
		id, err := ulid.New(ulid.Timestamp(now), s.ids)
		return id.String(), err
	}
	w.Bucket(journalBucket).FillPercent = fullPages
	w.Bucket(actionIndex).FillPercent = fullPages
	return b
}

// append checks one action, writes its entries and folds them in.
func (b *batch) append(a model.Action) error {
	p, err := b.plan(a)
	if err != nil {
		return err
	}
	if err := b.putTexts(a.Texts); err != nil {
		return err
	}
	for _, f := range p.facts {
		if err := judge(b.entry(p, f)); err != nil {
			return err
		}
		if err := b.allow(p, f); err != nil {
			return err
		}
		e, err := b.write(p, f)
		if err != nil {
			return err
		}
		if err := b.fold(e); err != nil {
			return err
		}
		b.written = append(b.written, e)
	}
	return nil
}

// entry is the entry of a fact, before it has its place in the journal and in its session.
func (b *batch) entry(p *planned, f model.Fact) model.Entry {
	return model.Entry{
		V: model.EntryVersion, At: p.at, Written: b.now, By: p.by,
		Machine: p.machine, Session: p.session, Action: p.action, Fact: f,
	}
}

// write makes one entry and puts it into the journal.
func (b *batch) write(p *planned, f model.Fact) (model.Entry, error) {
	id, err := b.newID()
	if err != nil {
		return model.Entry{}, err
	}
	e := b.entry(p, f)
	e.ID = id
	if model.ClassOf(f.Kind) != model.Dated && f.Kind != model.KindMachine {
		p.ordinal++
		e.Ordinal = p.ordinal
	}
	return b.put(e, p)
}

// put writes an entry behind the journal's end and into its indexes, and gives it as it will be
// read back.
func (b *batch) put(e model.Entry, p *planned) (model.Entry, error) {
	journal := b.tx.Bucket(journalBucket)
	seq, err := journal.NextSequence()
	if err != nil {
		return e, err
	}
	key := seqKey(seq)
	if err := checkEnd(journal, seq-1); err != nil {
		return e, err
	}
	e.Seq = seq
	data, err := json.Marshal(linked{e, b.last[p.session]})
	if err != nil {
		return e, refuse("the entry cannot be written down: %v", err)
	}
	if err := b.w.put(journalBucket, key, seal(journalBucket, key, data)); err != nil {
		return e, err
	}
	// Folded is what stands in the journal, so that folding again cannot give another result. What
	// the fold takes of a walk fact reads back as it was.
	if e.Kind != model.KindWalk {
		e = model.Entry{}
		if err := json.Unmarshal(data, &e); err != nil {
			return e, refuse("the entry could not be read back: %v", err)
		}
	}
	return e, b.index(e, p)
}

// checkEnd requires the journal's last entry to be that of its count.
func checkEnd(journal *bolt.Bucket, seq uint64) error {
	last, _ := journal.Cursor().Last()
	if seq == 0 && last == nil || seq > 0 && bytes.Equal(last, seqKey(seq)) {
		return nil
	}
	return damaged("the journal counts %d entries but ends elsewhere", seq)
}

func (b *batch) index(e model.Entry, p *planned) error {
	if e.Session != "" {
		b.sessions[e.Session], b.last[e.Session] = true, e.Seq
	}
	for _, k := range indexKeys(e, p.struck) {
		if k.forPeople() && !b.kept {
			continue
		}
		if err := putIndex(b.w, k.bucket, k.key); err != nil {
			return err
		}
	}
	return nil
}

// putTexts stores the texts not stored yet.
func (b *batch) putTexts(texts map[string][]byte) error {
	for _, hash := range slices.Sorted(maps.Keys(texts)) {
		text := texts[hash]
		if textHash(text) != hash {
			return refuse("a text was given under the wrong hash %.12s", hash)
		}
		key := []byte(hash)
		have, err := lookup(b.tx, textBucket, key)
		if err != nil {
			return err
		}
		if have != nil {
			continue
		}
		if err := judgeText(text); err != nil {
			return err
		}
		if err := b.w.put(textBucket, key, seal(textBucket, key, text)); err != nil {
			return err
		}
	}
	return nil
}

// machine gives a machine as folded so far, nil where there is none. Where it is to be folded
// again, what is dated is not up to date in it.
func (b *batch) machine(id string) (*model.Machine, error) {
	if m := b.bench.Machines[id]; m != nil || id == "" {
		return m, nil
	}
	m, err := loadMachine(b.tx, id)
	if m != nil {
		b.bench.Machines[id] = m
	}
	return m, err
}

// fresh gives a machine up to date with all that was written.
func (b *batch) fresh(id string) (*model.Machine, error) {
	if b.machines[id] {
		m, err := refoldMachine(b.tx, id)
		if err != nil {
			return nil, err
		}
		b.bench.Machines[id], b.machines[id] = m, false
	}
	return b.machine(id)
}

func (b *batch) session(id string) (*model.Session, error) {
	if _, loaded := b.sessions[id]; loaded || id == "" {
		return b.bench.Sessions[id], nil
	}
	s, last, err := b.warm.load(b.tx, id)
	if err != nil {
		return nil, err
	}
	b.sessions[id], b.last[id] = false, last
	if s != nil {
		b.bench.Sessions[id] = s
	}
	return s, nil
}

// finish writes the snapshots that were touched.
func (b *batch) finish() error {
	for _, id := range slices.Sorted(maps.Keys(b.machines)) {
		again := b.machines[id]
		m, err := b.fresh(id)
		if err != nil {
			return err
		}
		if err := putMachine(b.w, id, m); err != nil {
			return err
		}
		if m.Session != "" { // it is marked when that is closed
			continue
		}
		if err := b.mark(id, machineSnapshot{foldNow, m}, again); err != nil {
			return err
		}
	}
	for _, id := range slices.Sorted(maps.Keys(b.sessions)) {
		if !b.sessions[id] {
			continue
		}
		if err := b.warm.put(b.w, id, b.bench.Sessions[id], b.last[id]); err != nil {
			return err
		}
	}
	refolded := b.drawer == again
	if refolded {
		d, err := refoldDrawer(b.tx)
		if err != nil {
			return err
		}
		b.bench.Drawer, b.drawer = d, folded
	}
	if b.drawer == folded {
		err := cmp.Or(putDrawer(b.w, b.bench.Drawer),
			b.mark(drawerKey, drawerSnapshot{foldNow, b.bench.Drawer}, refolded))
		if err != nil {
			return err
		}
	}
	if !b.kept {
		return nil
	}
	return putIndexedTo(b.w, b.tx.Bucket(journalBucket).Sequence())
}

// keepIndexes completes the indexes for people where an older program wrote meanwhile. Those that are
// not there are left to the next program that opens the file.
func (b *batch) keepIndexes() error {
	if from := indexedTo(b.tx); from > 0 && from < b.tx.Bucket(journalBucket).Sequence() {
		if _, err := completeIndexes(b.w); err != nil {
			return err
		}
	}
	b.kept = indexesKept(b.tx)
	return nil
}
