package machine

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// retire takes a machine off the bench for good, once its name has been typed.
type retire struct {
	screen.Base
	of     string
	name   screen.Field
	bad    string
	saving bool
}

// NewRetire asks for the name of a machine that is to be retired.
func NewRetire(e *screen.Env, id string) screen.Screen { return &retire{Base: e.Base(), of: id} }

func (s *retire) TakesText() bool { return !s.saving }

func (s *retire) Title() (string, string) { return s.Data.NameOf(s.of) + "   retire", "" }

func (s *retire) Keys() []screen.Key {
	return []screen.Key{screen.On("enter", "retire",
		"retires the machine, if the name is typed as it stands", func(screen.Press) tea.Cmd {
			return s.retire()
		}).Afresh(),
		screen.Shown("esc", "back", "leaves everything as it is")}
}

func (s *retire) Update(msg tea.Msg) (screen.Screen, tea.Cmd) {
	switch msg := msg.(type) {
	case screen.Press:
		return s, s.press(msg)
	case screen.Result:
		if msg.Wrote && !s.Stale(msg) {
			if s.saving = false; msg.Err == nil {
				return s, tea.Batch(screen.Send(screen.Home{}),
					screen.Tell(s.Data.NameOf(s.of)+
						" is retired; its book stays."))
			}
		}
	default:
		s.Take(msg)
	}
	return s, nil
}

func (s *retire) press(p screen.Press) tea.Cmd {
	if s.saving {
		return nil
	}
	cmd, taken := screen.Act(s.Keys(), p)
	if !taken && s.name.Press(p.Msg) {
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
	case screen.NotItsName(m, s.name.Text) != "":
		s.bad = screen.NotItsName(m, s.name.Text)
	default:
		f := m.MachineFact
		f.Retired = true
		s.saving = true
		return describe(&s.Base, f)
	}
	return nil
}

func (s *retire) View() string {
	t := s.Env.Theme
	out := screen.Wrapped(t, "   ", "Retiring takes the machine off the bench and out of every "+
		"list of what is due. Its book stays and can be read and handed on. For a while out of use "+
		"there is a setting (e on the machine's page); that keeps it on the bench.",
		min(s.W-6, 72), theme.Paint{})
	out = append(out, "",
		"   "+t.Text.Strong.Text(screen.Fit(t,
			t.Plain("Type its name to retire it: "+s.Data.NameOf(s.of)), s.W-4)), "", screen.Fit(
			t, "   "+t.Plain(s.name.Drawn(s.W-4)), s.W))
	out = append(out, screen.Wrapped(t, "   ", s.bad, s.W-6, t.State.Past)...)
	return strings.Join(screen.Clip(out, s.H), "\n")
}
