package machine

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/book"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// clearTag takes the tag off a machine, with a reason; off a stopped one only once its name was
// typed.
type clearTag struct {
	screen.FormPage
	of   string
	open string // what no word settles
}

// NewClearTag asks why the tag of a machine is cleared.
func NewClearTag(e *screen.Env, machine string) screen.Screen {
	return &clearTag{FormPage: screen.FormPage{Base: e.Base()}, of: machine}
}

// Init makes the questions, now that the machine is known.
func (s *clearTag) Init() tea.Cmd {
	m := s.m()
	if m == nil || m.Tag == nil {
		return screen.Send(screen.Pop{})
	}
	why := &screen.Row{Name: "why", Ask: "what was put right",
		Hint: "It stays in the book. Findings that stood for the tag are closed with it.",
		Head: theme.Safe(book.TagText(m.Tag))}
	s.Rows = []*screen.Row{why, screen.ByRow(s.Env)}
	if m.Stopped() {
		why.Hint = screen.Unlocks
		s.Rows = append(s.Rows, screen.NameRow())
	}
	s.Rows = append(s.Rows, &screen.Row{Name: "save", Kind: screen.RowDo, Ask: "clear the tag"})
	s.Begin("clear it", s.check, s.save, func(screen.Result) tea.Cmd {
		return screen.LeaveWith(strings.TrimSpace("The tag is cleared. " + s.open))
	})
	return nil
}

func (s *clearTag) m() *model.Machine { return s.Data.Machine(s.of) }

func (s *clearTag) Title() (string, string) {
	return s.Data.NameOf(s.of) + "   clear the tag", ""
}

// Help says what a tag is.
func (s *clearTag) Help() []screen.HelpPart {
	return []screen.HelpPart{{Head: "tags", Lines: []string{
		"A tag is a mark on a machine that stays until it is cleared: it waits for a part, is ready with limits, out of use, or stopped.",
		"Clearing it closes the findings that stood for it. While a machine is stopped it is only looked at, cold and unplugged.",
		"The tag of a session that was given up goes with the next care session that closes.",
	}}}
}

func (s *clearTag) Update(msg tea.Msg) (screen.Screen, tea.Cmd) {
	return s, s.Handle(msg, s.Keys())
}

// check says why an answer cannot be; "" where it can.
func (s *clearTag) check(r *screen.Row) string {
	switch r.Name {
	case "why":
		_, err := action.Text(r.Ask, r.Value())
		return screen.Sentence(err)
	case "by":
		return screen.NeedsName(r.Value())
	case "name":
		return screen.NotItsName(s.m(), r.Value())
	}
	return ""
}

func (s *clearTag) save() tea.Cmd {
	if !s.Sound() {
		return nil
	}
	m := s.m()
	if m == nil || m.Tag == nil { // cleared elsewhere meanwhile
		return screen.LeaveWith("That tag is cleared already.")
	}
	if m.Stopped() && s.Row("name") == nil { // stopped meanwhile: the form is asked anew
		return tea.Batch(screen.Send(screen.Open{To: screen.ToClearTag{Machine: s.of},
			Instead: true}), screen.Tell("The machine was stopped meanwhile."))
	}
	facts, err := action.ClearTag(m, s.Row("why").Value())
	if err != nil {
		return screen.Send(screen.Failed{Err: err})
	}
	s.Saving, s.open = true, session.StillOpen(m)
	return s.Append(model.Action{Machine: s.of, By: s.Row("by").Value(), Facts: facts})
}
