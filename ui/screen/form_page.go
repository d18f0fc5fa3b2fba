package screen

import tea "github.com/charmbracelet/bubbletea"

// FormPage is a screen that is one form. Embed it.
type FormPage struct {
	Base
	Form
	saved func(Result) tea.Cmd // goes on once it is written
}

// Begin takes the hooks once the rows are made.
func (s *FormPage) Begin(verb string, check func(*Row) string, write func() tea.Cmd,
	saved func(Result) tea.Cmd) {
	s.Form.Verb, s.Form.Check, s.Form.Save, s.saved = verb, check, write, saved
	s.Leave = func() tea.Cmd { return Send(Pop{}) }
	s.Hold()
}

// TakesText is so at a row that is typed.
func (s *FormPage) TakesText() bool { return s.Typing() }

// HasInner is so while there is something to lose.
func (s *FormPage) HasInner() bool { return s.inner() }

// Keys are those of the form.
func (s *FormPage) Keys() []Key { return s.Form.Keys() }

// View draws the form.
func (s *FormPage) View() string { return s.Form.View(s.Env.Theme, s.W, s.H) }

// Handle takes a message; keys are those that work now.
func (s *FormPage) Handle(msg tea.Msg, keys []Key) tea.Cmd {
	switch msg := msg.(type) {
	case Press:
		return s.Press(msg, keys)
	case Result:
		if msg.Wrote && !s.Stale(msg) && s.Wrote(msg) {
			return s.saved(msg)
		}
	default:
		s.Take(msg)
	}
	return nil
}
