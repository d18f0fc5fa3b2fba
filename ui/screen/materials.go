package screen

import (
	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/procedures"
	"bench/oilcan/ui/sitting"
	"bench/oilcan/ui/theme"
)

// materials is the table of polymers: drying, wear, heat, air.
type materials struct {
	Base
	pager
}

func newMaterials(e *Env) *materials { return &materials{Base: e.Base()} }

func (s *materials) SetSize(w, h int) {
	s.Base.SetSize(w, h)
	t := s.Env.Theme
	var out []string
	for _, l := range theme.Wrap(t.Plain(sitting.MaterialHead), w-2) {
		out = append(out, " "+l)
	}
	out = append(out, "")
	for _, l := range sitting.MaterialLines(procedures.Materials(), min(w-2, 110)) {
		l = t.Plain(l)
		if l != "" && l[0] != ' ' {
			l = t.Text.Strong.Text(l)
		}
		out = append(out, " "+l)
	}
	for i := range out {
		out[i] = fit(t, out[i], w)
	}
	s.fill(out, h)
}

func (s *materials) Title() (string, string) { return "materials", "" }

func (s *materials) Keys() []Key { return append(s.pager.keys(), back) }

func (s *materials) Update(msg tea.Msg) (Screen, tea.Cmd) {
	if p, ok := msg.(Press); ok {
		Act(s.Keys(), p)
	} else {
		s.Take(msg)
	}
	return s, nil
}

func (s *materials) View() string { return s.view(s.Env.Theme, s.W) }
