package screen

import (
	"fmt"
	"runtime/debug"
	"slices"

	tea "github.com/charmbracelet/bubbletea"
)

// Crash is a mistake of the program itself in a screen or in a command, as Run gives it back once the
// terminal is restored.
type Crash struct {
	What  string
	Stack []byte // where it happened
}

// Error says what went wrong.
func (c *Crash) Error() string { return c.What }

// guarded is the root with such mistakes caught: the screen library would write a trace over the
// person's screen.
type guarded struct {
	*Root
	stop func(error) // ends the program; only the first cause counts
}

// Init is that of the root.
func (g *guarded) Init() (cmd tea.Cmd) {
	defer g.catch()
	return g.watch(g.Root.Init())
}

// Update is that of the root.
func (g *guarded) Update(msg tea.Msg) (m tea.Model, cmd tea.Cmd) {
	m = g
	defer g.catch()
	_, cmd = g.Root.Update(msg)
	return m, g.watch(cmd)
}

// View is that of the root.
func (g *guarded) View() string {
	defer g.catch()
	return g.Root.View()
}

// catch ends the program in order; it must be deferred.
func (g *guarded) catch() {
	if r := recover(); r != nil {
		g.stop(&Crash{What: fmt.Sprint(r), Stack: debug.Stack()})
	}
}

// watch is a command with its mistakes caught, and those of the commands it gives.
func (g *guarded) watch(cmd tea.Cmd) tea.Cmd {
	if cmd == nil {
		return nil
	}
	return func() (msg tea.Msg) {
		defer g.catch()
		msg = cmd()
		if more, ok := msg.(tea.BatchMsg); ok {
			more = slices.Clone(more)
			for i, c := range more {
				more[i] = g.watch(c)
			}
			return more
		}
		return msg
	}
}
