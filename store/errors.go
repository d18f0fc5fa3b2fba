package store

import (
	"errors"
	"fmt"
	"io/fs"
	"syscall"

	bolterr "go.etcd.io/bbolt/errors"
)

// The ways a data file can fail its user. Every error the package returns for one of them is a
// sentence that says what is wrong and what to do, and answers errors.Is.
var (
	ErrDamaged  = errors.New("data file damaged")
	ErrNewer    = errors.New("data file written by a newer program")
	ErrLocked   = errors.New("data file in use")
	ErrReadOnly = errors.New("data file cannot be written")
	ErrFull     = errors.New("disk full")

	// ErrStale: the session was carried on elsewhere; load it again.
	ErrStale = errors.New("session carried on elsewhere")
	// ErrBegun: the machine has a begun session already.
	ErrBegun = errors.New("session already begun")
	// ErrRefused: the action itself is wrong; nothing was written.
	ErrRefused = errors.New("refused")
)

// told is an error as one sentence, with what it is and what caused it.
type told struct {
	text  string
	kind  error
	cause error
}

func (e *told) Error() string { return e.text }

func (e *told) Unwrap() []error {
	if e.cause == nil {
		return []error{e.kind}
	}
	return []error{e.kind, e.cause}
}

// say makes an error of a kind from a sentence.
func say(kind, cause error, format string, args ...any) error {
	return &told{text: fmt.Sprintf(format, args...), kind: kind, cause: cause}
}

func refuse(format string, args ...any) error { return say(ErrRefused, nil, format, args...) }

// damage is what was found wrong inside the file; the border of the package adds the path and the
// newest good backup.
type damage struct{ what string }

func (d *damage) Error() string   { return "the data file is damaged: " + d.what }
func (d *damage) Is(t error) bool { return t == ErrDamaged }

func damaged(format string, args ...any) error { return &damage{fmt.Sprintf(format, args...)} }

// plain turns the errors of files and of bbolt into sentences.
func plain(path string, err error) error {
	switch {
	case err == nil:
		return nil
	case errors.Is(err, bolterr.ErrTimeout):
		return say(ErrLocked, err, "%s is being written by another oilcan: try again in a moment",
			path)
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return say(ErrFull, err,
			"the disk is full and nothing was written to %s: free some space and try again", path)
	case errors.Is(err, fs.ErrNotExist):
		return say(ErrDamaged, err,
			"%s is gone: put it back, or start the program again to begin a new one", path)
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return say(ErrReadOnly, err, "%s may not be written here: check who owns it and its folder",
			path)
	case errors.Is(err, bolterr.ErrInvalid), errors.Is(err, bolterr.ErrChecksum),
		errors.Is(err, bolterr.ErrVersionMismatch):
		return damaged("%v", err)
	}
	return err
}

// tell adds to a damage what to do about it.
func (s *Store) tell(err error) error {
	var d *damage
	if !errors.As(err, &d) {
		return err
	}
	return tellDamage(s.path, d)
}

func tellDamage(path string, d *damage) error {
	if b := newestGood(path); b != "" {
		return say(ErrDamaged, d,
			"%s cannot be used: %s; the newest good backup is %s, put it in place with oilcan restore %s", path, d.what, b, b)
	}
	return say(ErrDamaged, d,
		"%s cannot be used: %s; no good backup lies in %s, so look for a copy elsewhere and put it in place with oilcan restore", path, d.what, BackupDir(path))
}
