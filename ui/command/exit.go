package command

import (
	"errors"
	"fmt"
	"io/fs"

	"bench/oilcan/store"
)

// The exit codes.
const (
	Done     = 0
	No       = 1
	Misuse   = 2
	Unusable = 3
)

// coded is an error with the exit code it leads to.
type coded struct {
	code int
	err  error
}

func (e *coded) Error() string { return e.err.Error() }

func (e *coded) Unwrap() error { return e.err }

// misuse is a mistake of the person who typed.
func misuse(format string, args ...any) error {
	return &coded{Misuse, fmt.Errorf(format, args...)}
}

// unusable marks an error of the data file, unless it already has its code.
func unusable(err error) error {
	var c *coded
	if err == nil || errors.As(err, &c) || errors.Is(err, store.ErrRefused) {
		return err
	}
	return &coded{Unusable, err}
}

// ErrShowDemo comes from Deps.OpenBench where a person on an empty bench wants to see the demo
// first.
var ErrShowDemo = errors.New("the demo was asked for")

// errNo answers no without a word: the output has said it.
var errNo = &coded{No, errors.New("no")}

// exitCode is the exit code of an error. What has no code of its own was refused before anything
// was written, and that is misuse.
func exitCode(err error) int {
	var c *coded
	switch {
	case err == nil:
		return Done
	case errors.As(err, &c):
		return c.code
	}
	for _, kind := range []error{store.ErrDamaged, store.ErrNewer, store.ErrLocked,
		store.ErrReadOnly, store.ErrFull} {
		if errors.Is(err, kind) {
			return Unusable
		}
	}
	return Misuse
}

// reason is a file error without the path, which the sentence names already.
func reason(err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}
