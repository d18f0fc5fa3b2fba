package store

import (
	"fmt"
	"os"

	bolt "go.etcd.io/bbolt"
)

// schema is what the program knows of the file's layout: its version, and the step from each older
// one to the next.
type schema struct {
	version int
	steps   map[int]func(tx *bolt.Tx) error // version -> to version + 1
}

// migrations are the steps from each older layout. From 2 on sessions have entries an older program
// would pass over, so that a page broken off would leave nothing of what its rows took out: it
// refuses the file instead. From 3 on a session may be told to leave its machine unplugged and
// carry checks owed from earlier ones: an older program would lead back to power and lose them.
// Nothing of the file changes.
var migrations = map[int]func(tx *bolt.Tx) error{
	1: func(*bolt.Tx) error { return nil },
	2: func(*bolt.Tx) error { return nil },
}

// prepare makes an older file current, and folds again where the fold is another one. A file that
// may only be read is left as it is.
func (s *Store) prepare() error {
	var m meta
	kept := false
	err := transact(s.path, access{}, func(tx *bolt.Tx, _ state) (err error) {
		if err := pagesEnd(s.path); err != nil { // under the lock of the transaction
			return err
		}
		if m, err = readMeta(tx); err == nil {
			s.lastWritten = writtenLast(tx)
			kept = tx.Bucket(journalBucket) == nil || indexesKept(tx)
		}
		return err
	})
	switch {
	case err != nil:
		return err
	case m.Schema > s.schema.version:
		return say(ErrNewer, nil,
			"%s was written by a newer oilcan (data schema %d, this one knows %d): use that one, nothing was changed", s.path, m.Schema, s.schema.version)
	case m.Schema < s.schema.version:
		err = s.migrate(m.Schema)
	case m.Fold != foldNow && writable(s.path):
		err = s.Rebuild()
	}
	if err == nil && !kept && writable(s.path) {
		_ = s.keepIndexes() // where that cannot be, the journal is read instead
	}
	return err
}

// migrate takes the file from an older schema to this one, each step in a transaction of its own,
// after a backup beside it.
func (s *Store) migrate(from int) error {
	for v := from; v < s.schema.version; v++ {
		if s.schema.steps[v] == nil {
			return say(ErrNewer, nil,
				"%s has data schema %d, which this oilcan no longer reads: open it once with an older one", s.path, from)
		}
	}
	kept, err := unused(fmt.Sprintf("%s.v%d.bak", s.path, from))
	if err != nil {
		return err
	}
	if err := copyFile(kept, s.path, s.now(), access{}); err != nil {
		return fmt.Errorf("no backup could be made before bringing the data file up to date, so nothing was changed: %w", err)
	}
	for v := from; v < s.schema.version; v++ {
		err := transact(s.path, access{write: true}, func(tx *bolt.Tx, _ state) error {
			m, err := readMeta(tx)
			if err != nil || m.Schema != v { // another program may have been faster
				return err
			}
			if err := s.schema.steps[v](tx); err != nil {
				return err
			}
			m.Schema = v + 1
			return writeMeta(writing{Tx: tx}, m)
		})
		if err != nil {
			return fmt.Errorf("the data file could not be brought from schema %d to %d; a copy of it is %s: %w", v, v+1, kept, err)
		}
	}
	return s.Rebuild()
}

// writable tells whether the file may be written; it changes nothing.
func writable(path string) bool {
	f, err := openFile(path, os.O_RDWR)
	if err != nil {
		return false
	}
	f.Close()
	return true
}

// unused gives the path, with a number added where something lies there already.
func unused(path string) (string, error) {
	for n := 1; n < 1000; n++ {
		try := path
		if n > 1 {
			try = fmt.Sprintf("%s.%d", path, n)
		}
		if _, err := os.Lstat(try); os.IsNotExist(err) {
			return try, nil
		}
	}
	return "", fmt.Errorf("a thousand files like %s lie there already: remove some", path)
}
