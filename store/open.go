// Package store keeps the bench's journal in one bbolt file.
//
// The journal is the truth: entries are appended, never rewritten. Beside them stand indexes, the
// texts of procedures that were walked, and snapshots: the fold (package model) of one machine, one
// begun session, the drawer. An entry and the snapshots it touches are written in one synced
// transaction, or nothing is. Now and then a snapshot is kept as a mark: what is struck or comes late
// is folded on from there.
//
// The file is opened for a transaction and released after it, so several programs can work with it
// in turn; each waits up to two seconds for the other. Every record carries a checksum, because
// bbolt reads a flipped bit back as a wrong value, and before its first write to a file a run walks
// its pages, because bbolt believes what they say of each other. A damaged file gives ErrDamaged,
// never a panic, and is never replaced by an empty one, nor written to. What an entry must hold is
// one list of rules (judge.go), whatever way it came.
//
// # Proofs
//
// How often each is run: by go test, by .ci/run (OILCAN_LONG), and where OILCAN_PROOFS is set; with
// what came of the largest run so far.
//
//	what                                 test                        test/CI/proofs   came of it
//	a writer killed at any moment        TestKilled                  8/200/2,000      20,647 actions over 2,000 kills, none lost
//	the program killed in its commands   TestProgramKilled, outside  12/200/2,000     2,000 kills; none of 2,010 actions lost
//	power cut, sectors kept or torn      TestPowerCut                30/300/5,000     5,000 of 5,000 hold what was answered for
//	a head torn inside a sector          TestTornHead                60/300/3,000     3,000 of 3,000 open by themselves
//	full disk at each write              TestFullDiskAtEachWrite     77 full writes   whole or not at all, nothing left behind
//	full disk while a file is opened     TestFullDiskAtOpening       29/59/59 openings one sentence; whole at the next start
//	read-only disk                       TestReadOnlyDisk, …Opening  5 writes, 4 files all read but torn and older; as before
//	damage: heads, pages, bits, keys     TestDamage, TestFlipped…    a third/all/all  right values or ErrDamaged
//	writes into such pages               TestWriteInto…              every page       refused whole, or all before stays
//	circles of pages                     TestCirclesComeToAnEnd      every branch     noticed when the file is opened
//	histories by chance, files reopened  TestStoreModel              40/100/100       as a list of entries; folded anew alike
//	older schemas, a step that fails     TestMigrate, …ThatFails     2 files          backed up before; whole or as before
//	folded on from marks, or anew        TestFoldedOn…, TestHarmed…  6 + 1            alike; a harmed mark is passed over
//	two programs, one stopped in a write TestTwoPrograms, …LockHolder 80 writes       none lost; ErrLocked
//	two terminals on one session         TestTwoTerminals, …Screens… 2                one is told so, nothing twice
//	clock: 1970, 2200, back, DST, zones  TestClockTable, …AheadOf…   11 times         no gauge silenced, every instant kept
//	rules over every way in              TestOneListOfRules          53 breaches × 3  refused; nothing written
//	the same, by commands and files      TestEveryWayIn, ui/command  29 ways × 7, 8   what came in can be restored
//	indexes passed over, or harmed       TestIndexesFollow…, …NotB…  3 + 8            the journal's book; made anew
//	pipes, devices, links                TestSpecialFiles, TestLinks 12 + 7 calls     said at once; links stay
//	findings beyond the snapshot         TestEveryFindingStands      98               all stand until closed
//	litter of killed programs            TestLitterIsSwept           13 names         swept, what is in use stays
//	daily backups over ten weeks         TestDaily                   70 days          11 kept, each restored
//	bounded memory                       TestLargeJournalIsBounded   4 k/24 k/545 k   65 MiB of heap at most
//	terminal: signals, mistakes, stop    …IsRestored, TestStopped    8 + 4            as it was; continued
//	a mistake of the program in a session TestAMistakeInASession, outside 3           reported; goes on at the step
//	a storm of sizes                     TestResizeStorm, outside    150/600/5,000    goes on, leaves as always
//	hostile texts on a terminal          TestHostileTextOnATerminal  15 ways          no byte is obeyed
//	modes of all that is made            TestNobodyIsLetIn           7 commands       0600 and 0700, under any mask
//
// Fuzzed for ten minutes each, one at a time, on one shared core (calls): FuzzUnseal 5.0 M,
// FuzzDecodeEntry 2.2 M, FuzzReadNumber 2.4 M, FuzzSeries 3.5 M, FuzzSafe 1.2 M, FuzzTables 3.9 M,
// FuzzParse 0.54 M, FuzzScan 63 k, FuzzToolChanges 1.5 M; nothing found. These two again when the
// reader had changed, beside much other work: 1.0 M, nothing; 38 k, which found that a zero byte
// behind three bad lines ended the reading without its reason, and 51 k after that, nothing. FuzzWork
// and FuzzReadWAV of model/measure have run over their seeds alone.
//
// By the whole program, on two cores that others used as well, file and all: a check of 1,000,000
// entries took 5.3 s while few others ran, 9.0 to 12.7 s of the processor, and held 190 MiB, of 545,000
// 160; a restore of 545,000 7 s of the processor and 136 MiB; the book of a machine, 12,900 lines of
// the million, 0.16 s and 108 MiB. A part of the book for the screen is one look into two indexes and
// at most 600 entries. A file of an older program was given its indexes in 1.8 s of the processor,
// once.
//
// A strike by the end of an id, or what comes late, in a journal of 545,000 entries, 7,000 of them the
// machine's: 2 to 10 ms where it was logged behind the last mark but one, 40 ms where half of the
// entries lie behind it, 80 where all do; twice that with the drawer. It is what was logged since that
// is folded. After a strike that reaches far back others take as long until the next mark. By the
// whole program 0.09 s of the processor, 0.03 of 120,000 entries.
//
// A power cut is replayed by what bbolt promises: its pages are synced before its head is written. A
// disk that lies about that is not replayed. Sessions of the whole program are killed at each gate by
// model/walk.
package store

