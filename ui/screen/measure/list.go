// Package measure is the calculators on the screen: their list, and one of them with its questions
// and its answer.
package measure

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model/measure"
	"bench/oilcan/ui/measured"
	"bench/oilcan/ui/screen"
)

// list is all calculators, a line each under their subjects.
type list struct {
	screen.Base
	screen.List
	of  string // machine id, "" for none
	all []measure.Calculator
}

// New makes the list of calculators, of a machine where one is named.
func New(e *screen.Env, machine string) screen.Screen {
	b := e.Base()
	b.MachinesOnly = true
	return &list{Base: b, of: machine, all: measured.All()}
}

func (s *list) Title() (string, string) {
	return strings.TrimSpace(s.Data.NameOf(s.of) + "   measurements"), ""
}

// Keys are those that work in the list.
func (s *list) Keys() []screen.Key {
	return []screen.Key{
		screen.On("enter", "open", "asks the figures and works it out", func(screen.Press) tea.Cmd {
			return screen.Send(screen.Open{To: screen.ToCalculator{Machine: s.of,
				By: s.all[s.At].ID}})
		}).Afresh(),
		s.Moves("move", "goes to another calculator", len(s.all), max(1, s.H-2)),
		screen.Back,
	}
}

// Help says where answers go.
func (s *list) Help() []screen.HelpPart {
	return []screen.HelpPart{{Head: "measurements", Lines: []string{
		"Every answer says where its formula is from, how far it may be off, and what spoils it.",
		"Opened from a machine's page, an answer can be kept on the machine's record; from eight " +
			"readings on its page says which is outside what this machine does.",
		"A unit may stand behind a figure: mm, cm, in, N, lbf, Hz, %RH, °C, °F, ohm, k.",
	}}}
}

func (s *list) Update(msg tea.Msg) (screen.Screen, tea.Cmd) {
	if p, ok := msg.(screen.Press); ok {
		cmd, taken := screen.Act(s.Keys(), p)
		if !taken {
			cmd = screen.Wrong(s.Keys(), p)
		}
		return s, cmd
	}
	s.Take(msg)
	return s, nil
}

// View draws the list, the line under the cursor in view with what it is for.
func (s *list) View() string {
	t := s.Env.Theme
	var lines []string
	from, group := 0, ""
	for i := range s.all {
		c, head := &s.all[i], ""
		if c.Group != group {
			group, head = c.Group, c.Group
		}
		lead, title := screen.UnderCursor(t, i == s.At, t.Plain(c.Title))
		if i == s.At {
			from = len(lines)
		}
		lines = append(lines, screen.Fit(t, lead+t.Text.Dim.Text(t.Pad(head, groupWide))+title,
			s.W))
	}
	foot := s.purpose()
	room := max(1, s.H-len(foot))
	top := screen.InView(from, from+1, len(lines), room)
	return screen.Over(lines[top:], foot, s.H)
}

// groupWide is the column of the subjects.
const groupWide = 13

// purpose says what the calculator under the cursor is for.
func (s *list) purpose() []string {
	t := s.Env.Theme
	if s.H < 12 {
		return nil
	}
	return append([]string{""}, screen.Wrapped(t, "   ", s.all[s.At].Purpose,
		min(s.W-4, screen.TextWidth), t.Text.Dim)...)
}
