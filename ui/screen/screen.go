// Package screen is what every screen of oilcan stands on: what a person sees in a terminal of
// 40x10 cells or more.
//
// # What stands where
//
// Here stand the contract (screen.go), the places and messages (places.go, msg.go), the root with
// its layout and help, and the parts: keys.go, field.go, form*.go, list.go, pager.go, lines.go; and
// what two screens share: gauge rows, what stands open, lives of parts, unlocking, counters,
// outcomes. Each screen has a folder of its own below this one, with its golden frames, and knows
// nothing but this package; swap is a line that two of them show. The package rooms has the one
// table of them, screentest drives them in tests.
//
// # How it works
//
// Root owns a stack of screens and is the one tea.Model. The event loop alone changes screens:
// Update takes a message and changes the screen, View only reads it. Nothing in Init, Update or
// View touches a file or a clock; that is done in commands, made by Base.Read and Base.Write, which
// copy what they need and come back as a Result. Every message is a concrete struct:
//
//	Open, Pop, Home               navigation, to the root; what can be opened stands in places.go
//	Press                         a key, to the top screen
//	Result                        the answer to a Read or Write, to the screen that asked
//	DataChanged                   the bench as it is now, to the screen in view and to those that count a wait down
//	Tick                          the time, to the same; what is covered is told both when it is shown
//	Failed, Notice, Ring, AskHelp to the root: a sentence to show, the bell, the help page
//
// # How to add a screen
//
// Embed Base (made by Env.Base), begin Update with `if s.Take(msg) { ... }` or a type switch, and
// give View lines within the size of SetSize. The root has told a screen its size, the time and the
// bench before it calls Init. Name it in places.go, and say in the package rooms what makes it: a
// screen opens another by the message Open and knows none.
//
// Keys is one list. It says which keys there are, whether they work now, the words for them and
// what they do; the key line, the help page and Act read it, so that what is not shown does
// nothing. What no key takes is typed.
//
// A screen never draws the title line, the key line or an error: Title and Keys say what they hold,
// and an error in a Result is shown by the root.
//
// # What is taken from the libraries
//
// Of bubbles: key holds each key with its words, textinput edits a Field and finds the name that is
// suggested, progress draws how far a file is read where there is colour (theme.Progress). The rest
// stays out, for what was measured: help, list and table draw wider than they are told and cost
// milliseconds a frame, viewport and textarea copy what they show, filepicker reads the disk in
// View, and spinner, timer and stopwatch count ticks, which a suspended machine makes wrong. Of
// lipgloss the styles are the source of theme's paints, compiled once.
//
// # What it holds to
//
//   - Nothing is preselected at a choice or state gate on the screen: the passing answer must be
//     chosen.
//   - First frame. It is drawn with dates by the mean pace; the forecast follows 30 ms later, then
//     what to order. Until a key is pressed the cursor stays on the first machine, which the
//     forecast may change.
package screen

import (
	tea "github.com/charmbracelet/bubbletea"
)

// ID names a screen on the stack; Results go to the screen they name.
type ID int

// Screen is one full screen. Only Update and SetSize change it.
type Screen interface {
	// ID is the id given by Env.Base.
	ID() ID
	// Init gives the first command, nil for none. Size, time and bench are known by then.
	Init() tea.Cmd
	// Update takes one message and gives the screen that goes on (usually itself).
	Update(tea.Msg) (Screen, tea.Cmd)
	// View draws the body: at most as many lines, each at most as wide, as SetSize said.
	View() string
	// SetSize tells the size of the body in cells.
	SetSize(w, h int)
	// Title is the text at the left and right end of the title line.
	Title() (left, right string)
	// Keys is the one list of what keys do now, most useful first. Update gives it to Act.
	Keys() []Key
	// TakesText tells that letters are typed into a field: then only ctrl+c, esc and f1 are the
	// root's, key bursts and pastes arrive whole (newlines stripped), and q and ? are letters.
	TakesText() bool
}

// Inner is a screen with something of its own open (a line, a question, a field with text in it)
// that esc closes before it leaves the screen. While HasInner, esc goes to the screen.
type Inner interface{ HasInner() bool }

// Leaver is a screen with something to write when esc leaves it. Leave gives the command that
// writes it and then pops the screen; nil where there is nothing to write.
type Leaver interface{ Leave() tea.Cmd }

// Ticking is a screen that wants the time every second even while another screen stands on it,
// because a wait is counted down. The top screen gets it every second in any case, others when the
// minute changes.
type Ticking interface{ EverySecond() bool }

// Explained is a screen with more to say on its help page than its keys.
type Explained interface{ Help() []HelpPart }

// HelpPart is a heading with lines under it on the help page. A line may hold a term and its
// meaning, set apart by a tab.
type HelpPart struct {
	Head  string
	Lines []string
}
