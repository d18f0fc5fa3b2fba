// Package command is what a person types: every command but the screens, each with its words, its
// checks and its exit code. Run is the door; main hands in the clock, the streams and the
// environment.
//
// Exit codes: 0 done, 1 answered no (something is due, a file has mistakes), 2 misuse, 3 the data
// file could not be used. Every error is one sentence on standard error; what was asked for is on
// standard output.
//
// What each command writes with --json is said by output.schema.json, a definition a command, made of
// the types and their comments (go test -run Schema -update-schema) and held to by a test; an entry
// by ui/book/entry.schema.json. JSON keys keep their sense; new ones may be added. `book --json` is
// an object a line, an entry or a text that entries name, and `import` and `machine take-in` read it;
// `job --json` is one object for one print and a list for several.
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
	// behind prices and costs; "" writes none
	Currency string
	Demo     bool // a throw-away bench
	// what was wrong with the settings and the operator's own procedures, a sentence each
	Notes []string
	Wrong string // what speaks against the clock, "" where nothing does
	// to be called once the screens end in order on a signal; may be nil
	Caught func()
}
