package screen

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/theme"
)

// findings lists what stands on a machine; findings are added and closed here.
type findings struct {
	Base
	list
	of      string
	adding  *form
	closing *form
	closes  string // id of the finding being closed
	stops   bool   // what is added stops the machine
}

func newFindings(e *Env, id string) *findings { return &findings{Base: e.Base(), of: id} }

func (s *findings) standing() []model.Finding {
	if m := s.Data.Machine(s.of); m != nil {
		return m.Findings
	}
	return nil
}

// open is the form in use; nil where the list is.
func (s *findings) open() *form {
	if s.adding != nil {
		return s.adding
	}
	return s.closing
}

func (s *findings) TakesText() bool { return s.open() != nil && s.open().typing() }
func (s *findings) HasInner() bool  { return s.open() != nil }

func (s *findings) Title() (string, string) {
	name := ""
	if m := s.Data.Machine(s.of); m != nil {
		name = theme.Safe(m.Name)
	}
	switch {
	case s.adding != nil && s.stops:
		return name + "   stop: do not use", ""
	case s.adding != nil:
		return name + "   a new finding", ""
	case s.closing != nil:
		return name + "   close a finding", ""
	}
	return name + "   findings", itoa(len(s.standing())) + " standing"
}

// Keys are those that work now.
func (s *findings) Keys() []Key {
	if f := s.open(); f != nil {
		return f.keys()
	}
	n := len(s.standing())
	return []Key{
		On("a", "add", "notes something seen", Do(s.startAdding)),
		On("1", "stop, do not use", "locks care and power until what was seen is put right and closed by name", Do(s.startStop)),
		On("enter", "close", "closes the finding under the cursor, with a word on how it was settled", Do(s.startClosing)).Afresh().When(n > 0),
		s.moves("move", "", n, 5).When(n > 0),
		back,
	}
}

// Help says what a finding is.
func (s *findings) Help() []HelpPart {
	return []HelpPart{{"findings", []string{
		"A finding is something seen that must be looked at again. It stands, here and on the bench, until it is closed with a word on how it was settled.",
		"stop\tpower stays locked until it is closed, by the person who put it right",
		"part\ta part is waited for",
		"limits\tthe machine is ready with limits, or out-of-use; closing it clears the machine's tag",
		"pro\ta licensed or qualified person is needed",
		"owed\ta step still to be done, on another hour or day",
	}}}
}

func (s *findings) Update(msg tea.Msg) (Screen, tea.Cmd) {
	switch msg := msg.(type) {
	case Press:
		return s, s.press(msg)
	case Result:
		if f := s.open(); f != nil && msg.Wrote && !s.Stale(msg) {
			if f.wrote(msg) {
				s.shut()
			}
		}
	default:
		s.Take(msg)
	}
	s.keep(len(s.standing()))
	return s, nil
}

func (s *findings) press(p Press) tea.Cmd {
	if f := s.open(); f != nil {
		return f.press(p, f.keys())
	}
	cmd, _ := Act(s.Keys(), p)
	return cmd
}

// shut closes the form.
func (s *findings) shut() tea.Cmd {
	s.adding, s.closing = nil, nil
	return nil
}

// form makes a form of rows, the last of which saves.
func (s *findings) form(verb string, rows ...*formRow) *form {
	f := &form{rows: rows, verb: verb, check: s.check, leave: s.shut}
	f.write = func() tea.Cmd { return s.save(f) }
	f.hold()
	return f
}

// startAdding asks what was seen.
func (s *findings) startAdding() {
	s.stops = false
	s.adding = s.form("save",
		&formRow{name: "text", ask: "what was seen", hint: "In a few words, so that another person finds it."},
		&formRow{name: "again", ask: "look again", empty: "no date", hint: "tomorrow, 7d (in seven days) or 2026-12-01"},
		&formRow{name: "part", ask: "waits for a part", empty: "no", hint: "One of the parts and supplies of the drawer: nozzle, belt, fan …"},
		&formRow{name: "save", kind: rowDo, ask: "save the finding"})
}

// startStop asks what was seen on a machine that must not be used.
func (s *findings) startStop() {
	s.stops = true
	s.adding = s.form("save",
		&formRow{name: "text", ask: "what was seen", hint: action.StopNow + " Then write it down here."},
		&formRow{name: "save", kind: rowDo, ask: "stop the machine"})
}

