package store

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"runtime/debug"
	"time"

	bolt "go.etcd.io/bbolt"
	bolterr "go.etcd.io/bbolt/errors"
)

// lockWait is how long a transaction waits for another process to finish its own.
const lockWait = 2 * time.Second

// access is how a file is opened for one transaction.
type access struct {
	write   bool
	lenient bool // accept one destroyed meta page
	wait    time.Duration
	proof   *proof // of the pages, before a write
}

// state is what a transaction saw of the file.
type state struct {
	txid  uint64
	info  os.FileInfo
	guard *guard // of a large file, while it is written
}

func (a state) of(tx *bolt.Tx) state {
	a.txid = uint64(tx.ID())
	return a
}

// same tells whether both are the same file after the same transaction.
func (a state) same(b state) bool {
	return a.info != nil && b.info != nil && a.txid == b.txid && os.SameFile(a.info, b.info)
}

// transact opens the file, runs one transaction and releases the file, so that another process gets
// its turn. It never creates a file. What bbolt answers to a damaged file with a panic or a fault
// comes back as a damage.
func transact(path string, how access, fn func(tx *bolt.Tx, st state) error) error {
	for range 3 {
		moved, err := transactOnce(path, how, fn)
		if !moved {
			return plain(path, err)
		}
	}
	return say(ErrLocked, nil,
		"%s is being replaced again and again by another program: try again in a moment", path)
}

// transactOnce reports moved where the file at the path was replaced while waiting for its lock;
// then nothing was done.
func transactOnce(path string, how access, fn func(tx *bolt.Tx, st state) error) (moved bool,
	err error) {
	var f *os.File
	var db *bolt.DB
	var seen state
	was := debug.SetPanicOnFault(true)
	defer debug.SetPanicOnFault(was)
	defer func() {
		if r := recover(); r != nil {
			giveUp(db, f, how.write)
			err = damaged("its pages contradict each other (%s)", firstLine(fmt.Sprint(r)))
		}
	}()
	opt := &bolt.Options{Timeout: cmp.Or(how.wait, lockWait), ReadOnly: !how.write,
		NoStatistics: true}
	opt.OpenFile = func(name string, flag int, _ os.FileMode) (*os.File, error) {
		g, err := openFile(name, flag&^os.O_CREATE)
		if err != nil {
			return nil, err
		}
		if seen, err = admit(g, path, how, opt.Timeout); err != nil {
			g.Close()
			return nil, err
		}
		f = g
		return g, nil
	}
	db, err = bolt.Open(path, fileMode, opt)
	if err != nil {
		return errors.Is(err, errMoved), err
	}
	moved = replaced(path, seen.info)
	if !moved {
		err = run(db, how.write, seen, fn)
	}
	if e := db.Close(); err == nil && !how.write {
		err = e
	}
	return moved, err
}

// errMoved: another file lies at the path by now.
var errMoved = errors.New("the file was replaced")

// admit tells whether bbolt can be trusted with an open file. One that is to be written is locked
// first, so that what is read of its pages is what bbolt will find.
func admit(f *os.File, path string, how access, wait time.Duration) (state, error) {
	if how.write {
		if err := lock(f, wait); err != nil {
			return state{}, err
		}
		if info, err := f.Stat(); err != nil || replaced(path, info) {
			return state{}, cmp.Or(err, errMoved)
		}
	}
	h, info, err := preflight(f, how.lenient)
	if err != nil || !how.write {
		return state{info: info}, err
	}
	guard, err := how.proof.walk(f, h, info)
	return state{info: info, guard: guard}, err
}

// replaced tells whether another file, or none, lies at the path.
func replaced(path string, info os.FileInfo) bool {
	now, err := os.Stat(path)
	return err != nil || !os.SameFile(info, now)
}

// lockPause is how long is waited between two tries at a lock.
const lockPause = 5 * time.Millisecond

// lock takes the lock bbolt takes, before it does. Where that cannot be, bbolt takes it later. The
// time waited is told by the pauses, without a clock.
func lock(f *os.File, wait time.Duration) error {
	for waited := time.Duration(0); !tryLock(f); waited += lockPause {
		if waited > wait {
			return bolterr.ErrTimeout
		}
		time.Sleep(lockPause)
	}
	return nil
}

// giveUp lets go of a file whose transaction ended in a panic. After a writing one bbolt may hold
// locks of its own for ever, and then only the file can be closed; its memory map stays.
func giveUp(db *bolt.DB, f *os.File, write bool) {
	switch {
	case db != nil && !write:
		db.Close()
	case f != nil:
		unlock(f)
		f.Close()
	}
}

func run(db *bolt.DB, write bool, st state, fn func(tx *bolt.Tx, st state) error) error {
	if write {
		return db.Update(func(tx *bolt.Tx) error { return fn(tx, st.of(tx)) })
	}
	return db.View(func(tx *bolt.Tx) error { return fn(tx, st.of(tx)) })
}

func firstLine(s string) string {
	for i, r := range s {
		if r == '\n' || i > 120 {
			return s[:i]
		}
	}
	return s
}

// peek reads which transaction the file stands at, without a lock.
func peek(path string) (state, error) {
	f, err := openFile(path, os.O_RDONLY)
	if err != nil {
		return state{}, err
	}
	defer f.Close()
	h, info, err := preflight(f, false)
	return state{txid: h.txid, info: info}, err
}
