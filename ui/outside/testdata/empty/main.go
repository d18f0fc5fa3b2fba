// Command empty is the least program the screen library can run: what the first frame, and a frame
// after a key, are measured against.
package main

import (
	"fmt"
	"os"
	"strconv"

	_ "bench/oilcan/ui/theme/quiet"

	tea "github.com/charmbracelet/bubbletea"
)

type empty struct{ keys int }

func (empty) Init() tea.Cmd { return nil }

func (e empty) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	if k, ok := msg.(tea.KeyMsg); ok && k.String() == "q" {
		return e, tea.Quit
	} else if ok {
		e.keys++
	}
	return e, nil
}

func (e empty) View() string { return "first frame\n" + strconv.Itoa(e.keys) }

func main() {
	if _, err := tea.NewProgram(empty{}, tea.WithAltScreen(), tea.WithFPS(120)).Run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
