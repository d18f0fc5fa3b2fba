package screen

import (
	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/ui/theme"
)

// textPage is a screen that is only read. It needs no gauges.
type textPage struct {
	Base
	Pager
	title string
	help  bool // it is the help page of another screen
	lines func(t *theme.Theme, w int) []string
}

// NewText makes a page of lines of w cells at most.
func NewText(e *Env, title string, lines func(t *theme.Theme, w int) []string) Screen {
	p := &textPage{Base: e.Base(), title: title, lines: lines}
	p.MachinesOnly = true
	return p
}

// SetSize lays the page out for the width.
func (p *textPage) SetSize(w, h int) {
	p.Base.SetSize(w, h)
	p.Fill(p.lines(p.Env.Theme, w), h)
}

func (p *textPage) Title() (string, string) { return p.title, "" }

// Keys scroll it.
func (p *textPage) Keys() []Key { return append(p.Pager.Keys(), Back) }

func (p *textPage) Update(msg tea.Msg) (Screen, tea.Cmd) {
	if key, ok := msg.(Press); ok {
		Act(p.Keys(), key)
	} else {
		p.Take(msg)
	}
	return p, nil
}

func (p *textPage) View() string { return p.Pager.View(p.Env.Theme, p.W) }
