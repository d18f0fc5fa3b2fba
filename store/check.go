package store

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"time"

	bolt "go.etcd.io/bbolt"

	"bench/oilcan/model"
)

// Report is what Check found: how much there is in the file, and what is wrong with it.
type Report struct {
	Entries  int
	Machines int
	Sessions int // begun
	Texts    int
	Ahead    int      // dated facts ahead of the clock that were not struck; they do not count yet
	Problems []string // one sentence each; none where the file is whole
}

// OK tells whether nothing is wrong.
func (r Report) OK() bool { return len(r.Problems) == 0 }

// maxProblems is how many problems a report lists.
const maxProblems = 50

// Check reads the whole file: its pages, every record against its checksum, every index against the
// journal; and it folds everything again and compares it with the snapshots byte by byte. A file
// that cannot be read at all gives an error.
func (s *Store) Check() (Report, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	r, err := checkAt(s.path, s.schema.version, s.now(), s.watched)
	return r, s.tell(err)
}

func checkFile(path string, version int) (Report, error) {
	return checkAt(path, version, time.Time{}, nil)
}

// checkAt is checkFile that counts what is ahead of a clock, zero counts nothing; and tells how far it is.
func checkAt(path string, version int, now time.Time, seen Seen) (Report, error) {
	if err := pagesWhole(path); err != nil {
		return Report{}, err
	}
	var r Report
	err := transact(path, access{}, func(tx *bolt.Tx, _ state) error {
		if _, err := current(tx, path, version); err != nil {
			return err
		}
		c := newChecker(tx)
		c.seen = seen
		for err := range tx.Check() {
			c.problem("the file's pages: %v", err)
		}
		c.run()
		if !now.IsZero() {
			_, ahead := model.ByClock(c.entries, model.Struck(c.entries), now)
			c.Ahead = len(ahead)
		}
		r = c.Report
		return nil
	})
	return r, err
}

type checker struct {
	Report
	tx      *bolt.Tx
	entries []model.Entry
	index   map[string]map[string]bool // bucket -> keys that must be there
	last    map[string]uint64          // session -> place of its latest entry
	actions map[string][]model.Entry   // dated facts by action
	seen    Seen
}

func (c *checker) problem(format string, args ...any) {
	switch n := len(c.Problems); {
	case n < maxProblems:
		c.Problems = append(c.Problems, fmt.Sprintf(format, args...))
	case n == maxProblems:
		c.Problems = append(c.Problems, "there are more problems than can be listed.")
	}
}

func newChecker(tx *bolt.Tx) *checker {
	return &checker{tx: tx, index: map[string]map[string]bool{}, last: map[string]uint64{}, actions: map[string][]model.Entry{}}
}

func (c *checker) run() {
	c.readJournal()
	for i, e := range c.entries {
		c.seen.at(2*c.Entries+i, 5*c.Entries)
		c.expect(e)
	}
	for _, name := range [][]byte{machineIndex, actionIndex} {
		c.compareIndex(name)
	}
	c.checkTexts()
	c.compareSnapshots()
}

func (c *checker) readJournal() {
	var next uint64 = 1
	journal := c.tx.Bucket(journalBucket)
	all := int(journal.Sequence())
	_ = journal.ForEach(func(k, v []byte) error {
		c.seen.at(2*len(c.entries), 5*all) // of the whole check, reading takes two fifths and folding anew two (measured)
		e, err := decodeEntry(k, v)
		if err != nil {
			c.problem("%v.", err)
			next++
			return nil
		}
		if e.Seq != next {
			c.problem("entries %d to %d are missing.", next, e.Seq-1)
		}
		next = e.Seq + 1
		if e.Session != "" {
			if e.Prev != c.last[e.Session] {
				c.problem("entry %d of session %s follows on entry %d instead of %d.", e.Seq, e.Session, e.Prev, c.last[e.Session])
			}
			c.last[e.Session] = e.Seq
		}
		c.entries = append(c.entries, e.Entry)
		return nil
	})
	if last := journal.Sequence(); last != next-1 {
		c.problem("the journal counts %d entries but ends at %d.", last, next-1)
	}
	c.Entries = len(c.entries)
}

// expect notes the index keys an entry must have.
func (c *checker) expect(e model.Entry) {
	must := func(bucket []byte, id string) {
		keys := c.index[string(bucket)]
		if keys == nil {
			keys = map[string]bool{}
			c.index[string(bucket)] = keys
		}
		keys[string(indexKey(id, e.Seq))] = true
	}
	var t touches
	if e.Kind == model.KindStrike && e.Strike != nil {
		t = c.touchesOf(e.Strike.Action)
	}
	for _, name := range places(e, t) {
		must(machineIndex, name)
	}
	if model.ClassOf(e.Kind) == model.Dated {
		must(actionIndex, e.Action)
		c.actions[e.Action] = append(c.actions[e.Action], e)
	}
}

// touchesOf gives what an action changed; entries come in the journal's order, so the struck action
// is known when its strike comes.
func (c *checker) touchesOf(action string) touches {
	var t touches
	for _, e := range c.actions[action] {
		if e.Kind == model.KindStrike && e.Strike != nil {
			more := c.touchesOf(e.Strike.Action)
			t.drawer = t.drawer || more.drawer
			t.machines = append(t.machines, more.machines...)
		}
		t.drawer = t.drawer || e.Kind == model.KindStock
		if e.Machine != "" && !slices.Contains(t.machines, e.Machine) {
			t.machines = append(t.machines, e.Machine)
		}
	}
	return t
}

