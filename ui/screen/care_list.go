package screen

import (
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/theme"
)

// careList shows all care that fits a machine: what it is kept by and what not, each with its gauge. Here care is
// kept or let go, and it is told when it was last done.
type careList struct {
	Base
	of     string
	at     int
	asks   string // what the line at the bottom takes: "last", "let go", or nothing
	line   field
	bad    string
	saving bool
}

func newCareList(e *Env, id string) *careList { return &careList{Base: e.Base(), of: id} }

// letGo is the word that lets go what guards a person.
const letGo = "let go"

func (s *careList) m() *model.Machine { return s.Data.Machine(s.of) }

// list is the care that fits the machine, by what it is called.
func (s *careList) list() []*model.Procedure {
	m := s.m()
	if m == nil {
		return nil
	}
	all := s.Env.Library.All()
	can := model.FullList(all, model.NewFeatureSet(m.Features...))
	var out []*model.Procedure
	for _, p := range all {
		if slices.Contains(can, p.ID) {
			out = append(out, p)
		}
	}
	slices.SortStableFunc(out, func(x, y *model.Procedure) int { return strings.Compare(x.Called(), y.Called()) })
	return out
}

func (s *careList) SetSize(w, h int) Screen { s.Size(w, h); return s }
func (s *careList) TakesText() bool         { return s.asks != "" && !s.saving }
func (s *careList) HasInner() bool          { return s.asks != "" }

func (s *careList) Title() (string, string) {
	m := s.m()
	if m == nil {
		return "", ""
	}
	kept := 0
	list := s.list()
	for _, p := range list {
		if m.Keeps(p.ID) {
			kept++
		}
	}
	return theme.Safe(m.Name) + "   kept by", itoa(kept) + " of " + itoa(len(list)) + " that fit it"
}

func (s *careList) Keys() []Key {
	switch s.asks {
	case "last":
		return []Key{{"enter", "save", ""}, {"esc", "back", "leaves everything as it is"}, {"f1", "help", ""}}
	case letGo:
		return []Key{{"enter", "let go", "if the words are typed"}, {"esc", "back", "keeps it"}, {"f1", "help", ""}}
	}
	return []Key{{"space", "keep or let go", "nothing of its record is lost"}, {"enter", "last done", "tells when the care under the cursor was last done"},
		{"1", "list to start with", "keeps the machine by looks and cleaning, and by what guards a person"}, {"2", "all", "keeps it by all that fits it"},
		{"up/down", "move", ""}, {"esc", "back", ""}}
}

// Help says what a care list is and what can be told.
func (s *careList) Help() []HelpPart {
	return []HelpPart{{"kept by", []string{
		"Gauges, what is due and the plan are of the care a machine is kept by. The rest shows when a finding or other care calls for it, or a symptom leads to it.",
		"Letting go loses nothing of a record. What guards a person is let go by word only, and the machine's page goes on saying so.",
	}}, {"last done", []string{
		"Answer: " + action.LastHint + ".",
		"A counter's value is no day: the calendar waits until the care is done again. A month counts from its first day. Never is as old as the machine.",
		"A day between points is read day first: 20.10.2026. Between slashes it is asked about where it can be two days.",
	}}}
}

func (s *careList) Update(msg tea.Msg) (Screen, tea.Cmd) {
	switch msg := msg.(type) {
	case Press:
		return s, s.press(msg)
	case Result:
		if msg.Wrote && !s.Stale(msg) {
			if s.saving = false; msg.Err == nil {
				s.asks, s.line = "", field{}
			}
		}
	default:
		s.Take(msg)
	}
	return s, nil
}

func (s *careList) press(p Press) tea.Cmd {
	list, m := s.list(), s.m()
	if m == nil || s.saving {
		return nil
	}
	if s.asks != "" {
		return s.pressLine(p, m, list[s.at])
	}
	switch p.Key() {
	case "up", "k":
		s.at--
	case "down", "j":
		s.at++
	case "pgup":
		s.at -= max(1, s.H-4)
	case "pgdown":
		s.at += max(1, s.H-4)
	case "home":
		s.at = 0
	case "end":
		s.at = len(list) - 1
	}
	s.at = max(0, min(s.at, len(list)-1))
	if len(list) == 0 || !p.Passes() {
		return nil
	}
	at := list[s.at]
	switch p.Key() {
	case " ":
		if m.Keeps(at.ID) && model.GuardsPerson(at.ID) {
			s.asks, s.bad = letGo, ""
			return nil
		}
		return s.describe(m.WithCare(s.Env.Library.All(), at.ID, !m.Keeps(at.ID)))
	case "enter":
		s.asks, s.bad = "last", ""
	case "1":
		f := m.MachineFact
		f.CareList = model.StarterList(s.Env.Library.All(), model.NewFeatureSet(f.Features...))
		return s.describe(f)
	case "2":
		f := m.MachineFact
		f.CareList = nil
		return s.describe(f)
	}
	return nil
}

