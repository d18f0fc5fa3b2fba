package screen

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/sitting"
	"bench/oilcan/ui/theme"
)

// clearTag takes the tag off a machine, with a reason; off a stopped one only once its name was typed.
type clearTag struct {
	formPage
	of string
}

func newClearTag(e *Env, machine string) *clearTag {
	return &clearTag{formPage: formPage{Base: e.Base()}, of: machine}
}

// Init makes the questions, now that the machine is known.
func (s *clearTag) Init() tea.Cmd {
	m := s.m()
	if m == nil || m.Tag == nil {
		return Send(Pop{})
	}
	why := &formRow{name: "why", ask: "what was put right", hint: "It stays in the book. Findings that stood for the tag are closed with it.",
		head: theme.Safe(tagText(m.Tag))}
	s.rows = []*formRow{why, byRow(s.Env)}
	if sitting.Stopped(m) {
		why.hint = unlocks
		s.rows = append(s.rows, nameRow())
	}
	s.rows = append(s.rows, &formRow{name: "save", kind: rowDo, ask: "clear the tag"})
	s.begin("clear it", s.check, s.save, func(Result) tea.Cmd {
		return tea.Batch(Send(Pop{}), Send(Notice{"The tag is cleared."}))
	})
	return nil
}

// unlocks is said where an answer lets power return.
const unlocks = "Clearing it unlocks power: only the person who put it right does it."

// byRow asks who put something right.
func byRow(e *Env) *formRow {
	r := &formRow{name: "by", ask: "put right by", hint: "Your name."}
	r.text.text = e.Operator
	return r
}

// nameRow asks for the machine's name before power is unlocked.
func nameRow() *formRow {
	return &formRow{name: "name", ask: "the machine's name", hint: "Type it in full: power may return to this machine."}
}

// notItsName says that a text is not the machine's name; "" where it is.
func notItsName(m *model.Machine, text string) string {
	if m == nil || strings.TrimSpace(text) == m.Name {
		return ""
	}
	return "That is not its name: type " + theme.Safe(m.Name) + ", or leave with esc."
}

func (s *clearTag) m() *model.Machine { return s.Data.Machine(s.of) }

func (s *clearTag) Title() (string, string) {
	name := ""
	if m := s.m(); m != nil {
		name = theme.Safe(m.Name)
	}
	return name + "   clear the tag", ""
}

// Help says what a tag is.
func (s *clearTag) Help() []HelpPart {
	return []HelpPart{{"tags", []string{
		"A tag is a mark on a machine that stays until it is cleared: it waits for a part, is ready with limits, out of use, or stopped.",
		"Clearing it closes the findings that stood for it. While a machine is stopped no care session begins on it.",
		"The tag of a session that was given up goes with the next care session that closes.",
	}}}
}

func (s *clearTag) Update(msg tea.Msg) (Screen, tea.Cmd) { return s, s.take(msg, s.keys()) }

// check says why an answer cannot be; "" where it can.
func (s *clearTag) check(r *formRow) string {
	switch r.name {
	case "why":
		_, err := action.Text(r.ask, r.value())
		return Sentence(err)
	case "by":
		return needsName(r.value())
	case "name":
		return notItsName(s.m(), r.value())
	}
	return ""
}

// needsName asks for the person where none is given.
func needsName(by string) string {
	if by == "" {
		return "A name is needed: whoever put it right."
	}
	return ""
}

func (s *clearTag) save() tea.Cmd {
	if !s.sound() {
		return nil
	}
	m := s.m()
	if m == nil || m.Tag == nil { // cleared elsewhere meanwhile
		return tea.Batch(Send(Pop{}), Send(Notice{"That tag is cleared already."}))
	}
	if sitting.Stopped(m) && s.row("name") == nil { // stopped meanwhile: the form is asked anew
		return tea.Batch(Send(Open{To: ToClearTag{s.of}, Instead: true}), Send(Notice{"The machine was stopped meanwhile."}))
	}
	facts, err := action.ClearTag(m, s.row("why").value())
	if err != nil {
		return Send(Failed{err})
	}
	s.saving = true
	return s.Append(model.Action{Machine: s.of, By: s.row("by").value(), Facts: facts})
}
