package screen

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/theme"
)

// retire takes a machine off the bench for good, once its name has been typed.
type retire struct {
	Base
	of     string
	name   field
	bad    string
	saving bool
}

func newRetire(e *Env, id string) *retire { return &retire{Base: e.Base(), of: id} }

func (s *retire) TakesText() bool { return !s.saving }

func (s *retire) Title() (string, string) { return s.machineName() + "   retire", "" }

func (s *retire) machineName() string {
	if m := s.Data.Machine(s.of); m != nil {
		return theme.Safe(m.Name)
	}
	return ""
}

// Keys are those that work now.
func (s *retire) Keys() []Key {
	return []Key{On("enter", "retire", "retires the machine, if the name is typed as it stands", func(Press) tea.Cmd { return s.retire() }).Afresh(),
		Shown("esc", "back", "leaves everything as it is"), Shown("f1", "help", "")}
}

func (s *retire) Update(msg tea.Msg) (Screen, tea.Cmd) {
	switch msg := msg.(type) {
	case Press:
		return s, s.press(msg)
	case Result:
		if msg.Wrote && !s.Stale(msg) {
			if s.saving = false; msg.Err == nil {
				return s, tea.Batch(Send(Home{}), Send(Notice{s.machineName() + " is retired; its book stays."}))
			}
		}
	default:
		s.Take(msg)
	}
	return s, nil
}

func (s *retire) press(p Press) tea.Cmd {
	if s.saving {
		return nil
	}
	cmd, taken := Act(s.Keys(), p)
	if !taken && s.name.press(p.Msg) {
		s.bad = ""
	}
	return cmd
}

// retire writes it, where the name is typed.
func (s *retire) retire() tea.Cmd {
	m := s.Data.Machine(s.of)
	switch {
	case m == nil:
	case m.Session != "":
		s.bad = "A care session is begun on it: close it or give it up first."
	case notItsName(m, s.name.text) != "":
		s.bad = notItsName(m, s.name.text)
	default:
		f := m.MachineFact
		f.Retired = true
		s.saving = true
		return s.Append(model.Action{Machine: f.ID, Facts: []model.Fact{{Kind: model.KindMachine, Machine: &f}}})
	}
	return nil
}

func (s *retire) View() string {
	t := s.Env.Theme
	var out []string
	for _, l := range theme.Wrap("Retiring takes the machine off the bench and out of every list of what is due. Its book stays and can be read and handed on. For a while out of use there is a setting (e on the machine's page); that keeps it on the bench.", min(s.W-6, 72)) {
		out = append(out, "   "+l)
	}
	out = append(out, "", "   "+t.Text.Strong.Text(fit(t, t.Plain("Type its name to retire it: "+s.machineName()), s.W-4)), "", fit(t, "   "+t.Plain(theme.Safe(s.name.text))+"_", s.W))
	if s.bad != "" {
		for _, l := range theme.Wrap(t.Plain(s.bad), s.W-6) {
			out = append(out, "   "+t.State.Past.Text(l))
		}
	}
	return strings.Join(clip(out, s.H), "\n")
}