import (
	"bytes"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"

	"github.com/oklog/ulid/v2"
	bolt "go.etcd.io/bbolt"

	"bench/oilcan/model"
)

const (
	fileMode   = 0o600
	folderMode = 0o700
)

// Store is one data file. Its methods may be used from several goroutines; they take turns.
type Store struct {
	path   string
	now    func() time.Time
	schema schema

	wait  time.Duration // for the lock; zero is lockWait
	every uint64        // entries from mark to mark; zero is markEvery

	mu     sync.Mutex
	ids    *ulid.MonotonicEntropy
	seen   cache
	listed listed
	warm   warm
	proof  proof

	watched Seen

	badIndex bool // one for people is not what was written: it is made anew with the next entry

	lastWritten time.Time // the latest entry, as the file was opened
	mended      string    // what was put in order then, a sentence

	dailyDir    string // where daily backups go; "" for none
	dailyFailed func(error)
	dailyDone   string // the day it was last seen to
}

// Open opens the data file, creating it and its folder where there is none, migrating it where an
// older program wrote it. now is the clock. errors.Is tells ErrDamaged, ErrNewer, ErrLocked,
// ErrReadOnly and ErrFull; a file that cannot be used is left as it is.
//
// A file one of whose heads was torn is put in order from the other one: see Mended. What killed
// programs left in the making beside it is removed.
func Open(path string, now func() time.Time) (*Store, error) {
	return openWith(path, now, schema{version: schemaNow, steps: migrations})
}

func openWith(path string, now func() time.Time, sc schema) (*Store, error) {
	s := &Store{path: path, now: now, schema: sc, ids: ulid.Monotonic(rand.Reader, 0)}
	sweep(path)
	if err := only(path); err != nil {
		return nil, err
	}
	_, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		if to, e := os.Readlink(path); e == nil {
			// of a disk that is not there, or a file that was moved
			return nil, say(ErrDamaged, err,
				"%s is a symbolic link to %s, where nothing is: put that back, or remove the link to begin a new bench", path, to)
		}
		err = create(path, sc.version, now())
	}
	if err != nil {
		return nil, plain(path, err)
	}
	err = s.prepare()
	if errors.Is(err, ErrDamaged) {
		done, cannot := s.mend()
		if done {
			err = s.prepare()
		}
		if cannot != nil && !errors.Is(cannot, ErrDamaged) {
			err = fmt.Errorf("one of the two heads of %s is torn, and it could not be put in order from the other: %w", path, cannot)
		}
	}
	if err != nil {
		return nil, s.tell(err)
	}
	return s, nil
}

