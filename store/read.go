package store

import (
	"bytes"
	"cmp"
	"errors"
	"slices"
	"time"

	bolt "go.etcd.io/bbolt"

	"bench/oilcan/model"
)

// cache is the bench as last read, so that looking again costs next to nothing.
type cache struct {
	at    state
	bench *model.Bench
	raw   map[string][]byte // bucket/key of a snapshot -> record the decoded value came from

	shown *model.Bench // by the clock: bench itself, unless something is dated ahead of it
	asOf  time.Time    // the clock then
	until time.Time    // when the first that is ahead comes to count
}

// Bench gives everything a screen shows, from the snapshots. What is dated ahead of the clock does
// not count in it until its time (model.ByClock) and is named by Ahead. While the file is unchanged
// the same bench comes back without a lock on the file; what it holds must not be changed by the
// caller.
func (s *Store) Bench() (*model.Bench, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	clock := s.now()
	if s.seen.bench != nil && s.seen.holds(clock) {
		if now, err := peek(s.path); err == nil && now.same(s.seen.at) {
			return s.seen.shown, nil
		}
	}
	var next cache
	err := s.view(func(tx *bolt.Tx, st state) error {
		c, err := s.seen.refresh(tx)
		if err != nil {
			return err
		}
		c.at = st
		next = c
		return next.byClock(tx, clock)
	})
	if err != nil {
		return nil, err
	}
	s.seen = next
	return next.shown, nil
}

// refresh reads the snapshots, taking over what is still the same.
func (c *cache) refresh(tx *bolt.Tx) (cache, error) {
	next := cache{bench: model.NewBench(), raw: map[string][]byte{}}
	var machines machineReads
	for _, bucket := range [][]byte{machineBucket, sessionBucket} {
		must, err := snapshotCount(tx, bucket)
		if err != nil {
			return next, err
		}
		have := 0
		err = tx.Bucket(bucket).ForEach(func(k, v []byte) error {
			if bytes.Equal(k, countKey) {
				return nil
			}
			have++
			place, id := string(bucket)+"/"+string(k), string(k)
			if old, ok := c.raw[place]; ok && bytes.Equal(old, v) {
				next.raw[place] = old
				next.take(c.bench, bucket, id)
				return nil
			}
			raw := bytes.Clone(v)
			next.raw[place] = raw
			if bytes.Equal(bucket, machineBucket) && id != drawerKey {
				machines.start(id, raw)
				return nil
			}
			return next.decode(tx, id, v)
		})
		if err != nil {
			return next, err
		}
		if have != must {
			return next, damaged("it holds %d snapshots of %s and should hold %d", have, bucket,
				must)
		}
	}
	return next, machines.collect(tx, next.bench.Machines)
}

// machineReads are snapshots of machines being read side by side: they are most of what a first
// frame waits for.
type machineReads []*machineRead

type machineRead struct {
	id   string
	s    machineSnapshot
	err  error
	done chan struct{}
}

// start begins to read a record, which must not be changed.
func (rs *machineReads) start(id string, record []byte) {
	r := &machineRead{id: id, done: make(chan struct{})}
	*rs = append(*rs, r)
	go func() {
		defer close(r.done)
		r.s, r.err = readMachine(id, record)
	}()
}

// collect waits for all of them; the error is that of the first in the order they were begun.
func (rs machineReads) collect(tx *bolt.Tx, into map[string]*model.Machine) error {
	for _, r := range rs {
		<-r.done
		if r.err != nil {
			return r.err
		}
		m, err := r.s.whole(tx, r.id)
		if err != nil {
			return err
		}
		into[r.id] = m
	}
	return nil
}

// take moves one decoded snapshot over from an older bench.
func (c *cache) take(from *model.Bench, bucket []byte, id string) {
	switch {
	case id == drawerKey:
		c.bench.Drawer = from.Drawer
	case bytes.Equal(bucket, machineBucket):
		c.bench.Machines[id] = from.Machines[id]
	case from.Sessions[id] != nil:
		c.bench.Sessions[id] = from.Sessions[id]
	}
}

// decode reads the drawer, or a begun session.
func (c *cache) decode(tx *bolt.Tx, id string, v []byte) (err error) {
	if id == drawerKey {
		c.bench.Drawer, err = loadDrawer(tx)
		return err
	}
	s, _, err := decodeSession(tx, id, v)
	if s != nil {
		c.bench.Sessions[id] = s
	}
	return err
}

// Changed tells whether the file changed since the last Bench, also where it can no longer be read.
// It takes no lock.
func (s *Store) Changed() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	now, err := peek(s.path)
	return err != nil || !now.same(s.seen.at)
}

// Filter says which entries are wanted; the zero value wants all. All the parts given must hold.
type Filter struct {
	Machine string            // machine id
	Session string            // session id
	Action  string            // action id; dated facts only
	Kinds   []model.EntryKind // any of these
	From    time.Time         // happened then or later
	To      time.Time         // happened before
	IDs     []string          // entry ids
	NoSteps bool              // none of the steps of sessions

	// Of the whole journal alone, to read it by parts: those behind a place, and how many at most.
	After uint64
	Most  int
}

