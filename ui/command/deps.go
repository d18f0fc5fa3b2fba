// Package command is what a person types: every command but the screens, each with its words, its
// checks and its exit code. Run is the door; main hands in the clock, the streams and the environment.
//
// Exit codes: 0 done, 1 answered no (something is due, a file has mistakes), 2 misuse, 3 the data file
// could not be used. Every error is one sentence on standard error; what was asked for is on standard
// output.
package command

import (
	"errors"
	"fmt"
	"io"
	"sync"
	"time"

	"bench/oilcan/procedures"
	"bench/oilcan/store"
	"bench/oilcan/ui/theme"
)

// Deps is what the program hands in.
type Deps struct {
	Clock     *Clock
	Stdin     io.Reader
	Stdout    io.Writer
	Stderr    io.Writer
	Env       func(string) string
	InputTTY  bool          // standard input is a terminal
	OutputTTY bool          // standard output is a terminal
	Login     func() string // the login name, "" where unknown
	Version   string

	// OpenBench runs the screens until the person leaves them; ErrShowDemo asks for the demo meanwhile.
	OpenBench func(Opened) error
	// MakeDemo writes the invented bench into a new data file.
	MakeDemo func(path string, lib *procedures.Library, now time.Time) error
	// TempDir makes a folder for what is thrown away.
	TempDir func() (string, error)
	// OnSignal has clean run where a signal ends the program before release is called, which may be done
	// more than once.
	OnSignal func(clean func()) (release func())
}

// Opened is a bench opened for the screens.
type Opened struct {
	Store   *store.Store
	Library *procedures.Library
	Theme   *theme.Theme
	Clock   *Clock
	By      string   // who works here
	Bell    bool     // ring when a wait has run out
	Pace    string   // of sessions: auto | steps | pages
	Title   string   // what the bench is called; "" where it has no name
	Demo    bool     // a throw-away bench
	Notes   []string // what was wrong with the settings and the operator's own procedures, a sentence each
}

// Clock is the time of one program run: the real one, or one that stands still until moved.
type Clock struct {
	mu     sync.Mutex
	real   func() time.Time
	pinned bool
	at     time.Time
}

// NewClock makes a clock. pin is what OILCAN_NOW says: empty for the real time, a day (taken at noon) or
// an RFC 3339 time at which the clock stands.
func NewClock(real func() time.Time, pin string) (*Clock, error) {
	c := &Clock{real: real}
	if pin == "" {
		return c, nil
	}
	zone := real().Location()
	if day, err := time.ParseInLocation(time.DateOnly, pin, zone); err == nil {
		c.pinned, c.at = true, day.Add(12*time.Hour)
		return c, nil
	}
	t, err := time.Parse(time.RFC3339, pin)
	if err != nil {
		return nil, misuse("OILCAN_NOW is %q, which is no time: write 2026-11-25 or 2026-11-25T09:14:00Z", pin)
	}
	c.pinned, c.at = true, t.In(zone)
	return c, nil
}

// Now is the time.
func (c *Clock) Now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.pinned {
		return c.at
	}
	return c.real()
}

// Move moves a pinned clock on; the real one moves by itself, and false is said.
func (c *Clock) Move(by time.Duration) bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.pinned {
		c.at = c.at.Add(max(0, by))
	}
	return c.pinned
}

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

// ErrShowDemo comes from Deps.OpenBench where a person on an empty bench wants to see the demo first.
var ErrShowDemo = errors.New("the demo was asked for")

// errNo answers no without a word: the output has said it.
var errNo = &coded{No, errors.New("no")}

// exitCode is the exit code of an error. What has no code of its own was refused before anything was
// written, and that is misuse.
func exitCode(err error) int {
	var c *coded
	switch {
	case err == nil:
		return Done
	case errors.As(err, &c):
		return c.code
	}
	for _, kind := range []error{store.ErrDamaged, store.ErrNewer, store.ErrLocked, store.ErrReadOnly, store.ErrFull} {
		if errors.Is(err, kind) {
			return Unusable
		}
	}
	return Misuse
}