// pressLine takes a key of the line at the bottom, which is about p.
func (s *careList) pressLine(k Press, m *model.Machine, p *model.Procedure) tea.Cmd {
	switch k.Key() {
	case "esc":
		s.asks, s.line = "", field{}
		return nil
	case "enter":
	default:
		if s.line.press(k.Msg) {
			s.bad = ""
		}
		return nil
	}
	text := strings.TrimSpace(s.line.text)
	switch {
	case !k.Passes():
	case s.asks == letGo && !strings.EqualFold(text, letGo):
		s.bad = `Type "let go", or leave it kept with esc.`
	case s.asks == letGo:
		return s.describe(m.WithCare(s.Env.Library.All(), p.ID, false))
	case text == "":
		s.bad = "Nothing is typed yet: " + action.LastHint + "."
	default:
		l, err := action.ReadLast(p.ID, text, s.Now)
		var a model.Action
		if err == nil {
			a, err = action.LastDone(m, s.Env.Library.All(), l, s.Now)
		}
		if err != nil {
			s.bad = Sentence(err)
			return nil
		}
		s.saving = true
		return s.Append(a)
	}
	return nil
}

// describe writes the machine's new description.
func (s *careList) describe(f model.MachineFact) tea.Cmd {
	s.saving = true
	return s.Append(model.Action{Machine: f.ID, Facts: []model.Fact{{Kind: model.KindMachine, Machine: &f}}})
}

func (s *careList) View() string {
	m, list := s.m(), s.list()
	if m == nil || len(list) == 0 {
		return " Nothing fits this machine yet: say what it has (e on its page)."
	}
	t := s.Env.Theme
	gauges := map[string]model.Gauge{}
	for _, g := range model.Gauges(m.KeptByAll(), s.Env.Library.All(), s.Now) {
		gauges[g.Item] = g
	}
	foot := s.foot(list[s.at])
	head := []string{}
	if m.CareList == nil && s.H > 12 {
		head = []string{" " + t.Text.Dim.Text(t.Trunc("Kept by all that fits it. 1 takes a list to start with: looks and cleaning.", s.W-2)), ""}
	}
	room := max(1, s.H-len(foot)-len(head))
	top := inView(s.at, s.at+1, len(list), room)
	for i := top; i < len(list) && i < top+room; i++ {
		head = append(head, s.row(m, list[i], gauges, i == s.at))
	}
	return strings.Join(append(pad(clip(head, s.H-len(foot)), s.H-len(foot)), foot...), "\n")
}

// row is one procedure on a line: whether it is kept, its name, how far it is.
func (s *careList) row(m *model.Machine, p *model.Procedure, gauges map[string]model.Gauge, at bool) string {
	t := s.Env.Theme
	lead, mark := "   ", "  "
	if at {
		lead = " " + t.Text.Accent.Text(">") + " "
	}
	if m.Keeps(p.ID) {
		mark = "x "
	}
	name := t.Pad(t.Plain(theme.Safe(p.Called())), 24)
	switch {
	case at:
		name = t.Text.Accent.Text(name)
	case !m.Keeps(p.ID):
		name = t.Text.Dim.Text(name)
	}
	g, counts := gauges[p.ID]
	if !counts {
		return fit(t, lead+mark+name+" "+t.Text.Dim.Text("by hand, or when called for"), s.W)
	}
	return fit(t, lead+mark+name+" "+t.OfState(g.Word).Text(t.Pad(string(g.Word), 8))+" "+t.Plain(usedText(&g, usedCells)), s.W)
}

// foot is the line that is typed, and what it asks; else what the care under the cursor is.
func (s *careList) foot(p *model.Procedure) []string {
	t := s.Env.Theme
	title := theme.Safe(p.Title)
	if s.asks == "" {
		if model.GuardsPerson(p.ID) {
			title += ". It guards a person."
		}
		return []string{"", " " + t.Text.Dim.Text(t.Trunc(t.Plain(title), s.W-2))}
	}
	ask := "When last done: " + title + "? " + action.LastHint
	if s.asks == letGo {
		ask = "Type \"let go\" to let it go: it guards a person, and nobody will be reminded of it. " + title + "."
	}
	out := []string{""}
	for _, l := range theme.Wrap(t.Plain(ask), max(20, s.W-4)) {
		out = append(out, " "+l)
	}
	out = append(out, fit(t, " "+t.Text.Accent.Text(">")+" "+t.Plain(theme.Safe(s.line.text))+"_", s.W))
	if s.bad != "" {
		for _, l := range theme.Wrap(t.Plain(s.bad), max(20, s.W-4)) {
			out = append(out, " "+t.State.Past.Text(l))
		}
	}
	return clip(out, max(2, s.H-3))
}
