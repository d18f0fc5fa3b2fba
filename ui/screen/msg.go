package screen

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/theme"
)

// Pop takes the top screen away; the bench stays. Then, where not nil, goes to the screen below it.
type Pop struct{ Then tea.Msg }

// Home takes all screens away but the bench.
type Home struct{}

// Press is a key for the top screen.
type Press struct {
	Msg tea.KeyMsg
	// Again tells that the same key came less than 350 ms before, as when it is held, or that it
	// came within a burst. It moves a cursor but must not pass a gate.
	Again bool
	// Held tells that the same key came less than 100 ms before: it repeats by itself.
	Held bool
	// Same tells that it is the key that came before it.
	Same bool
	// Gap is how long after the key before it came; 0 where nobody knows.
	Gap time.Duration
}

// Key is the name of the key: "a", "enter", "up", "ctrl+s". Letters that came in one burst are no
// key, even where they spell the name of one: they stand in brackets.
func (p Press) Key() string {
	if p.Msg.Type == tea.KeyRunes && len(p.Msg.Runes) > 1 && !p.Msg.Paste {
		return "[" + string(p.Msg.Runes) + "]"
	}
	return p.Msg.String()
}

// Passes tells whether the key may pass a gate or answer a question for good: pressed afresh, and
// not pasted.
func (p Press) Passes() bool { return !p.Again && !p.Msg.Paste }

// Result answers Base.Read or Base.Write. The root has shown the error by then; a Result that
// Base.Stale knows is from an older request and is dropped.
type Result struct {
	Screen  ID
	Request int
	Wrote   bool
	Value   any // what the function gave
	Err     error

	data *Data // the bench after a write
}

// DataChanged brings the bench as it is now.
type DataChanged struct{ Data *Data }

// Tick brings the time.
type Tick struct{ Now time.Time }

// Failed shows an error on the status line until it is dismissed with esc.
type Failed struct{ Err error }

// Notice shows a sentence on the status line until the next key.
type Notice struct{ Text string }

// Ring rings the bell, if the settings want it.
type Ring struct{}

// AskHelp opens the help page, for screens in which ? can be text.
type AskHelp struct{}

// ShowDemo leaves for the demo; Run then returns ErrDemo.
type ShowDemo struct{}

// Send makes a message of a value: the command that only returns it.
func Send(m tea.Msg) tea.Cmd { return func() tea.Msg { return m } }

// Tell shows a sentence on the status line.
func Tell(text string) tea.Cmd { return Send(Notice{Text: text}) }

// LeaveWith goes back, and shows a sentence there.
func LeaveWith(text string) tea.Cmd { return tea.Batch(Send(Pop{}), Tell(text)) }

// CloseFirst says of a machine that the session begun on it comes before another.
func CloseFirst(m *model.Machine) tea.Cmd {
	return Tell("A session is begun on " + theme.Safe(m.Name) +
		": close it first, c on the bench goes on with it.")
}

// Gone is what the page of a machine shows that is not there.
const Gone = " This machine is not on the bench any more."

// Stamped is a key with the time it came at, made by the program's filter.
type Stamped struct {
	Key tea.KeyMsg
	At  time.Time
}

// second is the root's own tick.
type second struct{ Now time.Time }

// forecasted is the bench of a first look with more known of it: its gauges forecast, then (whole)
// what to order.
type forecasted struct {
	of, data *Data
	whole    bool
}

// polled is the answer to a look at the data file; Data is nil where nothing changed.
type polled struct {
	Data *Data
	Err  error
}

// Chosen tells the bench which machine to stand on: one just added.
type Chosen struct{ Machine string }

// WorkedOut brings what a calculator worked out for a gate.
type WorkedOut struct{ Value *model.Measured }
