package screen

import tea "github.com/charmbracelet/bubbletea"

// formPage is a screen that is one form. Embed it.
type formPage struct {
	Base
	form
	saved func(Result) tea.Cmd // goes on once it is written
}

// begin takes the hooks once the rows are made.
func (s *formPage) begin(verb string, check func(*formRow) string, write func() tea.Cmd, saved func(Result) tea.Cmd) {
	s.verb, s.check, s.write, s.saved = verb, check, write, saved
	s.leave = func() tea.Cmd { return Send(Pop{}) }
	s.hold()
}

// TakesText is so at a row that is typed.
func (s *formPage) TakesText() bool { return s.typing() }

// HasInner is so while there is something to lose.
func (s *formPage) HasInner() bool { return s.inner() }

// Keys are those of the form.
func (s *formPage) Keys() []Key { return s.keys() }

// View draws the form.
func (s *formPage) View() string { return s.view(s.Env.Theme, s.W, s.H) }

// take takes a message; keys are those that work now.
func (s *formPage) take(msg tea.Msg, keys []Key) tea.Cmd {
	switch msg := msg.(type) {
	case Press:
		return s.press(msg, keys)
	case Result:
		if msg.Wrote && !s.Stale(msg) && s.wrote(msg) {
			return s.saved(msg)
		}
	default:
		s.Take(msg)
	}
	return nil
}