func (c *checker) compareIndex(name []byte) {
	must := c.index[string(name)]
	_ = c.tx.Bucket(name).ForEach(func(k, v []byte) error {
		if !must[string(k)] || !bytes.Equal(v, keySum(name, k)) {
			c.problem("the index %s holds %.80q, which no entry asks for.", name, k)
		}
		delete(must, string(k))
		return nil
	})
	for k := range must {
		c.problem("the index %s lacks %.80q.", name, k)
	}
}

func (c *checker) checkTexts() {
	have := map[string]bool{}
	_ = c.tx.Bucket(textBucket).ForEach(func(k, v []byte) error {
		c.Texts++
		have[string(k)] = true
		text, err := unseal(textBucket, k, v)
		switch {
		case err != nil:
			c.problem("%v.", err)
		case textHash(text) != string(k):
			c.problem("the text stored as %.12s is another text.", k)
		}
		return nil
	})
	for _, e := range c.entries {
		var refs []model.BlockRef
		if e.Begun != nil {
			refs = append(slices.Clone(e.Begun.Items), e.Begun.SetUps...)
		}
		if e.Walk != nil {
			refs = append(refs, e.Walk.Plan...)
		}
		for _, r := range refs {
			if r.Hash != "" && !have[r.Hash] {
				c.problem("the text of %s, which session %s walks, is missing.", r.ID, e.Session)
			}
		}
	}
}

// compareSnapshots folds the journal and compares.
func (c *checker) compareSnapshots() {
	b := model.Fold(c.entries)
	c.Machines, c.Sessions = len(b.Machines), len(b.Sessions)
	machines, sessions := map[string]any{}, map[string]any{}
	for id, m := range b.Machines {
		machines[id] = machineSnapshot{foldNow, m}
	}
	for id, s := range b.Sessions {
		sessions[id] = sessionRecord{foldNow, c.last[id], s}
		delete(c.last, id)
	}
	closed := map[string]any{}
	for id, last := range c.last {
		closed[id] = last
	}
	if len(b.Drawer) > 0 {
		machines[drawerKey] = drawerSnapshot{foldNow, b.Drawer}
	}
	c.compareBucket(machineBucket, machines)
	c.compareBucket(sessionBucket, sessions)
	c.compareBucket(closedBucket, closed)
}

func (c *checker) compareBucket(bucket []byte, want map[string]any) {
	n, err := snapshotCount(c.tx, bucket)
	if !bytes.Equal(bucket, closedBucket) && (err != nil || n != len(want)) {
		c.problem("the file counts %d snapshots of %s where the journal makes %d.", n, bucket, len(want))
	}
	_ = c.tx.Bucket(bucket).ForEach(func(k, v []byte) error {
		if bytes.Equal(k, countKey) {
			return nil
		}
		got, err := unseal(bucket, k, v)
		must, known := want[string(k)]
		delete(want, string(k))
		data, e := json.Marshal(must)
		switch {
		case err != nil:
			c.problem("%v.", err)
		case !known:
			c.problem("the snapshot %s is of something the journal does not have.", shown(k))
		case e != nil || !bytes.Equal(got, data):
			c.problem("the snapshot %s differs from what the journal says.", shown(k))
		}
		return nil
	})
	for _, k := range slices.Sorted(maps.Keys(want)) {
		c.problem("the snapshot %s is missing.", shown([]byte(k)))
	}
}

// Rebuild makes the indexes and snapshots from the journal again.
func (s *Store) Rebuild() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.tell(transact(s.path, access{write: true}, func(tx *bolt.Tx, _ state) error {
		return rebuild(writing{Tx: tx})
	}))
}

func rebuild(w writing) error {
	c := newChecker(w.Tx)
	c.readJournal()
	if !c.OK() {
		return damaged("%s", c.Problems[0])
	}
	for _, e := range c.entries {
		c.expect(e)
	}
	for _, name := range [][]byte{machineIndex, actionIndex, machineBucket, sessionBucket, closedBucket} {
		if err := w.DeleteBucket(name); err != nil {
			return err
		}
		b, err := w.CreateBucket(name)
		if err != nil {
			return err
		}
		for _, k := range slices.Sorted(maps.Keys(c.index[string(name)])) {
			if err := b.Put([]byte(k), keySum(name, []byte(k))); err != nil {
				return err
			}
		}
	}
	if err := putBench(w, model.Fold(c.entries), c.last); err != nil {
		return err
	}
	m, err := readMeta(w.Tx)
	if err != nil {
		return err
	}
	m.Fold = foldNow
	return writeMeta(w, m)
}

// putBench writes all snapshots; last names the latest entry of every session.
func putBench(w writing, b *model.Bench, last map[string]uint64) error {
	for id, m := range b.Machines {
		if err := putMachine(w, id, m); err != nil {
			return err
		}
	}
	for id, n := range last {
		if err := putSession(w, id, b.Sessions[id], n); err != nil {
			return err
		}
	}
	return putDrawer(w, b.Drawer)
}
