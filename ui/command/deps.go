// Package command is what a person types: every command but the screens, each with its words, its
// checks and its exit code. Run is the door; main hands in the clock, the streams and the
// environment.
//
// Exit codes: 0 done, 1 answered no (something is due, a file has mistakes), 2 misuse, 3 the data
// file could not be used. Every error is one sentence on standard error; what was asked for is on
// standard output.
//
// JSON keys keep their sense; new ones may be added. `job --json` is one object for one print and a
// list for several; beside what the text says it has partial, machine, travel_km, retractions,
// service_calls, unknown, styrenic_hours, and in a forecast row swap (before, after, or empty),
// layer, hour, fails, likely, why. In `due --json` by is the day looked ahead to, probability that
// the low end is reached by then; in `gauges --json` care says whether the machine is kept by it,
// at_most that the use is a bound; `plan --json` has fit where minutes were given. In `machine list
// --json` meters is what each counter last showed. A line of `book --json` is what
// ui/book/entry.schema.json says, an entry or a text that entries name; `import` and `machine
// take-in` read it, and say with --json how many entries they wrote and how many were known.
package command

import (
	"io"
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

	// OpenBench runs the screens until the person leaves them; ErrShowDemo asks for the demo
	// meanwhile.
	OpenBench func(Opened) error
	// MakeDemo writes the invented bench into a new data file.
	MakeDemo func(path string, lib *procedures.Library, now time.Time) error
	// TempDir makes a folder for what is thrown away.
	TempDir func() (string, error)
	// OnSignal has clean run where a signal ends the program before release is called, which may be
	// done more than once.
	OnSignal func(clean func()) (release func())
}

// Opened is a bench opened for the screens.
type Opened struct {
	Store   *store.Store
	Library *procedures.Library
	Theme   *theme.Theme
	Clock   *Clock
	By      string // who works here
	Bell    bool   // ring when a wait has run out
	Pace    string // of sessions: auto | steps | pages
	Title   string // what the bench is called; "" where it has no name
	Demo    bool   // a throw-away bench
	// what was wrong with the settings and the operator's own procedures, a sentence each
	Notes []string
	Wrong string // what speaks against the clock, "" where nothing does
	// to be called once the screens end in order on a signal; may be nil
	Caught func()
}