// Path is the data file's path.
func (s *Store) Path() string { return s.path }

// view runs a reading transaction. What it reads must be copied before it ends.
func (s *Store) view(fn func(tx *bolt.Tx, st state) error) error {
	return s.tell(transact(s.path, access{wait: s.wait}, func(tx *bolt.Tx, st state) error {
		if _, err := s.current(tx); err != nil {
			return err
		}
		return fn(tx, st)
	}))
}

// update runs a writing transaction: all of it is on the disk when it returns nil, or none.
func (s *Store) update(fn func(w writing) error) error {
	return s.tell(transact(s.path, access{write: true, wait: s.wait, proof: &s.proof},
		func(tx *bolt.Tx, st state) error {
			w := writing{tx, st.guard}
			m, err := s.current(tx)
			if err != nil {
				return err
			}
			if !m.Backup.IsZero() { // a copy that is worked with is no backup any more
				m.Backup = time.Time{}
				if err := writeMeta(w, m); err != nil {
					return err
				}
			}
			return fn(w)
		}))
}

// warm is what the latest transaction found or left, with the record it stood in: while a session
// is walked, the next step mostly finds the same.
type warm struct {
	metaRaw []byte
	meta    meta

	sessionRaw []byte
	session    *model.Session
	last       uint64
}

// current is the function current, with a memory.
func (s *Store) current(tx *bolt.Tx) (meta, error) {
	if b := tx.Bucket(metaBucket); b != nil && s.warm.metaRaw != nil &&
		bytes.Equal(b.Get(metaKey), s.warm.metaRaw) {
		return s.warm.meta, nil
	}
	m, err := current(tx, s.path, s.schema.version)
	if err == nil {
		s.warm.metaRaw, s.warm.meta = bytes.Clone(tx.Bucket(metaBucket).Get(metaKey)), m
	}
	return m, err
}

// create makes a new data file beside its place and moves it there whole, so that a full disk or a
// crash leaves nothing behind. Where another program was faster, its file is taken.
func create(path string, version int, now time.Time) error {
	dir := filepath.Dir(path)
	if err := os.MkdirAll(dir, folderMode); err != nil {
		return err
	}
	tmp, err := emptyTemp(dir)
	if err != nil {
		return err
	}
	defer os.Remove(tmp)
	db, err := bolt.Open(tmp, fileMode, &bolt.Options{Timeout: lockWait, NoStatistics: true})
	if err != nil {
		return err
	}
	err = db.Update(func(tx *bolt.Tx) error {
		for _, name := range allBuckets {
			if _, err := tx.CreateBucket(name); err != nil {
				return err
			}
		}
		return writeMeta(writing{Tx: tx}, meta{App: appID, Schema: version, Fold: foldNow,
			Created: now.UTC()})
	})
	if e := db.Close(); err == nil {
		err = e
	}
	if err != nil {
		return err
	}
	if err := putInPlace(tmp, path); err != nil {
		return err
	}
	return syncFolder(dir)
}

// putInPlace moves a new file to a path where none is; it never replaces one.
func putInPlace(tmp, path string) error {
	err := os.Link(tmp, path)
	if err == nil || errors.Is(err, fs.ErrExist) {
		return nil
	}
	// A file system without hard links: the gap between the two calls is the best it offers.
	if _, e := os.Lstat(path); errors.Is(e, fs.ErrNotExist) {
		return os.Rename(tmp, path)
	}
	return nil
}

// syncFolder makes a rename or a new name in the folder outlast a power cut.
func syncFolder(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	_ = d.Sync() // not every file system can
	return nil
}

// textHash is the content hash under which a text is stored: SHA-256, hex.
func textHash(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}

// Zone is that of the clock the file was opened with. Times in the file are UTC.
func (s *Store) Zone() *time.Location { return s.now().Location() }