func (s *findings) startClosing() {
	if s.at >= len(s.standing()) {
		return
	}
	f := s.standing()[s.at]
	why := &formRow{name: "why", ask: "how was it settled", hint: "It stays in the book beside the finding."}
	rows := []*formRow{why, byRow(s.Env)}
	if m := s.Data.Machine(s.of); action.Unlocks(action.Settling(m, f, "")) {
		why.hint = unlocks
		rows = append(rows, nameRow())
	}
	s.closes = f.ID
	s.closing = s.form("close it", append(rows, &formRow{name: "save", kind: rowDo, ask: "close the finding"})...)
}

// check says why an answer cannot be; "" where it can.
func (s *findings) check(r *formRow) string {
	var err error
	switch text := r.value(); {
	case r.name == "text" || r.name == "why":
		_, err = action.Text(r.ask, text)
	case r.name == "by":
		return needsName(text)
	case r.name == "name":
		return notItsName(s.Data.Machine(s.of), text)
	case r.name == "again" && text != "":
		_, err = action.Ahead(text, s.Now)
	case r.name == "part" && text != "":
		_, err = action.Find("part", text, model.SupplyNames)
	}
	return Sentence(err)
}

func (s *findings) save(f *form) tea.Cmd {
	if !f.sound() {
		return nil
	}
	a := model.Action{Machine: s.of}
	if f == s.closing {
		m := s.Data.Machine(s.of)
		a.By = f.row("by").value()
		for _, x := range s.standing() {
			if x.ID == s.closes {
				a.Facts = action.Settling(m, x, f.row("why").value())
			}
		}
	} else {
		a.Facts = s.added(f)
	}
	if len(a.Facts) == 0 { // closed elsewhere meanwhile
		s.shut()
		return Send(Notice{"That finding is closed already."})
	}
	if action.Unlocks(a.Facts) && f.row("name") == nil { // the other stop was closed meanwhile
		s.startClosing()
		return nil
	}
	f.saving = true
	return s.Append(a)
}

// added gives the facts of a form checked above.
func (s *findings) added(f *form) []model.Fact {
	text := f.row("text").value()
	if s.stops {
		return action.Stop(text)
	}
	x := &model.Found{Kind: model.FoundNote, Text: text}
	if again := f.row("again").value(); again != "" {
		x.Again, _ = action.Ahead(again, s.Now)
	}
	if part := f.row("part").value(); part != "" {
		x.Kind = model.FoundPart
		x.Part, _ = action.Find("part", part, model.SupplyNames)
	}
	return []model.Fact{{Kind: model.KindFinding, Finding: x}}
}

func (s *findings) View() string {
	t := s.Env.Theme
	if f := s.open(); f != nil {
		return f.view(t, s.W, s.H)
	}
	list := s.standing()
	if len(list) == 0 {
		return strings.Join(clip([]string{"", "   Nothing stands on this machine.", "", "   " + t.Text.Accent.Text("a") + "  notes something seen, to be looked at again"}, s.H), "\n")
	}
	var lines []string
	from, to := 0, 0
	for i, f := range list {
		if i == s.at {
			from = len(lines)
		}
		lines = append(lines, s.findingLines(f, i == s.at)...)
		if i == s.at {
			to = len(lines)
		}
	}
	top := inView(from, to, len(lines), s.H)
	return strings.Join(clip(lines[top:], s.H), "\n")
}

// findingLines draws one finding: its kind, its text, and when it was seen and is looked at again.
func (s *findings) findingLines(f model.Finding, at bool) []string {
	t := s.Env.Theme
	lead := "   "
	if at {
		lead = " " + t.Text.Accent.Text(">") + " "
	}
	kind := t.Pad(theme.Safe(string(f.Kind)), 8)
	if f.Kind == model.FoundStop {
		kind = t.State.Past.Text(kind)
	}
	var out []string
	for _, l := range theme.Wrap(t.Plain(theme.Safe(f.Text)), max(20, s.W-14)) {
		if at {
			l = t.Text.Accent.Text(l)
		}
		out = append(out, lead+kind+" "+l)
		lead, kind = "   ", strings.Repeat(" ", 8)
	}
	when := "seen " + f.At.In(s.Now.Location()).Format("2006-01-02")
	if f.Part != "" {
		when += ", waits for " + theme.Safe(f.Part)
	}
	if f.Procedure != "" {
		when += ", in " + theme.Safe(strings.ReplaceAll(f.Procedure, "-", " "))
	}
	if !f.Again.IsZero() {
		again := "look again " + f.Again.In(s.Now.Location()).Format("2006-01-02")
		if !f.Again.After(s.Now) {
			again = t.State.Due.Text(again + ", now")
		}
		when += "; " + again
	}
	return append(out, fit(t, strings.Repeat(" ", 12)+t.Plain(when), s.W))
}
