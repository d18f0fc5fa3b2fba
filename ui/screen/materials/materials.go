// Package materials is the table of polymers: drying, wear, heat, air.
package materials

import (
	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/procedures"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// materials is the table of polymers: drying, wear, heat, air.
type materials struct {
	screen.Base
	screen.Pager
}

// New makes the table.
func New(e *screen.Env) screen.Screen {
	s := &materials{Base: e.Base()}
	s.MachinesOnly = true
	return s
}

func (s *materials) SetSize(w, h int) {
	s.Base.SetSize(w, h)
	t := s.Env.Theme
	var out []string
	for _, l := range theme.Wrap(t.Plain(session.MaterialHead), w-2) {
		out = append(out, " "+l)
	}
	out = append(out, "")
	for _, l := range session.MaterialLines(procedures.Materials(), min(w-2, 110)) {
		l = t.Plain(l)
		if l != "" && l[0] != ' ' {
			l = t.Text.Strong.Text(l)
		}
		out = append(out, " "+l)
	}
	for i := range out {
		out[i] = screen.Fit(t, out[i], w)
	}
	s.Fill(out, h)
}

func (s *materials) Title() (string, string) { return "materials", "" }

func (s *materials) Keys() []screen.Key { return append(s.Pager.Keys(), screen.Back) }

func (s *materials) Update(msg tea.Msg) (screen.Screen, tea.Cmd) {
	if p, ok := msg.(screen.Press); ok {
		screen.Act(s.Keys(), p)
	} else {
		s.Take(msg)
	}
	return s, nil
}

func (s *materials) View() string { return s.Pager.View(s.Env.Theme, s.W) }
