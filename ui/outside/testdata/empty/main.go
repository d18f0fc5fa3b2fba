// Command empty is the least program the screen library can run: what the first frame is measured against.
package main

import (
	"fmt"
	"os"

	_ "bench/oilcan/ui/theme/quiet"

	tea "github.com/charmbracelet/bubbletea"
)

type empty struct{}

func (empty) Init() tea.Cmd { return nil }

func (e empty) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	if k, ok := msg.(tea.KeyMsg); ok && k.String() == "q" {
		return e, tea.Quit
	}
	return e, nil
}

func (empty) View() string { return "first frame" }

func main() {
	if _, err := tea.NewProgram(empty{}, tea.WithAltScreen(), tea.WithFPS(120)).Run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
