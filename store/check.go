package store

import (
	"bytes"
	"cmp"
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
	r, err := checkAt(s.path, s.schema.version, s.now(), nil, s.watched)
	return r, s.tell(err)
}

func checkFile(path string, version int) (Report, error) {
	return checkAt(path, version, time.Time{}, nil, nil)
}

// boltChecks is up to which size, bytes, bbolt's own check goes over the pages after ours, which
// asks for the same and holds no more than one at a time.
const boltChecks = 64 << 20

// checkAt is checkFile that counts what is ahead of a clock (zero counts nothing), and judges each
// entry and text on the way where judge is given; and tells how far it is.
func checkAt(path string, version int, now time.Time, judges *judges, seen Seen) (Report, error) {
	if err := pagesWhole(path); err != nil {
		return Report{}, err
	}
	var r Report
	err := transact(path, access{}, func(tx *bolt.Tx, _ state) error {
		if _, err := current(tx, path, version); err != nil {
			return err
		}
		c := &checker{tx: tx, now: now, judges: judges, seen: seen,
			all: int(tx.Bucket(
				journalBucket).Sequence()), indexed: indexedTo(tx), texts: map[string]bool{}, keys: map[string]int{}}
		if tx.Size() <= boltChecks {
			for err := range tx.Check() {
				c.problem("the file's pages: %v", err)
			}
		}
		err := c.run()
		r = c.Report
		return err
	})
	return r, err
}

type checker struct {
	Report
	tx     *bolt.Tx
	now    time.Time
	judges *judges
	texts  map[string]bool
	keys   map[string]int // of an index: how many must be and are there
	ahead  []string       // actions of facts ahead of the clock
	seen   Seen
	all    int // entries of the journal

	indexed uint64 // up to which of them the indexes for people were kept
}

func (c *checker) problem(format string, args ...any) {
	switch n := len(c.Problems); {
	case n < maxProblems:
		c.Problems = append(c.Problems, fmt.Sprintf(format, args...))
	case n == maxProblems:
		c.Problems = append(c.Problems, "there are more problems than can be listed.")
	}
}

func (c *checker) run() error {
	if err := c.checkTexts(); err != nil {
		return err
	}
	p := newPass(c.tx)
	p.problem, p.key, p.see = c.problem, c.wantKey, c.see
	if err := p.run(); err != nil {
		return err
	}
	if err := c.judges.wrong(); err != nil {
		return err
	}
	c.Entries = p.entries
	for _, name := range [][]byte{machineIndex, actionIndex, timeIndex, idIndex} {
		if c.tx.Bucket(name) != nil {
			c.countKeys(name)
		}
	}
	c.compareSnapshots(p)
	return cmp.Or(c.compareMarks(), c.countAhead())
}

// see looks at what an entry refers to, and at its date.
func (c *checker) see(e linked) {
	c.seen.at(int(e.Seq), c.all)
	c.judges.entry(c.tx, e.Entry)
	if !c.now.IsZero() && model.AheadOf(e.At, c.now) && model.ClassOf(e.Kind) == model.Dated &&
		e.Kind != model.KindStrike {
		c.ahead = append(c.ahead, e.Action)
	}
	var refs []model.BlockRef
	if e.Begun != nil {
		refs = append(slices.Clone(e.Begun.Items), e.Begun.SetUps...)
	}
	if e.Walk != nil {
		refs = append(refs, e.Walk.Plan...)
	}
	for _, r := range refs {
		if r.Hash != "" && !c.texts[r.Hash] {
			c.problem("the text of %s, which session %s walks, is missing.", r.ID, e.Session)
		}
	}
}

// countAhead counts what is ahead of the clock and was not struck.
func (c *checker) countAhead() error {
	if len(c.ahead) == 0 {
		return nil
	}
	struck, err := struckActions(c.tx)
	for _, action := range c.ahead {
		if !struck[action] {
			c.Ahead++
		}
	}
	return err
}