// wants tells whether entries of a kind may match.
func (f Filter) wants(k model.EntryKind) bool {
	return (len(f.Kinds) == 0 || slices.Contains(f.Kinds, k)) && !(f.NoSteps && k == model.KindWalk)
}

func (f Filter) matches(e model.Entry) bool {
	switch {
	case f.Machine != "" && e.Machine != f.Machine,
		f.Session != "" && e.Session != f.Session,
		f.Action != "" && e.Action != f.Action,
		!f.wants(e.Kind),
		!f.From.IsZero() && e.At.Before(f.From),
		!f.To.IsZero() && !e.At.Before(f.To),
		len(f.IDs) > 0 && !slices.Contains(f.IDs, e.ID):
		return false
	}
	return true
}

// Entries gives the entries wanted in the journal's order, struck ones included: see Struck.
func (s *Store) Entries(f Filter) ([]model.Entry, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	var out []model.Entry
	err := s.view(func(tx *bolt.Tx, _ state) error {
		return eachEntry(tx, f, func(e model.Entry) error {
			if f.matches(e) {
				out = append(out, e)
			}
			if f.Most > 0 && len(out) == f.Most {
				return errEnough
			}
			return nil
		})
	})
	if errors.Is(err, errEnough) {
		err = nil
	}
	return out, err
}

// errEnough ends a reading before its end.
var errEnough = errors.New("enough")

// eachEntry goes over the entries that may match, by the narrowest index.
func eachEntry(tx *bolt.Tx, f Filter, fn func(model.Entry) error) error {
	var entries []model.Entry
	var err error
	switch {
	case f.Session != "":
		entries, err = ofSession(tx, f.Session)
	case f.Action != "":
		entries, err = entriesOf(tx, actionIndex, f.Action)
	case f.Machine != "":
		entries, err = ofMachine(tx, f.Machine, f.wants(model.KindWalk))
	default:
		return eachOfAll(tx, f, fn)
	}
	if err != nil {
		return err
	}
	for _, e := range entries {
		if err := fn(e); err != nil {
			return err
		}
	}
	return nil
}

// eachOfAll goes over the whole journal, which must have no gap. What a filter cannot want is not
// decoded.
func eachOfAll(tx *bolt.Tx, f Filter, fn func(model.Entry) error) error {
	journal := tx.Bucket(journalBucket)
	next := f.After
	c := journal.Cursor()
	for k, v := c.Seek(seqKey(next + 1)); k != nil; k, v = c.Next() {
		kind := rawField(v, rawKind)
		if next++; kind != "" && !f.wants(model.EntryKind(kind)) && bytes.Equal(k, seqKey(next)) {
			continue
		}
		e, err := decodeEntry(k, v)
		if err != nil {
			return err
		}
		if e.Seq != next {
			return damaged("entry %d is missing", next)
		}
		if err := fn(e.Entry); err != nil {
			return err
		}
	}
	if next != max(f.After, journal.Sequence()) {
		return damaged("the journal counts %d entries and holds %d", journal.Sequence(), next)
	}
	return nil
}

// ofMachine gives all entries about a machine, the steps of its sessions among them where they are
// wanted.
func ofMachine(tx *bolt.Tx, id string, steps bool) ([]model.Entry, error) {
	entries, err := entriesOf(tx, machineIndex, id)
	if err != nil || !steps {
		return entries, err
	}
	all := slices.Clone(entries)
	for _, e := range entries {
		if e.Kind == model.KindBegun {
			steps, err := ofSession(tx, e.Session)
			if err != nil {
				return nil, err
			}
			all = append(all, steps...)
		}
	}
	bySeq := func(a, b model.Entry) int { return cmp.Compare(a.Seq, b.Seq) }
	slices.SortFunc(all, bySeq)
	return slices.CompactFunc(all, func(a, b model.Entry) bool { return a.Seq == b.Seq }), nil
}

// Struck gives the ids of the actions whose dated facts were struck and do not count.
func (s *Store) Struck() (map[string]bool, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	var out map[string]bool
	err := s.view(func(tx *bolt.Tx, _ state) (err error) {
		out, err = struckActions(tx)
		return err
	})
	return out, err
}

// Text gives a stored text by its content hash, checked against it.
func (s *Store) Text(hash string) ([]byte, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	var out []byte
	err := s.view(func(tx *bolt.Tx, _ state) error {
		v, err := lookup(tx, textBucket, []byte(hash))
		if err != nil {
			return err
		}
		if v == nil {
			return refuse("no text with the hash %.12s is stored: run oilcan check", hash)
		}
		text, err := unseal(textBucket, []byte(hash), v)
		if err != nil {
			return err
		}
		if textHash(text) != hash {
			return damaged("the text stored as %.12s is another text", hash)
		}
		out = text
		return nil
	})
	return out, err
}
