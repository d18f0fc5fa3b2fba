package book

import (
	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/ui/book"
	"bench/oilcan/ui/screen"
)

// Look shows what a filter wants of the book.
func Look(s screen.Screen, f book.Filter) tea.Cmd { return s.(*page).look(f) }

// Whole takes every filter off.
func Whole(s screen.Screen) tea.Cmd { return s.(*page).wholeBook(screen.Press{}) }

// Shown are the lines in the list, nil where one was not read.
func Shown(s screen.Screen) (out []*book.Sought) {
	p := s.(*page)
	for i := range p.all() {
		out = append(out, p.line(i))
	}
	return out
}