// wantKey requires an index key. What the indexes for people were not kept for yet is no fault.
func (c *checker) wantKey(k ixKey) {
	if k.forPeople() && k.seq() > c.indexed {
		return
	}
	if v := c.tx.Bucket(k.bucket).Get(k.key); !bytes.Equal(v, keySum(k.bucket, k.key)) {
		c.problem("the index %s lacks %.80q.", k.bucket, k.key)
		return
	}
	c.keys[string(k.bucket)]++
}

// countKeys requires an index to hold the keys that were wanted, and no others.
func (c *checker) countKeys(name []byte) {
	n, seen := 0, 0
	_ = c.tx.Bucket(name).ForEach(func(k, v []byte) error {
		if seen++; seen%dropReads == 0 {
			dropPages(c.tx) // an index lies scattered over the whole file
		}
		if !bytes.Equal(v, keySum(name, k)) {
			c.problem("the index %s holds %.80q, which no entry asks for.", name, k)
			return nil
		}
		n++
		return nil
	})
	if n == c.keys[string(name)] {
		return
	}
	_ = c.tx.Bucket(name).ForEach(func(k, v []byte) error {
		if bytes.Equal(v, keySum(name, k)) && !c.asked(name, k) {
			c.problem("the index %s holds %.80q, which no entry asks for.", name, k)
		}
		return nil
	})
}

// asked tells whether the entry an index key leads to asks for it.
func (c *checker) asked(bucket, key []byte) bool {
	if len(key) < 9 {
		return false
	}
	e, err := readLinked(c.tx.Bucket(journalBucket), ixKey{bucket, key}.seq())
	if err != nil {
		return false
	}
	var t touches
	if e.Strike != nil {
		t, _, _ = touchesOf(c.tx, e.Strike.Action)
	}
	return slices.ContainsFunc(indexKeys(e.Entry, t), func(k ixKey) bool {
		return bytes.Equal(k.bucket, bucket) && bytes.Equal(k.key, key)
	})
}

func (c *checker) checkTexts() error {
	return c.tx.Bucket(textBucket).ForEach(func(k, v []byte) error {
		c.Texts++
		c.texts[string(k)] = true
		text, err := unseal(textBucket, k, v)
		switch {
		case err != nil:
			c.problem("%v.", err)
		case textHash(text) != string(k):
			c.problem("the text stored as %.12s is another text.", k)
		default:
			c.judges.text(k, text)
		}
		return nil
	})
}

// compareSnapshots compares the fold of the journal with what stands in the file.
func (c *checker) compareSnapshots(p *pass) {
	b := p.bench
	c.Machines, c.Sessions = len(b.Machines), len(b.Sessions)
	machines, sessions, closed := map[string]any{}, map[string]any{}, map[string]any{}
	for id, m := range b.Machines {
		machines[id] = machineSnapshot{foldNow, m}
	}
	for id, last := range p.last {
		if s := b.Sessions[id]; s != nil {
			sessions[id] = sessionRecord{foldNow, last, s}
		} else {
			closed[id] = last
		}
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
		c.problem("the file counts %d snapshots of %s where the journal makes %d.", n, bucket,
			len(want))
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

// Rebuild makes the snapshots, and the indexes they are folded by, from the journal again.
func (s *Store) Rebuild() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.tell(transact(s.path, access{write: true}, func(tx *bolt.Tx, _ state) error {
		return rebuild(writing{Tx: tx})
	}))
}

func rebuild(w writing) error {
	err := emptyBuckets(w, machineIndex, actionIndex, machineBucket, sessionBucket, closedBucket,
		markBucket)
	if err != nil {
		return err
	}
	var wrong error
	p := newPass(w.Tx)
	p.problem = func(format string, args ...any) { wrong = cmp.Or(wrong, damaged(format, args...)) }
	var keys []ixKey
	p.key = func(k ixKey) {
		switch {
		case wrong != nil || k.forPeople(): // those do not depend on the fold
		case bytes.Equal(k.bucket, actionIndex): // asked before the end
			wrong = putIndex(w, k.bucket, k.key)
		default:
			keys = append(keys, k)
		}
	}
	p.before = func() error { return putInOrder(w, keys) }
	if err := p.run(); err != nil || wrong != nil {
		return cmp.Or(wrong, err)
	}
	if err := putBench(w, p.bench, p.last); err != nil {
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
